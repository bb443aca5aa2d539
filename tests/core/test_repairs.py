"""Repairs: each has the effect it says, worked out again by other programs."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.problem import NEVER
from hotelwatch.core.planning.repairs import Mend, repairs
from hotelwatch.core.planning.shortfall import why_not
from hotelwatch.core.planning.standing import Efforts, Means, standing_of
from tests.core import certificate_checker as checker
from tests.core.problems import problem
from tests.core.test_shortfall import plain, problems, short_by_networkx, wanted_places

EFFORTS = Efforts(kept_night=240, encased_bed=60, longer_window=60, most_nights=5)


def means(made, *, nights=(), encased=None, enterable=None, kept_free=0):
    could = np.zeros((made.visits, made.horizon), bool)
    for row, day in nights:
        could[row, day] = True
    spared = made.minutes if encased is None else np.array(encased)
    everywhere = made.open if enterable is None else enterable
    kept = np.full(len(made.teams), kept_free)
    return Means(could, everywhere, spared, (spared < made.minutes).astype(int), kept, EFFORTS)


def mends(made, **more):
    told = repairs(made, why_not(made), means(made, **more), limit=9)
    return {one.mend: one for one in told}


# --- by hand ----------------------------------------------------------------------------------


def test_twenty_rooms_of_31_minutes_and_three_days_of_180():
    # The sums of the second of Hall's cases: 620 needed, 540 there, 80 short.
    made = problem([31] * 20, [2] * 20, [{0, 1, 2}] * 20, [180, 180, 180, 0])
    found = mends(made, encased=[24] * 20)
    team = found[Mend.TEAM_DAYS]
    assert (len(team.days), team.minutes) == (1, 180)
    assert (team.before.short, team.after.short) == (80, 0)
    # Seven minutes spared a room: twelve rooms make up for eighty.
    encase = found[Mend.ENCASE]
    assert (len(encase.rooms), encase.beds, encase.after.short) == (12, 12, 0)
    # Eighty minutes of visits of 31, one bed each, a day late: 80 / 31 bed-days, rounded up.
    assert (team.before.bed_days, team.after.bed_days, team.saved_bed_days) == (3, 0, 3)


def test_what_is_late_already_is_caught_up_with_by_days_more():
    """Eight rooms of 30 minutes, two days late, one team of 30 on five days of seven.

    240 minutes are wanted, 150 there in the week: three days more, the two off first. One bed
    each is looked at on days 0 to 4 and 7 to 9 and late until then, today counted too:
    1 + 2 + 3 + 4 + 5 + 8 + 9 + 10; then on days 0, 1, 1, 2, 3, 4, 5 and 6.
    """
    made = problem([30] * 8, [-3] * 8, [range(10)] * 8, [30] * 5 + [0, 0] + [30] * 3)
    found = mends(made, enterable=np.ones((8, 10), bool))
    team = found[Mend.TEAM_DAYS]
    assert team.days == tuple(made.days[n] for n in (1, 5, 6))
    assert (team.before.bed_days, team.after.bed_days) == (42, 30)
    assert repairs(made, (), means(made))[0].mend is Mend.TEAM_DAYS


def test_nothing_late_is_caught_up_with_on_a_day_on_which_none_of_it_can_be_entered():
    """As above, but on day 5 the house is closed: day 2 has a second team in its stead.

    Looked at on days 0, 1, 1, 2, 2, 3, 4 and 6: a day more each, today counted too.
    """
    made = problem([30] * 8, [-3] * 8, [range(10)] * 8, [30] * 5 + [0, 0] + [30] * 3)
    enterable = np.ones((8, 10), bool)
    enterable[:, 5] = False
    made = replace(made, open=made.open & enterable)
    team = mends(made, enterable=enterable)[Mend.TEAM_DAYS]
    assert team.days == tuple(made.days[n] for n in (1, 2, 6))
    assert team.after.bed_days == 1 + 2 + 2 + 3 + 3 + 4 + 5 + 7


def test_a_day_more_is_told_as_it_is_entered_what_is_kept_free_among_its_minutes():
    made = problem([31] * 20, [2] * 20, [{0, 1, 2}] * 20, [180, 180, 180, 0])
    team = mends(made, kept_free=25)[Mend.TEAM_DAYS]
    # Plans have 180 of the 205 minutes entered: these are its effort.
    assert (team.minutes, team.effort, team.after.short) == (205, 180, 0)


def test_a_backlog_that_the_week_s_minutes_suffice_for_asks_for_no_days():
    made = problem([30] * 5, [-3] * 5, [range(10)] * 5, [30] * 10)
    assert mends(made) == {}


def test_a_day_off_is_worked_though_no_team_works_then():
    made = problem([30] * 4, [2] * 4, [{0, 1}] * 4, [40, 40, 0, 40])
    enterable = made.open.copy()
    enterable[:, 2] = True
    team = mends(made, enterable=enterable)[Mend.TEAM_DAYS]
    assert (team.days, team.team) == ((made.days[2],), "team 0")
    assert (team.before.short, team.after.short) == (40, 0)


def test_a_day_off_is_worked_for_rooms_that_stand_empty_on_no_other_day():
    """Two rooms let but for day 2, on which nobody works; due on day 3, seen on day 6 at last."""
    made = problem([20] * 2, [3] * 2, [{6}] * 2, [60, 60, 0, 60, 60, 60, 60])
    assert mends(made) == {}
    enterable = made.open.copy()
    enterable[:, 2] = True
    team = mends(made, enterable=enterable)[Mend.TEAM_DAYS]
    assert (team.days, team.team, team.minutes) == ((made.days[2],), "team 0", 60)
    assert (team.before.unopened, team.after.unopened) == (2, 0)
    assert (team.before.bed_days, team.after.bed_days) == (6, 0)


def test_a_day_is_asked_for_once_though_it_suffices_for_one_of_two_rooms():
    made = problem([20] * 2, [0] * 2, [{0}] * 2, [0, 0, 0, 20])
    team = mends(made)[Mend.TEAM_DAYS]
    assert (team.days, team.minutes) == ((made.days[0],), 20)
    assert (team.before.bed_days, team.after.bed_days) == (6, 3)


def test_of_days_off_the_one_for_the_most_late_days_comes_first_and_few_are_asked_for():
    """Five rooms, each empty on its own day off; one has two beds. Three days are asked for."""
    made = problem([20] * 5, [9] * 5, [set()] * 5, [0] * 5 + [60] * 9, beds=[1, 1, 2, 1, 1])
    enterable = made.open.copy()
    for row in range(5):
        enterable[row, row] = True
    team = mends(made, enterable=enterable)[Mend.TEAM_DAYS]
    assert team.days == tuple(made.days[n] for n in (0, 1, 2))
    # Late on days 10 to 13: four days a bed.
    assert team.saved_bed_days == 4 * (1 + 1 + 2)


def test_two_teams_on_a_day_are_no_team_with_twice_the_minutes():
    # Four rooms of 30 and one of 50 on a day of 40: one more team of 40 takes no room of 50.
    made = problem([30] * 4 + [50], [0] * 4 + [0], [{0}] * 5, [40, 60])
    team = mends(made)[Mend.TEAM_DAYS]
    assert set(team.days) == {made.days[0]}
    assert team.minutes == 60


def test_another_team_pays_its_way_where_the_first_one_has_been():
    # 60 minutes and a way of 8: the team that is there can, another one of 60 minutes cannot.
    there = frozenset({(0, 0, 0)})
    made = problem([60, 60], [0, 0], [{0}] * 2, [60], been=there, area_minutes=8)
    assert Mend.TEAM_DAYS not in mends(made)
    made = problem([60, 60], [0, 0], [{0}] * 2, [68], been=there, area_minutes=8)
    assert mends(made)[Mend.TEAM_DAYS].after.short == 0


def test_a_team_that_has_spent_its_minutes_today_is_not_asked_to_work_today():
    """Two rooms due today; whoever comes has not been in their corridor and walks 8 minutes."""
    there = frozenset({(0, 0, 0)})
    enterable = np.ones((2, 4), bool)
    made = problem([60] * 2, [0] * 2, [{3}] * 2, [0, 60, 60, 68], been=there, area_minutes=8)
    team = mends(made, enterable=enterable)[Mend.TEAM_DAYS]
    assert (team.days, team.minutes) == ((made.days[0],), 68)
    made = replace(made, team_minutes=np.array([[0], [60], [60], [60]]))
    assert Mend.TEAM_DAYS not in mends(made, enterable=enterable)


def test_another_team_is_not_the_one_to_which_a_visit_is_pinned():
    made = problem([60, 60], [0, 0], [{0}] * 2, [60], pinned_team=[0, 0])
    assert Mend.TEAM_DAYS not in mends(made)


def test_a_few_days_more_are_the_fewest_that_do():
    made = problem([30] * 6, [1] * 6, [set(range(8))] * 6, [60] * 8)
    longer = mends(made)[Mend.LONGER_CYCLE]
    assert (longer.more_days, longer.before.short, longer.after.short) == (1, 60, 0)
    assert (longer.beds, longer.waits) == (6, 6)
    # Two of six rooms were a day late: calling them in time lets six beds wait a day longer.
    assert longer.saved_bed_days == 2


def test_front_desk_is_asked_for_the_nights_that_save_the_most():
    made = problem([20] * 7, [3] * 7, [{9 - n} for n in range(7)], [60, 60, 100] + [60] * 7)
    found = mends(made, nights=[(row, 2) for row in range(7)])
    kept = found[Mend.KEEP_FREE]
    # Room 6 opens on day 3, in time; of the others five are asked for, the latest first:
    # five times twenty minutes fit into the hundred.
    assert kept.rooms == ("0", "1", "2", "3", "4")
    assert set(kept.nights) == {made.days[1]}
    assert kept.each_saves == (6, 5, 4, 3, 2)
    assert kept.saved_bed_days == 20
    assert (kept.before.unopened, kept.after.unopened) == (6, 1)


def test_nights_are_chosen_beside_one_another():
    # Day 2 has minutes for one of these rooms only: a second night on it would save nothing.
    made = problem([20] * 3, [3] * 3, [{9}, {8}, {7}], [60, 60, 20] + [60] * 7)
    kept = mends(made, nights=[(0, 2), (1, 2), (2, 2), (2, 3)])[Mend.KEEP_FREE]
    assert list(zip(kept.rooms, kept.nights, kept.each_saves, strict=True)) == [
        ("0", made.days[1], 6),
        ("2", made.days[2], 4),
    ]


def test_a_night_is_asked_for_once_though_its_room_stands_in_two_visits():
    """A room in two parts of one bed each, due on day 3 and let until day 9: six days late each."""
    made = problem([20] * 2, [3] * 2, [{9}] * 2, [30] * 10, rooms=(RoomNo("1"), RoomNo("1")))
    kept = mends(made, nights=[(0, 2), (1, 2), (1, 3)])[Mend.KEEP_FREE]
    # On day 2 there are 30 minutes for one part and half of the other; the night of day 2 opens
    # day 3 to the other half.
    assert list(zip(kept.rooms, kept.nights, kept.each_saves, strict=True)) == [
        ("1", made.days[1], 9),
        ("1", made.days[2], 3),
    ]
    assert kept.effort == 2 * 240
    assert (kept.before.unopened, kept.after.unopened) == (1, 0)
    made = replace(made, team_minutes=np.full((10, 1), 40))
    kept = mends(made, nights=[(0, 2), (1, 2), (1, 3)])[Mend.KEEP_FREE]
    assert (kept.rooms, kept.each_saves, kept.effort) == (("1",), (12,), 240)


def test_a_shift_is_made_longer_only_on_the_days_that_need_it():
    shut = np.zeros((3, 4, 1), bool)
    shut[:, :2] = True
    made = problem([20] * 3, [1] * 3, [{0, 1, 3}] * 3, [60] * 4, shut=shut)
    window = mends(made)[Mend.LONGER_WINDOW]
    assert len(window.days) == 1
    assert (window.before.unopened, window.after.unopened) == (3, 0)
    assert (window.before.bed_days, window.after.bed_days) == (6, 0)


def test_the_repair_most_worth_its_effort_comes_first():
    # One bed is eight days late without a night; six rooms are short of sixty minutes.
    made = problem(
        [30] * 6 + [20],
        [1] * 7,
        [set(range(9))] * 6 + [{9}],
        [60] * 10,
        beds=[1] * 6 + [60],
    )
    told = repairs(made, why_not(made), means(made, nights=[(6, 1)]), limit=9)
    assert [one.mend for one in told] == [Mend.KEEP_FREE, Mend.TEAM_DAYS, Mend.LONGER_CYCLE]
    # The night saves 480 bed-days, but its 20 minutes keep others of one bed and 30 minutes
    # out of day 1: 482 come down to 3 and a third, 4 if whole; a night counts
    # as 240 minutes. A team-day of 60 saves the two bed-days of two rooms.
    assert [one.worth for one in told[:2]] == [(482 - 4) / 240, 2 / 60]


def test_nothing_short_needs_no_repair():
    made = problem([20], [1], [{0, 1}], [60, 60])
    assert repairs(made, why_not(made), means(made)) == ()


def test_what_a_case_asks_for_is_given_no_longer_cycle_and_no_encasement():
    made = problem([30] * 6, [1] * 6, [set(range(8))] * 6, [60] * 8, is_asked=[True] * 6)
    found = mends(made, encased=[20] * 6)
    assert found.keys() == {Mend.TEAM_DAYS}


# --- by other programs --------------------------------------------------------------------------


def fewest_by_scipy(made):
    """Fewest overdue bed-days with visits split, by SciPy's linear programming (HiGHS)."""
    case = plain(made)
    cells = checker.cells(case)
    costs, demand, supply = [], [], []
    for row in range(made.visits):
        due = max(case["due"][row], -1)
        last = made.horizon - 1
        options = [(None, last)] + [(c, c[0]) for c in cells if checker.could(case, row, *c)]
        for cell, day in options:
            costs.append(case["beds"][row] * max(0, day - due) / case["minutes"][row])
            demand.append(row)
            supply.append(cell)
    meets = np.array([[row == of for of in demand] for row in range(made.visits)], float)
    takes = np.array([[cell == of for of in supply] for cell in cells], float)
    there = [case["team_minutes"][d][t] for d, t in cells]
    return linprog(costs, A_ub=takes, b_ub=there, A_eq=meets, b_eq=case["minutes"]).fun


