"""Where corridors of one floor meet or come so close that a lobby joins them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot

from hotelwatch.core.building.inside import holds, spans_inside
from hotelwatch.core.building.polygons import TOLERANCE_M, box_of, edges_of
from hotelwatch.core.building.rooms import Building, Corridor, Point, RoomShape


@dataclass(frozen=True, slots=True)
class Join:
    """Two corridors, by their place in the building's list, and where one goes over.

    Metres along each from where it begins, and metres from one to the other.
    """

    one: int
    other: int
    along_one: float
    along_other: float
    metres: float


def joins_of(building: Building, reach_m: float) -> Iterator[Join]:
    """Where two corridors of a level come closest, if within reach and no room lies between.

    Corridors that run beside each other are joined at each end of the piece they share.
    """
    by_level: defaultdict[int, list[int]] = defaultdict(list)
    for number, corridor in enumerate(building.corridors):
        by_level[corridor.level].append(number)
    rooms: defaultdict[int, list[RoomShape]] = defaultdict(list)
    for shape in building.shapes.values():
        rooms[shape.level].append(shape)
    for level, numbers in by_level.items():
        for one, other in combinations(numbers, 2):
            first, second = _line(building.corridors[one]), _line(building.corridors[other])
            for along_one, along_other in _closest(first, second):
                here, there = first.at(along_one), second.at(along_other)
                metres = _apart(here, there)
                if metres <= reach_m + TOLERANCE_M and not _blocked(here, there, rooms[level]):
                    yield Join(one, other, along_one, along_other, metres)


@dataclass(frozen=True, slots=True)
class _Line:
    """A corridor's middle line; one of no length has no direction."""

    start: Point
    direction: Point
    length: float

    def at(self, along: float) -> Point:
        return (
            self.start[0] + along * self.direction[0],
            self.start[1] + along * self.direction[1],
        )

    def nearest(self, point: Point) -> float:
        (x0, y0), (ux, uy) = self.start, self.direction
        along = ux * (point[0] - x0) + uy * (point[1] - y0)
        return min(max(0.0, along), self.length)


def along_of(corridor: Corridor, point: Point) -> float:
    """Metres from where a corridor begins to the place on its middle line nearest a point."""
    return _line(corridor).nearest(point)


def place_on(corridor: Corridor, along: float) -> Point:
    """Where on a corridor's middle line a place lies, so many metres from its beginning."""
    return _line(corridor).at(along)


def _line(corridor: Corridor) -> _Line:
    (x0, y0), (x1, y1) = corridor.start, corridor.end
    length = hypot(x1 - x0, y1 - y0)
    if not length:
        return _Line(corridor.start, (0.0, 0.0), 0.0)
    return _Line(corridor.start, ((x1 - x0) / length, (y1 - y0) / length), length)


def _closest(one: _Line, other: _Line) -> list[tuple[float, float]]:
    """Where two lines cross, else every end of one that is as near to the other as any."""
    crossing = _crossing(one, other)
    if crossing is not None:
        return [crossing]
    ends = [(one.nearest(other.at(end)), end) for end in (0.0, other.length)]
    ends += [(end, other.nearest(one.at(end))) for end in (0.0, one.length)]
    apart = [_apart(one.at(here), other.at(there)) for here, there in ends]
    near = min(apart) + TOLERANCE_M
    return [end for end, away in zip(ends, apart, strict=True) if away <= near]


def _crossing(one: _Line, other: _Line) -> tuple[float, float] | None:
    (ux, uy), (vx, vy) = one.direction, other.direction
    turn = ux * vy - uy * vx
    if abs(turn) < TOLERANCE_M:
        return None
    dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
    along_one, along_other = (dx * vy - dy * vx) / turn, (dx * uy - dy * ux) / turn
    if not 0 <= along_one <= one.length or not 0 <= along_other <= other.length:
        return None
    return along_one, along_other


def _apart(one: Point, other: Point) -> float:
    return hypot(other[0] - one[0], other[1] - one[1])


def _blocked(here: Point, there: Point, rooms: Sequence[RoomShape]) -> bool:
    box = box_of((here, there))
    return any(
        box_of(shape.outline).meets(box)
        and (
            _passes(here, there, shape.outline)
            if len(shape.parts) == 1
            else _passes_dented(here, there, shape.outline)
        )
        for shape in rooms
    )


def _passes(here: Point, there: Point, outline: Sequence[Point]) -> bool:
    """Whether the straight way goes through a convex room, not only along its wall."""
    first, last = 0.0, 1.0
    for edge in edges_of(outline):
        (x0, y0), (ux, uy) = edge.start, edge.direction
        begin, end = (ux * (y - y0) - uy * (x - x0) - TOLERANCE_M for x, y in (here, there))
        if begin < 0 and end < 0:
            return False
        if begin < 0:
            first = max(first, begin / (begin - end))
        elif end < 0:
            last = min(last, begin / (begin - end))
    return first < last


def _passes_dented(here: Point, there: Point, outline: Sequence[Point]) -> bool:
    """The same for a room with corners that turn inward."""
    length = _apart(here, there)
    if not length:
        return holds(outline, here)
    way = ((there[0] - here[0]) / length, (there[1] - here[1]) / length)
    return any(
        min(last, length) - max(first, 0.0) > TOLERANCE_M
        for first, last in spans_inside(outline, here, way)
    )
