"""Outlines with corners that turn inward: their parts, what they have in common, lines, cuts.

Checked against shapely (GEOS), an independent geometry library, on random simple outlines.
"""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box, union_all
from shapely import Point as ShapelyPoint

from hotelwatch.core.building.inside import (
    LABEL_TALL,
    can_be_built,
    convex_parts,
    inward_corners,
    spans_inside,
    upright_about,
    walls_meet,
    widest_place,
)
from hotelwatch.core.building.outlines import SAME_M, is_convex, settled, signed_area
from hotelwatch.core.building.polygons import common_area, edges_of
from hotelwatch.core.building.shaping import cut, partition, with_notch

CORNER_SUITE = ((0.0, 0.0), (8.0, 0.0), (8.0, 3.0), (4.0, 3.0), (4.0, 7.0), (0.0, 7.0))
"""Eight metres along the corridor, a bathroom core of 4 by 4 taken out: 8*7 - 4*4 = 40 m2."""
AROUND_A_SHAFT = (
    *((0.0, 0.0), (6.0, 0.0), (6.0, 5.0), (4.0, 5.0)),
    *((4.0, 3.0), (2.0, 3.0), (2.0, 5.0), (0.0, 5.0)),
)
"""Six by five metres, a shaft of 2 by 2 in the middle of the outer wall: 26 m2."""
FAR_BELOW_M = 1e-7
ALL_BUT_FLAT = (
    *((-0.5, 0.866), (0.0, 0.0), (1.299, 0.75), (0.799, 1.616), (1.2321, 1.866), (1.7321, 1.0)),
    *((2.5981, 1.5), (1.8481, 2.799), (1.4151, 2.549), (1.1651, 2.9821), (0.7321, 2.7321)),
    *((0.2321, 3.5981), (-0.634, 3.0981), (-0.134, 2.2321), (-1.0, 1.7321), (-0.75, 1.299)),
)
"""Boxes turned by 30 degrees, rounded: a part of it has a corner a tenth of a millimetre out."""
tenths = st.integers(-80, 80).map(lambda n: n / 10)
anything = st.lists(st.tuples(tenths, tenths), min_size=3, max_size=8, unique=True)


@st.composite
def dented(draw):
    """A simple outline: boxes laid over one another, some turned, some with a corner pulled."""
    boxes = draw(
        st.lists(
            st.tuples(*[st.integers(0, 12)] * 2, *[st.integers(2, 8)] * 2), min_size=1, max_size=4
        )
    )
    whole = union_all([box(x / 2, y / 2, (x + w) / 2, (y + h) / 2) for x, y, w, h in boxes])
    assume(whole.geom_type == "Polygon" and not whole.interiors)
    turn = math.radians(draw(st.sampled_from((0.0, 0.0, 12.0, 30.0, 135.0))))
    cosine, sine = math.cos(turn), math.sin(turn)
    corners = [
        (round(x * cosine - y * sine, 4), round(x * sine + y * cosine, 4))
        for x, y in whole.exterior.coords[:-1]
    ]
    if draw(st.booleans()):
        number, (dx, dy) = draw(st.integers(0, 20)) % len(corners), draw(st.tuples(tenths, tenths))
        corners[number] = (corners[number][0] + dx / 4, corners[number][1] + dy / 4)
    outline = settled(corners)
    assume(can_be_built(outline))
    return outline


def parts_of(outline):
    return tuple(edges_of(part) for part in convex_parts(outline))


# --- what an outline may be -------------------------------------------------------------------


def least_gap(outline):
    """How near two walls come that have no corner in common, by shapely."""
    count = len(outline)
    walls = [LineString((outline[n], outline[(n + 1) % count])) for n in range(count)]
    return min(
        (
            one.distance(other)
            for (n, one), (m, other) in combinations(enumerate(walls), 2)
            if m - n not in (1, count - 1)
        ),
        default=math.inf,
    )


@given(anything)
@settings(max_examples=40, deadline=None)
def test_walls_meet_where_shapely_finds_the_outline_invalid_or_touching(outline):
    corners = settled(outline)
    assume(len(corners) >= 3 and signed_area(corners) > 1e-6)
    is_fine = Polygon(corners).is_valid and least_gap(corners) > SAME_M
    assert walls_meet(corners) == (not is_fine)


