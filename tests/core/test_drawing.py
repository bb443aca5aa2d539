"""Rooms drawn by hand: where they lie, whose neighbours they are, what can't be.

Neighbours and overlaps are checked against shapely (GEOS).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from hotelwatch.core.building.drawing import (
    Course,
    Drawing,
    NewRoom,
    facts_of,
    flaws,
    shape_flaw,
    with_drawing,
)
from hotelwatch.core.building.joins import joins_of
from hotelwatch.core.building.neighbours import Kind, neighbours
from hotelwatch.core.building.outlines import numbers_of
from hotelwatch.core.building.redrawing import Surroundings, changes, ways_of
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.roster import matched_beds
from hotelwatch.core.building.section import Cut, cut_through, cuts_of, section_of
from hotelwatch.core.building.shaping import cut, moved, with_corner, with_notch
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import RoomDrawn, RoomNo, Side
from tests.build import day, house
from tests.core.by_shapely import FIGURES, by_hotelwatch, by_shapely
from tests.core.hotels import hotels, with_facts

BAY, DEPTH = FIGURES.bay_width_m.value, FIGURES.room_depth_m.value


def row(last=4):
    build = house().floors("1", "2")
    for floor in "12":
        for number in range(1, last + 1):
            build.room(f"{floor}0{number}", floor=floor).bed("A")
    return build


def drawn_at(this, room, outline):
    return with_facts(this, RoomDrawn(RoomNo(room), numbers_of(outline)))


@st.composite
def redrawn(draw):
    """A random hotel in which some rooms were moved or cut."""
    hotel = draw(hotels(wings=2))
    shapes = lay_out(hotel).shapes
    step = st.integers(-20, 20).map(lambda tenths: tenths / 10)
    for room in draw(st.lists(st.sampled_from(list(shapes)), max_size=3, unique=True)):
        outline = moved(shapes[room].outline, (draw(step), draw(step)))
        for corner in draw(st.lists(st.integers(0, 7), max_size=2)):
            outline = with_notch(outline, corner % len(outline))
        if draw(st.booleans()):  # a corner that is pulled far, so that rooms reach around others
            corner, by = draw(st.integers(0, 7)) % len(outline), (draw(step), draw(step))
            outline = with_corner(outline, corner, moved([outline[corner]], by)[0])
        halves = cut(outline, draw(st.integers(0, 3)), 1.7) if draw(st.booleans()) else None
        outline = halves[0] if halves else outline
        if not flaws(hotel, Drawing({room: outline})):  # none else is ever written down
            hotel = drawn_at(hotel, room, outline)
    return hotel


@given(redrawn())
@settings(max_examples=60, deadline=None)
def test_drawn_rooms_have_the_neighbours_that_shapely_finds(hotel):
    assert by_hotelwatch(hotel) == by_shapely(hotel)


def test_a_drawn_room_lies_where_it_was_drawn_and_nobody_else_moves():
    this = row().house
    before = lay_out(this).shapes
    outline = moved(before["102"].outline, (0, 1.5))
    after = lay_out(drawn_at(this, "102", outline)).shapes
    assert after["102"].outline == outline
    assert after["102"].is_drawn
    assert {no: shape for no, shape in after.items() if no != "102"} == {
        no: shape for no, shape in before.items() if no != "102"
    }


def test_an_empty_drawing_takes_the_laid_out_place_back():
    this = row().house
    drawn = drawn_at(this, "102", moved(lay_out(this).shapes["102"].outline, (9, 9)))
    assert lay_out(with_facts(drawn, RoomDrawn(RoomNo("102")))) == lay_out(this)


@pytest.mark.parametrize("numbers", [(1.0, 2.0), (0, 0, 1, 1, 2), (0, 0, 4, 4, 4, 0, 0, 4)])
def test_an_outline_that_no_room_can_have_is_left_out(numbers):
    this = row().house
    drawn = with_facts(this, RoomDrawn(RoomNo("102"), tuple(map(float, numbers))))
    assert lay_out(drawn) == lay_out(this)


@given(redrawn(), st.data())
@settings(max_examples=40, deadline=None)
def test_neighbours_while_one_draws_are_those_of_the_whole_house(hotel, data):
    building = lay_out(hotel)
    around = Surroundings(hotel, building)
    room = data.draw(st.sampled_from(list(building.shapes)))
    step = st.integers(-60, 60).map(lambda tenths: tenths / 10)
    outline = moved(building.shapes[room].outline, (data.draw(step), data.draw(step)))
    then = drawn_at(hotel, room, outline)
    laid = lay_out(then)
    around.put(laid.shapes[room], then.rooms[room].wing)
    whole = neighbours(then, laid)
    for other in laid.shapes:
        assert around.of(other) == whole[other]


SUITE = ((0.0, 0.9), (8.0, 0.9), (8.0, 3.9), (4.0, 3.9), (4.0, 7.9), (0.0, 7.9))
"""Two bays along the corridor; another room lies in its inner corner."""
CORE = ((4.1, 4.0), (8.0, 4.0), (8.0, 7.9), (4.1, 7.9))


def around_a_corner():
    """101 is the suite, 102 lies in its corner, 103 beside both; 201 above, 110 across."""
    build = house().floors("1", "2").room("101").room("102").room("103")
    build.room("110", side=Side.RIGHT).room("203", floor="2", order=2)
    return drawn_at(drawn_at(build.house, "101", SUITE), "102", CORE)


def test_a_room_in_the_corner_of_a_suite_by_hand():
    """The suite's inner walls are shared with it; above lies a room over the suite's arm."""
    this = around_a_corner()
    near = {one.room: one.kinds for one in neighbours(this, lay_out(this))["101"]}
    assert near == {
        "102": (Kind.SHARES_WALL,),
        "103": (Kind.SHARES_WALL,),
        "110": (Kind.ACROSS,),
        "203": (Kind.ABOVE,),
    }
    assert flaws(this, Drawing({"102": CORE})) == ()
    (on,) = flaws(this, Drawing({"102": moved(CORE, (-1.0, 0.0))}))
    assert (on.code, {on.room, on.other}) == ("overlaps", {"101", "102"})
    assert on.square_metres == pytest.approx(0.9 * 3.9)
    assert by_hotelwatch(this) == by_shapely(this)


def test_a_shaft_beside_the_corridor_leaves_walls_on_both_sides_of_it():
    """The door is in the longer wall; a room across from the shorter one faces it too."""
    build = house().room("101", width_m=8.0)
    build.room("110", order=1, side=Side.RIGHT).room("111", order=2, side=Side.RIGHT)
    outline = ((0, 0.9), (5, 0.9), (5, 2.5), (6, 2.5), (6, 0.9), (8, 0.9), (8, 7.9), (0, 7.9))
    this = drawn_at(build.house, "101", outline)
    assert lay_out(this).shapes["101"].front == ((0, 0.9), (5, 0.9))
    shapes = lay_out(this).shapes
    east = moved(shapes["111"].outline, (2.0, 0.0))  # it begins where the shaft does
    this = drawn_at(this, "111", east)
    near = {one.room: one.kinds for one in neighbours(this, lay_out(this))["101"]}
    assert near == {"110": (Kind.ACROSS,), "111": (Kind.ACROSS,)}
    assert by_hotelwatch(this) == by_shapely(this)


def test_corridors_join_through_the_notch_of_a_room_and_not_through_its_arm():
    """Two corridors end three metres apart, at 4 and 7 m east; the room's arm is 1 m wide."""
    build = house().wing("A", 0, 0, 0).wing("B", 7, 0, 0)
    build.room("A1", wing="A").room("B1", wing="B").room("C1", wing="B", order=9)
    around = ((4.5, 0.5), (8, 0.5), (8, -3), (9, -3), (9, 1.5), (4.5, 1.5))

    def are_joined(outline):
        this = drawn_at(build.house, "C1", outline)
        return any(joins_of(lay_out(this), 3.0))

    assert are_joined(around)
    assert not are_joined(moved(around, (-2.5, 0)))


