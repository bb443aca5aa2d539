"""How far it is from door to door, and the shortest way past some of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

from hotelwatch.core.building.joins import along_of
from hotelwatch.core.building.net import MM_PER_M, Stop, millimetres, net_of
from hotelwatch.core.building.rooms import Building, Point, lay_out
from hotelwatch.core.building.routes import shortest_order
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.facts import (
    Fact,
    FloorPlaced,
    RoomDescribed,
    RoomDrawn,
    RoomNo,
    Side,
    WingPlaced,
)
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import StairPlaced


class Ways:
    """The ways through a building as it is laid out, with the stairs that are placed.

    A door lies where the middle of a room's front meets the middle of its corridor. A
    team's way begins at the stair or lift nearest to its first room (assumption), unless
    it is said where; it ends at its last room.
    """

    def __init__(self, house: House, building: Building) -> None:
        """The net of ways; lengths are found when first asked for."""
        self._net = net_of(building, tuple(house.stairs.values()), house.rules.figures)
        self.assumed = tuple(sorted(self._net.assumed))
        """What was taken for granted."""
        self._stop_of = _stops_of(house, building)
        in_order = sorted(house.rooms.values(), key=lambda room: _on_paper(building, room))
        self._rank = {room.room: rank for rank, room in enumerate(in_order)}
        self._from_climbs = self._net.lengths_from(self._net.climbs)
        self._lengths_from: dict[int, list[int]] = {}

    def metres(self, room: RoomNo, other: RoomNo) -> float:
        """Metres from door to door, climbing counted as walking."""
        return self._between(self._stop_of[room], self._stop_of[other]) / MM_PER_M

    def metres_of(self, route: Sequence[RoomNo], start: RoomNo | None = None) -> float:
        """Metres to the first room of a route and from each to the next."""
        if not route:
            return 0.0
        stops = [self._stop_of[room] for room in route]
        between = sum(self._between(one, other) for one, other in pairwise(stops))
        return (self._way_in(stops[0], start) + between) / MM_PER_M

    def route(self, rooms: Iterable[RoomNo], start: RoomNo | None = None) -> tuple[RoomNo, ...]:
        """Each room once, in an order in which the way past all of them is short.

        As good as ``routes.shortest_order`` finds it. Of equal orders, the one that goes
        by level, wing and order.
        """
        at: defaultdict[Stop, list[RoomNo]] = defaultdict(list)
        for room in sorted(set(rooms), key=self._rank.__getitem__):
            at[self._stop_of[room]].append(room)
        turns = self._turning_stops(at, start)
        order = self._order(tuple(turns), start)
        return tuple(room for turn in order for stop in turns[turn] for room in at[stop])

    # --- the order of stops ------------------------------------------------------------

    def _turning_stops(
        self, stops: Iterable[Stop], start: RoomNo | None
    ) -> Mapping[Stop, tuple[Stop, ...]]:
        """Stops that the order must be found for, each with those passed on the way to it.

        Beyond its last knot a corridor is a dead end: whoever goes to the farthest door
        there passes all others.
        """
        along: defaultdict[int, list[Stop]] = defaultdict(list)
        for stop in stops:
            along[stop.corridor].append(stop)
        begin = None if start is None else self._stop_of[start]
        turns: dict[Stop, tuple[Stop, ...]] = {}
        for corridor, on_it in along.items():
            first, last = self._net.ends(corridor)
            if begin is not None and begin.corridor == corridor:
                first, last = min(first, begin.along), max(last, begin.along)
            on_it.sort()
            before = [stop for stop in reversed(on_it) if stop.along < first]
            behind = [stop for stop in on_it if stop.along > last]
            turns |= {stop: (stop,) for stop in on_it if first <= stop.along <= last}
            turns |= {tail[-1]: tuple(tail) for tail in (before, behind) if tail}
        place = {stop: number for number, stop in enumerate(stops)}
        return {stop: turns[stop] for stop in sorted(turns, key=place.__getitem__)}

    def _order(self, stops: Sequence[Stop], start: RoomNo | None) -> Sequence[Stop]:
        if len({stop.corridor for stop in stops}) <= 1:
            # Nothing is shorter than a straight corridor: from one end of it to the other.
            ways = (sorted(stops), sorted(stops, reverse=True))
            return min(ways, key=lambda way: self._way_in(way[0], start) if way else 0)
        entry = [self._way_in(stop, start) for stop in stops]
        between = [[0] * len(stops) for _ in stops]
        for number, stop in enumerate(stops):
            for other in range(number):
                length = self._between(stop, stops[other])
                between[number][other] = between[other][number] = length
        return [stops[number] for number in shortest_order(entry, between)]

    # --- lengths ----------------------------------------------------------------------------

    def _way_in(self, stop: Stop, start: RoomNo | None) -> int:
        if start is not None:
            return self._between(self._stop_of[start], stop)
        return min(self._from_climbs[knot] + away for knot, away in self._net.beside(stop))

    def _between(self, one: Stop, other: Stop) -> int:
        there = self._net.beside(other)
        lengths = [
            away + self._from(knot)[far] + back
            for knot, away in self._net.beside(one)
            for far, back in there
        ]
        if one.corridor == other.corridor:
            lengths.append(abs(one.along - other.along))
        return min(lengths)

    def _from(self, knot: int) -> list[int]:
        if knot not in self._lengths_from:
            self._lengths_from[knot] = self._net.lengths_from([knot])
        return self._lengths_from[knot]


def ways_of(house: House) -> Ways:
    """The ways of a house as it is laid out; found again only when its building changed."""
    return _ways_kept(_Foundation(house))


class _Foundation:
    """A house's rules, rooms, wings, floors and stairs: two with the same facts are equal."""

    def __init__(self, house: House) -> None:
        self.house = House(
            shipped=house.shipped,
            entries={n: entry for n, entry in house.entries.items() if entry.corrects is not None},
            kept={kind: house.kept[kind] for kind in _BUILDING if kind in house.kept},
        )
        self._parts = (id(house.shipped), *(id(house.kept.get(kind)) for kind in _BUILDING))

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, _Foundation)
            and self._parts == other._parts
            and self.house.corrected == other.house.corrected
        )

    def __hash__(self) -> int:
        return hash(self._parts)


_BUILDING: tuple[type[Fact], ...] = (
    RoomDescribed,
    RoomDrawn,
    WingPlaced,
    FloorPlaced,
    StairPlaced,
    FigureChosen,
)


@lru_cache(maxsize=2)
def _ways_kept(foundation: _Foundation) -> Ways:
    return Ways(foundation.house, lay_out(foundation.house))


def _stops_of(house: House, building: Building) -> dict[RoomNo, Stop]:
    numbers = {(c.floor, c.wing): number for number, c in enumerate(building.corridors)}
    stops: dict[RoomNo, Stop] = {}
    for no, shape in building.shapes.items():
        number = numbers[shape.floor, house.rooms[no].wing]
        door = _middle(*shape.front)
        stops[no] = Stop(number, millimetres(along_of(building.corridors[number], door)))
    return stops


def _middle(one: Point, other: Point) -> Point:
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2


def _on_paper(building: Building, room: RoomDescribed) -> tuple[int, str, bool, int, str, str]:
    at_the_end = room.side is Side.END
    level = building.floors[room.floor]
    return level, room.wing, at_the_end, room.order, room.side, room.room
