"""A case's ring on paper: each floor that it touches, its rooms with a sign for how they stand."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hotelwatch.core.building.rooms import Building, Point, RoomShape
from hotelwatch.core.cases.ring import Ring
from hotelwatch.core.cases.ring_rooms import RingRoom, RoomState
from hotelwatch.core.facts import RoomNo
from hotelwatch.printing.page import STRONG, Block, Canvas, Style, gap, stacked, text_block
from hotelwatch.printing.sheet_style import BED
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

THIN_MM, THICK_MM = 0.15, 0.6
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
FOR_TEAMS = PlanStyle(40.0, Style(10.0), BED, 8.0)
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
    for floor in sorted(touched, key=lambda floor: -building.floors[floor]):
        title = text_block(canvas, _("Floor {floor}").format(floor=floor), style.title)
        yield stacked([title, _floor(canvas, floors[floor], rows, scale)])
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
    left = canvas.width - wide * mm_per_m if canvas.is_mirrored else 0.0
    return _Scale(box, mm_per_m, left, style.label)


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
                _name(canvas, row, corners, scale.label)

    return Block(scale.height + 3.0, paint)


def _name(
    canvas: Canvas, row: RingRoom, corners: Sequence[tuple[float, float]], style: Style
) -> None:
    """The room's number and its sign in the middle of it."""
    said = f"{row.room}\n{SIGNS[row.state]}"
    wide = max(canvas.text_width(part, style) for part in said.split("\n"))
    high = canvas.measure(said, wide + 2, style)
    x = sum(x for x, _y in corners) / len(corners) - wide / 2
    y = sum(y for _x, y in corners) / len(corners) - high / 2
    canvas.text(said, x, y, width=wide + 2, style=style)
