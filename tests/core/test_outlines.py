"""Outlines that are drawn by hand: their shape, what one does to them, and when rooms overlap.

Checked against shapely (GEOS), an independent geometry library.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as ShapelyPoint

from hotelwatch.core.building.outlines import (
    centre_of,
    front_of,
    is_convex,
    numbers_of,
    points_of,
    settled,
    signed_area,
)
from hotelwatch.core.building.shaping import (
    Rectangle,
    as_rectangle,
    cut,
    moved,
    snapped_move,
    snapped_point,
    with_corner,
    with_more,
    with_wall,
    without,
)

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 5.0), (0.0, 5.0))
coordinate = st.integers(-200, 200).map(lambda tenths: tenths / 10)
points = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=8, unique=True)


def shapely_convex(outline):
    """Whether shapely holds these corners for a simple polygon that is its own hull."""
    polygon = Polygon(outline)
    if not polygon.is_valid or not polygon.area:
        return False
    return math.isclose(polygon.convex_hull.area, polygon.area, rel_tol=1e-9)


@given(points)
def test_convex_is_what_shapely_calls_convex(outline):
    corners = settled(outline)
    assume(len(corners) >= 3 and signed_area(corners) > 1e-6)
    assert is_convex(corners) == shapely_convex(corners)


def test_a_star_in_one_stroke_is_not_convex():
    star = [(math.cos(4 * math.pi * n / 5), math.sin(4 * math.pi * n / 5)) for n in range(5)]
    assert not is_convex(settled(star))


@given(points)
def test_area_and_centre_are_those_of_shapely(outline):
    corners = settled(outline)
    assume(len(corners) >= 3)
    polygon = Polygon(corners)
    assume(polygon.is_valid and polygon.area > 0.5)
    assert signed_area(corners) == pytest.approx(polygon.area)
    assert centre_of(corners) == pytest.approx((polygon.centroid.x, polygon.centroid.y), abs=1e-6)


@given(points)
def test_settling_turns_no_outline_over_twice_and_keeps_its_numbers(outline):
    once = settled(outline)
    assert settled(once) == once
    assert points_of(numbers_of(once)) == once
    assert signed_area(once) >= 0


def test_a_corner_without_its_north_is_no_corner():
    with pytest.raises(ValueError, match="two numbers"):
        points_of((1.0, 2.0, 3.0))


def test_the_front_is_the_wall_on_the_corridor():
    assert front_of(SQUARE, (-10, -0.9), (20, -0.9)) == ((0, 0), (4, 0))
    assert front_of(SQUARE, (5.0, 0), (5.0, 20)) == ((4, 0), (4, 5))


@given(
    coordinate,
    coordinate,
    st.integers(20, 90).map(lambda t: t / 10),
    st.integers(20, 90).map(lambda t: t / 10),
    st.sampled_from((0.0, 30.0, 45.0, 90.0, 135.0, 270.0)),
)
def test_a_rectangle_measured_again_is_the_same_one(east, north, width, depth, bearing):
    drawn = Rectangle(east, north, width, depth, bearing)
    again = as_rectangle(drawn.outline())
    assert again is not None
    assert (again.width_m, again.depth_m) == pytest.approx((width, depth), abs=1e-3)
    assert again.bearing_deg == pytest.approx(bearing, abs=0.01)
    assert Polygon(drawn.outline()).area == pytest.approx(width * depth, rel=1e-3)


def test_what_is_no_rectangle_is_not_measured_as_one():
    assert as_rectangle(with_corner(SQUARE, 2, (4.5, 5.5))) is None
    assert as_rectangle(SQUARE[:3]) is None


@given(st.floats(0.2, 3.8), st.integers(0, 3))
def test_the_two_parts_of_a_cut_room_make_the_whole(at, wall):
    halves = cut(SQUARE, wall, at)
    assert halves is not None
    one, other = (Polygon(half) for half in halves)
    whole = Polygon(SQUARE)
    assert one.union(other).symmetric_difference(whole).area < 1e-2
    assert one.intersection(other).area < 1e-2
    assert all(is_convex(half) for half in halves)


def test_a_cut_beside_the_room_cuts_nothing():
    assert cut(SQUARE, 0, -1.0) is None
    assert cut(SQUARE, 0, 4.5) is None


def test_a_wall_moved_out_makes_the_room_that_much_larger():
    wider = with_wall(SQUARE, 1, 0.5)
    assert wider == ((0, 0), (4.5, 0), (4.5, 5), (0, 5))
    assert with_wall(wider, 1, -0.5) == SQUARE
    slanted = ((0.0, 0.0), (4.0, 0.0), (3.0, 5.0), (1.0, 5.0))
    assert Polygon(with_wall(slanted, 2, 1.0)).area > Polygon(slanted).area
    assert with_wall(slanted, 2, 1.0)[2][1] == pytest.approx(6.0)


def test_corners_come_and_go():
    more = with_more(SQUARE, 0)
    assert more[1] == (2.0, 0.0)
    assert is_convex(more)
    assert without(more, 1) == SQUARE


def test_a_point_snaps_to_a_corner_before_a_wall_before_the_grid():
    others = [SQUARE]
    assert snapped_point((4.1, 0.1), others, reach_m=0.3, grid_m=0.1) == (4.0, 0.0)
    assert snapped_point((4.1, 2.53), others, reach_m=0.3, grid_m=0.1) == pytest.approx((4.0, 2.53))
    assert snapped_point((9.04, 2.53), others, reach_m=0.3, grid_m=0.1) == pytest.approx((9.0, 2.5))


@given(st.floats(-0.25, 0.25), st.floats(-0.25, 0.25))
def test_a_moved_room_meets_the_corners_of_the_room_beside_it(dx, dy):
    near = moved(SQUARE, (4.0 + dx, dy))
    met = snapped_move(near, [SQUARE], reach_m=0.4, grid_m=0.1)
    assert met == moved(SQUARE, (4.0, 0.0))


def test_a_moved_room_meets_a_wall_that_has_no_corner_there():
    long = ((0.0, -20.0), (4.0, -20.0), (4.0, 20.0), (0.0, 20.0))
    met = snapped_move(moved(SQUARE, (4.2, 1.234)), [long], reach_m=0.4, grid_m=0.1)
    assert met[0] == (4.0, 1.234)
    wall = LineString([(4, -20), (4, 20)])
    assert wall.distance(ShapelyPoint(met[0])) == 0
