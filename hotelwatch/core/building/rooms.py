"""Where every room lies: polygons in metres, seen from above, laid out from the roster.

A wing is one corridor that begins at a point and runs straight. Rooms stand to its
left, to its right or across its far end, bay after bay. A hotel's labels are never
used for arithmetic: only floor, wing, side and order say where a room lies, unless
somebody drew it: then it lies where it was drawn, and all others stay where they were.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from hotelwatch.core.building.inside import can_be_built, convex_parts, widest_place
from hotelwatch.core.building.outlines import (
    Outline,
    centre_of,
    front_of,
    points_of,
    settled,
)
from hotelwatch.core.building.outlines import Point as Point
from hotelwatch.core.facts import RoomDescribed, RoomDrawn, RoomNo, Side
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures

COSINE_DIGITS = 15
"""A quarter turn comes out exact; what is lost lies far below a wall's thickness."""


@dataclass(frozen=True, slots=True)
class RoomShape:
    """A room as it lies on its floor."""

    room: RoomNo
    floor: str
    level: int
    outline: tuple[Point, ...]
    """Counter-clockwise, seen from above; walls neither cross nor touch one another."""
    front: tuple[Point, Point]
    """The edge on the corridor, with the door in its middle."""
    centre: Point
    """Of a convex room the centre of gravity, of another the middle of its widest place."""
    parts: tuple[Outline, ...]
    """Convex ones that fill it; of a convex room it is itself the only one."""
    is_drawn: bool = False
    """Whether somebody drew it; else it is laid out from the roster."""


@dataclass(frozen=True, slots=True)
class Corridor:
    """A wing's corridor on one floor; ``start`` and ``end`` lie on its middle line."""

    floor: str
    level: int
    wing: str
    start: Point
    end: Point
    width_m: float


@dataclass(frozen=True, slots=True)
class Building:
    """Every room in use with its shape, the floors with their level, the corridors."""

    shapes: Mapping[RoomNo, RoomShape]
    floors: Mapping[str, int]
    corridors: tuple[Corridor, ...]


def lay_out(house: House) -> Building:
    """The building of a roster, in metres.

    Wings without a place stand end to end to the east of all others, so far apart
    that they share no wall. Floors without a place lie above the placed ones, in the
    order of their labels.
    """
    figures = house.rules.figures
    by_wing: defaultdict[str, list[RoomDescribed]] = defaultdict(list)
    for room in house.rooms.values():
        by_wing[room.wing].append(room)
    levels = _levels(house)
    drawn = _drawn_outlines(house)
    shapes: dict[RoomNo, RoomShape] = {}
    corridors: list[Corridor] = []
    next_x = 0.0
    for wing in sorted(by_wing, key=lambda name: (name not in house.wings, name)):
        frame = _frame(house, wing, next_x)
        boxes, lengths = _plan_wing(by_wing[wing], figures, drawn=drawn.keys())
        ends = {f: (frame.at((0.0, 0.0)), frame.at((far, 0.0))) for f, far in lengths.items()}
        for box in boxes:
            laid = _shape(box, frame, levels[box.room.floor])
            east = max(x for x, _ in laid.outline)
            next_x = max(next_x, east + figures.bay_width_m.value)
            outline = drawn.get(laid.room)
            shapes[laid.room] = drawn_shape(laid, outline, *ends[laid.floor]) if outline else laid
        for floor, (start, end) in ends.items():
            width = figures.corridor_width_m.value
            corridors.append(Corridor(floor, levels[floor], wing, start, end, width))
    corridors.sort(key=lambda corridor: (corridor.level, corridor.floor, corridor.wing))
    return Building({no: shapes[no] for no in house.rooms}, levels, tuple(corridors))


# --- rooms that were drawn ------------------------------------------------------------


def drawn_numbers(house: House) -> Mapping[RoomNo, tuple[float, ...]]:
    """Outlines of rooms as they were drawn, corner by corner; without those taken back."""
    latest = {drawn.room: drawn.outline for drawn in house.all_of(RoomDrawn)}
    return {room: outline for room, outline in latest.items() if outline}


