"""Lengths and areas that polygons have in common. Outlines run counter-clockwise."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, inf, radians

from hotelwatch.core.building.outlines import Point, signed_area

TOLERANCE_M = 1e-6
"""Turning a wing moves its corners by less; no measure on a plan is as fine."""
FACING_COSINE = -cos(radians(1.0))
"""Edges up to a degree from parallel face each other: plans give whole degrees."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight wall: where it begins, its direction (length 1) and its length."""

    start: Point
    end: Point
    direction: Point
    length: float


@dataclass(frozen=True, slots=True)
class Box:
    """The upright rectangle around a polygon."""

    west: float
    south: float
    east: float
    north: float

    def grown(self, by_m: float) -> Box:
        """The box with a margin on each side."""
        return Box(self.west - by_m, self.south - by_m, self.east + by_m, self.north + by_m)

    def meets(self, other: Box) -> bool:
        """Whether the two have a point in common."""
        return (
            self.west <= other.east
            and other.west <= self.east
            and self.south <= other.north
            and other.south <= self.north
        )

    def common_area(self, other: Box) -> float:
        """Square metres in common with another box; polygons inside have no more."""
        wide = min(self.east, other.east) - max(self.west, other.west)
        deep = min(self.north, other.north) - max(self.south, other.south)
        return max(0.0, wide) * max(0.0, deep)


def box_of(outline: Sequence[Point]) -> Box:
    """The box around a polygon."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return Box(min(xs), min(ys), max(xs), max(ys))


def edge_of(start: Point, end: Point) -> Edge:
    """The edge between two different points."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy)
    return Edge(start, end, (dx / length, dy / length), length)


def edges_of(outline: Sequence[Point]) -> tuple[Edge, ...]:
    """The edges of a polygon, in its order."""
    return tuple(
        edge_of(start, end) for start, end in zip(outline, (*outline[1:], outline[0]), strict=True)
    )


def common_run(one: Edge, other: Edge, gap_m: float) -> tuple[float, float] | None:
    """From where to where along ``one`` the other edge faces it within the gap, if it does.

    Two edges face each other if they run in opposite directions, as walls of two
    counter-clockwise rooms do.
    """
    ux, uy = one.direction
    if ux * other.direction[0] + uy * other.direction[1] > FACING_COSINE:
        return None
    (x0, y0), (x1, y1), (x2, y2) = one.start, other.start, other.end
    far, near = ux * (x1 - x0) + uy * (y1 - y0), ux * (x2 - x0) + uy * (y2 - y0)
    off_far, off_near = ux * (y1 - y0) - uy * (x1 - x0), ux * (y2 - y0) - uy * (x2 - x0)
    slope = (off_far - off_near) / (far - near)
    first, last = _within(off_near, slope, gap_m + TOLERANCE_M)
    begin, end = max(0.0, near, near + first), min(one.length, far, near + last)
    return (begin, end) if begin < end else None


def _within(off: float, slope: float, gap_m: float) -> tuple[float, float]:
    """From where to where a line that starts ``off`` and climbs stays within the gap."""
    if not slope:
        return (-inf, inf) if abs(off) <= gap_m else (inf, -inf)
    first, last = sorted(((-gap_m - off) / slope, (gap_m - off) / slope))
    return first, last


Parts = tuple[tuple[Edge, ...], ...]
"""The edges of each convex part of a polygon; a convex one has a single part."""


def common_area(one: Sequence[Point], other: Parts) -> float:
    """Square metres that two polygons have in common, one given by the edges of its parts."""
    # What is cut off of a dented outline leaves pieces joined by seams without width.
    return sum(_area_within(one, part) for part in other)


def _area_within(one: Sequence[Point], part: Iterable[Edge]) -> float:
    rest = list(one)
    for edge in part:
        rest = _left_of(rest, edge)
        if not rest:
            return 0.0
    return signed_area(rest)


def _left_of(outline: Sequence[Point], edge: Edge) -> list[Point]:
    (x0, y0), (ux, uy) = edge.start, edge.direction
    offsets = [ux * (y - y0) - uy * (x - x0) for x, y in outline]
    kept: list[Point] = []
    for number, (point, offset) in enumerate(zip(outline, offsets, strict=True)):
        before, offset_before = outline[number - 1], offsets[number - 1]
        if (offset < 0) != (offset_before < 0):
            share = offset_before / (offset_before - offset)
            kept.append(
                (
                    before[0] + share * (point[0] - before[0]),
                    before[1] + share * (point[1] - before[1]),
                )
            )
        if offset >= 0:
            kept.append(point)
    return kept
