"""A case's ring on paper: each floor that it touches, its rooms with a sign for how they stand."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from hotelwatch.core.building.inside import upright_about
from hotelwatch.core.building.rooms import Building, Point, RoomShape
from hotelwatch.core.cases.ring import Ring
from hotelwatch.core.cases.ring_rooms import RingRoom, RoomState
from hotelwatch.core.facts import RoomNo
from hotelwatch.printing.page import STRONG, Block, Canvas, Style, cells, gap, stacked, text_block
from hotelwatch.printing.sheet_style import BED
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

THIN_MM, THICK_MM = 0.15, 0.6
SMALLEST_PT = 6.0
"""Of a number in a narrow arm of a room (assumption)."""
BETWEEN_MM = 8.0
"""Between two floors that stand side by side."""
SIGNS = {
    RoomState.FOUND: "●",
    RoomState.OPEN: "○",
    RoomState.LEFT_OVER: "◐",
    RoomState.NOT_ASKED: "?",
    RoomState.CLEAN: "✓",
    RoomState.STRUCK_OUT: "–",
    RoomState.WITHDRAWN: "–",
}


@dataclass(frozen=True, slots=True)
class _Box:
    """A part of the building seen from above, in metres."""

    west: float
    east: float
    south: float
    north: float

    def wider(self, by_m: float) -> _Box:
        """The same, wider on each side."""
        return _Box(self.west - by_m, self.east + by_m, self.south - by_m, self.north + by_m)

    def holds(self, corner: Point) -> bool:
        """Whether a corner lies within."""
        x, y = corner
        return self.west <= x <= self.east and self.south <= y <= self.north


@dataclass(frozen=True, slots=True)
class _Scale:
    """From metres, seen from above, to millimetres on paper."""

    box: _Box
    mm_per_m: float
    left: float
    """Where the drawing begins, in millimetres."""
    label: Style

    steps: float = 1.0
    """1 where floors follow one another to the right, -1 where to the left."""

    def moved(self, by_mm: float) -> _Scale:
        """The same, so far on in reading direction."""
        return replace(self, left=self.left + self.steps * by_mm)

    @property
    def height(self) -> float:
        """Of a floor's drawing, in millimetres."""
        return (self.box.north - self.box.south) * self.mm_per_m

    def at(self, corner: Point, top: float) -> tuple[float, float]:
        """A corner on paper; north is up."""
        x, y = corner
        across = (x - self.box.west) * self.mm_per_m
        return self.left + across, top + (self.box.north - y) * self.mm_per_m


@dataclass(frozen=True, slots=True)
class PlanStyle:
    """How much of each floor is drawn, and how large."""

    tallest_mm: float
    """Of a floor's drawing."""
    label: Style
    title: Style
    within_m: float
    """Rooms farther from the box around the ring are left out."""


WHOLE_FLOORS = PlanStyle(34.0, Style(7.0), STRONG, math.inf)
FOR_TEAMS = PlanStyle(34.0, Style(11.0), BED, 8.0)
"""Large, and no more of the house than one needs to find the door."""


