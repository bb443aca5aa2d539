"""A case's ring on paper: each floor that it touches, its rooms with a sign for how they stand."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hotelwatch.core.building.rooms import Building, Point, RoomShape
from hotelwatch.core.cases.ring import Ring
from hotelwatch.core.cases.ring_rooms import RingRoom, RoomState
from hotelwatch.core.facts import RoomNo
from hotelwatch.printing.page import STRONG, Block, Canvas, Style, stacked, text_block
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

TALLEST_MM = 34.0
"""Of a floor's drawing."""
LABEL = Style(7.0)
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
class _Scale:
    """From metres, seen from above, to millimetres on paper."""

    west: float
    north: float
    mm_per_m: float
    left: float
    """Where the drawing begins, in millimetres."""

    def at(self, corner: Point, top: float) -> tuple[float, float]:
        """A corner on paper; north is up."""
        x, y = corner
        return self.left + (x - self.west) * self.mm_per_m, top + (self.north - y) * self.mm_per_m


def ring_plan(canvas: Canvas, ring: Ring, building: Building) -> Iterator[Block]:
    """The floors of a ring from the highest down, with what their signs mean."""
    rows = {row.room: row for row in ring.rooms if row.room in building.shapes}
    if not rows:
        return
    floors: defaultdict[str, list[RoomShape]] = defaultdict(list)
    touched = {building.shapes[room].floor for room in rows}
    for shape in building.shapes.values():
        if shape.floor in touched:
            floors[shape.floor].append(shape)
    scale, height = _scale(canvas, [shape for found in floors.values() for shape in found])
    for floor in sorted(touched, key=lambda floor: -building.floors[floor]):
        title = text_block(canvas, _("Floor {floor}").format(floor=floor), STRONG)
        yield stacked([title, _floor(canvas, floors[floor], rows, scale, height)])
    states = dict.fromkeys(row.state for row in ring.rooms)
    legend = "   ".join(f"{SIGNS[state]} {label(state)}" for state in states)
    yield text_block(canvas, legend)


def _scale(canvas: Canvas, shapes: Sequence[RoomShape]) -> tuple[_Scale, float]:
    corners = [corner for shape in shapes for corner in shape.outline]
    west, east = min(x for x, _y in corners), max(x for x, _y in corners)
    south, north = min(y for _x, y in corners), max(y for _x, y in corners)
    mm_per_m = min(canvas.width / max(east - west, 1.0), TALLEST_MM / max(north - south, 1.0))
    # Where one reads from right to left it begins at the right, and is no less as it lies.
    left = canvas.width - (east - west) * mm_per_m if canvas.is_mirrored else 0.0
    return _Scale(west, north, mm_per_m, left), (north - south) * mm_per_m


def _floor(
    page: Canvas,
    shapes: Sequence[RoomShape],
    rows: dict[RoomNo, RingRoom],
    scale: _Scale,
    height: float,
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
                _name(canvas, row, corners)

    return Block(height + 3.0, paint)


def _name(canvas: Canvas, row: RingRoom, corners: Sequence[tuple[float, float]]) -> None:
    """The room's number and its sign in the middle of it."""
    said = f"{row.room}\n{SIGNS[row.state]}"
    wide = max(canvas.text_width(part, LABEL) for part in said.split("\n"))
    high = canvas.measure(said, wide + 2, LABEL)
    x = sum(x for x, _y in corners) / len(corners) - wide / 2
    y = sum(y for _x, y in corners) / len(corners) - high / 2
    canvas.text(said, x, y, width=wide + 2, style=LABEL)
