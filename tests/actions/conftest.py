"""A real hotel's file in a temporary folder, with a clock that the test sets."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from hotelwatch.actions.hotel import describe_teams, start_hotel
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    FloorPlaced,
    HotelDescribed,
    RoomDescribed,
    RoomNo,
    Side,
    TeamDescribed,
    TeamName,
)
from tests.build import rules


class Clock:
    """A clock that stands until the test moves it."""

    def __init__(self) -> None:
        self.moment = datetime(2026, 3, 9, 7, 30, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.moment


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def hotel(tmp_path, clock):
    """Two floors of four rooms on one side, a bare box spring in each; one team."""
    described = HotelDescribed("House of tests", "Europe/Vienna")
    hotel = start_hotel(tmp_path / "house.hotelwatch", described, rules(), clock=clock, by="maria")
    facts = [FloorPlaced("1", 1), FloorPlaced("2", 2)]
    for floor in "12":
        for order in range(1, 5):
            room = RoomNo(f"{floor}0{order}")
            facts.append(RoomDescribed(room, floor, "", Side.LEFT, order, "Double"))
            facts.append(BedDescribed(BedNo(f"{room}/A"), room, "box_spring"))
    hotel.record(lambda _: facts, action="load_roster")
    describe_teams(hotel, [TeamDescribed(TeamName("Early"), 2, 120)])
    yield hotel
    hotel.close()
