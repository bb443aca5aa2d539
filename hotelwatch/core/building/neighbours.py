"""Who shares a wall, a floor, a ceiling, a door or a suite with whom, and who faces whom.

Everything but doors and suites follows from where rooms lie, never from their labels.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from hotelwatch.core.building.polygons import (
    TOLERANCE_M,
    Box,
    Edge,
    box_of,
    common_area,
    common_run,
    edge_of,
    edges_of,
)
from hotelwatch.core.building.rooms import Building, Point, RoomShape
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures


class Kind(StrEnum):
    """How a room is a neighbour, seen from the room that asks."""

    SHARES_WALL = "shares_wall"
    ABOVE = "above"
    BELOW = "below"
    ACROSS = "across"
    CONNECTS = "connects"
    SAME_SUITE = "same_suite"


MIRRORED = {Kind.ABOVE: Kind.BELOW, Kind.BELOW: Kind.ABOVE}
KIND_ORDER = {kind: place for place, kind in enumerate(Kind)}


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A neighbouring room and every way in which it is one, in the order of Kind."""

    room: RoomNo
    kinds: tuple[Kind, ...]


@dataclass(frozen=True, slots=True)
class _Site:
    """A room with what is asked of it often."""

    room: RoomNo
    wing: str
    shape: RoomShape
    edges: tuple[Edge, ...]
    front: Edge
    box: Box


Finding = tuple[RoomNo, RoomNo, Kind]
"""The second room is a neighbour of the first in this way."""


def neighbours(house: House, building: Building) -> Mapping[RoomNo, tuple[Neighbour, ...]]:
    """Every room's neighbours with all their kinds, in the order of the roster.

    Whoever is a neighbour has the asking room as one, in the mirrored kind.
    """
    sites = _sites(house, building)
    figures = house.rules.figures
    kinds: defaultdict[RoomNo, defaultdict[RoomNo, set[Kind]]]
    kinds = defaultdict(lambda: defaultdict(set))
    for one, other, kind in (
        *_on_one_level(sites, figures),
        *_on_next_level(sites, building, figures),
        *_by_roster(house),
    ):
        kinds[one][other].add(kind)
        kinds[other][one].add(MIRRORED.get(kind, kind))
    place = {room: number for number, room in enumerate(house.rooms)}
    return {
        room: tuple(
            Neighbour(other, tuple(sorted(kinds[room][other], key=KIND_ORDER.__getitem__)))
            for other in sorted(kinds.get(room, ()), key=place.__getitem__)
        )
        for room in house.rooms
    }


def _sites(house: House, building: Building) -> list[_Site]:
    return [
        _Site(
            room=no,
            wing=room.wing,
            shape=building.shapes[no],
            edges=edges_of(building.shapes[no].outline),
            front=edge_of(*building.shapes[no].front),
            box=box_of(building.shapes[no].outline),
        )
        for no, room in house.rooms.items()
    ]


# --- what the roster says --------------------------------------------------------------


def _by_roster(house: House) -> Iterator[Finding]:
    suites: defaultdict[str, list[RoomNo]] = defaultdict(list)
    for no, room in house.rooms.items():
        for other in sorted(set(room.connects_to)):
            if other != no and other in house.rooms:
                yield no, RoomNo(other), Kind.CONNECTS
        if room.suite:
            suites[room.suite].append(no)
    for members in suites.values():
        for number, no in enumerate(members):
            yield from ((no, other, Kind.SAME_SUITE) for other in members[number + 1 :])


# --- walls and corridors -----------------------------------------------------------------


def _on_one_level(sites: Sequence[_Site], figures: Figures) -> Iterator[Finding]:
    reach = max(figures.wall_gap_m.value, figures.corridor_width_m.value) + TOLERANCE_M
    grid = _Grid(sites, figures.room_depth_m.value)
    for site in sites:
        around = grid.near(site.shape.level, site.box.grown(reach))
        for other in around:
            if other.room <= site.room:
                continue
            if _shares_wall(site, other, figures):
                yield site.room, other.room, Kind.SHARES_WALL
            if _faces(site, other, around, figures):
                yield site.room, other.room, Kind.ACROSS


def _shares_wall(one: _Site, other: _Site, figures: Figures) -> bool:
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


def _faces(one: _Site, other: _Site, around: Iterable[_Site], figures: Figures) -> bool:
    """Whether two fronts face each other across their corridor, with no room in between."""
    if (one.wing, one.shape.floor) != (other.wing, other.shape.floor):
        return False
    run = common_run(one.front, other.front, figures.corridor_width_m.value)
    if run is None or run[1] - run[0] < figures.across_overlap_m.value - TOLERANCE_M:
        return False
    between = _strip(one.front, other.front, run)
    box = box_of(between)
    return not any(
        third.room not in (one.room, other.room)
        and third.box.meets(box)
        and common_area(between, third.edges) >= figures.overlap_m2.value - TOLERANCE_M
        for third in around
    )


def _strip(front: Edge, facing: Edge, run: tuple[float, float]) -> tuple[Point, ...]:
    """The piece of corridor between two fronts, counter-clockwise."""
    (x0, y0), (ux, uy) = front.start, front.direction
    off = ux * (facing.start[1] - y0) - uy * (facing.start[0] - x0)
    a, b = ((x0 + ux * place, y0 + uy * place) for place in run)
    c, d = ((x - uy * off, y + ux * off) for x, y in (b, a))
    return (a, b, c, d) if off > 0 else (d, c, b, a)


# --- floors and ceilings -----------------------------------------------------------------


def _on_next_level(
    sites: Sequence[_Site], building: Building, figures: Figures
) -> Iterator[Finding]:
    next_level = dict(pairwise(sorted(set(building.floors.values()))))
    grid = _Grid(sites, figures.room_depth_m.value)
    for site in sites:
        level = next_level.get(site.shape.level)
        if level is None:
            continue
        for upper in grid.near(level, site.box):
            if _lies_over(upper, site, figures):
                yield site.room, upper.room, Kind.ABOVE


def _lies_over(upper: _Site, lower: _Site, figures: Figures) -> bool:
    """Whether two rooms, seen from above, have enough of their floor in common."""
    least = figures.overlap_m2.value - TOLERANCE_M
    if upper.box.common_area(lower.box) < least:
        return False
    return common_area(upper.shape.outline, lower.edges) >= least


# --- finding who may be near ---------------------------------------------------------------


class _Grid:
    """Rooms by the squares that their boxes touch, so that each asks few others."""

    def __init__(self, sites: Iterable[_Site], cell_m: float) -> None:
        self._cell_m = cell_m
        self._cells: defaultdict[tuple[int, int, int], list[_Site]] = defaultdict(list)
        for site in sites:
            for cell in self._covered(site.shape.level, site.box):
                self._cells[cell].append(site)

    def near(self, level: int, box: Box) -> list[_Site]:
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
