"""Whether a case's ring still grows, and by which rule it stopped."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from hotelwatch.core.cases.centres import Centre
from hotelwatch.core.cases.ring_rooms import SIGHTING, RingRoom, RoomState
from hotelwatch.core.checks.asked import still_asks
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House


class Growth(StrEnum):
    """Whether a ring still grows, and by which rule it stopped."""

    NO_CENTRE = "no_centre"
    """No sign of it asks for the rooms around."""
    OFFER_FLOOR = "offer_floor"
    """It covers so much of a floor that a look at the whole floor is offered."""
    GOES_ON = "goes_on"
    """Rooms are still to be looked at, and each find makes a centre."""
    CLEAN_AS_ASKED = "clean_as_asked"
    """Nothing was found in the rooms asked for, but some were left out."""
    CLEAN_RING = "clean_ring"
    """Every room around every centre was looked at, and nothing was found."""
    CALLED_OFF = "called_off"
    """Somebody judged that it was no bed bug."""


@dataclass(frozen=True, slots=True)
class FloorOffer:
    """A floor so much of which is asked for that all of it may as well be looked at."""

    floor: str
    asked: int
    rooms: int
    rest: tuple[RoomNo, ...]
    """Its rooms that nobody asked for, in the order of the roster."""


def floor_offers(house: House, rooms: tuple[RingRoom, ...]) -> tuple[FloorOffer, ...]:
    """Floors of which a ring has more than figures.whole_floor_share, from the lowest up."""
    gone = (RoomState.STRUCK_OUT, RoomState.WITHDRAWN)
    in_ring = {row.room for row in rooms if row.state not in gone}
    asked = Counter(house.rooms[room].floor for room in in_ring)
    share = house.rules.figures.whole_floor_share.value
    offers = []
    for floor in (floor for floor in house.floors if asked[floor]):
        all_rooms = house.rooms_by_floor[floor]
        if share * len(all_rooms) < asked[floor] < len(all_rooms):
            rest = tuple(room for room in all_rooms if room not in in_ring)
            offers.append(FloorOffer(floor, asked[floor], len(all_rooms), rest))
    return tuple(offers)


def growth_of(
    house: House,
    case: CaseNo,
    *,
    centres: tuple[Centre, ...],
    rooms: tuple[RingRoom, ...],
    floors: tuple[FloorOffer, ...],
) -> tuple[Growth, Mapping[str, Any]]:
    """Whether a ring still grows, with the values its sentence names.

    Values: left (rooms around still to be looked at), rooms (looked at without a find),
    centres, struck (rooms left out), floors (offered whole).
    """
    by_state: defaultdict[RoomState, list[RoomNo]] = defaultdict(list)
    for row in rooms:
        around = any(reason.code != SIGHTING for reason in row.reasons)
        if around:
            by_state[row.state].append(row.room)
    left = [
        *by_state[RoomState.OPEN],
        *by_state[RoomState.LEFT_OVER],
        *by_state[RoomState.NOT_ASKED],
    ]
    struck = tuple(by_state[RoomState.STRUCK_OUT])
    values = {
        "left": len(left),
        "rooms": len(by_state[RoomState.CLEAN]),
        "centres": len(centres),
        "struck": struck,
        "floors": tuple(offer.floor for offer in floors),
    }
    if not still_asks(house, case):
        return Growth.CALLED_OFF, values
    if not centres:
        return Growth.NO_CENTRE, values
    if left:
        return (Growth.OFFER_FLOOR if floors else Growth.GOES_ON), values
    return (Growth.CLEAN_AS_ASKED if struck else Growth.CLEAN_RING), values
