from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hotelwatch.core.building.net import Assumed
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.walking import Ways, ways_of
from hotelwatch.core.facts import CycleChosen, Scope, Side
from hotelwatch.core.round_facts import Climb, StairPlaced
from tests.build import house, rules
from tests.core.by_networkx import Walked
from tests.core.hotels import hotels, with_facts

FIGURES = rules().figures
STOREY = FIGURES.stair_metres_per_storey.value
RIDE = FIGURES.lift_ride_metres.value
ROUNDING_M = 0.03
"""Ways count whole millimetres; a long way has some thirty pieces."""


def ways(built):
    return Ways(built.house, lay_out(built.house))


def a_corridor(built, bays, *, floor="1", wing="", before="", sides=(Side.LEFT,)):
    """Rooms of 4 metres: doors at 2, 6, 10 …"""
    for side in sides:
        for bay in range(1, bays + 1):
            built.room(f"{before}{side[0]}{bay}", floor=floor, wing=wing, side=side, order=bay)
    return built


# --- by hand -------------------------------------------------------------------------------


def test_doors_lie_where_the_middle_of_a_front_meets_the_corridor():
    found = ways(a_corridor(house(), 3, sides=(Side.LEFT, Side.RIGHT)))
    assert found.metres("l1", "l3") == 8
    assert found.metres("l1", "r1") == 0
    assert found.metres("l1", "r2") == 4


def test_rooms_across_the_end_lie_at_the_end():
    built = a_corridor(house(), 2).room("e1", side=Side.END).room("e2", side=Side.END)
    found = ways(built)
    assert (found.metres("l1", "e1"), found.metres("e1", "e2")) == (6, 0)


def test_without_a_stair_one_is_assumed_where_each_wing_begins():
    built = house().floors("1", "2")
    for floor in ("1", "2"):
        a_corridor(built, 2, floor=floor, before=floor)
    found = ways(built)
    assert found.assumed == (Assumed.STAIRS_WHERE_WINGS_BEGIN,)
    assert found.metres("1l2", "2l1") == 6 + STOREY + 2
    assert found.metres_of(["1l2"]) == 6


def test_a_placed_stair_is_taken_and_nothing_assumed():
    built = house().floors("1", "2")
    for floor in ("1", "2"):
        a_corridor(built, 5, floor=floor, before=floor)
    built.record(StairPlaced("back", "", 20.0))
    found = ways(built)
    assert found.assumed == ()
    assert found.metres("1l5", "2l4") == 2 + STOREY + 6
    assert found.metres_of(["1l1"]) == 18


def test_a_stair_out_of_use_is_not_taken():
    built = a_corridor(house(), 5)
    built.record(StairPlaced("front", "", 0.0), StairPlaced("back", "", 20.0))
    built.record(StairPlaced("back", "", 20.0, in_use=False))
    assert ways(built).metres_of(["l5"]) == 18


def test_a_lift_counts_the_same_however_far_it_goes():
    built = house().floors("1", "2", "3", "4")
    for floor in ("1", "2", "3", "4"):
        a_corridor(built, 1, floor=floor, before=floor)
    built.record(StairPlaced("stair", "", 2.0), StairPlaced("lift", "", 2.0, Climb.LIFT))
    found = ways(built)
    assert found.metres("1l1", "2l1") == min(STOREY, RIDE)
    assert found.metres("1l1", "4l1") == min(3 * STOREY, RIDE)


def test_corridors_that_cross_are_joined_at_the_crossing():
    """One runs east from (0, 0), the other north from (10, -6), a bay left out for each."""
    built = house().wing("A", 0, 0, 0).wing("B", 10, -6, 90)
    built.room("a", wing="A", width_m=4).room("far", wing="A", order=8)
    built.room("b", wing="B", order=5)
    assert ways(built).metres("a", "b") == pytest.approx((10 - 2) + (18 - 6))


def test_a_wing_that_begins_near_another_is_joined_to_it_by_a_lobby():
    built = a_corridor(house().wing("A", 0, 0, 0), 3, wing="A", before="a")
    a_corridor(built.wing("B", -3, -4, 180), 3, wing="B", before="b")
    found = ways(built)
    assert found.metres("al1", "bl1") == 2 + 5 + 2
    assert found.assumed == (Assumed.STAIRS_WHERE_WINGS_BEGIN,)


def test_no_lobby_leads_through_a_room():
    """The second wing begins behind the first one's rooms, 9 metres from its corridor."""
    built = a_corridor(house().wing("A", 0, 0, 0), 3, wing="A", before="a")
    a_corridor(built.wing("B", 6, 9, 90), 1, wing="B", before="b")
    found = ways(built)
    assert Assumed.STRAIGHT_BETWEEN_BEGINNINGS in found.assumed
    assert found.metres("al2", "bl1") == pytest.approx(6 + (36 + 81) ** 0.5 + 2, abs=0.002)


def test_far_wings_are_joined_on_the_lowest_floor_that_both_have():
    built = house().floors("1", "2").wing("A", 0, 0, 0).wing("B", 0, 100, 0)
    for floor in ("1", "2"):
        for wing in ("A", "B"):
            a_corridor(built, 1, floor=floor, wing=wing, before=f"{floor}{wing}")
    found = ways(built)
    assert found.metres("1Al1", "1Bl1") == 2 + 100 + 2
    assert found.metres("2Al1", "2Bl1") == 2 + STOREY + 100 + STOREY + 2


