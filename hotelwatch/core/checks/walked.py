"""Minutes that a team's sheet takes out of its day, and its ways to corridors."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Protocol

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House


class OnSheet(Protocol):
    """A room on a team's sheet."""

    @property
    def room(self) -> RoomNo:
        """Its label."""

    @property
    def minutes(self) -> int:
        """Set-up and beds."""


def sheet_minutes(house: House, visits: Collection[OnSheet]) -> int:
    """Minutes of a team's day that these visits take, ways to their corridors among them."""
    return sum(one.minutes for one in visits) + ways_minutes(house, (one.room for one in visits))


def corridors_of(house: House, rooms: Iterable[RoomNo]) -> int:
    """To how many corridors, one floor of one wing each, a team goes for these rooms."""
    described = (house.rooms[room] for room in rooms if room in house.rooms)
    return len({(room.floor, room.wing) for room in described})


def ways_minutes(house: House, rooms: Iterable[RoomNo]) -> int:
    """Minutes to get there and back with light, tools and cart, once for each corridor."""
    return corridors_of(house, rooms) * int(house.rules.figures.corridor_minutes.value)