def unopened_by_hand(made):
    due = made.due.tolist()
    return sum(0 <= d < made.horizon for d in due) - len(wanted_places(made))


def applied(made, one, given):
    """The problem after a repair, from what the repair says alone."""
    if one.mend is Mend.TEAM_DAYS:
        return with_team_days(made, one, given)
    if one.mend is Mend.LONGER_WINDOW:
        days = [made.days.index(day) for day in one.days]
        shut, is_open = made.shut.copy(), made.open.copy()
        shut[:, days] = False
        works = [day for day in days if made.team_minutes[day].any()]
        is_open[:, works] |= given.enterable[:, works]
        return replace(made, shut=shut, open=is_open)
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
    minutes[rows] = given.minutes_if_encased[rows]
    return replace(made, minutes=minutes)


def with_team_days(made, one, given):
    team = made.teams.index(one.team)
    table, is_open = made.team_minutes.copy(), made.open.copy()
    second = np.zeros(made.horizon, int)
    for day in one.days:
        number = made.days.index(day)
        if not made.team_minutes[number].any():
            is_open[:, number] |= given.enterable[:, number]
        is_there = table[number, team] or (
            number == 0 and team in {gone for _, gone, _ in made.been}
        )
        where = second if is_there else table[:, team]
        where[number] = one.minutes
    shut = made.shut
    if shut is not None:
        shut = np.concatenate([shut, shut[:, :, [team]]], axis=2)
    return replace(
        made,
        open=is_open,
        shut=shut,
        teams=(*made.teams, "one more"),
        team_people=np.append(made.team_people, made.team_people[team]),
        team_minutes=np.column_stack([table, second]),
    )


