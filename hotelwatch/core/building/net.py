"""The net of ways through a building: knots on its corridors, and what joins them.

A knot is a place where one can leave a corridor: a stair, a lift, another corridor. Every
length is a whole number of millimetres, so that equal ways are equal to the last digit.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from heapq import heappop, heappush
from itertools import combinations, pairwise
from math import hypot

from hotelwatch.core.building.joins import joins_of
from hotelwatch.core.building.rooms import Building, Corridor
from hotelwatch.core.parameters import Figures
from hotelwatch.core.round_facts import Climb, StairPlaced

MM_PER_M = 1000


class Assumed(StrEnum):
    """What the ways take for granted because nobody said it."""

    STAIRS_WHERE_WINGS_BEGIN = "stairs_where_wings_begin"
    STRAIGHT_BETWEEN_BEGINNINGS = "straight_between_beginnings"


@dataclass(frozen=True, slots=True, order=True)
class Stop:
    """A place on a corridor: its place in the building's list, and millimetres along it."""

    corridor: int
    along: int


def millimetres(metres: float) -> int:
    """A length as ways count it."""
    return round(metres * MM_PER_M)


class Net:
    """Knots by number, with the way from each to those next to it."""

    def __init__(self, corridors: Sequence[Corridor]) -> None:
        """Corridors that nothing joins yet."""
        self.corridors = corridors
        self.climbs: list[int] = []
        """Knots at stairs and lifts."""
        self.assumed: set[Assumed] = set()
        self._corridor_of: list[int] = []
        self._next_to: list[list[tuple[int, int]]] = []
        self._knots: defaultdict[int, dict[int, int]] = defaultdict(dict)
        self._lines: dict[int, tuple[list[int], list[int]]] = {}
        self._joined_to = list(range(len(corridors)))

    # --- making ---------------------------------------------------------------------

    def knot(self, at: Stop) -> int:
        """The knot at a place on a corridor, made if there is none."""
        on_corridor = self._knots[at.corridor]
        if at.along not in on_corridor:
            on_corridor[at.along] = self.cabin(at.corridor)
        return on_corridor[at.along]

    def cabin(self, corridor: int) -> int:
        """A new knot that lies off its corridor."""
        self._corridor_of.append(corridor)
        self._next_to.append([])
        return len(self._next_to) - 1

    def join(self, one: int, other: int, length: int) -> None:
        """Make a way between two knots."""
        self._next_to[one].append((other, length))
        self._next_to[other].append((one, length))
        groups = (self.group(self._corridor_of[knot]) for knot in (one, other))
        low, high = sorted(groups)
        self._joined_to[high] = low

    def group(self, corridor: int) -> int:
        """The first of the corridors that can be reached from this one."""
        while self._joined_to[corridor] != corridor:
            corridor = self._joined_to[corridor]
        return corridor

    def close(self) -> None:
        """Make the ways along corridors; no knot comes later."""
        for corridor, knots in self._knots.items():
            placed = sorted(knots.items())
            for (along, knot), (further, next_knot) in pairwise(placed):
                self.join(knot, next_knot, further - along)
            self._lines[corridor] = [at for at, _ in placed], [knot for _, knot in placed]

    # --- asking -----------------------------------------------------------------------

    def ends(self, corridor: int) -> tuple[int, int]:
        """Where the first and the last knot of a corridor lie; beyond them it is a dead end."""
        knots = self._lines[corridor][0]
        return knots[0], knots[-1]

    def beside(self, stop: Stop) -> list[tuple[int, int]]:
        """The knots on both sides of a place, at most two, each with the way to it."""
        places, knots = self._lines[stop.corridor]
        after = bisect_left(places, stop.along)
        return [
            (knots[number], abs(places[number] - stop.along))
            for number in range(max(0, after - 1), min(after + 1, len(knots)))
        ]

    def lengths_from(self, knots: Iterable[int]) -> list[int]:
        """The shortest way from the nearest of some knots to every knot.

        Source: E. W. Dijkstra, A note on two problems in connexion with graphs,
        Numerische Mathematik 1 (1959) 269-271, from memory.
        """
        lengths = [-1] * len(self._next_to)
        ahead = [(0, knot) for knot in sorted(set(knots))]
        while ahead:
            length, knot = heappop(ahead)
            if lengths[knot] >= 0:
                continue
            lengths[knot] = length
            for other, more in self._next_to[knot]:
                if lengths[other] < 0:
                    heappush(ahead, (length + more, other))
        return lengths


def net_of(building: Building, stairs: Sequence[StairPlaced], figures: Figures) -> Net:
    """The ways of a building, so that every corridor can be reached from every other.

    Without a stair or lift in any of its wings, one where each wing begins is assumed.
    What is joined by nothing is joined by the shortest straight walk between the
    beginnings of two corridors; it is assumed too, and leads over the lowest floor.
    """
    net = Net(building.corridors)
    for join in joins_of(building, figures.corridors_meet_m.value):
        one = net.knot(Stop(join.one, millimetres(join.along_one)))
        other = net.knot(Stop(join.other, millimetres(join.along_other)))
        net.join(one, other, millimetres(join.metres))
    wings = {corridor.wing for corridor in building.corridors}
    known = [stair for stair in stairs if stair.wing in wings]
    if not known and wings:
        net.assumed.add(Assumed.STAIRS_WHERE_WINGS_BEGIN)
        known = [StairPlaced(wing, wing, 0.0) for wing in sorted(wings)]
    storeys = {level: n for n, level in enumerate(sorted(set(building.floors.values())))}
    for stair in known:
        _add_climb(net, stair, storeys, figures)
    _join_apart(net, storeys, figures)
    net.close()
    return net


def _add_climb(net: Net, stair: StairPlaced, storeys: dict[int, int], figures: Figures) -> None:
    numbers = [n for n, corridor in enumerate(net.corridors) if corridor.wing == stair.wing]
    knots = [net.knot(Stop(number, millimetres(stair.along_m))) for number in numbers]
    net.climbs += knots
    if stair.kind is Climb.LIFT:
        cabin = net.cabin(numbers[0])
        half_a_ride = millimetres(figures.lift_ride_metres.value / 2)
        for knot in knots:
            net.join(knot, cabin, half_a_ride)
        return
    storey = millimetres(figures.stair_metres_per_storey.value)
    for (low, high), (one, other) in zip(pairwise(numbers), pairwise(knots), strict=True):
        climbed = storeys[net.corridors[high].level] - storeys[net.corridors[low].level]
        net.join(one, other, climbed * storey)


def _join_apart(net: Net, storeys: dict[int, int], figures: Figures) -> None:
    groups = [net.group(number) for number in range(len(net.corridors))]
    if len(set(groups)) <= 1:
        return
    net.assumed.add(Assumed.STRAIGHT_BETWEEN_BEGINNINGS)
    storey = figures.stair_metres_per_storey.value
    walks: list[tuple[int, int, int]] = []
    for one, other in combinations(range(len(net.corridors)), 2):
        if groups[one] != groups[other]:
            here, there = net.corridors[one], net.corridors[other]
            flat = hypot(there.start[0] - here.start[0], there.start[1] - here.start[1])
            climbed = abs(storeys[there.level] - storeys[here.level]) * storey
            walks.append((millimetres(flat + climbed), one, other))
    for length, one, other in sorted(walks):
        if net.group(one) != net.group(other):
            net.join(net.knot(Stop(one, 0)), net.knot(Stop(other, 0)), length)