def test_who_is_gained_and_who_is_lost_is_said_from_both_sides():
    this = row().house
    around = Surroundings(this, lay_out(this))
    before = ways_of(around.of(RoomNo("102")))
    there = lay_out(drawn_at(this, "102", moved(lay_out(this).shapes["102"].outline, (BAY * 4, 0))))
    around.put(there.shapes["102"], "")
    found = changes(RoomNo("102"), before, ways_of(around.of(RoomNo("102"))))
    told = {one.other: (one.gained, one.lost) for one in found}
    assert told == {
        "101": ((), (Kind.SHARES_WALL,)),
        "103": ((), (Kind.SHARES_WALL,)),
        "202": ((), (Kind.ABOVE,)),
    }


def test_a_room_moved_into_the_corridor_hides_those_that_face_each_other():
    build = house().room("101").room("102", side=Side.RIGHT).room("103", order=9)
    around = Surroundings(build.house, lay_out(build.house))
    shapes = lay_out(build.house).shapes
    assert around.across_beside([shapes["101"]]) == {("101", "102")}
    between = tuple((x - 8 * BAY, y - 1.2) for x, y in shapes["103"].outline)
    there = lay_out(drawn_at(build.house, "103", between)).shapes["103"]
    around.put(there, "")
    assert around.across_beside([shapes["101"]]) != {("101", "102")}


