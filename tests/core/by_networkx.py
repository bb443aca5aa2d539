"""Ways through a building by networkx (shortest paths, components, spanning trees) and
shapely (where lines come closest), on a graph of its own: every door is a knot of it.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import combinations, pairwise, permutations

import networkx as nx
from shapely import LineString, Point, Polygon, STRtree

from hotelwatch.core.round_facts import Climb
from tests.build import rules

FIGURES = rules().figures
HAIR = 1e-6
"""A way this close to a wall goes along it, not through the room."""


def _line(corridor):
    if corridor.start == corridor.end:
        return Point(corridor.start)
    return LineString([corridor.start, corridor.end])


def _along(line, point):
    return line.project(point) if line.length else 0.0


def _at(line, along):
    return line.interpolate(along) if line.length else line


def _meetings(one, other):
    """Places along both lines where they come closest."""
    near = one.distance(other) + HAIR
    places = []
    for end in (0.0, other.length):
        if _at(other, end).distance(one) <= near:
            places.append((_along(one, _at(other, end)), end))
    for end in (0.0, one.length):
        if _at(one, end).distance(other) <= near:
            places.append((end, _along(other, _at(one, end))))
    if not places:
        crossing = one.intersection(other)
        places.append((one.project(crossing), other.project(crossing)))
    return places


class Walked:
    """A building's graph, with the metres between any two of its doors."""

    def __init__(self, house, building):
        self.graph = nx.Graph()
        self.doors = {}
        self.climbs = []
        self._corridors = building.corridors
        self._lines = [_line(corridor) for corridor in building.corridors]
        levels = sorted(set(building.floors.values()))
        self._storeys = [levels.index(corridor.level) for corridor in building.corridors]
        self._on = defaultdict(set)
        for number in range(len(self._lines)):
            self._knot(number, 0.0)
        self._put_doors(house, building)
        self._join_near(building)
        self._climb(house)
        for number, places in self._on.items():
            for here, there in pairwise(sorted(places)):
                self._way((number, here), (number, there), there - here)
        self._join_apart()
        self._metres = {}

    def metres(self, room, other):
        return self._from(room)[self.doors[other]]

    def way_in(self, room):
        return min(self._from(room)[climb] for climb in self.climbs)

    def length(self, route, start=None):
        first = self.way_in(route[0]) if start is None else self.metres(start, route[0])
        return first + sum(self.metres(one, other) for one, other in pairwise(route))

    def shortest(self, rooms, start=None):
        """The length of the shortest route, by trying every order."""
        return min(self.length(order, start) for order in permutations(rooms))

    def _from(self, room):
        if room not in self._metres:
            found = nx.single_source_dijkstra_path_length(self.graph, self.doors[room])
            self._metres[room] = found
        return self._metres[room]

    def _knot(self, number, along):
        self._on[number].add(along)
        self.graph.add_node((number, along))
        return number, along

    def _way(self, one, other, metres):
        if (
            one != other
            and metres < self.graph.get_edge_data(one, other, {"weight": 1e9})["weight"]
        ):
            self.graph.add_edge(one, other, weight=metres)

    def _put_doors(self, house, building):
        of = {(c.floor, c.wing): number for number, c in enumerate(building.corridors)}
        for room, shape in building.shapes.items():
            number = of[shape.floor, house.rooms[room].wing]
            middle = LineString(shape.front).interpolate(0.5, normalized=True)
            self.doors[room] = self._knot(number, _along(self._lines[number], middle))

    def _join_near(self, building):
        rooms = defaultdict(list)
        for shape in building.shapes.values():
            rooms[shape.level].append(Polygon(shape.outline).buffer(-HAIR))
        trees = {level: STRtree(polygons) for level, polygons in rooms.items()}
        for one, other in combinations(range(len(self._lines)), 2):
            level = self._corridors[one].level
            if level != self._corridors[other].level:
                continue
            for here, there in _meetings(self._lines[one], self._lines[other]):
                ends = _at(self._lines[one], here), _at(self._lines[other], there)
                metres = ends[0].distance(ends[1])
                if metres > FIGURES.corridors_meet_m.value + HAIR:
                    continue
                if not len(trees[level].query(LineString(ends), predicate="intersects")):
                    self._way(self._knot(one, here), self._knot(other, there), metres)

    def _climb(self, house):
        wings = [corridor.wing for corridor in self._corridors]
        placed = [(s.wing, s.along_m, s.kind) for s in house.stairs.values() if s.wing in wings]
        placed = placed or [(wing, 0.0, Climb.STAIR) for wing in set(wings)]
        for number, (wing, along, kind) in enumerate(placed):
            landings = [
                (self._storeys[n], self._knot(n, along)) for n, w in enumerate(wings) if w == wing
            ]
            self.climbs += [knot for _, knot in landings]
            for (low, one), (high, other) in pairwise(sorted(landings)):
                if kind is Climb.STAIR:
                    storeys = high - low
                    self._way(one, other, storeys * FIGURES.stair_metres_per_storey.value)
            if kind is Climb.LIFT:
                for _, knot in landings:
                    self._way(knot, ("cabin", number), FIGURES.lift_ride_metres.value / 2)

    def _join_apart(self):
        """The spanning tree of straight walks between what nothing joins."""
        piece = {}
        for number, knots in enumerate(nx.connected_components(self.graph)):
            piece |= dict.fromkeys(knots, number)
        walks = nx.Graph()
        for rank, (one, other) in enumerate(combinations(range(len(self._lines)), 2)):
            a, b = piece[one, 0.0], piece[other, 0.0]
            if a == b:
                continue
            flat = Point(self._corridors[one].start).distance(Point(self._corridors[other].start))
            climbed = abs(self._storeys[one] - self._storeys[other])
            metres = flat + climbed * FIGURES.stair_metres_per_storey.value
            order = (round(metres, 3), rank)
            if not walks.has_edge(a, b) or order < walks.edges[a, b]["order"]:
                walks.add_edge(a, b, order=order, metres=metres, ends=((one, 0.0), (other, 0.0)))
        for rank, (a, b) in enumerate(sorted(walks.edges, key=lambda e: walks.edges[e]["order"])):
            walks.edges[a, b]["weight"] = rank
        for _, _, walk in nx.minimum_spanning_edges(walks):
            self._way(*walk["ends"], walk["metres"])
