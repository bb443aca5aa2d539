"""Whether a day is to be planned again on its morning."""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.facts import (
    CaseNo,
    RoomNo,
    RoundPublished,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.round_facts import DayForbidden, TeamDaysChanged
from hotelwatch.core.rounds.morning import WaitingRoom, morning
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

BLUE = TeamName("blue")


def inn(minutes=120, published=4, **shift):
    """Two rooms; 101 is on the sheet of day 7, a Monday, published on day ``published``."""
    built = house().team("blue", minutes, **shift)
    for room in ("101", "102"):
        built.room(room).bed("A").checked("A", day(0))
    built.on(published)
    slot = SlotPublished(day(7), BLUE, 1, RoomNo("101"), ("101/A",), 20)
    return built.record(RoundPublished(day(4), day(11)), slot)


def told(built):
    return morning(built.house, occupancy(built.house, day(7)), moment(7))


def test_a_day_published_before_it_began_with_minutes_left_is_planned_again():
    found = told(inn())
    # 120 less 20 for the room and 8 for its corridor, as resources/parameters.toml says.
    assert (found.free_minutes, found.teams) == (92, (BLUE,))
    assert found.closed_rooms == ()


def test_published_this_morning_it_stands():
    assert told(inn(published=7)) is None


def test_a_full_day_stands():
    # What is left, 27 minutes, is less than a way, a set-up and a bed: 8 + 6 + 14.
    assert told(inn(minutes=55)) is None
    assert told(inn(minutes=56)).free_minutes == 28


def test_no_round_no_morning():
    built = house().team("blue")
    built.room("101").bed("A")
    assert told(built) is None


def test_a_room_that_closed_meanwhile_is_named_even_if_published_today():
    built = inn(published=7).on(7)
    case = CaseNo("2026-001")
    built.record(
        Sighted(case, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(7, 5)),
        QuarantinePlaced(RoomNo("101"), case, moment(7, 6), "sighting"),
    )
    found = told(built)
    assert (found.closed_rooms, found.free_minutes) == (("101",), 0)


def test_a_guest_who_stays_on_closes_a_room():
    built = inn(published=7).stays(("101", 3, 12))
    assert told(built).closed_rooms == ("101",)


def asked_for(built, room, *, by, hour):
    """A case in 101 wants a room looked at; written down at that hour of the day at hand."""
    case = CaseNo("2026-001")
    sign = Sighted(case, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(4, 5))
    return built.record(sign, CheckAsked(case, RoomNo(room), ("across",), moment(by, hour)))


def test_a_room_that_a_case_wants_by_today_and_no_sheet_has_is_named():
    assert told(asked_for(inn(minutes=55), "102", by=8, hour=12)) is None
    due = told(asked_for(inn(minutes=55), "102", by=7, hour=12))
    assert due.waiting == (WaitingRoom("102", day(7), is_late=False),)
    late = told(asked_for(inn(minutes=55), "102", by=5, hour=12))
    assert late.waiting == (WaitingRoom("102", day(5), is_late=True),)
    # Who stands on a sheet, or can't be entered, waits for nothing that planning could do.
    assert told(asked_for(inn(minutes=55), "101", by=7, hour=12)) is None
    let = inn(minutes=55).stays(("102", 3, 12))
    assert told(asked_for(let, "102", by=7, hour=12)) is None


def test_of_several_cases_the_earliest_deadline_tells_since_when_a_room_is_late():
    built = asked_for(inn(minutes=55), "102", by=6, hour=12)
    two = CaseNo("2026-002")
    built.record(
        Sighted(two, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(4, 5)),
        CheckAsked(two, RoomNo("102"), ("across",), moment(5, 12)),
    )
    assert told(built).waiting == (WaitingRoom("102", day(5), is_late=True),)


def test_what_a_case_asked_for_before_the_day_was_planned_had_its_turn():
    before = asked_for(inn(minutes=55).on(6), "102", by=7, hour=12).on(7)
    slot = SlotPublished(day(7), BLUE, 1, RoomNo("101"), ("101/A",), 20)
    assert [row.room for row in told(before).waiting] == ["102"]
    assert told(before.record(RoundPublished(day(7), day(7)), slot)) is None


def test_without_a_team_at_work_nobody_could_go_there():
    away = inn(minutes=55)
    away.record(TeamDaysChanged(BLUE, day(7), day(7), 0, "leave"))
    assert told(asked_for(away, "102", by=7, hour=12)).waiting == ()


def test_a_sheet_for_which_its_team_has_too_few_minutes_by_now_is_told():
    cut = inn(published=7)
    cut.record(TeamDaysChanged(BLUE, day(7), day(7), 28, ""))
    assert told(cut) is None
    cut.record(TeamDaysChanged(BLUE, day(7), day(7), 25, ""))
    (sheet,) = told(cut).overfull
    assert (sheet.team, sheet.used, sheet.minutes) == (BLUE, 28, 25)


def test_a_room_closed_by_the_case_that_wants_it_waits_and_is_not_called_closed():
    case = CaseNo("2026-001")
    built = inn(published=7).on(7)
    built.record(
        Sighted(case, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(7, 5)),
        QuarantinePlaced(RoomNo("101"), case, moment(7, 6), "sighting"),
        CheckAsked(case, RoomNo("101"), ("sighting",), moment(7, 20)),
    )
    found = told(built)
    assert found.closed_rooms == ()
    assert found.waiting == (WaitingRoom("101", day(7), is_late=False),)


def test_a_room_that_nobody_could_look_at_any_more_today_does_not_wait():
    """The visit takes 20 minutes; it is 09:00 UTC, in Vienna 10:00."""
    late = asked_for(inn(minutes=55, from_clock="06:00", until_clock="10:19"), "102", by=7, hour=12)
    assert told(late) is None
    just = asked_for(inn(minutes=55, from_clock="06:00", until_clock="10:20"), "102", by=7, hour=12)
    assert [row.room for row in told(just).waiting] == ["102"]
    by_hand = asked_for(inn(minutes=55), "102", by=7, hour=12)
    assert told(by_hand.record(DayForbidden(RoomNo("102"), day(7)))) is None


def test_minutes_after_a_shift_are_not_left_for_anybody():
    assert told(inn(from_clock="06:00", until_clock="10:05")) is None


@pytest.mark.parametrize(
    ("hour", "shift", "waits"),
    [
        (8, {"from_clock": "08:00", "until_clock": "16:00"}, False),
        (7, {"from_clock": "08:00", "until_clock": "16:00"}, True),
        (7, {}, False),
        (8, {"works_on": ("mon",)}, True),
    ],
)
def test_what_is_wanted_tomorrow_before_anybody_can_come_waits_today(hour, shift, waits):
    """07:00 UTC is 08:00 in Vienna; the visit takes 20 minutes."""
    built = asked_for(inn(minutes=55, **shift), "102", by=8, hour=hour)
    found = told(built)
    assert (found is not None) == waits
    if waits:
        assert found.waiting == (WaitingRoom("102", day(8), is_late=False, is_today_last=True),)


def test_what_has_a_guest_on_all_days_but_today_waits_today():
    built = asked_for(inn(minutes=55).stays(("102", 7, 20)), "102", by=10, hour=12)
    assert [row.room for row in told(built).waiting] == ["102"]
    free = asked_for(inn(minutes=55).stays(("102", 7, 9)), "102", by=10, hour=12)
    assert told(free) is None


def test_a_team_that_can_look_at_no_bed_has_nothing_to_give():
    built = inn().team("zoe", 60, people=1)
    assert (told(built).free_minutes, told(built).teams) == (92, (BLUE,))
