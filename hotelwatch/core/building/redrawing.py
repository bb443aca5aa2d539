"""Who becomes a neighbour and who is one no more while a room is drawn elsewhere.

The same questions as ``neighbours`` asks, of the few rooms near the one that is moved.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from copy import copy
from dataclasses import dataclass
from itertools import pairwise

from hotelwatch.core.building.neighbours import (
    KIND_ORDER,
    Kind,
    Neighbour,
    by_roster,
    sites_of,
)
from hotelwatch.core.building.rooms import Building, RoomShape
from hotelwatch.core.building.sites import (
    Grid,
    Site,
    faces,
    lies_over,
    reach_of,
    shares_wall,
    site_of,
)
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House

Ways = Mapping[RoomNo, tuple[Kind, ...]]
"""Every neighbour of a room with the ways in which it is one."""


@dataclass(frozen=True, slots=True)
class Change:
    """A room that is a neighbour in other ways than before; seen from the room that moved."""

    room: RoomNo
    other: RoomNo
    gained: tuple[Kind, ...]
    lost: tuple[Kind, ...]


class Surroundings:
    """Rooms in squares, so that one of them can be moved and asked again at once."""

    def __init__(self, house: House, building: Building) -> None:
        """Every room as it lies in this building."""
        self._figures = house.rules.figures
        self._reach = reach_of(self._figures)
        sites = sites_of(house, building)
        self._grid = Grid(sites, self._figures.room_depth_m.value)
        self._sites = {site.room: site for site in sites}
        levels = sorted(set(building.floors.values()))
        self._above = dict(pairwise(levels))
        self._below = {upper: lower for lower, upper in pairwise(levels)}
        self._tied: defaultdict[RoomNo, list[tuple[RoomNo, Kind]]] = defaultdict(list)
        for one, other, kind in by_roster(house):
            self._tied[one].append((other, kind))
            self._tied[other].append((one, kind))
        self._rank = {room: number for number, room in enumerate(house.rooms)}

    def twin(self) -> Surroundings:
        """Another one with the same rooms, of which one can be moved by itself."""
        other = copy(self)
        other.keep_own()
        return other

    def keep_own(self) -> None:
        """Share no place with the one that this was copied from."""
        self._grid, self._sites = self._grid.twin(), dict(self._sites)

    def put(self, shape: RoomShape, wing: str) -> None:
        """A room lies here from now on; one that was not known is new."""
        self.take_out(shape.room)
        site = site_of(shape, wing)
        self._sites[shape.room] = site
        self._grid.put(site)

    def take_out(self, room: RoomNo) -> None:
        """A room is there no more."""
        before = self._sites.pop(room, None)
        if before is not None:
            self._grid.take_out(before)

    def shape_of(self, room: RoomNo) -> RoomShape | None:
        """A room as it lies now; None if it is not there."""
        site = self._sites.get(room)
        return site.shape if site else None

    def near(self, shape: RoomShape) -> tuple[RoomShape, ...]:
        """Rooms of its level that lie within a corridor's width around a room."""
        box = site_of(shape, "").box.grown(self._reach)
        found = self._grid.near(shape.level, box)
        return tuple(site.shape for site in found if site.room != shape.room)

    def of(self, room: RoomNo) -> tuple[Neighbour, ...]:
        """A room's neighbours as ``neighbours`` has them, in the order of the roster."""
        site = self._sites.get(room)
        if site is None:
            return ()
        kinds: defaultdict[RoomNo, set[Kind]] = defaultdict(set)
        for other, kind in (*self._beside(site), *self._over_and_under(site), *self._tied[room]):
            if other in self._sites:
                kinds[other].add(kind)
        last = len(self._rank)
        order = sorted(kinds, key=lambda other: (self._rank.get(other, last), other))
        return tuple(
            Neighbour(other, tuple(sorted(kinds[other], key=KIND_ORDER.__getitem__)))
            for other in order
        )

    def across_beside(self, shapes: Iterable[RoomShape]) -> frozenset[tuple[RoomNo, RoomNo]]:
        """Pairs near these places that face each other across a corridor, each once."""
        sites: dict[RoomNo, Site] = {}
        for shape in shapes:
            box = site_of(shape, "").box.grown(self._reach)
            sites.update((s.room, s) for s in self._grid.near(shape.level, box))
        return frozenset(
            (site.room, other)
            for site in sites.values()
            for other, kind in self._beside(site)
            if kind is Kind.ACROSS and site.room < other
        )

    def _beside(self, site: Site) -> Iterator[tuple[RoomNo, Kind]]:
        around = self._grid.near(site.shape.level, site.box.grown(self._reach))
        for other in around:
            if other.room == site.room:
                continue
            # Each pair is asked from the same side as in the whole house: same digits.
            first, second = (site, other) if site.room < other.room else (other, site)
            if shares_wall(first, second, self._figures):
                yield other.room, Kind.SHARES_WALL
            if (first.wing, first.shape.floor) != (second.wing, second.shape.floor):
                continue
            by = around
            if first is other:
                by = self._grid.near(first.shape.level, first.box.grown(self._reach))
            if faces(first, second, by, self._figures):
                yield other.room, Kind.ACROSS

    def _over_and_under(self, site: Site) -> Iterator[tuple[RoomNo, Kind]]:
        above = self._above.get(site.shape.level)
        for upper in self._grid.near(above, site.box) if above is not None else ():
            if lies_over(upper, site, self._figures):
                yield upper.room, Kind.ABOVE
        below = self._below.get(site.shape.level)
        for lower in self._grid.near(below, site.box) if below is not None else ():
            if lies_over(site, lower, self._figures):
                yield lower.room, Kind.BELOW


def ways_of(those: Iterable[Neighbour]) -> Ways:
    """Neighbours by their room."""
    return {one.room: one.kinds for one in those}


def changes(room: RoomNo, before: Ways, now: Ways) -> tuple[Change, ...]:
    """Who is a neighbour of a room in other ways than before: new ones first, then lost ones."""
    found = []
    for other in sorted({*before, *now}):
        had, has = set(before.get(other, ())), set(now.get(other, ()))
        if had == has:
            continue
        found.append(
            Change(
                room,
                other,
                gained=tuple(kind for kind in Kind if kind in has - had),
                lost=tuple(kind for kind in Kind if kind in had - has),
            )
        )
    return tuple(sorted(found, key=lambda one: (not one.gained, one.other)))
