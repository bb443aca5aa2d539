from __future__ import annotations

import pytest

from hotelwatch.core.facts import (
    CycleChosen,
    MonthClosed,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamDescribed,
)
from hotelwatch.core.round_facts import FurnitureMoved, HouseDaysClosed
from hotelwatch.core.undoing import Deed, matters_of, month_closed_since, rests_on
from hotelwatch.wording.deeds import deed_text
from tests.build import day, house


def deed(build, *facts, action="test"):
    """What was written down last, as a deed."""
    build.record(*facts)
    return Deed(max(build.house.entries), "ana", action, facts)


@pytest.mark.parametrize(
    ("fact", "matters"),
    [
        (CycleChosen(Scope.ROOM, "101", 30), {("cycle", "101")}),
        (CycleChosen(Scope.HOUSE, "", 30), {("kind", "CycleChosen")}),
        (HouseDaysClosed(day(1), day(2), "fair"), {("kind", "HouseDaysClosed")}),
        (
            FurnitureMoved("101", "102", day(1), "chair"),
            {("room", "101"), ("room", "102")},
        ),
        (
            SlotPublished(day(1), "Early", 1, "101", ("101/A",), 20, "2026-001"),
            {("room", "101"), ("team", "Early"), ("case", "2026-001")},
        ),
    ],
)
def test_a_fact_is_of_the_matter_that_it_names(fact, matters):
    assert matters_of(fact) == matters


def test_a_check_of_a_published_room_rests_on_the_round():
    build = house().room("101").bed("A").team("Early")
    slot = SlotPublished(day(1), "Early", 1, "101", ("101/A",), 20)
    made = deed(build, RoundPublished(day(1), day(1)), slot)
    assert rests_on(build.house, made) is None
    build.checked("A", day(1))
    later = max(build.house.entries)
    assert rests_on(build.house, made).number == later
    assert rests_on(build.house, made, besides={later}) is None
    build.record(corrects=later, note="wrong")
    assert rests_on(build.house, made) is None


def test_anything_later_rests_on_a_roster():
    build = house()
    room = house().room("101").house.rooms["101"]
    made = deed(build, room, action="load_roster")
    build.record(CycleChosen(Scope.HOUSE, "", 30))
    assert rests_on(build.house, made) is not None


def test_a_month_closed_later_is_told():
    build = house().room("101").bed("A").checked("A", day(0))
    entry = max(build.house.entries)
    assert month_closed_since(build.house, entry) == ""
    build.record(MonthClosed("2026-01"))
    assert month_closed_since(build.house, entry) == "2026-01"


def test_a_deed_is_said_with_what_it_was_about():
    build = house().room("101").room("102").room("103").room("104")
    rooms = tuple(build.house.rooms.values())
    assert deed_text(Deed(1, "a", "record_check", rooms[:1])) == "Check recorded, room 101"
    assert deed_text(Deed(1, "a", "change_rooms", rooms[:2])) == (
        "Rooms changed from a table, rooms 101 and 102"
    )
    assert deed_text(Deed(1, "a", "load_roster", rooms)) == "Roster loaded, 4 rooms"
    team = TeamDescribed("Early", 2, 120)
    assert deed_text(Deed(1, "a", "describe_teams", (team,))) == "Teams described, Early"
    closed = HouseDaysClosed(day(1), day(2), "fair")
    assert deed_text(Deed(1, "a", "close_days", (closed,))) == "Days without rounds"
