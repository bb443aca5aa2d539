"""Where a visit falls back to when its window closes: days, chances and minutes by hand.

A bed of these rooms takes 14 minutes, a room 6 more, a team's way to the corridor 8.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import CaseNo, RoomNo, SlotPublished, TeamName
from hotelwatch.core.round_facts import (
    DayForbidden,
    FurnitureMoved,
    HouseDaysClosed,
    TeamDaysChanged,
    TeamPinned,
)
from hotelwatch.core.rounds.leaning import Fallback, Leaning, leaning
from hotelwatch.core.rounds.visits import View
from hotelwatch.core.stays.chances import Chances
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

DAYS = 14
ROOM, OTHER = RoomNo("101"), RoomNo("102")
CASE = CaseNo("2026-001")
UNLIKELY, LIKELY = 0.6, 0.9
SLOT = SlotPublished(day(3), TeamName("blue"), 1, ROOM, ("101/A",), 20)


def built_of(*, due=9, minutes=60, **team):
    """101 is due on a day and may be looked at 23 days before; one team works on weekdays.

    Days 5, 6, 12 and 13 are its days off.
    """
    built = house().team("blue", minutes, **team)
    return built.room("101").bed("A").checked("A", day(due - 91))


def told(built, likely, *others, slot=SLOT):
    """What is said of a slot, were 101 likely open on these days and unlikely on all others."""
    days = tuple(days_from(day(0), DAYS))
    row = tuple(LIKELY if number in likely else UNLIKELY for number in range(DAYS))
    view = View(built.house, occupancy(built.house, day(0)), days, now=moment(0))
    known = Chances(days, {ROOM: row, OTHER: (LIKELY,) * DAYS}, 30)
    return leaning(view, [slot, *others], known)


def fallback(built, likely, *others, slot=SLOT):
    [one] = told(built, likely, *others, slot=slot)
    return one.fallback


def test_a_day_without_any_sheet_is_named_and_the_last_one_in_time():
    expected = Leaning(ROOM, day(3), UNLIKELY, Fallback(day(8), True, True), 30)
    assert told(built_of(), (1, 7, 8, 10)) == (expected,)


def test_what_is_certain_enough_or_of_the_first_day_leans_on_nothing():
    assert told(built_of(), (3, 8)) == ()
    assert told(built_of(), (8,), slot=replace(SLOT, on=day(0))) == ()


def test_the_due_day_is_in_time_and_the_day_after_is_not():
    assert fallback(built_of(due=8), (7, 8, 9)) == Fallback(day(8), True, True)
    assert fallback(built_of(due=7), (7, 8, 9)) == Fallback(day(7), True, True)
    assert fallback(built_of(due=4), (7, 8, 9)) is None


def test_an_earlier_day_is_named_only_where_no_later_one_will_do():
    assert fallback(built_of(), (0, 1, 2, 4)) == Fallback(day(4), True, True)
    assert fallback(built_of(), (0, 1, 2, 10)) == Fallback(day(2), False, True)


def test_nobody_falls_back_to_a_day_off_a_closed_or_a_forbidden_day():
    built = built_of()
    assert fallback(built, (5, 6)) is None
    assert fallback(built, (4, 7, 8, 9)).on == day(9)
    built.record(DayForbidden(ROOM, day(9)))
    assert fallback(built, (4, 7, 8, 9)).on == day(8)
    built.record(HouseDaysClosed(day(8), day(8), "holiday"))
    assert fallback(built, (4, 7, 8, 9)).on == day(7)
    built.record(TeamDaysChanged(TeamName("blue"), day(7), day(7), 0))
    assert fallback(built, (4, 7, 8, 9)).on == day(4)


def test_a_team_must_have_the_people_the_minutes_and_the_hours():
    """On Saturday and Sunday, days 5 and 6, one more team works."""
    weekend = {"works_on": ("sat", "sun")}
    likely = (4, 5, 6)
    assert fallback(built_of().team("green", 60, people=1, **weekend), likely).on == day(4)
    # 20 for the room and 8 for the way.
    assert fallback(built_of().team("green", 27, **weekend), likely).on == day(4)
    assert fallback(built_of().team("green", 28, **weekend), likely).on == day(6)
    # A guest leaves on day 6 at 11:00 the earliest; the next one comes on day 5 at 15:00.
    shift = weekend | {"from_clock": "06:00", "until_clock": "11:19"}
    built = built_of().team("green", 60, **shift).stays(("101", 5, 6))
    assert fallback(built, likely).on == day(5)
    shift["until_clock"] = "11:20"
    built = built_of().team("green", 60, **shift).stays(("101", 5, 6))
    assert fallback(built, likely).on == day(6)


def test_a_room_pinned_to_a_team_waits_for_that_team():
    built = built_of().team("green", 60, works_on=("sat",))
    assert fallback(built, (4, 5)).on == day(5)
    built.record(TeamPinned(ROOM, TeamName("blue")))
    assert fallback(built, (4, 5)).on == day(4)


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [(32, Fallback(day(8), True, True)), (33, Fallback(day(7), True, True))],
)
def test_a_day_on_which_the_plan_has_minutes_left_goes_first(minutes, expected):
    """Day 8 has a room of the same corridor: 60 - 8 - 32 leaves the 20 that the visit takes."""
    built = built_of().room("102").bed("A").checked("A", day(8 - 91))
    taken = replace(SLOT, on=day(8), room=OTHER, beds=("102/A",), minutes=minutes)
    assert fallback(built, (2, 7, 8), taken) == expected


def test_another_corridor_costs_a_way_of_its_own():
    built = built_of().room("202", wing="east").bed("A").checked("A", day(8 - 91))
    for minutes, on in ((24, day(8)), (25, day(7))):
        taken = replace(SLOT, on=day(8), room=RoomNo("202"), beds=("202/A",), minutes=minutes)
        assert fallback(built, (7, 8), taken) == Fallback(on, True, True)


def test_where_all_minutes_are_spent_it_says_so_rather_than_name_an_earlier_day():
    built = built_of().room("102").bed("A").checked("A", day(8 - 91))
    taken = replace(SLOT, on=day(8), room=OTHER, beds=("102/A",), minutes=40)
    assert fallback(built, (2, 8), taken) == Fallback(day(8), True, False)


def test_what_is_late_already_falls_back_to_the_next_day_there_is():
    assert fallback(built_of(due=-4), (1, 7, 8)) == Fallback(day(7), True, True)
    assert fallback(built_of(due=-4), (1, 2)) == Fallback(day(1), False, True)


def test_a_day_that_is_too_early_is_no_way_out():
    """Due on Friday, day 39; 32 days before, on day 7, it may be looked at at last."""
    slot = replace(SLOT, on=day(8))
    assert fallback(built_of(due=39), (4, 7), slot=slot) == Fallback(day(7), False, True)
    assert fallback(built_of(due=42), (4, 7), slot=slot) is None


def test_a_case_s_deadline_counts_not_the_cycle_s():
    sign = Sighted(CASE, OTHER, "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(0, 1))
    for until, on in ((7, day(7)), (4, day(4))):
        built = built_of(due=60).room("102").bed("A").checked("A", day(-5))
        built.record(sign, CheckAsked(CASE, ROOM, ("sighting",), moment(until, 18)))
        assert fallback(built, (2, 4, 7, 8)).on == on
    slot = replace(SLOT, on=day(4))
    assert fallback(built, (2, 7, 8), slot=slot) == Fallback(day(2), False, True)


def test_a_room_pulled_forward_is_in_time_until_that_day():
    """Furniture came on day -3, written down on day 0: wanted by day 7."""
    built = built_of(due=60).room("102").bed("A").checked("A", day(-5))
    built.record(FurnitureMoved(OTHER, ROOM, day(-3), "chair"))
    assert fallback(built, (4, 7, 8)) == Fallback(day(7), True, True)
    assert fallback(built, (1, 8)) == Fallback(day(1), False, True)


def test_what_may_not_be_entered_any_more_leans_on_nothing():
    built = built_of().record(QuarantinePlaced(ROOM, CASE, moment(-1), "sighting"))
    assert told(built, (8,)) == ()
