"""A room's site: its walls, front and box, and what two sites have to do with one another."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hotelwatch.core.building.outlines import SAME_M, Point
from hotelwatch.core.building.polygons import (
    TOLERANCE_M,
    Box,
    Edge,
    Parts,
    box_of,
    common_area,
    common_run,
    edge_of,
    edges_of,
)
from hotelwatch.core.building.rooms import RoomShape
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.parameters import Figures


@dataclass(frozen=True, slots=True)
class Site:
    """A room with what is asked of it often."""

    room: RoomNo
    wing: str
    shape: RoomShape
    edges: tuple[Edge, ...]
    parts: Parts
    fronts: tuple[Edge, ...]
    """The walls on the corridor: one, or what a shaft beside the corridor leaves of it."""
    box: Box


def site_of(shape: RoomShape, wing: str) -> Site:
    """The site of a room as it lies."""
    edges, front = edges_of(shape.outline), edge_of(*shape.front)
    return Site(
        room=shape.room,
        wing=wing,
        shape=shape,
        edges=edges,
        parts=parts_of(shape, edges),
        fronts=tuple(e for e in edges if _goes_on(front, e)) if shape.is_drawn else (front,),
        box=box_of(shape.outline),
    )


def parts_of(shape: RoomShape, edges: tuple[Edge, ...] = ()) -> Parts:
    """The edges of a room's convex parts; ``edges`` are those of its outline, if at hand."""
    if len(shape.parts) == 1:
        return (edges or edges_of(shape.outline),)
    return tuple(edges_of(part) for part in shape.parts)


def _goes_on(front: Edge, edge: Edge) -> bool:
    """Whether a wall lies in one line with the front and looks the same way."""
    (x0, y0), (ux, uy) = front.start, front.direction
    return ux * edge.direction[0] + uy * edge.direction[1] > 0 and all(
        abs(ux * (y - y0) - uy * (x - x0)) <= SAME_M for x, y in (edge.start, edge.end)
    )


def reach_of(figures: Figures) -> float:
    """Metres around a room within which those lie that it may have a wall or corridor with."""
    return max(figures.wall_gap_m.value, figures.corridor_width_m.value) + TOLERANCE_M


def shares_wall(one: Site, other: Site, figures: Figures) -> bool:
    """Whether two rooms of a level have a long enough piece of one wall between them."""
    gap = figures.wall_gap_m.value
    if not one.box.grown(gap + TOLERANCE_M).meets(other.box):
        return False
    least = figures.shared_wall_m.value - TOLERANCE_M
    for edge in one.edges:
        for facing in other.edges:
            run = common_run(edge, facing, gap)
            if run is not None and run[1] - run[0] >= least:
                return True
    return False


def faces(one: Site, other: Site, around: Iterable[Site], figures: Figures) -> bool:
    """Whether two fronts face each other across their corridor, with no room in between.

    A room that turns inward may stand in its own way.
    """
    if (one.wing, one.shape.floor) != (other.wing, other.shape.floor):
        return False
    if len(one.fronts) == len(other.fronts) == 1:
        return _front_faces(one.fronts[0], other.fronts[0], one, other, around, figures)
    return any(
        _front_faces(front, facing, one, other, around, figures)
        for front in one.fronts
        for facing in other.fronts
    )


def _front_faces(
    front: Edge, facing: Edge, one: Site, other: Site, around: Iterable[Site], figures: Figures
) -> bool:
    run = common_run(front, facing, figures.corridor_width_m.value)
    if run is None or run[1] - run[0] < figures.across_overlap_m.value - TOLERANCE_M:
        return False
    if common_run(front, facing, figures.wall_gap_m.value) is not None:
        return False  # they share that wall: no corridor is left between them
    between = _strip(front, facing, run)
    box = box_of(between)
    return not any(
        (third.room not in (one.room, other.room) or len(third.parts) > 1)
        and third.box.meets(box)
        and common_area(between, third.parts) >= figures.overlap_m2.value - TOLERANCE_M
        for third in around
    )


def _strip(front: Edge, facing: Edge, run: tuple[float, float]) -> tuple[Point, ...]:
    """The piece of corridor between two fronts, counter-clockwise."""
    (x0, y0), (ux, uy) = front.start, front.direction
    off = ux * (facing.start[1] - y0) - uy * (facing.start[0] - x0)
    a, b = ((x0 + ux * place, y0 + uy * place) for place in run)
    c, d = ((x - uy * off, y + ux * off) for x, y in (b, a))
    return (a, b, c, d) if off > 0 else (d, c, b, a)


def lies_over(upper: Site, lower: Site, figures: Figures) -> bool:
    """Whether two rooms, seen from above, have enough of their floor in common."""
    least = figures.overlap_m2.value - TOLERANCE_M
    if upper.box.common_area(lower.box) < least:
        return False
    return common_area(upper.shape.outline, lower.parts) >= least


# --- finding who may be near ---------------------------------------------------------------


class Grid:
    """Rooms by the squares that their boxes touch, so that each asks few others."""

    def __init__(self, sites: Iterable[Site], cell_m: float) -> None:
        """Squares of ``cell_m`` metres, with these sites in them."""
        self._cell_m = cell_m
        self._cells: defaultdict[tuple[int, int, int], list[Site]] = defaultdict(list)
        for site in sites:
            self.put(site)

    def twin(self) -> Grid:
        """Another one with the same sites, to be changed by itself."""
        other = Grid((), self._cell_m)
        for cell, sites in self._cells.items():
            other._cells[cell] = list(sites)
        return other

    def take_out(self, site: Site) -> None:
        """Forget a site that lies elsewhere from now on."""
        for cell in self._covered(site.shape.level, site.box):
            self._cells[cell].remove(site)

    def put(self, site: Site) -> None:
        """Take in one more site."""
        for cell in self._covered(site.shape.level, site.box):
            self._cells[cell].append(site)

    def near(self, level: int, box: Box) -> list[Site]:
        """Rooms of a level whose boxes meet this one, by label."""
        found = {
            site.room: site
            for cell in self._covered(level, box)
            for site in self._cells.get(cell, ())
            if site.box.meets(box)
        }
        return [site for _, site in sorted(found.items())]

    def _covered(self, level: int, box: Box) -> Iterator[tuple[int, int, int]]:
        size = self._cell_m
        for column in range(int(box.west // size), int(box.east // size) + 1):
            for row in range(int(box.south // size), int(box.north // size) + 1):
                yield level, column, row
