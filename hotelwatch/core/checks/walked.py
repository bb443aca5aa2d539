"""Minutes that a team's ways to corridors take out of its day."""

from __future__ import annotations

from collections.abc import Iterable

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House


def corridors_of(house: House, rooms: Iterable[RoomNo]) -> int:
    """To how many corridors, one floor of one wing each, a team goes for these rooms."""
    described = (house.rooms[room] for room in rooms if room in house.rooms)
    return len({(room.floor, room.wing) for room in described})


def ways_minutes(house: House, rooms: Iterable[RoomNo]) -> int:
    """Minutes to get there and back with light, tools and cart, once for each corridor."""
    return corridors_of(house, rooms) * int(house.rules.figures.corridor_minutes.value)