# --- splitting -----------------------------------------------------------------------------


def split_102(this, beds=()):
    halves = cut(lay_out(this).shapes["102"].outline, 0, BAY / 2)
    new = NewRoom(RoomNo("102A"), RoomNo("102"), beds)
    return Drawing().with_split(new, *halves)


def test_a_split_makes_a_neighbour_and_moves_nobody():
    this = row().house
    after = with_drawing(this, split_102(this))
    shapes = lay_out(after).shapes
    assert {no: shapes[no] for no in lay_out(this).shapes if no != "102"} == {
        no: shape for no, shape in lay_out(this).shapes.items() if no != "102"
    }
    near = {one.room: one.kinds for one in neighbours(after, lay_out(after))["102A"]}
    assert near["102"] == (Kind.SHARES_WALL,)
    assert near["103"] == (Kind.SHARES_WALL,)
    assert near["202"] == (Kind.ABOVE,)
    assert by_hotelwatch(after) == by_shapely(after)


def test_a_room_split_at_the_corridors_end_moves_nobody_either():
    build = row().room("110", side=Side.END).room("111", side=Side.END)
    before = lay_out(build.house).shapes
    halves = cut(before["110"].outline, 0, BAY / 2)
    drawing = Drawing().with_split(NewRoom(RoomNo("110A"), RoomNo("110")), *halves)
    after = lay_out(with_drawing(build.house, drawing)).shapes
    assert after["111"] == before["111"]
    assert Polygon(after["110"].outline).touches(Polygon(after["110A"].outline))


def test_beds_that_go_along_keep_their_labels_and_their_looks():
    build = row()
    build.room("105", floor="1").bed("A").bed("B", "sofa_bed", encased=True).checked("B", day(9))
    this = build.house
    halves = cut(lay_out(this).shapes["105"].outline, 0, BAY / 2)
    drawing = Drawing().with_split(NewRoom(RoomNo("106"), RoomNo("105"), ("105/B",)), *halves)
    after = with_drawing(this, drawing)
    assert [bed.bed for bed in after.beds_of(RoomNo("105"))] == ["105/A"]
    (bed,) = after.beds_of(RoomNo("106"))
    assert (bed.bed, bed.kind, bed.encased) == ("105/B", "sofa_bed", True)
    (look,) = looks(after, day(20), rooms=[RoomNo("106")])
    assert (look.bed, look.last_on) == ("105/B", day(9))


def test_the_next_roster_leaves_a_bed_in_the_room_that_it_went_to():
    """The old room gets a bed of that kind again: under a label that nobody has."""
    this = row().room("105", floor="1").bed("A").bed("B", "sofa_bed").house
    halves = cut(lay_out(this).shapes["105"].outline, 0, BAY / 2)
    drawing = Drawing().with_split(NewRoom(RoomNo("106"), RoomNo("105"), ("105/B",)), *halves)
    after = with_drawing(this, drawing)
    wanted = [replace(bed, room=RoomNo("105")) for bed in this.beds_of(RoomNo("105"))]
    had = {bed.bed: bed for bed in after.beds_of(RoomNo("105"))}
    matched = matched_beds(RoomNo("105"), wanted, had, dict(had), taken=after.builds_by_bed.keys())
    assert [bed.bed for bed in matched] == ["105/A", "105/C"]


# --- what can't be --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("outline", "code"),
    [
        (((0, 0), (4, 0)), "too_few_corners"),
        (((0, 0), (4, 0), (1, 1), (0, 4)), None),
        (((0, 0), (4, 4), (4, 0), (0, 4)), "walls_meet"),
        (((0, 0), (4, 0), (4, 4), (2, 0), (0, 4)), "walls_meet"),
        (((0, 0), (4, 0), (4, 4), (4, 2), (0, 4)), "walls_meet"),
        (((0, 0), (4, 0), (0, 1), (0, 0.9)), "too_small"),
        (((0, 0), (1, 0), (1, 1), (0, 1)), "too_small"),
        (((0, 0), (0, 4), (4, 4), (4, 0)), None),
    ],
)
def test_what_is_wrong_with_a_shape(outline, code):
    flaw = shape_flaw(RoomNo("1"), outline, FIGURES)
    assert (flaw.code if flaw else None) == code


