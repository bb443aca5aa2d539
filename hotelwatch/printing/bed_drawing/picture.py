"""A drawn bed as a value: shapes with the places they belong to, numbers, lifts. No Qt.

Everything is measured in widths of the picture: x from 0 to 1, y from 0 to ``HEIGHT``,
down. Shapes stand in the order in which they are painted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum, StrEnum

Point = tuple[float, float]
Outline = tuple[Point, ...]
HEIGHT = 0.66
"""Height of every picture, in widths."""
LABEL_WIDTH, LABEL_HEIGHT = 0.082, 0.056
"""The most that a number and its sign take; no two of them overlap. 60 mm wide: 3.4 mm high."""


class Shade(StrEnum):
    """How light a face is; few greys, and none where only lines are drawn."""

    TOP = "top"
    SIDE = "side"
    END = "end"
    DEEP = "deep"
    """Within, behind or below."""
    NONE = "none"


class Stroke(IntEnum):
    """How heavy a line is."""

    NONE = 0
    FINE = 1
    """Seams, slats, threads."""
    EDGE = 2
    OUTER = 3
    """Around a whole piece."""


@dataclass(frozen=True, slots=True)
class Shape:
    """An area, or an open line where ``shade`` is none and ``is_closed`` false."""

    corners: Outline
    shade: Shade = Shade.NONE
    stroke: Stroke = Stroke.EDGE
    place: str = ""
    """Code of the place that it belongs to; empty for what only helps to see."""
    is_lit: bool = False
    """Whether it shows how likely its place is."""
    is_closed: bool = True
    is_dashed: bool = False


@dataclass(frozen=True, slots=True)
class PlaceMark:
    """A place on the picture: its number, where that stands, what it points to."""

    place: str
    number: int
    """As in the list of places, from 1."""
    likeliness: int
    """1 to 5, a rank of common practice; no measure."""
    is_optional: bool
    """Looked at only if in doubt."""
    label: Point
    """Centre of its number."""
    anchor: Point
    """Where the line from the number ends."""


@dataclass(frozen=True, slots=True)
class LiftMark:
    """A piece that is lifted, stood or opened before it can be seen."""

    at: Point
    people: int
    move: str
    caution: str


@dataclass(frozen=True, slots=True)
class BedPicture:
    """A kind of bed as drawn."""

    kind: str
    shapes: tuple[Shape, ...]
    marks: tuple[PlaceMark, ...]
    """In looking order."""
    lifts: tuple[LiftMark, ...]

    def mark_of(self, place: str) -> PlaceMark | None:
        """The mark of a place; None if it is not on this bed."""
        return next((mark for mark in self.marks if mark.place == place), None)

    def outlines_of(self, place: str) -> tuple[Outline, ...]:
        """The areas that belong to a place."""
        return tuple(s.corners for s in self.shapes if s.place == place and s.is_closed)

    def place_at(self, point: Point) -> str:
        """The code of the place drawn at a point, its number first; empty where none is."""
        for mark in self.marks:
            x, y = mark.label
            if abs(point[0] - x) <= LABEL_WIDTH / 2 and abs(point[1] - y) <= LABEL_HEIGHT / 2:
                return mark.place
        for shape in reversed(self.shapes):
            if shape.place and shape.is_closed and is_within(point, shape.corners):
                return shape.place
        return ""


def is_within(point: Point, outline: Outline) -> bool:
    """Whether a point lies inside an outline, by counting the edges to its right."""
    x, y = point
    is_inside = False
    for (x1, y1), (x2, y2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            is_inside = not is_inside
    return is_inside


def middle(outline: Iterable[Point]) -> Point:
    """The mean of an outline's corners."""
    corners = tuple(outline)
    return sum(x for x, _y in corners) / len(corners), sum(y for _x, y in corners) / len(corners)
