"""The building cut upright: what one would see of it on a straight line through its rooms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot, inf

from hotelwatch.core.building.inside import NEAR_M, spans_inside
from hotelwatch.core.building.outlines import Point
from hotelwatch.core.building.rooms import Building, RoomShape
from hotelwatch.core.facts import RoomNo, Side
from hotelwatch.core.house import House

LEAST_M = 0.05
"""A room that the line only grazes is not cut."""


@dataclass(frozen=True, slots=True)
class Cut:
    """Where the building is cut: along the rooms of one side of a wing's corridor."""

    wing: str
    side: Side


@dataclass(frozen=True, slots=True)
class CutRoom:
    """A room as the cut shows it: from where to where along the line, on its level.

    A room with corners that turn inward may be cut more than once.
    """

    room: RoomNo
    level: int
    from_m: float
    until_m: float


@dataclass(frozen=True, slots=True)
class Section:
    """All rooms that a straight line goes through, on every level, floor above floor."""

    cut: Cut
    start: Point
    end: Point
    """The line seen from above, as far as it goes through rooms."""
    rooms: tuple[CutRoom, ...]
    """By level, then along the line."""
    floors: Mapping[int, tuple[str, ...]]
    """The floors on each level that is cut."""


def cuts_of(house: House) -> tuple[Cut, ...]:
    """Every cut that goes through rooms of its own, by wing, left before right."""
    found = {(room.wing, room.side) for room in house.rooms.values()}
    order = list(Side)
    return tuple(
        Cut(wing, side) for wing, side in sorted(found, key=lambda c: (c[0], order.index(c[1])))
    )


def cut_through(house: House, room: RoomNo) -> Cut:
    """The cut that goes along a room's own side of its corridor."""
    described = house.rooms[room]
    return Cut(described.wing, described.side)


def section_of(house: House, building: Building, cut: Cut) -> Section:
    """The building cut along the rooms of one side of a wing.

    The line is straight, through the middle of most of those rooms, and goes on through
    whatever stands in its way: rooms above one another show with the overlap they have.
    """
    origin, direction = _line(house, building, cut)
    cut_rooms = sorted(
        _crossed(building, origin, direction), key=lambda one: (one.level, one.from_m, one.room)
    )
    first = min((one.from_m for one in cut_rooms), default=0.0)
    last = max((one.until_m for one in cut_rooms), default=0.0)
    floors: dict[int, tuple[str, ...]] = {}
    for one in cut_rooms:
        floor = building.shapes[one.room].floor
        if floor not in floors.get(one.level, ()):
            floors[one.level] = (*floors.get(one.level, ()), floor)
    return Section(
        cut=cut,
        start=(origin[0] + first * direction[0], origin[1] + first * direction[1]),
        end=(origin[0] + last * direction[0], origin[1] + last * direction[1]),
        rooms=tuple(
            CutRoom(one.room, one.level, one.from_m - first, one.until_m - first)
            for one in cut_rooms
        ),
        floors=floors,
    )


def _line(house: House, building: Building, cut: Cut) -> tuple[Point, Point]:
    """A point on the cut, and its direction: along the corridor, at the rooms' middle depth."""
    corridor = max(
        (c for c in building.corridors if c.wing == cut.wing),
        key=lambda c: hypot(c.end[0] - c.start[0], c.end[1] - c.start[1]),
    )
    dx, dy = corridor.end[0] - corridor.start[0], corridor.end[1] - corridor.start[1]
    length = hypot(dx, dy)
    ux, uy = (dx / length, dy / length) if length else (1.0, 0.0)
    x0, y0 = corridor.start
    centres = [
        building.shapes[room.room].centre
        for room in house.rooms.values()
        if (room.wing, room.side) == (cut.wing, cut.side)
    ]
    if cut.side is Side.END:  # along the end of the corridor, square to it
        along = _median([(x - x0) * ux + (y - y0) * uy for x, y in centres])
        return (x0 + along * ux, y0 + along * uy), (-uy, ux)
    left = _median([ux * (y - y0) - uy * (x - x0) for x, y in centres])
    return (x0 - left * uy, y0 + left * ux), (ux, uy)


def _median(numbers: Sequence[float]) -> float:
    return sorted(numbers)[len(numbers) // 2] if numbers else 0.0


def _crossed(building: Building, origin: Point, direction: Point) -> Iterator[CutRoom]:
    for shape in building.shapes.values():
        for first, last in _spans(shape, origin, direction):
            if last - first >= LEAST_M:
                yield CutRoom(shape.room, shape.level, first, last)


def _spans(shape: RoomShape, origin: Point, direction: Point) -> Sequence[tuple[float, float]]:
    if len(shape.parts) == 1:
        return (_inside(shape.outline, origin, direction),)
    joined: list[tuple[float, float]] = []
    for first, last in spans_inside(shape.outline, origin, direction):
        if joined and first - joined[-1][1] <= NEAR_M:  # it only passed a corner
            joined[-1] = joined[-1][0], last
        else:
            joined.append((first, last))
    return joined


def _inside(outline: Sequence[Point], origin: Point, direction: Point) -> tuple[float, float]:
    """From where to where a line runs inside a convex outline; the wrong way round if never."""
    first, last = -inf, inf
    (ox, oy), (dx, dy) = origin, direction
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True):
        wx, wy = bx - ax, by - ay
        off = wx * (oy - ay) - wy * (ox - ax)
        climb = wx * dy - wy * dx
        if abs(climb) < LEAST_M * LEAST_M * hypot(wx, wy):
            if off < 0:
                return inf, -inf
        elif climb > 0:
            first = max(first, -off / climb)
        else:
            last = min(last, -off / climb)
    return first, last
