"""Random deeds on a small hotel, each made anew from its number; and the hotel itself."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.choices import choose_figure, note_holiday
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.hotel import choose_cycle, describe_teams, start_hotel
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    CaseNo,
    FloorPlaced,
    HotelDescribed,
    RoomDescribed,
    RoomNo,
    Scope,
    Side,
    StaysImported,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.records import Stay
from tests.build import rules

BEGUN = datetime(2026, 3, 9, 7, 30, tzinfo=UTC)
ROOMS = tuple(RoomNo(f"{floor}0{order}") for floor in "12" for order in range(1, 5))


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.moment = BEGUN

    def __call__(self) -> datetime:
        return self.moment


def start(path: Path, clock: Callable[[], datetime]) -> OpenHotel:
    """A hotel of two floors of four rooms."""
    described = HotelDescribed("House of faults", "Europe/Vienna")
    hotel = start_hotel(path, described, rules(), clock=clock, by="maria")
    facts = [FloorPlaced("1", 1), FloorPlaced("2", 2)]
    for room in ROOMS:
        facts.append(RoomDescribed(room, room[0], "", Side.LEFT, int(room[2]), "Double"))
        facts.append(BedDescribed(BedNo(f"{room}/A"), room, "box_spring"))
    hotel.record(lambda _: facts, action="load_roster")
    return hotel


def do(hotel: OpenHotel, seed: int) -> None:
    """A deed, the same each time for its number and the house as it is."""
    dice = random.Random(seed)
    dice.choice(DEEDS)(hotel, dice)


def _cycle(hotel: OpenHotel, dice: random.Random) -> None:
    choose_cycle(hotel, Scope.HOUSE, "", dice.choice((60, 75, 90)))


def _teams(hotel: OpenHotel, dice: random.Random) -> None:
    name = TeamName(dice.choice(("Early", "Late")))
    describe_teams(hotel, [TeamDescribed(name, 2, dice.choice((90, 120)))])


def _sighting(hotel: OpenHotel, dice: random.Random) -> None:
    seen_at = hotel.now() - timedelta(hours=1)
    room = dice.choice(ROOMS)
    log_sighting(hotel, Sighted(CaseNo(""), room, "", "", Sign.LIVE_INSECT, 0, "ana", seen_at))


def _figure(hotel: OpenHotel, dice: random.Random) -> None:
    choose_figure(hotel, "plan_days", dice.choice((7, 14, 21)), reason="trial")


def _holiday(hotel: OpenHotel, dice: random.Random) -> None:
    note_holiday(hotel, date(2026, 5, dice.randint(1, 9)), "Day off")


def _take_back(hotel: OpenHotel, dice: random.Random) -> None:
    take_back(hotel, dice.randint(3, 60), reason="was wrong")


def _bookings(hotel: OpenHotel, dice: random.Random) -> None:
    first = date(2026, 3, 9)
    stays = [
        Stay(f"B{n}", dice.choice(ROOMS), "Double", first + timedelta(days=n),
             first + timedelta(days=n + dice.randint(1, 3)))
        for n in range(4)
    ]  # fmt: skip
    hotel.record_stays(stays, StaysImported("f.csv", "0" * 64, first, 4, 0))


DEEDS = (_cycle, _teams, _sighting, _figure, _holiday, _take_back, _bookings)