def _drawn_outlines(house: House) -> Mapping[RoomNo, Outline]:
    """Outlines that can be built; whoever writes one down sees to it that it can."""
    read = {
        room: settled(points_of(numbers))
        for room, numbers in drawn_numbers(house).items()
        if room in house.rooms and len(numbers) % 2 == 0
    }
    return {room: outline for room, outline in read.items() if can_be_built(outline)}


def drawn_shape(laid: RoomShape, outline: Outline, start: Point, end: Point) -> RoomShape:
    """A room where somebody drew it; its front is the wall nearest to its corridor."""
    parts = convex_parts(outline)
    return RoomShape(
        room=laid.room,
        floor=laid.floor,
        level=laid.level,
        outline=outline,
        front=front_of(outline, start, end),
        centre=centre_of(outline) if len(parts) == 1 else widest_place(outline),
        parts=parts,
        is_drawn=True,
    )


# --- floors and wings ---------------------------------------------------------------


def _levels(house: House) -> dict[str, int]:
    levels = dict(house.floors)
    top = max(levels.values(), default=0)
    missing = {room.floor for room in house.rooms.values()} - levels.keys()
    for level, floor in enumerate(sorted(missing, key=_natural), top + 1):
        levels[floor] = level
    return levels


def _natural(label: str) -> tuple[tuple[int, str], ...]:
    parts = re.findall(r"\d+|\D+", label)
    return tuple((int(part), "") if part.isdecimal() else (0, part) for part in parts)


@dataclass(frozen=True, slots=True)
class _Frame:
    """A wing's own axes: along its corridor, and to the left of it."""

    x: float
    y: float
    cosine: float
    sine: float

    def at(self, point: Point) -> Point:
        along, left = point
        return (
            self.x + along * self.cosine - left * self.sine,
            self.y + along * self.sine + left * self.cosine,
        )


def _frame(house: House, wing: str, next_x: float) -> _Frame:
    placed = house.wings.get(wing)
    if placed is None:
        return _Frame(next_x, 0.0, 1.0, 0.0)
    turn = radians(placed.bearing_deg)
    cosine, sine = round(cos(turn), COSINE_DIGITS), round(sin(turn), COSINE_DIGITS)
    return _Frame(placed.x_m, placed.y_m, cosine, sine)


# --- rooms along a corridor, in the wing's own axes ------------------------------------


@dataclass(frozen=True, slots=True)
class _Box:
    """A room before its wing is turned: its corners, front edge first."""

    room: RoomDescribed
    corners: tuple[Point, Point, Point, Point]


def _plan_wing(
    rooms: Sequence[RoomDescribed], figures: Figures, *, drawn: Collection[RoomNo]
) -> tuple[list[_Box], dict[str, float]]:
    """All rooms of a wing, and the length of its corridor on each floor."""
    floors: defaultdict[str, list[RoomDescribed]] = defaultdict(list)
    for room in rooms:
        floors[room.floor].append(room)
    by_both_sides = _floors_counted_across(floors)
    boxes: list[_Box] = []
    lengths: dict[str, float] = {}
    for floor, on_floor in floors.items():
        length = 0.0
        for side in (Side.LEFT, Side.RIGHT):
            row = [room for room in on_floor if room.side is side]
            planned, reach = _plan_side(
                row, figures, drawn=drawn, by_both_sides=floor in by_both_sides
            )
            boxes += planned
            length = max(length, reach)
        across = [room for room in on_floor if room.side is Side.END]
        boxes += _plan_end(across, figures, length, drawn=drawn)
        lengths[floor] = length
    return boxes, lengths


