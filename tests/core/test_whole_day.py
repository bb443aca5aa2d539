from __future__ import annotations

from datetime import UTC

import pytest

from hotelwatch.core.case_facts import (
    CheckAsked,
    OwnerNamed,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.duties import Role
from hotelwatch.core.facts import CaseNo, RoomNo, RoundPublished, SlotPublished, TeamName
from hotelwatch.core.round_facts import FurnitureMoved, TeamDaysChanged, VisitArranged
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.core.whole.day import LateKind, day_picture
from hotelwatch.wording.day_picture import looks_lines, team_count, team_next
from tests.build import day, house, moment

CASE, OTHER = CaseNo("2026-001"), CaseNo("2026-002")


def slot(room, team="blue", position=1, on=40, asked_by=""):
    return SlotPublished(
        day(on), TeamName(team), position, RoomNo(room), (f"{room}/A",), 20, asked_by
    )


@pytest.fixture
def busy():
    """Saturday, day 40: 103 missed its look, 102 is wanted by tonight and on a sheet."""
    week = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    build = house().team("blue", 60, works_on=week).team("red", 90, works_on=week)
    build.room("101", order=1).bed("A").checked("A", day(-80))
    build.room("102", order=2).bed("A").checked("A", day(30))
    build.room("103", order=3).bed("A").checked("A", day(-60))
    build.on(39)
    build.record(
        Sighted(CASE, RoomNo("103"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(39, 1)),
        QuarantinePlaced(RoomNo("103"), CASE, moment(39, 2), "sighting"),
        CheckAsked(CASE, RoomNo("103"), ("sighting",), moment(40, 4)),
        CheckAsked(CASE, RoomNo("102"), ("shares_wall",), moment(40, 16)),
    )
    return build.record(RoundPublished(day(40), day(41)), slot("101"), slot("102", position=2))


def picture(build, at=None):
    at = at or moment(40)
    return day_picture(build.house, occupancy(build.house, at.date()), at)


def test_rooms_to_look_at_are_those_on_sheets_and_those_that_cases_want(busy):
    told = picture(busy)
    assert [(row.room, row.team, row.asked is not None) for row in told.rooms] == [
        ("103", None, True),  # late, on no sheet
        ("101", "blue", False),
        ("102", "blue", True),
    ]
    assert (told.left, told.done) == (3, 0)


def test_a_room_that_was_looked_at_is_done_and_goes_last(busy):
    busy.on(40).room("101", order=1).checked("A", day(40))
    told = picture(busy)
    assert [row.room for row in told.rooms] == ["103", "102", "101"]
    assert (told.left, told.done) == (2, 1)


def test_a_wish_for_another_day_with_a_sheet_in_time_is_not_todays(busy):
    busy.record(
        CheckAsked(CASE, RoomNo("101"), ("below",), moment(45)),
        RoundPublished(day(41), day(44)),
        slot("101", on=42),
    )
    rows = {row.room: row for row in picture(busy).rooms}
    assert rows["101"].asked is None


def test_a_wish_without_a_sheet_in_time_is_todays_to_plan(busy):
    busy.room("104").bed("A").record(CheckAsked(CASE, RoomNo("104"), ("below",), moment(45)))
    told = picture(busy)
    assert [one.room for one in told.late_of(LateKind.NOT_PLANNED)] == ["104"]
    assert "104" in {row.room for row in told.rooms}


def test_each_team_has_its_minutes_and_its_next_room(busy):
    blue, red = picture(busy).teams
    # Two rooms of 20 minutes and 8 for the way to their corridor.
    assert (blue.sums.used, blue.sums.minutes, blue.sums.rooms) == (48, 60, 2)
    assert blue.next.room == "101"
    assert (red.rows, red.sums.minutes, red.next) == ((), 90, None)


def test_the_next_room_is_one_that_can_be_entered(busy):
    busy.stays(("101", 38, 44))
    (blue, _red) = picture(busy).teams
    assert (blue.next.room, blue.shut) == ("102", ("101",))


def test_a_room_where_nobody_could_look_is_left_for_the_day_and_for_its_team(busy):
    busy.on(40).room("101", order=1).checked("A", day(40))
    busy.room("102", order=2).checked("A", day(40), seen=(), unseen=("base_underside:no_time",))
    told = picture(busy)
    assert (told.left, told.done, told.in_vain) == (2, 1, 1)
    (blue, _red) = told.teams
    assert (blue.next, blue.shut, blue.in_vain) == (None, (), ("102",))
    assert looks_lines(told, UTC, today=day(40))[0] == "1 of 3 looked at; 1 where nobody could look"
    assert (team_count(blue), team_next(blue, "")) == (
        "1 of 2 rooms",
        "1 where nobody could look",
    )


def test_duties_stand_by_who_sees_to_them_without_looks_and_what_must_wait(busy):
    parts = picture(busy).parts
    said = {(part.role, part.owner): [d.step.code for d in part.duties] for part in parts}
    assert said == {
        (Role.COMPETENT_PERSON, ""): ["judge_specimen"],
        (Role.TEAM, ""): ["take_care"],
    }
    assert [part.by_at is None for part in parts] == [False, True]


def test_a_named_person_has_a_part_of_their_own(busy):
    busy.record(OwnerNamed(CASE, "judge_specimen", "", "Dr. Ida"))
    busy.record(OwnerNamed(CASE, "take_care", "", "Dr. Ida"))
    (part,) = picture(busy).parts
    assert (part.owner, len(part.duties)) == ("Dr. Ida", 2)


def test_a_missed_deadline_counts_as_late_with_its_days(busy):
    told = picture(busy, moment(44))
    (part, *_) = told.parts
    assert part.late == 1
    (late,) = told.late_of(LateKind.DUTY_MISSED)
    assert (late.duty.step.code, late.room) == ("judge_specimen", "103")
    assert late.days == (day(44) - late.due_on).days > 0


def test_what_is_late_stands_by_kind_the_longest_first(busy):
    told = picture(busy)
    # 91 days after days -80 and -60 are days 11 and 31.
    assert [(one.kind, one.room, one.due_on, one.days) for one in told.late] == [
        (LateKind.LOOK_MISSED, "103", day(40), 0),
        (LateKind.UNDERSIDE_OVERDUE, "101", day(11), 29),
        (LateKind.UNDERSIDE_OVERDUE, "103", day(31), 9),
    ]
    assert [one.beds for one in told.late] == [0, 1, 1]


def test_two_beds_overdue_are_one_room_by_the_older():
    build = house().room("101").bed("A").checked("A", day(-80)).bed("B").checked("B", day(-90))
    (late,) = picture(build).late
    assert (late.beds, late.due_on) == (2, day(1))


def test_a_bed_is_not_late_on_its_last_day():
    build = house().room("101").bed("A").checked("A", day(0))
    assert picture(build, moment(91)).late == ()
    assert len(picture(build, moment(92)).late) == 1


def test_a_room_that_two_cases_close_stands_once_since_the_first(busy):
    busy.record(
        Sighted(OTHER, RoomNo("103"), "", "seats", Sign.CAST_SKIN, 0, "anna", moment(39, 3)),
        QuarantinePlaced(RoomNo("103"), OTHER, moment(39, 4), "sighting"),
    )
    (closed,) = picture(busy).closed
    assert (closed.room, closed.since) == ("103", moment(39, 2))
    assert {row.case for row in closed.rows} == {CASE, OTHER}
    assert closed.missing.code == "judgement"
    lifted = QuarantineLifted(RoomNo("103"), CASE, moment(40, 8), "boss", "chief", True, "")
    (closed,) = picture(busy.record(lifted)).closed
    assert closed.since == moment(39, 4)


def test_a_house_without_anything_has_an_empty_day():
    told = picture(house())
    assert told.rooms == told.teams == told.parts == told.closed == told.late == ()
    assert (told.left, told.done) == (0, 0)


def test_a_room_that_furniture_came_to_is_late_once_its_days_are_over():
    """Moved on day 30; a look within so many days after it, as the house's figure says."""
    built = house().team("blue", works_on=("mon",)).on(30)
    for room in ("101", "102"):
        built.room(room).bed("A").checked("A", day(20))
    built.record(FurnitureMoved("101", "102", day(30), "armchair"))
    within = int(built.house.rules.figures.furniture_check_days.value)
    assert picture(built, moment(30 + within)).late == ()
    late = picture(built, moment(31 + within)).late_of(LateKind.SOONER_MISSED)
    assert [(one.room, one.due_on, one.days) for one in late] == [
        ("101", day(30 + within), 1),
        ("102", day(30 + within), 1),
    ]
    built.on(31).room("101", order=1).checked("A", day(31))
    late = picture(built, moment(31 + within)).late_of(LateKind.SOONER_MISSED)
    assert [one.room for one in late] == ["102"]


def test_an_agreed_look_of_today_or_tomorrow_that_no_team_can_keep_is_late_at_once():
    """Day 40 is a Saturday; the pair is ill on Monday and Tuesday, days 42 and 43."""
    built = house().team("blue").on(40)
    for room in ("101", "102", "103"):
        built.room(room).bed("A").checked("A", day(0)).stays((room, 30, 70))
    for room, on in (("101", 42), ("102", 43), ("103", 44)):
        built.record(VisitArranged(RoomNo(room), day(on), "10:00", "12:00", "anna"))
    assert picture(built, moment(42)).late_of(LateKind.AGREED_BROKEN) == ()
    built.record(TeamDaysChanged(TeamName("blue"), day(42), day(43), 0, "ill"))
    late = picture(built, moment(42)).late_of(LateKind.AGREED_BROKEN)
    assert [(one.room, one.due_on, one.agreed.from_clock) for one in late] == [
        ("101", day(42), "10:00"),
        ("102", day(43), "10:00"),
    ]
    built.room("101", order=1).on(42).checked("A", day(42), seen=())
    late = picture(built, moment(42)).late_of(LateKind.AGREED_BROKEN)
    assert [one.room for one in late] == ["102"]
