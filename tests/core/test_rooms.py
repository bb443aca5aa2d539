"""Where rooms come to lie: bays, sides, ends, wings, floors."""

from __future__ import annotations

from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.facts import RoomNo, Side
from tests.build import house, rules

BAY = rules().figures.bay_width_m.value
DEPTH = rules().figures.room_depth_m.value
HALF = rules().figures.corridor_width_m.value / 2


def shape(building, room):
    return building.shapes[RoomNo(room)]


def box(building, room):
    """West, south, east, north of a room, by shapely."""
    return Polygon(shape(building, room).outline).bounds


def test_rooms_of_a_side_stand_bay_after_bay():
    build = house().room("101").room("102", width_m=6.0).room("103")
    plan = lay_out(build.house)
    assert box(plan, "101") == (0, HALF, BAY, HALF + DEPTH)
    assert box(plan, "102") == (BAY, HALF, BAY + 6, HALF + DEPTH)
    assert box(plan, "103") == (BAY + 6, HALF, 2 * BAY + 6, HALF + DEPTH)


def test_an_order_left_out_leaves_an_empty_bay_of_the_usual_width():
    build = house().room("309", order=1, width_m=5.0).room("313", order=3)
    plan = lay_out(build.house)
    assert box(plan, "309")[2] == 5
    assert box(plan, "313")[0] == 5 + BAY


def test_left_and_right_are_as_one_walks():
    build = house().room("101", side=Side.LEFT).room("102", side=Side.RIGHT)
    for name, bearing, left_of in (("", 0, (0, 1)), ("W", 90, (-1, 0)), ("S", 180, (0, -1))):
        build.wing(name, 0, 0, bearing)
        build.room(f"{name}1", wing=name).room(f"{name}2", wing=name, side=Side.RIGHT)
        plan = lay_out(build.house)
        left, right = shape(plan, f"{name}1").centre, shape(plan, f"{name}2").centre
        way = tuple(a - b for a, b in zip(left, right, strict=True))
        assert way == pytest.approx(tuple(c * (2 * HALF + DEPTH) for c in left_of))


def test_a_room_across_the_end_lies_beyond_the_longer_side():
    build = house().room("101").room("103").room("102", side=Side.RIGHT)
    build.room("104", side=Side.END)
    plan = lay_out(build.house)
    assert box(plan, "104") == (2 * BAY, -BAY / 2, 2 * BAY + DEPTH, BAY / 2)
    assert shape(plan, "104").front == ((2 * BAY, BAY / 2), (2 * BAY, -BAY / 2))


def test_orders_counted_from_side_to_side_make_rooms_face_each_other():
    build = house()
    for number in range(1, 7):
        side = Side.LEFT if number % 2 else Side.RIGHT
        build.room(f"10{number}", side=side, order=number)
    plan = lay_out(build.house)
    for odd, even in (("101", "102"), ("103", "104"), ("105", "106")):
        assert box(plan, odd)[0] == box(plan, even)[0]
    assert box(plan, "105")[0] == 2 * BAY


def test_even_numbers_may_stand_on_the_left():
    build = house()
    for number in range(1, 7):
        side = Side.RIGHT if number % 2 else Side.LEFT
        build.room(f"10{number}", side=side, order=number)
    plan = lay_out(build.house)
    assert box(plan, "105")[0] == box(plan, "106")[0] == 2 * BAY


def test_a_floor_with_one_side_only_follows_the_wings_other_floors():
    build = house().floors("1", "2")
    for number in range(1, 7):
        side = Side.LEFT if number % 2 else Side.RIGHT
        build.room(f"10{number}", side=side, order=number)
    build.room("203", floor="2", order=3).room("205", floor="2", order=5)
    plan = lay_out(build.house)
    assert box(plan, "203") == box(plan, "103")
    assert box(plan, "205") == box(plan, "105")


