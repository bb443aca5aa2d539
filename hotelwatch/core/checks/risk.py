"""Rooms that the record makes riskier than others, for the hotel to judge: a proposal, no more.

That bed bugs come back to a room, or into the rooms beside it, is common in the trade; by
how much, in a hotel, nobody measured.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.building.neighbours import MIRRORED, Kind, Neighbour
from hotelwatch.core.checks.signs import finds, rooms_with_signs
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House

TOUCHING = frozenset({Kind.SHARES_WALL, Kind.ABOVE, Kind.BELOW, Kind.CONNECTS, Kind.SAME_SUITE})
"""Rooms across the corridor are two doors away."""


@dataclass(frozen=True, slots=True)
class Risky:
    """A room, and the find that speaks for a higher risk."""

    room: RoomNo
    found_in: RoomNo
    """The room itself, or one that it touches."""
    found_on: date
    """The latest one."""
    kinds: tuple[Kind, ...] = ()
    """How it is that room's neighbour, seen from there; none where it is the room itself."""


def risky_rooms(
    house: House, around: Mapping[RoomNo, Sequence[Neighbour]], today: date
) -> tuple[Risky, ...]:
    """Rooms in which a sign was found of late, and those that touch one, in the house's order.

    Weak signs alone, and signs of cases that were ruled out, say nothing.
    """
    since = today - timedelta(days=int(house.rules.figures.risk_found_days.value))
    found_on = dict(_found_on(house, since, today))
    return tuple(one for room in house.rooms if (one := _risky(room, found_on, around)) is not None)


def _found_on(house: House, since: date, today: date) -> Iterator[tuple[RoomNo, date]]:
    for room in rooms_with_signs(house):
        days = [
            find.day
            for find in finds(house, room)
            if not find.is_weak and since <= find.day <= today
        ]
        if days:
            yield room, max(days)


def _risky(
    room: RoomNo, found_on: Mapping[RoomNo, date], around: Mapping[RoomNo, Sequence[Neighbour]]
) -> Risky | None:
    if room in found_on:
        return Risky(room, room, found_on[room])
    touched = [
        one
        for one in around.get(room, ())
        if one.room in found_on and not TOUCHING.isdisjoint(one.kinds)
    ]
    if not touched:
        return None
    latest = max(touched, key=lambda one: found_on[one.room])
    kinds = tuple(MIRRORED.get(kind, kind) for kind in latest.kinds)
    return Risky(room, latest.room, found_on[latest.room], kinds)