@given(
    st.integers(-60, 60).map(lambda tenths: tenths / 10),
    st.integers(-60, 60).map(lambda tenths: tenths / 10),
)
@settings(deadline=None)
def test_rooms_overlap_as_shapely_says(dx, dy):
    this = row().house
    shapes = lay_out(this).shapes
    outline = moved(shapes["102"].outline, (dx, dy))
    told = {flaw.other: flaw.square_metres for flaw in flaws(this, Drawing({"102": outline}))}
    mine = Polygon(outline)
    for no in ("101", "103", "104"):
        common = mine.intersection(Polygon(shapes[no].outline)).area
        if abs(common - FIGURES.overlap_m2.value) > 1e-6:
            assert (no in told) == (common > FIGURES.overlap_m2.value)
        if no in told:
            assert told[no] == pytest.approx(common)
    assert not any(no.startswith("2") for no in told)


def test_taking_back_a_drawing_onto_a_room_that_lies_there_is_told():
    this = row().house
    shapes = lay_out(this).shapes
    away = drawn_at(this, "102", moved(shapes["102"].outline, (0, 20)))
    taken = drawn_at(away, "103", shapes["102"].outline)
    assert [f.code for f in flaws(taken, Drawing({"102": ()}))] == ["overlaps"]


# --- one step after the other ------------------------------------------------------------------


@given(st.lists(st.sampled_from(["draw", "undo", "redo"]), max_size=30))
def test_undo_and_redo_walk_along_what_was_drawn(steps):
    course, seen, place = Course(), [Drawing()], 0
    for number, step in enumerate(steps):
        if step == "draw":
            drawing = course.now.with_outline(RoomNo("1"), ((float(number), 0.0),))
            course = course.then(drawing)
            seen[place + 1 :] = [drawing]
            place += 1
        elif step == "undo":
            course, place = course.undo(), max(0, place - 1)
        else:
            course, place = course.redo(), min(len(seen) - 1, place + 1)
        assert course.now == seen[place]


def test_a_drawing_back_where_it_was_writes_nothing():
    this = row().house
    outline = moved(lay_out(this).shapes["102"].outline, (0, 2))
    drawn = drawn_at(this, "102", outline)
    assert facts_of(drawn, Drawing({"102": outline})) == ()
    assert facts_of(this, Drawing({"102": ()})) == ()


# --- cut upright ----------------------------------------------------------------------------------


def test_the_section_shows_each_room_over_the_rooms_below_it():
    build = house().floors("1", "2").room("101", width_m=8.0).room("102")
    build.room("201", floor="2").room("202", floor="2").room("203", floor="2")
    section = section_of(build.house, lay_out(build.house), Cut("", Side.LEFT))
    spans = {one.room: (one.from_m, one.until_m) for one in section.rooms}
    assert spans["101"] == (0, 8.0)
    assert spans["203"] == (2 * BAY, 3 * BAY)
    assert section.floors == {1: ("1",), 2: ("2",)}
    assert [one.level for one in section.rooms] == [1, 1, 2, 2, 2]


def test_a_room_around_a_shaft_is_cut_twice():
    build = house().floors("1", "2").room("101", width_m=6.0).room("201", floor="2", width_m=6.0)
    around = ((0, 1), (6, 1), (6, 8), (4, 8), (4, 3), (2, 3), (2, 8), (0, 8))
    this = drawn_at(build.house, "101", around)
    section = section_of(this, lay_out(this), Cut("", Side.LEFT))
    spans = [(one.room, one.from_m, one.until_m) for one in section.rooms]
    assert spans == [("101", 0, 2), ("101", 4, 6), ("201", 0, 6)]


@given(redrawn(), st.data())
@settings(max_examples=40, deadline=None)
def test_rooms_that_overlap_in_the_section_lie_over_each_other(hotel, data):
    building = lay_out(hotel)
    section = section_of(hotel, building, data.draw(st.sampled_from(cuts_of(hotel))))
    for one in section.rooms:
        middle = (one.from_m + one.until_m) / 2
        (x0, y0), (x1, y1) = section.start, section.end
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        share = middle / length
        at = (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
        outline = Polygon(building.shapes[one.room].outline)
        from shapely import Point

        assert outline.distance(Point(at)) < 1e-6


def test_a_room_is_on_the_cut_of_its_own_side():
    build = row()
    build.room("110", side=Side.RIGHT)
    cut_here = cut_through(build.house, RoomNo("110"))
    assert cut_here == Cut("", Side.RIGHT)
    section = section_of(build.house, lay_out(build.house), cut_here)
    assert [one.room for one in section.rooms] == ["110"]
