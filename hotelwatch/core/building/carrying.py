"""Rooms that were drawn go along when their wing is put elsewhere: they are parts of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import cos, radians, sin

from hotelwatch.core.building.outlines import Outline, numbers_of, points_of
from hotelwatch.core.building.rooms import COSINE_DIGITS, drawn_numbers, lay_out
from hotelwatch.core.building.shaping import rounded
from hotelwatch.core.facts import RoomDrawn, RoomNo, WingPlaced
from hotelwatch.core.house import House


def carried(house: House, wings: Iterable[WingPlaced]) -> tuple[RoomDrawn, ...]:
    """Drawings of rooms as they lie once their wings are there; those that stay are left out."""
    drawn = drawn_numbers(house)
    if not drawn:
        return ()
    moving = {wing.wing: wing for wing in wings if house.wings.get(wing.wing) != wing}
    before = _places_before(house, moving)
    return tuple(_carried(house, drawn, before, moving))


def _carried(
    house: House,
    drawn: Mapping[RoomNo, tuple[float, ...]],
    before: Mapping[str, WingPlaced],
    moving: Mapping[str, WingPlaced],
) -> Iterator[RoomDrawn]:
    for room, numbers in drawn.items():
        described = house.rooms.get(room)
        if described is None or described.wing not in before or len(numbers) % 2:
            continue
        old, new = before[described.wing], moving[described.wing]
        if old != new:
            yield RoomDrawn(room, numbers_of(_moved(points_of(numbers), old, new)))


def _places_before(house: House, moving: Mapping[str, WingPlaced]) -> Mapping[str, WingPlaced]:
    """Where these wings are now; one that nobody placed is where the program lays it out."""
    known = {name: house.wings[name] for name in moving if name in house.wings}
    if len(known) < len(moving):
        for corridor in lay_out(house).corridors:
            if corridor.wing in moving and corridor.wing not in known:
                known[corridor.wing] = WingPlaced(corridor.wing, *corridor.start, 0.0)
    return known


def _moved(outline: Outline, old: WingPlaced, new: WingPlaced) -> Outline:
    """Turned about where the corridor began, by what its bearing changed, then moved along."""
    turn = radians(new.bearing_deg - old.bearing_deg)
    cosine, sine = round(cos(turn), COSINE_DIGITS), round(sin(turn), COSINE_DIGITS)
    away = ((x - old.x_m, y - old.y_m) for x, y in outline)
    return rounded(
        (new.x_m + x * cosine - y * sine, new.y_m + x * sine + y * cosine) for x, y in away
    )
