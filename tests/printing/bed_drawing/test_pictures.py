"""Drawn beds as values: every place can be reached, nothing covers another, all inside."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon, box
from shapely.ops import unary_union
from shapely.validation import make_valid

from hotelwatch.core.beds import BedKind
from hotelwatch.printing.bed_drawing.beds import drawn_bed, drawn_room
from hotelwatch.printing.bed_drawing.picture import (
    HEIGHT,
    LABEL_HEIGHT,
    LABEL_WIDTH,
    Shade,
    is_within,
)
from tests.build import rules

BEDS = [(kind, encased) for kind in rules().bed_kinds.values() for encased in (False, True)]
IDS = [f"{kind.code}{', encased' if encased else ''}" for kind, encased in BEDS]
LEAST_WIDTH_PX = 430
"""Of a picture on screen; it is never made narrower."""
LEAST_TARGET_PX = 24
"""WCAG 2.2, success criterion 2.5.8: a target is at least 24 by 24 CSS pixels."""
LEAST_SEEN_PX2 = 60
"""Of a place's own drawing that nothing covers; common practice, no source."""

every_bed = pytest.mark.parametrize(("kind", "encased"), BEDS, ids=IDS)


def label_box(mark):
    x, y = mark.label
    width, height = LABEL_WIDTH / 2, LABEL_HEIGHT / 2
    return box(x - width, y - height, x + width, y + height)


def seen_areas(picture):
    """What is left to see of each place's shapes when all later ones are painted (shapely)."""
    painted = [
        (shape, make_valid(Polygon(shape.corners)))
        for shape in picture.shapes
        if shape.is_closed and (shape.place or shape.shade is not Shade.NONE)
    ]
    left, covered = {}, Polygon()
    for shape, form in reversed(painted):
        if shape.place:
            rest = form.difference(covered)
            left[shape.place] = unary_union([left.get(shape.place, Polygon()), rest])
        if shape.shade is not Shade.NONE:
            covered = unary_union([covered, form])
    return left


@every_bed
def test_every_place_has_its_number_of_the_list_and_none_is_left_out(kind, encased):
    picture = drawn_bed(kind, encased=encased)
    places = kind.places_of(encased=encased)
    assert [(mark.number, mark.place) for mark in picture.marks] == [
        (number, place.code) for number, place in enumerate(places, 1)
    ]
    assert [mark.likeliness for mark in picture.marks] == [place.likeliness for place in places]
    assert [mark.is_optional for mark in picture.marks] == [place.optional for place in places]


@every_bed
def test_every_place_is_drawn_and_can_be_pressed(kind, encased):
    picture = drawn_bed(kind, encased=encased)
    seen = seen_areas(picture)
    for mark in picture.marks:
        assert seen[mark.place].area * LEAST_WIDTH_PX**2 >= LEAST_SEEN_PX2, mark.place
        assert picture.place_at(mark.label) == mark.place
        inside = seen[mark.place].representative_point()
        if not any(label_box(one).contains(inside) for one in picture.marks):
            assert picture.place_at((inside.x, inside.y)) == mark.place
    assert min(LABEL_WIDTH, LABEL_HEIGHT) * LEAST_WIDTH_PX >= LEAST_TARGET_PX


@every_bed
def test_the_line_of_a_number_ends_on_what_it_means(kind, encased):
    picture = drawn_bed(kind, encased=encased)
    for mark in picture.marks:
        assert any(is_within(mark.anchor, one) for one in picture.outlines_of(mark.place))


@every_bed
def test_numbers_cover_neither_each_other_nor_the_people_who_lift(kind, encased):
    picture = drawn_bed(kind, encased=encased)
    boxes = [(mark.place, label_box(mark)) for mark in picture.marks]
    for lift in picture.lifts:
        x, y = lift.at
        half = (0.037, LABEL_HEIGHT * 0.45)
        people = box(x - half[0], y - half[1], x + half[0], y + half[1])
        boxes.append((lift.move, people))
    for (one, first), (other, second) in combinations(boxes, 2):
        assert first.intersection(second).area == 0, (one, other)


@every_bed
def test_everything_is_inside_the_picture(kind, encased):
    picture = drawn_bed(kind, encased=encased)
    frame = box(0, 0, 1, HEIGHT)
    assert all(frame.contains(label_box(mark)) for mark in picture.marks)
    for shape in picture.shapes:
        assert all(0 <= x <= 1 and 0 <= y <= HEIGHT for x, y in shape.corners)


@every_bed
def test_whatever_two_people_stand_says_so_on_the_drawing(kind, encased):
    picture = drawn_bed(kind, encased=encased)
    places = kind.places_of(encased=encased)
    stood = {p.move for p in places if p.people > 1 and p.move and not p.optional}
    assert {lift.move for lift in picture.lifts} == stood
    assert all(lift.people == 2 for lift in picture.lifts)


@every_bed
def test_what_is_lit_belongs_to_a_place_of_this_bed(kind, encased):
    picture = drawn_bed(kind, encased=encased)
    codes = {place.code for place in kind.places_of(encased=encased)}
    assert {shape.place for shape in picture.shapes if shape.place} == codes
    assert {shape.place for shape in picture.shapes if shape.is_lit} <= codes
    likely = {mark.place for mark in picture.marks if mark.likeliness > 1}
    assert likely <= {shape.place for shape in picture.shapes if shape.is_lit}


def test_a_kind_nobody_drew_still_shows_every_place():
    known = rules().bed_kinds["box_spring"]
    other = BedKind("hammock", known.places, known.encased_places, 5, 5, 1, {})
    picture = drawn_bed(other, encased=False)
    assert len(picture.marks) == len(known.places)
    assert all(picture.place_at(mark.label) == mark.place for mark in picture.marks)


def test_the_room_beside_its_beds_is_drawn_by_the_same_rules():
    places = rules().room_places
    picture = drawn_room(places)
    seen = seen_areas(picture)
    boxes = [label_box(mark) for mark in picture.marks]
    assert [mark.place for mark in picture.marks] == [place.code for place in places]
    assert all(seen[place.code].area * LEAST_WIDTH_PX**2 >= LEAST_SEEN_PX2 for place in places)
    assert all(picture.place_at(mark.label) == mark.place for mark in picture.marks)
    assert all(one.intersection(two).area == 0 for one, two in combinations(boxes, 2))
    assert all(box(0, 0, 1, HEIGHT).contains(one) for one in boxes)
    assert all(0 <= x <= 1 and 0 <= y <= HEIGHT for s in picture.shapes for x, y in s.corners)
    for mark in picture.marks:
        assert any(is_within(mark.anchor, one) for one in picture.outlines_of(mark.place))
    assert [(lift.move, lift.people) for lift in picture.lifts] == [("unhang_headboard", 2)]


def test_an_encased_bed_is_another_picture():
    kind = rules().bed_kinds["box_spring"]
    bare, cover = (drawn_bed(kind, encased=encased) for encased in (False, True))
    assert bare != cover
    assert cover.mark_of("base_staple_line") is None
    assert bare.mark_of("base_staple_line").number == 7


def test_what_lies_within_an_outline_is_as_shapely_says():
    picture = drawn_bed(rules().bed_kinds["box_spring"], encased=False)
    points = [(x / 40 + 0.003, y / 40 + 0.003) for x in range(40) for y in range(26)]
    for shape in picture.shapes:
        if not shape.is_closed or not (form := Polygon(shape.corners)).is_valid:
            continue
        for point in points:
            assert is_within(point, shape.corners) == form.contains(ShapelyPoint(point))
