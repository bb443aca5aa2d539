"""Who is whose neighbour, and why: cases of real buildings, and laws."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.facts import RoomNo, Side, WingPlaced
from tests.build import house, rules
from tests.core.hotels import hotels, with_facts

BAY = rules().figures.bay_width_m.value
DEPTH = rules().figures.room_depth_m.value
CORRIDOR = rules().figures.corridor_width_m.value
GAP = rules().figures.wall_gap_m.value


def found(build_or_house):
    """Every room's neighbours as {room: {neighbour: "kind kind"}}."""
    this = getattr(build_or_house, "house", build_or_house)
    return {
        str(room): {str(near.room): " ".join(near.kinds) for near in those}
        for room, those in neighbours(this, lay_out(this)).items()
    }


def double_loaded(floors, *, last, ordered=None):
    """Odd numbers on the left, even ones on the right, the same on every floor."""
    build = house().floors(*(ordered or floors))
    for floor in floors:
        for number in range(1, last + 1):
            side = Side.LEFT if number % 2 else Side.RIGHT
            build.room(f"{floor}{number:02}", floor=floor, side=side, order=number)
    return build


# --- worked cases of the trade (practice K1 to K3: common practice, no source) --------------


def test_case_1_the_room_amid_a_corridor_of_odd_and_even_sides():
    build = double_loaded(("2", "3", "4"), last=12)
    build.record(replace(build.house.rooms[RoomNo("305")], connects_to=("307",)))
    assert found(build)["305"] == {
        "205": "below",
        "303": "shares_wall",
        "306": "across",
        "307": "shares_wall connects",
        "405": "above",
    }


def test_case_1_across_follows_the_plan_not_the_number():
    build = double_loaded(("3",), last=12)
    build.record(replace(build.house.rooms[RoomNo("302")], width_m=BAY * 1.5))
    across = {room for room, kinds in found(build)["305"].items() if kinds == "across"}
    assert across == {"304", "306"}


def test_case_2_the_floor_above_12_is_14_where_13_is_skipped():
    near = found(double_loaded(("11", "12", "14"), last=6))
    assert near["1205"]["1405"] == "above"
    assert near["1405"]["1205"] == "below"
    assert near["1205"]["1105"] == "below"


def test_case_3_the_room_at_the_corridors_beginning_on_the_top_floor():
    assert found(double_loaded(("2", "3"), last=12))["301"] == {
        "201": "below",
        "302": "across",
        "303": "shares_wall",
    }


# --- walls -----------------------------------------------------------------------------------


def test_a_room_at_the_corridor_end_has_one_side_neighbour():
    near = found(double_loaded(("1",), last=6))
    assert near["105"] == {"103": "shares_wall", "106": "across"}


def test_a_shaft_parts_two_rooms():
    assert found(house().room("309", order=5).room("313", order=7))["309"] == {}


def test_a_room_across_the_end_shares_walls_with_the_last_rooms_of_both_sides():
    build = house().room("101").room("103").room("102", side=Side.RIGHT)
    build.room("104", side=Side.RIGHT).room("105", side=Side.END)
    assert found(build)["105"] == {"103": "shares_wall", "104": "shares_wall"}


def test_back_to_back_rooms_of_parallel_corridors_share_their_wall():
    apart = 2 * DEPTH + CORRIDOR
    build = house().wing("A", 0, 0, 0).wing("B", 0, apart, 0)
    build.room("101", wing="A").room("141", wing="B", side=Side.RIGHT)
    assert found(build)["101"] == {"141": "shares_wall"}


@pytest.mark.parametrize(
    ("gap", "shared"), [(0.0, True), (GAP, True), (GAP + 0.01, False), (-0.2, True)]
)
def test_walls_as_far_apart_as_a_wall_is_thick_are_one_wall(gap, shared):
    build = house().wing("A", 0, 0, 0).wing("B", 0, 2 * DEPTH + CORRIDOR + gap, 0)
    build.room("101", wing="A").room("141", wing="B", side=Side.RIGHT)
    assert ("141" in found(build)["101"]) is shared


@pytest.mark.parametrize(("common", "shared"), [(0.5, True), (0.49, False), (0.0, False)])
def test_a_corner_that_touches_is_no_shared_wall(common, shared):
    build = house().wing("A", 0, 0, 0).wing("B", BAY - common, 2 * DEPTH + CORRIDOR, 0)
    build.room("101", wing="A").room("141", wing="B", side=Side.RIGHT)
    assert ("141" in found(build)["101"]) is shared


def test_rooms_of_two_wings_that_meet_at_a_right_angle_share_a_wall():
    build = house().wing("A", 0, 0, 0).wing("B", BAY + DEPTH + CORRIDOR / 2, CORRIDOR / 2, 90)
    build.room("101", wing="A").room("121", wing="B")
    assert found(build)["101"] == {"121": "shares_wall"}


def test_wings_that_join_on_one_floor_only():
    build = house().floors("1", "2").wing("A", 0, 0, 0).wing("B", BAY, 0, 0)
    build.room("101", wing="A").room("201", wing="A", floor="2").room("121", wing="B")
    assert found(build) == {
        "101": {"121": "shares_wall", "201": "above"},
        "121": {"101": "shares_wall"},
        "201": {"101": "below"},
    }


# --- corridors ---------------------------------------------------------------------------------


def test_rooms_that_meet_at_a_corner_of_the_corridor_do_not_face_each_other():
    build = house().room("101", width_m=4.0).room("102", side=Side.RIGHT, width_m=3.6)
    build.room("104", side=Side.RIGHT)
    assert found(build)["101"] == {"102": "across"}