def _plan_side(
    rooms: Iterable[RoomDescribed],
    figures: Figures,
    *,
    drawn: Collection[RoomNo],
    by_both_sides: bool,
) -> tuple[list[_Box], float]:
    """One side's rooms and how far they reach; an order left out is an empty bay.

    A drawn room that shares its bay with another takes none of its own: a room that was
    split moves nobody.
    """
    usual = figures.bay_width_m.value
    near = figures.corridor_width_m.value / 2
    far = near + figures.room_depth_m.value
    boxes: list[_Box] = []
    along, next_bay, taken = 0.0, 1, 0
    for room in sorted(rooms, key=lambda r: (r.order, r.room in drawn, r.room)):
        if boxes and room.order == taken and room.room in drawn:
            boxes.append(_Box(room, boxes[-1].corners))
            continue
        taken = room.order
        bay = (room.order + 1) // 2 if by_both_sides else room.order
        along += max(0, bay - next_bay) * usual
        end = along + (room.width_m or usual)
        if room.side is Side.LEFT:
            corners = ((along, near), (end, near), (end, far), (along, far))
        else:
            corners = ((end, -near), (along, -near), (along, -far), (end, -far))
        boxes.append(_Box(room, corners))
        along, next_bay = end, bay + 1
    return boxes, along


def _plan_end(
    rooms: Iterable[RoomDescribed], figures: Figures, length: float, *, drawn: Collection[RoomNo]
) -> Iterable[_Box]:
    """Rooms across the far end, from left to right, about the corridor's middle line."""
    bays: dict[int, list[RoomDescribed]] = {}
    alone = 0
    for room in sorted(rooms, key=lambda r: (r.order, r.room in drawn, r.room)):
        if room.order in bays and room.room in drawn:
            bays[room.order].append(room)
            continue
        alone -= 1
        bays[alone if room.order in bays else room.order] = [room]
    usual = figures.bay_width_m.value
    widths = [sharing[0].width_m or usual for sharing in bays.values()]
    far = length + figures.room_depth_m.value
    left = sum(widths) / 2
    for sharing, width in zip(bays.values(), widths, strict=True):
        right = left - width
        corners = ((length, left), (length, right), (far, right), (far, left))
        yield from (_Box(room, corners) for room in sharing)
        left = right


# --- orders counted along one side, or across from side to side ---------------------------


def _floors_counted_across(floors: Mapping[str, Sequence[RoomDescribed]]) -> frozenset[str]:
    """Floors on which orders run from side to side (1, 3, 5 / 2, 4, 6).

    A floor with too few rooms to tell follows the wing's other floors.
    """
    orders = {floor: _orders(rooms) for floor, rooms in floors.items()}
    telling = {
        floor
        for floor, sides in orders.items()
        if all(sides) and any(len(side) > 1 for side in sides)
    }
    across = {floor for floor in telling if _left_rest(*orders[floor]) is not None}
    rests = {_left_rest(*orders[floor]) for floor in across}
    follow = {
        floor
        for floor in orders.keys() - telling
        if any(_fits(orders[floor], rest) for rest in rests if rest is not None)
    }
    return frozenset(across | follow)


def _orders(rooms: Iterable[RoomDescribed]) -> tuple[frozenset[int], frozenset[int]]:
    listed = list(rooms)
    left = frozenset(room.order for room in listed if room.side is Side.LEFT)
    return left, frozenset(room.order for room in listed if room.side is Side.RIGHT)


def _left_rest(left: frozenset[int], right: frozenset[int]) -> int | None:
    """0 if all the left side's orders are even and the right's odd, 1 the other way round."""
    return next((rest for rest in (0, 1) if _fits((left, right), rest)), None)


def _fits(sides: tuple[frozenset[int], frozenset[int]], rest: int) -> bool:
    left, right = sides
    return all(order % 2 == rest for order in left) and all(order % 2 != rest for order in right)


def _shape(box: _Box, frame: _Frame, level: int) -> RoomShape:
    outline = tuple(frame.at(corner) for corner in box.corners)
    (x0, y0), _, (x2, y2), _ = outline
    return RoomShape(
        room=box.room.room,
        floor=box.room.floor,
        level=level,
        outline=outline,
        front=(outline[0], outline[1]),
        centre=((x0 + x2) / 2, (y0 + y2) / 2),
        parts=(outline,),
    )
