"""More or less of something, in words: which way, how much, from where to where."""

from __future__ import annotations

import re

import pytest

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.cycles.cycle_rows import Circumstances, gains_of
from hotelwatch.core.odds.cycles.cycle_table import cycle_table
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, room_of
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording.cycle_change import (
    THINGS,
    against_text,
    change_lines,
    change_phrase,
    choose_question,
    cover_input,
    price_lines,
    traps_input,
    trial_cautions,
)
from tests.build import rules

ODDS = rules().odds
ROOM = room_of(rules(), [("box_spring", False)])
AROUND = Circumstances(0.64, neighbours={(Kind.SHARES_WALL,): 2.0})
DAYS, HOURS, SPENT, COST = THINGS


def by_stance(cautious, central, optimistic):
    return dict(zip(Stance, (cautious, central, optimistic), strict=True))


def rows(*lengths, way=None):
    return cycle_table(ODDS, [way or CheckWay()], lengths, room=ROOM, around=AROUND)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (by_stance(-20, -9, -4), "about 9 (4 to 20) hidden days less"),
        (by_stance(20, 9, 4), "about 9 (4 to 20) hidden days more"),
        (by_stance(-2, 1, 3), "from 2 hidden days less to 3 more"),
        (by_stance(0, 0, 0), "as many hidden days"),
        (by_stance(0, 0.5, 1), "about 0.5 (less than 0.01 to 1) hidden days more"),
    ],
)
def test_a_change_says_which_way_it_goes(change, said):
    assert change_phrase(DAYS, change) == said


def test_hours_and_money_that_are_the_same_in_every_setting_have_no_range():
    assert change_phrase(HOURS, by_stance(190, 190, 190)) == "190 hours of work more"
    assert change_phrase(SPENT, by_stance(-50, -50, -50)) == "50 less for looking"
    assert change_phrase(COST, by_stance(1, -1, 1)).startswith("in all, with what finds cost, from")


def test_a_shorter_cycle_buys_infested_days_for_hours_and_money():
    before, after = rows(90, 45)[:2]
    year, found = change_lines(after, before, rooms=200, rules=ODDS, is_today=True)
    gains = gains_of(before, after)
    assert year.startswith("Against today's 90 days, in a year of 200 rooms: about ")
    # A cycle of half the length takes as many hours again: 200 rooms × 365 / 90 checks.
    hours = 200 * before.by_stance[Stance.CENTRAL].year.hours
    assert 200 * gains[Stance.CENTRAL].hours == pytest.approx(hours)
    assert "hidden days less; " in year
    assert year.endswith(" hours of work more.")
    assert "more for looking" in found
    unseen = (round(row.by_stance[Stance.CENTRAL].seen.mean_days) for row in (after, before))
    said = r"goes unseen for about {} \(.*\) days on average, instead of about {} \("
    assert re.search(said.format(*unseen), found)
    assert re.search(r"A guest finds it first: \d+ %.*, instead of \d+ %", found)


def test_against_what_is_named_with_its_way_where_that_differs():
    (plain,), (trapped,) = rows(90), rows(60, way=CheckWay(traps=True))
    assert against_text(plain, plain, is_today=True) == "Against today's 90 days"
    assert against_text(plain, plain, is_today=False) == "Against a look every 90 days"
    said = against_text(trapped, plain, is_today=False)
    assert said == (
        "Against a look every 90 days (dust cover closed, headboard on the wall, no traps)"
    )


def test_only_what_is_done_more_than_before_has_its_caution():
    none = CheckWay()
    assert trial_cautions(none, none) == ()
    lifted = " ".join(trial_cautions(CheckWay(headboard_off=True), none))
    assert "Headboards:" in lifted
    assert "local rules on lifting go first" in lifted
    assert trial_cautions(none, CheckWay(headboard_off=True, traps=True)) == ()


def test_inputs_say_how_well_they_are_known():
    assert cover_input(ODDS) == "8 (5 to 12) minutes more for each bed (assumed)"
    assert traps_input(ODDS, 14) == (
        "read every 14 days: 2 (1 to 3) minutes (assumed);"
        " a price of 20 for each room and year (assumed)"
    )
    assert "A treatment of a room: 1,225 (published)" in tuple(price_lines(ODDS))


def test_the_question_names_both_cycles_and_who_keeps_another():
    said = choose_question(45, 90, 2)
    assert "every 45 days instead of 90 days" in said
    assert said.endswith("2 rooms keep the cycles of their own.")
    assert "keep" not in choose_question(45, 90, 0)