def test_fronts_of_different_corridors_do_not_face_each_other():
    build = house().wing("A", 0, 0, 0).wing("B", 0, 0, 0)
    build.room("101", wing="A").room("141", wing="B", side=Side.RIGHT)
    assert found(build)["101"] == {}


def test_a_room_that_stands_in_the_corridor_hides_those_behind_it():
    build = house().wing("A", 0, 0, 0).room("101", wing="A").room("102", wing="A", side=Side.RIGHT)
    assert found(build)["101"] == {"102": "across"}
    build.wing("B", 0, -CORRIDOR / 2, 0).room("130", wing="B", width_m=BAY)
    hidden = found(build)
    assert "102" not in hidden["101"]
    assert "101" not in hidden["102"]


# --- floors ------------------------------------------------------------------------------------


def test_above_is_every_room_that_overlaps():
    build = house().floors("1", "2").room("101", width_m=8.0)
    build.room("201", floor="2").room("203", floor="2")
    assert found(build)["101"] == {"201": "above", "203": "above"}


@pytest.mark.parametrize(("wide", "over"), [(0.5 / 7, True), (0.4 / 7, False)])
def test_a_sliver_of_overlap_is_no_room_above(wide, over):
    build = house().floors("1", "2").room("101").room("201", floor="2", width_m=BAY - wide)
    build.room("203", floor="2")
    assert ("203" in found(build)["101"]) is over


def test_a_floor_without_rooms_lies_between():
    build = house().floors("1", "M", "2").room("101").room("201", floor="2")
    assert found(build) == {"101": {}, "201": {}}


def test_floors_on_one_level_of_two_houses_are_no_ceiling_of_each_other():
    build = house().floors("1", "2").room("101").room("A01", floor="A1", wing="annexe")
    build.house = with_facts(build.house, floors={"A1": 1})
    assert found(build) == {"101": {}, "A01": {}}


# --- doors and suites -----------------------------------------------------------------------------


def test_a_connecting_door_said_in_one_row_counts_for_both():
    build = house().room("101", connects_to=("103",)).room("102").room("103")
    assert found(build)["103"] == {"101": "connects", "102": "shares_wall"}
    assert found(build)["101"] == {"102": "shares_wall", "103": "connects"}


def test_a_door_to_itself_or_to_no_room_is_no_neighbour():
    assert found(house().room("101", connects_to=("101", "999")))["101"] == {}


def test_keys_of_a_suite_are_neighbours_on_any_floor():
    build = house().floors("1", "2").room("101", suite="Lake")
    build.room("102").room("205", floor="2", order=5, suite="Lake")
    assert found(build)["205"] == {"101": "same_suite"}


def test_every_kind_is_kept():
    build = house().room("101", suite="Lake", connects_to=("102",)).room("102", suite="Lake")
    assert found(build)["101"] == {"102": "shares_wall connects same_suite"}


def test_a_room_out_of_use_is_nobodys_neighbour():
    build = house().room("101").room("102")
    build.record(replace(build.house.rooms[RoomNo("102")], in_use=False))
    assert found(build) == {"101": {}}


# --- laws ----------------------------------------------------------------------------------------


@given(hotels())
@settings(max_examples=60, deadline=None)
def test_being_a_neighbour_is_mutual_and_nobody_is_their_own(hotel):
    mirror = {Kind.ABOVE: Kind.BELOW, Kind.BELOW: Kind.ABOVE}
    near = neighbours(hotel, lay_out(hotel))
    assert list(near) == list(hotel.rooms)
    seen = {(room, other.room): set(other.kinds) for room in near for other in near[room]}
    for (room, other), kinds in seen.items():
        assert room != other
        assert kinds
        assert seen[other, room] == {mirror.get(kind, kind) for kind in kinds}


@given(
    hotels(wings=1),
    st.floats(-400, 400),
    st.floats(-400, 400),
    st.floats(0, 360),
)
@settings(max_examples=60, deadline=None)
def test_turning_and_moving_a_wing_as_a_whole_changes_nothing(hotel, x, y, bearing):
    (wing,) = {room.wing for room in hotel.rooms.values()}
    moved = with_facts(hotel, WingPlaced(wing, x, y, bearing))
    assert found(moved) == found(hotel)


@given(hotels(), st.sampled_from(Side), st.integers(1, 5))
@settings(max_examples=60, deadline=None)
def test_a_room_added_elsewhere_changes_no_ones_neighbours(hotel, side, order):
    new = replace(
        next(iter(hotel.rooms.values())),
        room=RoomNo("far away"),
        wing="far",
        side=side,
        order=order,
        connects_to=(),
        suite="",
    )
    assume("far" not in hotel.wings)
    after = found(with_facts(hotel, WingPlaced("far", 9000.0, 9000.0, 10.0), new))
    assert after.pop("far away") == {}
    assert after == found(hotel)


@given(hotels())
@settings(max_examples=30, deadline=None)
def test_names_of_rooms_say_nothing(hotel):
    names = {no: RoomNo(f"Z{number:03}") for number, no in enumerate(reversed(list(hotel.rooms)))}
    renamed = with_facts(
        replace(hotel, kept={**hotel.kept, type(next(iter(hotel.rooms.values()))): ()}),
        *(
            replace(room, room=names[no], connects_to=tuple(names[c] for c in room.connects_to))
            for no, room in hotel.rooms.items()
        ),
    )
    assert found(renamed) == {
        names[room]: {names[other]: kinds for other, kinds in those.items()}
        for room, those in found(hotel).items()
    }
