"""What a drawing of the house holds: rooms as polygons, where they are found again quickly.

A plan and an upright cut are both scenes: metres to the right and metres down.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPolygonF

from hotelwatch.core.building.inside import upright_about
from hotelwatch.core.building.rooms import Building, Corridor, RoomShape
from hotelwatch.core.building.section import Section
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.screens.building.stair_signs import StairSign, signs_of
from hotelwatch.wording.language import _

CELL_M = 12.0
SLAB_M = 0.3
"""What is left of a storey's height between two rooms, to tell them apart."""


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """A room on a drawing."""

    room: RoomNo
    outline: QPolygonF
    box: QRectF
    inner: QRectF
    """The part of it in which one may write."""
    is_upright: bool
    """Whether it is a rectangle along the drawing's own axes."""
    is_drawn: bool = False


@dataclass(frozen=True, slots=True)
class Storey:
    """A level of the cut: its name, and from where to where it reaches down the drawing."""

    name: str
    top: float
    bottom: float

    @property
    def said(self) -> str:
        """Its name in words."""
        return _("Floor {floor}").format(floor=self.name)


@dataclass(eq=False)
class Scene:
    """Rooms and what lies between them; rooms are found by place."""

    items: Sequence[Item] = ()
    corridors: Sequence[Corridor] = ()
    signs: Sequence[StairSign] = ()
    storeys: Sequence[Storey] = ()
    cut: tuple[QPointF, QPointF] | None = None
    """On a plan, where the building is cut upright."""
    bounds: QRectF = field(default_factory=QRectF)

    def __post_init__(self) -> None:
        """Sort the rooms into squares."""
        self.pieces: defaultdict[RoomNo, list[Item]] = defaultdict(list)
        """A room around a corner may show in two pieces where the building is cut."""
        for item in self.items:
            self.pieces[item.room].append(item)
        self.by_room = {
            room: max(pieces, key=lambda item: item.box.width())
            for room, pieces in self.pieces.items()
        }
        self._cells: defaultdict[tuple[int, int], list[Item]] = defaultdict(list)
        for item in self.items:
            for cell in _cells_of(item.box):
                self._cells[cell].append(item)
        box = QRectF(self.bounds)
        for item in self.items:
            box = box.united(item.box)
        self.bounds = box

    def within(self, rect: QRectF) -> Sequence[Item]:
        """Rooms whose boxes meet a rectangle, in the order of the roster."""
        if rect.contains(self.bounds):
            return self.items
        found: dict[Item, None] = {}
        for cell in _cells_of(rect.intersected(self.bounds)):
            for item in self._cells.get(cell, ()):
                if item.box.intersects(rect):
                    found[item] = None
        return list(found)

    def room_at(self, point: QPointF) -> Item | None:
        """The room at a point; the last of several that lie on one another."""
        rule = Qt.FillRule.WindingFill
        cell = (int(point.x() // CELL_M), int(point.y() // CELL_M))
        for item in reversed(self._cells.get(cell, ())):
            if item.outline.containsPoint(point, rule):
                return item
        return None

    def nearest(self, point: QPointF) -> Item | None:
        """The room whose middle is nearest to a point; None without rooms."""
        return min(
            self.items,
            key=lambda item: (item.inner.center() - point).manhattanLength(),
            default=None,
        )


def plan_of(
    building: Building,
    floor: str,
    *,
    stairs: Iterable[StairPlaced] = (),
    cut: Section | None = None,
) -> Scene:
    """A floor seen from above; north is up."""
    shapes = [shape for shape in building.shapes.values() if shape.floor == floor]
    signs = signs_of(building, floor, stairs)
    corridors = [one for one in building.corridors if one.floor == floor]
    bounds = QRectF()
    for corridor in corridors:
        bounds = bounds.united(_around(corridor))
    for sign in signs:
        bounds = bounds.united(QRectF(sign.at[0] - 1, -sign.at[1] - 1, 2, 2))
    line = None
    if cut is not None and cut.rooms:
        line = QPointF(cut.start[0], -cut.start[1]), QPointF(cut.end[0], -cut.end[1])
    return Scene(
        items=[item_of(shape) for shape in shapes],
        corridors=corridors,
        signs=signs,
        cut=line,
        bounds=bounds,
    )


def section_scene(section: Section, building: Building, storey_m: float) -> Scene:
    """The building cut upright: floor above floor, the lowest at the bottom."""
    levels = sorted(section.floors)
    rank = {level: number for number, level in enumerate(levels)}
    items = []
    for one in section.rooms:
        top = -(rank[one.level] + 1) * storey_m + SLAB_M
        box = QRectF(one.from_m, top, one.until_m - one.from_m, storey_m - SLAB_M)
        is_drawn = building.shapes[one.room].is_drawn
        items.append(Item(one.room, QPolygonF(box), box, box, is_upright=True, is_drawn=is_drawn))
    storeys = [
        Storey(" / ".join(section.floors[level]), -(number + 1) * storey_m, -number * storey_m)
        for level, number in rank.items()
    ]
    return Scene(items=items, storeys=storeys)


def item_of(shape: RoomShape) -> Item:
    """A room of a plan."""
    outline = QPolygonF([QPointF(x, -y) for x, y in shape.outline])
    box = outline.boundingRect()
    is_upright = _is_upright(shape.outline)
    return Item(
        shape.room,
        outline,
        box,
        box if is_upright else _inner(shape),
        is_upright=is_upright,
        is_drawn=shape.is_drawn,
    )


def _inner(shape: RoomShape) -> QRectF:
    """The largest of some upright rectangles about a room's middle that lie inside it."""
    x0, y0 = shape.centre
    wide, high = upright_about(shape.parts, shape.outline, shape.centre)
    return QRectF(x0 - wide, -y0 - high, 2 * wide, 2 * high)


def _around(corridor: Corridor) -> QRectF:
    (x0, y0), (x1, y1) = corridor.start, corridor.end
    half = corridor.width_m / 2
    return QRectF(
        min(x0, x1) - half,
        -max(y0, y1) - half,
        abs(x1 - x0) + 2 * half,
        abs(y1 - y0) + 2 * half,
    )


def _is_upright(outline: Sequence[tuple[float, float]]) -> bool:
    if len(outline) != len("abcd"):
        return False
    sides = {round(x, 4) for x, _ in outline}, {round(y, 4) for _, y in outline}
    return all(len(side) == len("ab") for side in sides)


def _cells_of(box: QRectF) -> Iterator[tuple[int, int]]:
    for column in range(int(box.left() // CELL_M), int(box.right() // CELL_M) + 1):
        for row in range(int(box.top() // CELL_M), int(box.bottom() // CELL_M) + 1):
            yield column, row