def test_shapes_of_real_rooms_can_be_built_and_a_bow_can_not():
    assert can_be_built(CORNER_SUITE)
    assert can_be_built(AROUND_A_SHAFT)
    assert not can_be_built(settled(((0, 0), (4, 4), (4, 0), (0, 4), (-1, 2))))
    half_a_millimetre = 0.0005
    assert not can_be_built(
        (
            (0, 0),
            (6, 0),
            (6, 5),
            (3 + half_a_millimetre, 5),
            (3, half_a_millimetre),
            (2.9, 5),
            (0, 5),
        )
    )


# --- parts ------------------------------------------------------------------------------------


@given(dented())
@example(ALL_BUT_FLAT)
@settings(max_examples=40, deadline=None)
def test_parts_are_convex_and_make_the_whole_once(outline):
    parts = convex_parts(outline)
    drawn = [Polygon(part) for part in parts]
    for part, polygon in zip(parts, drawn, strict=True):
        assert math.isclose(polygon.convex_hull.area, polygon.area, abs_tol=1e-6)
        assert signed_area(part) > 0
    whole = Polygon(outline)
    # On a grid: laid over as they are, GEOS now and then loses a part beside one all but flat.
    together = union_all(drawn, grid_size=FAR_BELOW_M)
    assert together.symmetric_difference(whole).area < 1e-6
    assert sum(p.area for p in drawn) == pytest.approx(whole.area, abs=1e-6)
    assert len(parts) <= 1 + len(list(inward_corners(outline)))
    assert (len(parts) == 1) == is_convex(outline)


@given(dented(), dented())
@settings(max_examples=30, deadline=None)
def test_floor_in_common_is_what_shapely_finds(one, other):
    expected = Polygon(one).intersection(Polygon(other)).area
    assert common_area(one, parts_of(other)) == pytest.approx(expected, abs=1e-6)
    assert common_area(other, parts_of(one)) == pytest.approx(expected, abs=1e-6)


def test_parts_of_a_corner_suite_by_hand():
    """Its arm of 4 by 3 and the rest of 4 by 7, cut off by the shorter of two ways."""
    assert sorted(signed_area(part) for part in convex_parts(CORNER_SUITE)) == [12.0, 28.0]
    assert sum(signed_area(part) for part in convex_parts(AROUND_A_SHAFT)) == 26.0
    core = ((4.0, 3.0), (8.0, 3.0), (8.0, 7.0), (4.0, 7.0))
    assert common_area(core, parts_of(CORNER_SUITE)) == 0
    beneath = ((3.0, 2.0), (7.0, 2.0), (7.0, 6.0), (3.0, 6.0))
    assert common_area(beneath, parts_of(CORNER_SUITE)) == pytest.approx(16 - 3 * 3)


# --- lines ------------------------------------------------------------------------------------


@given(dented(), st.tuples(tenths, tenths), st.integers(0, 359))
@settings(max_examples=40, deadline=None)
def test_a_line_lies_within_as_far_as_shapely_says(outline, start, degrees):
    way = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    spans = spans_inside(outline, start, way)
    line = LineString([(start[0] + t * way[0], start[1] + t * way[1]) for t in (-60, 60)])
    # A millionth of a metre inward: along a wall is not within.
    inner = Polygon(outline).buffer(-2e-6, join_style="mitre")
    assert sum(last - first for first, last in spans) == pytest.approx(
        line.intersection(inner).length, abs=1e-3
    )
    assert list(spans) == sorted(spans)


def test_lines_through_a_corner_suite_by_hand():
    assert spans_inside(CORNER_SUITE, (-2, 5), (1, 0)) == ((2, 6),)
    assert spans_inside(AROUND_A_SHAFT, (-2, 4), (1, 0)) == ((2, 4), (6, 8))
    assert spans_inside(CORNER_SUITE, (0, 3), (1, 0)) == ((0, 4),), "then along a wall"
    assert spans_inside(CORNER_SUITE, (0, 7), (1, 0)) == ()


# --- the widest place -------------------------------------------------------------------------


@given(dented())
@settings(max_examples=15, deadline=None)
def test_words_find_a_place_within_and_hardly_a_wider_one_exists(outline):
    at, room = widest_place(outline), Polygon(outline)
    assert room.contains(ShapelyPoint(at))
    wide, high = upright_about(convex_parts(outline), outline, at)
    x, y = at
    assert room.buffer(1e-6).contains(box(x - wide, y - high, x + wide, y + high))
    # No place on a grid lets shapely lay a rectangle of that shape that is much larger.
    west, south, east, north = room.bounds
    size = max(east - west, (north - south) / LABEL_TALL)

    def fits(px, py, half):
        tall = half * LABEL_TALL
        return room.contains(box(px - half, py - tall, px + half, py + tall))

    grid = [
        (west + (east - west) * a / 10, south + (north - south) * b / 10)
        for a in range(1, 10)
        for b in range(1, 10)
    ]
    sizes = [size * n / 100 for n in range(1, 50)]
    best = next((n for n in reversed(sizes) if any(fits(*point, n) for point in grid)), 0.0)
    own = next((n for n in reversed(sizes) if fits(x, y, n)), 0.0)
    assert own >= best - 0.05 * size