def ring_plan(
    canvas: Canvas, ring: Ring, building: Building, style: PlanStyle = WHOLE_FLOORS
) -> Iterator[Block]:
    """The floors of a ring from the highest down, with what their signs mean."""
    rows = {row.room: row for row in ring.rooms if row.room in building.shapes}
    if not rows:
        return
    of_ring = [building.shapes[room] for room in rows]
    touched = {shape.floor for shape in of_ring}
    floors: defaultdict[str, list[RoomShape]] = defaultdict(list)
    near = _box(of_ring).wider(style.within_m)
    for shape in building.shapes.values():
        if shape.floor in touched and all(near.holds(corner) for corner in shape.outline):
            floors[shape.floor].append(shape)
    box = _box([shape for found in floors.values() for shape in found])
    scale = _scale(canvas, box, style)
    wide = (box.east - box.west) * scale.mm_per_m
    a_row = max(1, int((canvas.width + BETWEEN_MM) // (wide + BETWEEN_MM)))
    ordered = sorted(touched, key=lambda floor: -building.floors[floor])
    for row in (ordered[at : at + a_row] for at in range(0, len(ordered), a_row)):
        drawn = [
            _floor(canvas, floors[floor], rows, scale.moved(number * (wide + BETWEEN_MM)))
            for number, floor in enumerate(row)
        ]
        titles = [_("Floor {floor}").format(floor=floor) for floor in row]
        starts = [number * (wide + BETWEEN_MM) for number in range(len(row))]
        heads = cells(canvas, titles, starts, style.title)
        yield stacked([heads, gap(1.0), _side_by_side(drawn)])
    states = dict.fromkeys(row.state for row in ring.rooms)
    legend = "   ".join(f"{SIGNS[state]} {label(state)}" for state in states)
    yield text_block(canvas, legend, Style(max(style.label.size_pt, STRONG.size_pt)))
    yield gap(2.0)


def _box(shapes: Sequence[RoomShape]) -> _Box:
    corners = [corner for shape in shapes for corner in shape.outline]
    xs, ys = [x for x, _y in corners], [y for _x, y in corners]
    return _Box(min(xs), max(xs), min(ys), max(ys))


def _scale(canvas: Canvas, box: _Box, style: PlanStyle) -> _Scale:
    wide, high = max(box.east - box.west, 1.0), max(box.north - box.south, 1.0)
    mm_per_m = min(canvas.width / wide, style.tallest_mm / high)
    # Where one reads from right to left it begins at the right, and is no less as it lies.
    if canvas.is_mirrored:
        return _Scale(box, mm_per_m, canvas.width - wide * mm_per_m, style.label, steps=-1.0)
    return _Scale(box, mm_per_m, 0.0, style.label)


def _side_by_side(blocks: Sequence[Block]) -> Block:
    def paint(top: float) -> None:
        for block in blocks:
            block.paint(top)

    return Block(max(block.height for block in blocks), paint)


def _floor(
    page: Canvas,
    shapes: Sequence[RoomShape],
    rows: dict[RoomNo, RingRoom],
    scale: _Scale,
) -> Block:
    canvas = page.plain

    def paint(top: float) -> None:
        # Rooms of the ring last: their thick outlines lie over the thin ones.
        for shape in sorted(shapes, key=lambda shape: shape.room in rows):
            row = rows.get(shape.room)
            corners = [scale.at(corner, top) for corner in shape.outline]
            canvas.polygon(
                corners,
                thick=THICK_MM if row else THIN_MM,
                is_filled=row is not None and row.is_centre,
            )
            if row is not None:
                _name(canvas, row, _place_for_words(shape, scale, top), scale.label)

    return Block(scale.height + 3.0, paint)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where words stand in a room: their middle, and how much room they have there."""

    middle: tuple[float, float]
    wide: float
    tall: float


def _place_for_words(shape: RoomShape, scale: _Scale, top: float) -> _Place:
    middle = scale.at(shape.centre, top)
    if len(shape.parts) == 1:
        return _Place(middle, math.inf, math.inf)
    # Beside a corner that turns inward words would soon stand in another room.
    wide, tall = upright_about(shape.parts, shape.outline, shape.centre)
    return _Place(middle, 2 * wide * scale.mm_per_m, 2 * tall * scale.mm_per_m)


def _name(canvas: Canvas, row: RingRoom, place: _Place, style: Style) -> None:
    """The room's number and its sign in the middle of it, smaller where there is less room."""
    tall = canvas.measure(row.room, canvas.width, style)

    def share(lines: Sequence[str]) -> float:
        """Of the usual size, so that these lines fit."""
        wide = max(canvas.text_width(said, style) for said in lines)
        return min(1.0, place.wide / wide, place.tall / (tall * len(lines)))

    words = (row.room, SIGNS[row.state])
    lines = max((words, (" ".join(words),)), key=share)
    if share(lines) < 1.0:
        style = replace(style, size_pt=max(SMALLEST_PT, style.size_pt * share(lines)))
        tall = canvas.measure(row.room, canvas.width, style)
    middle = place.middle[0]
    y = place.middle[1] - tall * len(lines) / 2
    for number, said in enumerate(lines):
        wide = canvas.text_width(said, style)
        canvas.text(said, middle - wide / 2, y + number * tall, width=wide + 1, style=style)
