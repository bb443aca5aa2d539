"""Neighbours by shapely, an independent geometry library (GEOS underneath), pair by pair.

Each kind is asked with shapely's own buffers, intersections and distances on the
same polygons.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import combinations, pairwise
from math import cos, radians

from shapely import LineString, Polygon, dwithin, union_all

from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.rooms import lay_out
from tests.build import rules

FIGURES = rules().figures
ROUNDING = 1e-6
GRID_M = 1e-9
"""Without a grid GEOS 3.14.1 says that two rooms whose corners nearly meet, turned by 135
degrees, have nothing in common, and 24.5 square metres when asked the other way round."""
SLANT = 1 - cos(radians(1.0))
"""Walls up to a degree from parallel run along each other."""
SAME_LINE_M = 1e-3
INSIDE = 0.5
"""Metres beyond a wall that lie in the room behind it: more than the gap, less than a room."""


def walls(room):
    corners = list(room.exterior.coords)
    return [LineString(pair) for pair in pairwise(corners)]


def along(wall, piece):
    """Whether a piece of another wall runs along this one."""
    first, last = (wall.project(end) for end in piece.boundary.geoms)
    return abs(abs(last - first) - piece.length) < SLANT * piece.length


def in_common(one, other):
    """Square metres that two rooms have in common."""
    return one.intersection(other, grid_size=GRID_M).area


def shares_wall(one, other):
    if not dwithin(one, other, FIGURES.wall_gap_m.value + ROUNDING):
        return False
    least = FIGURES.shared_wall_m.value - ROUNDING
    for wall in walls(one):
        band = wall.buffer(FIGURES.wall_gap_m.value + ROUNDING, cap_style="flat")
        for facing in walls(other):
            piece = band.intersection(facing)
            if piece.length < least or not along(wall, piece):
                continue
            beyond = wall.offset_curve(-INSIDE)
            if other.contains(beyond.interpolate(wall.project(piece.centroid))):
                return True
    return False


def faces(front, facing, others):
    if dwithin(front, facing, FIGURES.wall_gap_m.value + ROUNDING):
        return False  # one wall, no corridor between
    width = -(FIGURES.corridor_width_m.value + ROUNDING)
    piece = front.buffer(width, single_sided=True).intersection(facing)
    if piece.length < FIGURES.across_overlap_m.value - ROUNDING or not along(front, piece):
        return False
    opposite = facing.buffer(width, single_sided=True).intersection(front)
    if opposite.is_empty:
        return False  # both look the same way
    between = union_all([piece, opposite]).convex_hull
    least = FIGURES.overlap_m2.value - ROUNDING
    return not any(in_common(between, other) >= least for other in others)


def is_dented(room):
    return room.convex_hull.area > room.area * (1 + 1e-9)


def fronts_of(shape):
    """The front, and what lies in one line with it and looks the same way."""
    front = LineString(shape.front)
    if not shape.is_drawn:
        return [front]
    first, last = front.coords
    beside = LineString(
        [
            (first[0] + t * (last[0] - first[0]), first[1] + t * (last[1] - first[1]))
            for t in (-99, 99)
        ]
    ).buffer(SAME_LINE_M, cap_style="flat")
    return [
        wall
        for wall in walls(Polygon(shape.outline))
        if beside.contains(wall) and beside_goes(wall, front)
    ]


def beside_goes(wall, front):
    (ax, ay), (bx, by) = wall.coords
    (cx, cy), (dx, dy) = front.coords
    return (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) > 0


def by_shapely(house):
    """Every neighbour of a house by shapely, pair by pair: {(room, other): kinds}."""
    building = lay_out(house)
    shapes = building.shapes
    drawn = {no: Polygon(shape.outline) for no, shape in shapes.items()}
    levels = sorted(set(building.floors.values()))
    above = dict(pairwise(levels))
    seen = defaultdict(set)
    for one, other in combinations(shapes, 2):
        a, b = shapes[one], shapes[other]
        both = {(one, other), (other, one)}
        if a.level == b.level and shares_wall(drawn[one], drawn[other]):
            mark(seen, both, Kind.SHARES_WALL)
        if (a.floor, house.rooms[one].wing) == (b.floor, house.rooms[other].wing):
            # A room may stand in its own way, but only where a corner turns inward.
            third = [
                drawn[c]
                for c in shapes
                if shapes[c].level == a.level and (c not in {one, other} or is_dented(drawn[c]))
            ]
            if any(
                faces(front, facing, third) for front in fronts_of(a) for facing in fronts_of(b)
            ):
                mark(seen, both, Kind.ACROSS)
        for low, high in both:
            is_next = above.get(shapes[low].level) == shapes[high].level
            common = in_common(drawn[low], drawn[high]) if is_next else 0.0
            if common >= FIGURES.overlap_m2.value - ROUNDING:
                seen[low, high].add(Kind.ABOVE)
                seen[high, low].add(Kind.BELOW)
    return dict(seen)


def mark(seen, pairs, kind):
    for pair in pairs:
        seen[pair].add(kind)


GEOMETRIC = {Kind.SHARES_WALL, Kind.ACROSS, Kind.ABOVE, Kind.BELOW}


def by_hotelwatch(house):
    """The kinds that follow from geometry, as ours has them."""
    return {
        (room, other.room): kinds
        for room, those in neighbours(house, lay_out(house)).items()
        for other in those
        if (kinds := GEOMETRIC.intersection(other.kinds))
    }