def test_sides_counted_each_for_itself_keep_their_orders():
    build = house()
    for number in range(1, 4):
        build.room(f"10{number}").room(f"11{number}", side=Side.RIGHT)
    plan = lay_out(build.house)
    assert box(plan, "103")[0] == box(plan, "113")[0] == 2 * BAY


def test_a_wing_starts_at_the_same_place_on_each_floor():
    build = house().floors("1", "2").wing("A", 30.0, 5.0, 30.0)
    for floor in ("1", "2"):
        build.room(f"{floor}01", floor=floor, wing="A").room(f"{floor}03", floor=floor, wing="A")
    plan = lay_out(build.house)
    assert shape(plan, "101").outline == shape(plan, "201").outline
    assert shape(plan, "103").outline == shape(plan, "203").outline
    assert [corridor.start for corridor in plan.corridors] == [(30.0, 5.0), (30.0, 5.0)]


def test_a_corridor_runs_along_its_wing():
    build = house().wing("A", 3.0, 4.0, 30.0).room("1", wing="A").room("2", wing="A", width_m=6)
    (corridor,) = lay_out(build.house).corridors
    assert corridor.start == (3.0, 4.0)
    # cos 30° = √3/2 and sin 30° = 1/2
    assert corridor.end == pytest.approx((3 + 10 * 3**0.5 / 2, 4 + 10 / 2))


def test_wings_without_a_place_touch_no_other_wing():
    build = house().wing("B", 10.0, 0.0, 45.0)
    for wing in ("", "A", "B", "C"):
        build.room(f"{wing}1", wing=wing).room(f"{wing}2", wing=wing, side=Side.RIGHT)
        build.room(f"{wing}9", wing=wing, side=Side.END)
    plan = lay_out(build.house)
    rooms = {no: Polygon(each.outline) for no, each in plan.shapes.items()}
    wings = {no: build.house.rooms[no].wing for no in rooms}
    gaps = [
        rooms[a].distance(rooms[b])
        for a in rooms
        for b in rooms
        if wings[a] != wings[b] and {wings[a], wings[b]} != {"B"}
    ]
    assert len(gaps) == 4 * 3 * 3 * 3
    assert min(gaps) > rules().figures.wall_gap_m.high


def test_floors_without_a_place_lie_above_the_others_in_natural_order():
    build = house().room("1").room("x", floor="10").room("y", floor="9")
    assert lay_out(build.house).floors == {"1": 1, "9": 2, "10": 3}


def test_two_rooms_with_one_order_stand_side_by_side():
    plan = lay_out(house().room("101", order=1).room("101A", order=1).house)
    assert box(plan, "101A")[0] == box(plan, "101")[2]


def test_an_empty_house_has_an_empty_building():
    plan = lay_out(house().house)
    assert (plan.shapes, plan.corridors) == ({}, ())


@given(
    orders=st.lists(st.integers(1, 30), min_size=1, max_size=12, unique=True),
    widths=st.lists(st.floats(2.5, 12), min_size=12, max_size=12),
    bearing=st.floats(-360, 720),
    corner=st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    side=st.sampled_from(Side),
)
def test_every_room_has_its_width_and_depth_and_runs_counter_clockwise(
    orders, widths, bearing, corner, side
):
    build = house().wing("A", *corner, bearing)
    wide = dict(zip(orders, widths, strict=False))
    for order, width in wide.items():
        build.room(f"R{order}", wing="A", side=side, order=order, width_m=width)
    plan = lay_out(build.house)
    drawn = [Polygon(each.outline) for each in plan.shapes.values()]
    for order, width in wide.items():
        each = shape(plan, f"R{order}")
        polygon = Polygon(each.outline)
        assert polygon.exterior.is_ccw
        assert polygon.area == pytest.approx(width * DEPTH)
        assert dist(*each.front) == pytest.approx(width)
        assert each.centre == pytest.approx((polygon.centroid.x, polygon.centroid.y))
    for number, one in enumerate(drawn):
        assert all(one.intersection(other).area < 1e-6 for other in drawn[number + 1 :])