def test_a_figure_of_eight_is_walked_without_going_back():
    """Three floors between two stairs are two loops that share the middle floor.

    By hand: 2 metres in, 8 along each floor, and from one floor to the next
    2 + a storey + 2. Nothing shorter passes three pairs of doors 8 metres apart on
    three floors, for two climbs and three corridors must be walked.
    """
    built = house().floors("1", "2", "3")
    for floor in ("1", "2", "3"):
        built.room(f"a{floor}", floor=floor, order=1).room(f"b{floor}", floor=floor, order=3)
    built.record(StairPlaced("west", "", 0.0), StairPlaced("east", "", 12.0))
    found = ways(built)
    route = found.route(["a1", "a2", "a3", "b1", "b2", "b3"])
    assert route == ("a1", "b1", "b2", "a2", "a3", "b3")
    assert found.metres_of(route) == 2 + 3 * 8 + 2 * (2 + STOREY + 2)


def test_the_way_begins_where_it_is_said_to():
    found = ways(a_corridor(house(), 5))
    assert found.route(["l1", "l2", "l5"], start="l4") == ("l5", "l2", "l1")
    assert found.metres_of(("l5", "l2", "l1"), start="l4") == 4 + 12 + 4


def test_no_rooms_are_no_way():
    found = ways(a_corridor(house(), 1))
    assert found.route([]) == ()
    assert found.metres_of([]) == 0


def test_ways_are_found_again_only_when_the_building_changed():
    built = a_corridor(house(), 2)
    first = ways_of(built.house)
    built.record(CycleChosen(Scope.HOUSE, "", 60))
    assert ways_of(built.house) is first
    built.record(StairPlaced("back", "", 8.0))
    changed = ways_of(built.house)
    assert (changed.metres_of(["l2"]), first.metres_of(["l2"])) == (2, 6)
    assert ways_of(built.house.without(max(built.house.entries))).metres_of(["l2"]) == 6


# --- against networkx and every order ------------------------------------------------------


@st.composite
def walked_hotels(draw):
    """A random hotel, with up to four stairs and lifts in some of its wings."""
    this = draw(hotels())
    stairs = st.builds(
        StairPlaced,
        name=st.sampled_from("abcd"),
        wing=st.sampled_from(("W0", "W1", "W2")),
        along_m=st.integers(0, 300).map(lambda tenths: tenths / 10),
        kind=st.sampled_from(Climb),
    )
    return with_facts(this, *draw(st.lists(stairs, max_size=4)))


@st.composite
def some_rooms(draw, most):
    this = draw(walked_hotels())
    rooms = st.lists(st.sampled_from(list(this.rooms)), min_size=1, max_size=most, unique=True)
    start = draw(st.none() | st.sampled_from(list(this.rooms)))
    return this, draw(rooms), start


@settings(deadline=None)
@given(walked_hotels())
def test_metres_are_those_of_the_graph_library(this):
    building = lay_out(this)
    found, graph = Ways(this, building), Walked(this, building)
    rooms = list(this.rooms)
    for room in rooms[:: max(1, len(rooms) // 6)]:
        assert found.metres_of([room]) == pytest.approx(graph.way_in(room), abs=ROUNDING_M)
        for other in rooms:
            told = found.metres(room, other)
            assert told == pytest.approx(graph.metres(room, other), abs=ROUNDING_M)


@settings(deadline=None)
@given(some_rooms(most=6))
def test_few_rooms_are_passed_in_the_shortest_of_all_orders(those):
    this, rooms, start = those
    building = lay_out(this)
    found, graph = Ways(this, building), Walked(this, building)
    route = found.route(rooms, start)
    assert sorted(route) == sorted(rooms)
    assert found.metres_of(route, start) == pytest.approx(
        graph.length(route, start), abs=ROUNDING_M
    )
    assert graph.length(route, start) <= graph.shortest(rooms, start) + ROUNDING_M


# --- laws ------------------------------------------------------------------------------------


@settings(deadline=None)
@given(walked_hotels(), st.data())
def test_metres_are_the_same_both_ways_and_no_detour_is_shorter(this, data):
    found = Ways(this, lay_out(this))
    one, other, third = (data.draw(st.sampled_from(list(this.rooms))) for _ in range(3))
    assert found.metres(one, one) == 0
    assert found.metres(one, other) == found.metres(other, one) >= 0
    detour = found.metres(one, third) + found.metres(third, other)
    assert found.metres(one, other) <= detour + 1e-9


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(some_rooms(most=24))
def test_a_route_is_never_longer_than_by_number(those):
    this, rooms, start = those
    found = Ways(this, lay_out(this))
    route = found.route(rooms, start)
    assert sorted(route) == sorted(rooms)
    by_number = sorted(rooms)
    assert found.metres_of(route, start) <= found.metres_of(by_number, start) + ROUNDING_M
    assert found.route(reversed(rooms), start) == route


@settings(deadline=None)
@given(some_rooms(most=7))
def test_one_room_less_is_never_a_longer_way(those):
    this, rooms, start = those
    found = Ways(this, lay_out(this))
    whole = found.metres_of(found.route(rooms, start), start)
    for left_out in rooms:
        fewer = [room for room in rooms if room != left_out]
        assert found.metres_of(found.route(fewer, start), start) <= whole + ROUNDING_M


@settings(deadline=None)
@given(walked_hotels())
def test_a_stair_more_makes_no_way_longer(this):
    """Once all ways are joined by what is there, not by what was assumed."""
    before = Ways(this, lay_out(this))
    if before.assumed:
        return
    wing = next(iter(this.rooms.values())).wing
    more = with_facts(this, StairPlaced("one more", wing, 5.0))
    after = Ways(more, lay_out(more))
    for one, other in pairwise(this.rooms):
        assert after.metres(one, other) <= before.metres(one, other) + ROUNDING_M