def test_the_number_of_a_corner_suite_stands_in_the_middle_of_an_arm():
    x, y = widest_place(CORNER_SUITE)
    assert (x, y) == pytest.approx((4.0, 1.5), abs=0.1)
    assert (
        ShapelyPoint(Polygon(AROUND_A_SHAFT).centroid).distance(
            ShapelyPoint(widest_place(AROUND_A_SHAFT))
        )
        < 1.0
    )


# --- cutting and notching ---------------------------------------------------------------------


@given(dented(), st.integers(0, 20), st.integers(1, 19))
@settings(max_examples=40, deadline=None)
def test_a_cut_room_is_two_rooms_that_make_the_whole(outline, wall, twentieths):
    wall %= len(outline)
    (ax, ay), (bx, by) = outline[wall], outline[(wall + 1) % len(outline)]
    length = math.hypot(bx - ax, by - ay)
    at = length * twentieths / 20
    ends = partition(outline, wall, at)
    foot = (ax + (bx - ax) * twentieths / 20, ay + (by - ay) * twentieths / 20)
    assert math.dist(ends[0], foot) < 1e-3, "it begins at the wall it was measured on"
    halves = cut(outline, wall, at)
    assume(halves is not None)
    before, behind = (Polygon(half) for half in halves)
    room = Polygon(outline)
    assert before.is_valid
    assert behind.is_valid
    assert before.union(behind).symmetric_difference(room).area < 5e-3
    assert before.intersection(behind).area < 5e-3
    start = ShapelyPoint(outline[wall])
    assert before.distance(start) < 2e-3
    assert behind.distance(start) > 0


def test_a_cut_ends_at_a_corner_that_it_touches():
    """It would else leave a half that hangs by that corner, a tenth of a millimetre aside."""
    outline = ((0, 0), (4, 0), (4, 5), (1, 5), (1, 3), (2.0001, 3), (2.0001, 1), (0, 1))
    assert partition(outline, 0, 2.0) == ((2.0, 0.0), (2.0, 1.0))
    before, behind = (Polygon(half) for half in cut(outline, 0, 2.0))
    assert before.is_valid
    assert behind.is_valid


def test_a_corner_suite_is_cut_by_hand():
    """Along its arm; beyond it the cut ends at the core; from its inner wall too."""
    before, behind = cut(CORNER_SUITE, 0, 5.0)
    assert (signed_area(before), signed_area(behind)) == (31, 9)
    before, behind = cut(CORNER_SUITE, 0, 4.0)
    assert (signed_area(before), signed_area(behind)) == (28, 12)
    assert all(is_convex(half) for half in (before, behind))
    before, behind = cut(CORNER_SUITE, 3, 1.0)
    assert partition(CORNER_SUITE, 3, 1.0) == ((4, 4), (0, 4))
    assert (signed_area(before), signed_area(behind)) == (28, 12)


def test_a_cut_beside_a_shaft_leaves_the_other_side_whole():
    before, behind = cut(AROUND_A_SHAFT, 1, 4.0)
    assert partition(AROUND_A_SHAFT, 1, 4.0) == ((6, 4), (4, 4))
    assert (signed_area(before), signed_area(behind)) == (24, 2)


def test_a_notch_makes_a_corner_suite_of_a_rectangle_and_a_shaft_of_a_wall():
    room = ((0.0, 0.0), (8.0, 0.0), (8.0, 7.0), (0.0, 7.0))
    assert with_notch(room, 2) == ((0, 0), (8, 0), (8, 6), (7, 6), (7, 7), (0, 7))
    more = (*room[:3], (4.0, 7.0), room[3])
    shaft = with_notch(more, 3)
    assert shaft == ((0, 0), (8, 0), (8, 7), (5, 7), (5, 6), (3, 6), (3, 7), (0, 7))
    assert can_be_built(shaft)
    assert signed_area(shaft) == 54
