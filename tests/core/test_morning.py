"""Whether a day is to be planned again on its morning."""

from __future__ import annotations

from hotelwatch.core.case_facts import QuarantinePlaced, Sighted, Sign
from hotelwatch.core.facts import (
    CaseNo,
    RoomNo,
    RoundPublished,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.rounds.morning import morning
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

BLUE = TeamName("blue")


def inn(minutes=120, published=4):
    """Two rooms; 101 is on the sheet of day 7, a Monday, published on day ``published``."""
    built = house().team("blue", minutes)
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
    assert (found.planned_on, found.free_minutes, found.teams) == (day(4), 92, (BLUE,))
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