def shows(made, effect):
    """Whether an effect is what other programs find."""
    assert effect.short == short_by_networkx(made)
    assert effect.unopened == unopened_by_hand(made)
    assert effect.bed_days == ceil(fewest_by_scipy(made) - 1e-6)


@settings(deadline=None, max_examples=100)
@given(problems())
def test_fewest_overdue_bed_days_are_those_of_a_linear_programme(made):
    shows(made, standing_of(made).effect)


@settings(deadline=None, max_examples=125)
@given(problems(), st.data())
def test_every_repair_has_the_effect_it_says(made, data):
    found = why_not(made)
    assume(found)
    cell = st.tuples(st.integers(0, made.visits - 1), st.integers(1, made.horizon - 1))
    enterable = made.open.copy()
    for row, day in data.draw(st.lists(cell, max_size=8)):
        enterable[row, day] = True
    nights = data.draw(st.lists(cell, max_size=8))
    given = means(made, nights=nights, encased=made.minutes - 6, enterable=enterable)
    told = repairs(made, found, given, limit=9)
    for one in told:
        shows(made, one.before)
        shows(applied(made, one, given), one.after)
        assert one.before != one.after
        assert len(one.nights) <= EFFORTS.most_nights
        total = one.saved_bed_days
        assert one.mend is not Mend.KEEP_FREE or sum(one.each_saves) == total
    assert len({one.mend for one in told}) == len(told)
    worth = [one.worth for one in told if one.mend is not Mend.LONGER_CYCLE]
    assert worth == sorted(worth, reverse=True)
    assert all(one.mend is not Mend.LONGER_CYCLE for one in told[:-1])


@settings(deadline=None, max_examples=60)
@given(problems(), st.integers(0, 5), st.integers(1, 60))
def test_more_minutes_on_a_day_never_make_anything_worse(made, day, minutes):
    made = replace(made, pinned_team=np.full(made.visits, NEVER))
    table = made.team_minutes.copy()
    table[day % made.horizon, 0] += minutes
    more = replace(made, team_minutes=table)
    before, after = standing_of(made).effect, standing_of(more).effect
    assert after.bed_days <= before.bed_days
    assert after.unopened <= before.unopened
