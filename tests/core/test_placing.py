"""Wings and floors put elsewhere, before anything is written down; overlaps by shapely."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity

from hotelwatch.core.building.carrying import carried
from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.placing import (
    Places,
    overlapping,
    pairs_by_kind,
    places_of,
    stacked,
    with_places,
)
from hotelwatch.core.building.rooms import drawn_numbers, lay_out
from hotelwatch.core.facts import FloorPlaced, RoomDrawn, Side, WingPlaced
from tests.build import house
from tests.core.hotels import hotels


def two_wings():
    build = house().floors("1", "2").wing("A", 0, 0, 0).wing("B", 60, 0, 90)
    for floor in "12":
        for order in (1, 2):
            build.room(f"{floor}A{order}", floor=floor, wing="A", order=order)
            build.room(f"{floor}B{order}", floor=floor, wing="B", order=order)
    return build


@settings(deadline=None, max_examples=40)
@given(hotels())
def test_what_is_placed_where_it_lies_does_not_move(this):
    plan = lay_out(this)
    again = lay_out(with_places(this, places_of(this, plan)))
    assert again.shapes == plan.shapes
    assert again.corridors == plan.corridors


def test_a_wing_that_nobody_placed_is_told_where_it_was_laid():
    build = house().room("101", wing="Lake").room("201", wing="Hill")
    plan = lay_out(build.house)
    told = {wing.wing: wing for wing in places_of(build.house, plan).wings}
    starts = {corridor.wing: corridor.start for corridor in plan.corridors}
    assert {name: (wing.x_m, wing.y_m) for name, wing in told.items()} == starts
    assert {wing.bearing_deg for wing in told.values()} == {0.0}


def test_looking_at_other_places_leaves_the_house_as_it_was():
    build = two_wings()
    before = lay_out(build.house)
    moved = with_places(build.house, Places((WingPlaced("B", 0, 40, 0),), ()))
    assert lay_out(moved).shapes["1B1"] != before.shapes["1B1"]
    assert lay_out(moved).shapes["1A1"] == before.shapes["1A1"]
    assert lay_out(build.house).shapes == before.shapes


def test_floors_change_places_on_the_levels_they_have():
    floors = (FloorPlaced("G", -1), FloorPlaced("1", 3), FloorPlaced("2", 7))
    assert stacked(("1", "G", "2"), floors) == (
        FloorPlaced("1", -1),
        FloorPlaced("G", 3),
        FloorPlaced("2", 7),
    )
    assert stacked(("G", "1", "2"), floors) == floors


@settings(deadline=None, max_examples=40)
@given(st.floats(-200, 200), st.floats(-200, 200), st.floats(-360, 360), st.booleans())
def test_drawn_rooms_go_along_with_their_wing_as_shapely_moves_them(x, y, bearing, is_placed):
    """Turned about where the corridor began, then moved: shapely.affinity does the same."""
    build = two_wings() if is_placed else house().room("1A1", wing="A").room("1B1", wing="B")
    outline = (2.0, 1.0, 6.0, 1.0, 6.5, 8.0, 2.0, 8.0)
    build.record(RoomDrawn("1A1", outline), RoomDrawn("1B1", (40, 1, 44, 1, 44, 8)))
    before = {wing.wing: wing for wing in places_of(build.house, lay_out(build.house)).wings}["A"]
    this = with_places(build.house, Places((WingPlaced("A", x, y, bearing),), ()))
    corners = Polygon(list(zip(outline[::2], outline[1::2], strict=True)))
    turned = affinity.rotate(corners, bearing - before.bearing_deg, origin=(before.x_m, before.y_m))
    there = affinity.translate(turned, x - before.x_m, y - before.y_m)
    now = Polygon(lay_out(this).shapes["1A1"].outline)
    assert now.symmetric_difference(there).area < 0.01
    assert drawn_numbers(this)["1B1"] == drawn_numbers(build.house)["1B1"]


def test_a_wing_that_stays_leaves_drawn_rooms_as_they_are():
    build = two_wings().record(RoomDrawn("1A1", (2.0, 1.0, 6.0, 1.0, 6.5, 8.0)))
    assert carried(build.house, build.house.wings.values()) == ()


def test_floors_that_shared_a_level_get_one_each():
    floors = (FloorPlaced("1", 2), FloorPlaced("1a", 2), FloorPlaced("2", 3))
    assert [floor.level for floor in stacked(("1", "1a", "2"), floors)] == [2, 3, 4]


def test_a_wing_laid_over_another_is_found_room_by_room():
    build = two_wings()
    assert overlapping(lay_out(build.house), build.house.rules.figures) == ()
    onto = with_places(build.house, Places((WingPlaced("B", 0, 0, 0),), ()))
    assert overlapping(lay_out(onto), onto.rules.figures) == (
        ("1A1", "1B1"),
        ("1A2", "1B2"),
        ("2A1", "2B1"),
        ("2A2", "2B2"),
    )


@settings(deadline=None, max_examples=60)
@given(hotels())
def test_overlaps_are_those_that_shapely_measures(this):
    plan, least = lay_out(this), this.rules.figures.overlap_m2.value
    areas = {
        frozenset((one.room, other.room)): Polygon(one.outline)
        .intersection(Polygon(other.outline))
        .area
        for one, other in combinations(plan.shapes.values(), 2)
        if one.level == other.level
    }
    found = {frozenset(pair) for pair in overlapping(plan, this.rules.figures)}
    for pair, area in areas.items():
        if abs(area - least) > 1e-3:  # at the very limit rounding decides
            assert (pair in found) == (area > least), (pair, area)


def test_pairs_are_counted_once_whichever_room_asks():
    build = two_wings()
    build.room("1A9", wing="A", side=Side.RIGHT, order=1)
    found = neighbours(build.house, lay_out(build.house))
    assert pairs_by_kind(found) == {
        Kind.SHARES_WALL: 4,
        Kind.ABOVE: 4,
        Kind.ACROSS: 1,
        Kind.CONNECTS: 0,
        Kind.SAME_SUITE: 0,
    }
