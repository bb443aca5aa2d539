"""Who shares a wall, a floor, a ceiling, a door or a suite with whom, and who faces whom.

Everything but doors and suites follows from where rooms lie, never from their labels.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from hotelwatch.core.building.rooms import Building
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


Finding = tuple[RoomNo, RoomNo, Kind]
"""The second room is a neighbour of the first in this way."""


def neighbours(house: House, building: Building) -> Mapping[RoomNo, tuple[Neighbour, ...]]:
    """Every room's neighbours with all their kinds, in the order of the roster.

    Whoever is a neighbour has the asking room as one, in the mirrored kind.
    """
    sites = sites_of(house, building)
    figures = house.rules.figures
    kinds: defaultdict[RoomNo, defaultdict[RoomNo, set[Kind]]]
    kinds = defaultdict(lambda: defaultdict(set))
    for one, other, kind in (
        *_on_one_level(sites, figures),
        *_on_next_level(sites, building, figures),
        *by_roster(house),
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


def sites_of(house: House, building: Building) -> list[Site]:
    """The site of every room, in the order of the roster."""
    return [site_of(building.shapes[no], room.wing) for no, room in house.rooms.items()]


# --- what the roster says --------------------------------------------------------------


def by_roster(house: House) -> Iterator[Finding]:
    """Doors and suites, each once, as the roster says them."""
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


def _on_one_level(sites: Sequence[Site], figures: Figures) -> Iterator[Finding]:
    reach = reach_of(figures)
    grid = Grid(sites, figures.room_depth_m.value)
    for site in sites:
        around = grid.near(site.shape.level, site.box.grown(reach))
        for other in around:
            if other.room <= site.room:
                continue
            if shares_wall(site, other, figures):
                yield site.room, other.room, Kind.SHARES_WALL
            if faces(site, other, around, figures):
                yield site.room, other.room, Kind.ACROSS


# --- floors and ceilings -----------------------------------------------------------------


def _on_next_level(
    sites: Sequence[Site], building: Building, figures: Figures
) -> Iterator[Finding]:
    next_level = dict(pairwise(sorted(set(building.floors.values()))))
    grid = Grid(sites, figures.room_depth_m.value)
    for site in sites:
        level = next_level.get(site.shape.level)
        if level is None:
            continue
        for upper in grid.near(level, site.box):
            if lies_over(upper, site, figures):
                yield site.room, upper.room, Kind.ABOVE
