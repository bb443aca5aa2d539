"""Plans keep to calendars, agreed visits and rooms wanted sooner."""

from __future__ import annotations

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.month.why import Reasons
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.round_facts import (
    FurnitureMoved,
    HouseDaysClosed,
    TeamDaysChanged,
    VisitArranged,
)
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, moment
from tests.build import house as any_house

EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
SETUP, BOX = 6, 14
ONE_ROOM = SETUP + BOX
"""Minutes of a visit to one bare box spring; shipped assumptions, so that days are countable."""


def house():
    """A house in which no way takes a team's minutes, so that sums are easily followed."""
    return any_house(corridor_minutes=0)


def plan(built, days=7, today=0):
    seen = occupancy(built.house, day(today))
    return plan_rounds(built.house, seen, Wish(day(today), days, moment(today, 6)))


def worked(planned):
    return sorted({((slot.on - day(0)).days, slot.team) for slot in planned.slots})


def rooms(built, count):
    """So many rooms whose bed is overdue."""
    for number in range(101, 101 + count):
        built.room(str(number)).bed("A").checked("A", day(-200))
    return built


def test_no_room_stands_on_a_sheet_on_days_closed_or_off():
    built = rooms(house().team("blue", ONE_ROOM, works_on=EVERY_DAY), 7)
    built.record(HouseDaysClosed(day(1), day(2), "holiday"))
    built.record(TeamDaysChanged(TeamName("blue"), day(4), day(4), 0, "leave"))
    planned = plan(built)
    assert worked(planned) == [(n, "blue") for n in (0, 3, 5, 6)]
    assert len(planned.slots) == 4
    assert len(planned.left_out) == 3


def test_an_extra_shift_is_used_and_minutes_kept_free_are_not():
    built = rooms(house().team("blue", 2 * ONE_ROOM, works_on=("mon",), kept_free=ONE_ROOM), 3)
    built.record(TeamDaysChanged(TeamName("blue"), day(5), day(5), 3 * ONE_ROOM, "extra"))
    by_day = [(slot.on - day(0)).days for slot in plan(built).slots]
    assert by_day == [0, 5, 5]


def test_the_sums_of_a_plan_tell_the_minutes_of_each_day():
    built = rooms(house().team("blue", 100, kept_free=10), 1)
    built.record(TeamDaysChanged(TeamName("blue"), day(1), day(1), 60, ""))
    told = {(one.on - day(0)).days: one.minutes for one in plan(built, days=3).minutes_by_day}
    assert told == {0: 90, 1: 50, 2: 90}


def test_a_guest_who_stays_for_weeks_is_visited_on_the_day_agreed():
    built = rooms(house().team("blue", 60, works_on=EVERY_DAY), 1).stays(("101", -10, 60))
    assert not plan(built).slots
    built.record(VisitArranged("101", day(3), "10:00", "12:00", "maria"))
    (slot,) = plan(built).slots
    assert slot.on == day(3)


def test_a_day_agreed_on_which_nobody_can_come_does_not_keep_the_room_from_the_next_one():
    built = rooms(house().team("blue", 60, works_on=EVERY_DAY), 1).stays(("101", -10, 5))
    built.record(VisitArranged("101", day(3), "10:00", "12:00", "maria"))
    assert [slot.on for slot in plan(built).slots] == [day(3)]
    away = TeamDaysChanged(TeamName("blue"), day(3), day(3), 0, "training")
    built.record(away)
    planned = plan(built)
    assert ([slot.on for slot in planned.slots], planned.left_out) == ([day(5)], ())
    # A team of one can't stand a base up, and one whose shift is over can't either.
    built.team("one", 60, works_on=EVERY_DAY, people=1)
    built.team("late", 60, works_on=EVERY_DAY, from_clock="11:50", until_clock="18:00")
    assert [slot.on for slot in plan(built).slots] == [day(5)]
    built.team("noon", 60, works_on=EVERY_DAY, from_clock="11:40", until_clock="18:00")
    assert [(slot.on, slot.team) for slot in plan(built).slots] == [(day(3), "noon")]


def test_a_room_that_furniture_came_to_is_visited_within_the_days_for_it():
    built = house().team("blue", 60, works_on=EVERY_DAY)
    for room in ("101", "102", "103"):
        built.room(room).bed("A").checked("A", day(0))
    assert not plan(built, days=14).slots
    built.record(FurnitureMoved("101", "102", day(0), "armchair"))
    planned = plan(built, days=14)
    assert sorted(slot.room for slot in planned.slots) == ["101", "102"]
    assert all(day(1) <= slot.on <= day(7) for slot in planned.slots)


def test_why_a_bed_was_late_counts_leave_as_no_team_at_work():
    built = rooms(house().team("blue", 60, works_on=EVERY_DAY), 1)
    built.record(TeamDaysChanged(TeamName("blue"), day(0), day(1), 0, "leave"))
    built.record(HouseDaysClosed(day(2), day(2), "holiday"))
    why, _left_out = Reasons(built.house, occupancy(built.house, day(5))).of(
        "101/A", "101", (day(0), day(5)), is_running=False
    )
    assert {str(one.why): one.days for one in why} == {"no_team": 3, "not_planned": 2}


def test_a_look_that_a_guest_agreed_to_is_made_on_its_day_though_it_is_early():
    built = house().team("blue", 60, works_on=EVERY_DAY).room("101").bed("A")
    built.checked("A", day(-50)).stays(("101", -2, 60))
    built.record(VisitArranged(RoomNo("101"), day(4), "10:00", "12:00", "anna"))
    assert [(slot.room, slot.on) for slot in plan(built).slots] == [("101", day(4))]
    # Looked at meanwhile, nobody need come.
    built.on(1).checked("A", day(1))
    assert plan(built, today=1).slots == ()


def test_a_look_agreed_to_after_nobody_could_look_is_made_on_its_day():
    """In vain this morning; the guest says: come on the fourth day."""
    built = house().team("blue", 60, works_on=EVERY_DAY).room("101").bed("A")
    built.checked("A", day(-50)).stays(("101", -2, 60)).checked("A", day(0), seen=())
    built.record(VisitArranged(RoomNo("101"), day(4), "10:00", "12:00", "anna"))
    assert [(slot.room, slot.on) for slot in plan(built).slots] == [("101", day(4))]
