"""Repairs: each has the effect it says, worked out again by another program."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings

from hotelwatch.core.planning.repairs import Means, Mend, repairs
from hotelwatch.core.planning.shortfall import why_not
from tests.core.problems import problem
from tests.core.test_shortfall import problems, short_by_networkx


def means(made, *, nights=(), encased=None):
    could = np.zeros((made.visits, made.horizon), bool)
    for row, day in nights:
        could[row, day] = True
    spared = made.minutes if encased is None else np.array(encased)
    return Means(could, spared, (spared < made.minutes).astype(int))


def mends(made, **more):
    return {one.mend: one for one in repairs(made, why_not(made), means(made, **more), limit=9)}


def test_twenty_rooms_of_31_minutes_and_three_days_of_180():
    # The sums of the second of Hall's cases: 620 needed, 540 there, 80 short.
    made = problem([31] * 20, [2] * 20, [{0, 1, 2}] * 20, [180, 180, 180])
    found = mends(made, encased=[24] * 20)
    team = found[Mend.TEAM_DAYS]
    assert (len(team.days), team.short_before, team.short_after) == (1, 80, 0)
    # Seven minutes spared a room: twelve rooms make up for eighty.
    assert (len(found[Mend.ENCASE].rooms), found[Mend.ENCASE].beds) == (12, 12)
    # No later day has minutes within the plan's three.
    assert Mend.LONGER_CYCLE not in found or found[Mend.LONGER_CYCLE].short_after == 0


def test_a_few_days_more_are_the_fewest_that_do():
    made = problem([30] * 6, [1] * 6, [set(range(8))] * 6, [60] * 8)
    longer = mends(made)[Mend.LONGER_CYCLE]
    assert (longer.more_days, longer.short_before, longer.short_after) == (1, 60, 0)


def test_front_desk_is_asked_for_the_nights_that_save_the_most():
    made = problem([20] * 7, [3] * 7, [{9 - n} for n in range(7)], [60] * 10)
    found = mends(made, nights=[(row, 2) for row in range(7)])
    kept = found[Mend.KEEP_FREE]
    # Room 6 opens on day 3, in time; of the others five are asked for, the latest first.
    assert kept.rooms == ("0", "1", "2", "3", "4")
    assert set(kept.nights) == {made.days[1]}
    assert kept.saved_bed_days == 6 + 5 + 4 + 3 + 2
    assert (kept.unopened_before, kept.unopened_after) == (6, 1)


def test_nothing_short_needs_no_repair():
    made = problem([20], [1], [{0, 1}], [60, 60])
    assert repairs(made, why_not(made), means(made)) == ()


def applied(made, one):
    """The problem after a repair, from what the repair says alone."""
    if one.mend is Mend.TEAM_DAYS:
        team = made.teams.index(one.team)
        table = made.team_minutes.copy()
        for day in one.days:
            table[made.days.index(day), team] += made.team_minutes[:, team].max()
        return replace(made, team_minutes=table)
    rows = [made.rooms.index(room) for room in one.rooms]
    if one.mend is Mend.LONGER_CYCLE:
        due = made.due.copy()
        due[rows] += one.more_days
        return replace(made, due=due)
    if one.mend is Mend.KEEP_FREE:
        is_open = made.open.copy()
        for row, night in zip(rows, one.nights, strict=True):
            is_open[row, made.days.index(night) + 1] = True
        return replace(made, open=is_open)
    assert one.mend is Mend.ENCASE
    minutes = made.minutes.copy()
    minutes[rows] = minutes[rows] - 6
    return replace(made, minutes=minutes)


@settings(deadline=None, max_examples=80)
@given(problems())
def test_every_repair_has_the_effect_it_says(made):
    nights = [(row, 1) for row in range(made.visits)]
    told = repairs(
        made, why_not(made), means(made, nights=nights, encased=made.minutes - 6), limit=9
    )
    for one in told:
        assert one.short_before == short_by_networkx(made)
        assert one.short_after == short_by_networkx(applied(made, one))
    assert [one.short_after for one in told] == sorted(one.short_after for one in told)


def test_what_a_case_asks_for_is_given_no_longer_cycle_and_no_encasement():
    made = problem([30] * 6, [1] * 6, [set(range(8))] * 6, [60] * 8, is_asked=[True] * 6)
    found = mends(made, encased=[20] * 6)
    assert found.keys() == {Mend.TEAM_DAYS}
