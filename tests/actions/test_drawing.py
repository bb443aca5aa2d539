"""A drawing written down: one entry, refused whole where a room can't be so."""

from __future__ import annotations

import pytest

from hotelwatch.actions.drawing import draw_room, save_drawing
from hotelwatch.core.building.drawing import Drawing, NewRoom
from hotelwatch.core.building.rooms import lay_out
from hotelwatch.core.building.shaping import cut, moved
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.problems import refusal_sentence


@pytest.fixture
def inn(hotel):
    """Two floors of four rooms."""
    return hotel


def outline(hotel, room):
    return hotel.building.shapes[room].outline


def test_two_rooms_and_a_split_are_one_entry_and_neighbours_follow(inn):
    entries = len(inn.house.entries)
    inn.neighbours()
    halves = cut(outline(inn, "104"), 0, 2.0)
    drawing = Drawing({"201": moved(outline(inn, "201"), (0, 30))})
    save_drawing(inn, drawing.with_split(NewRoom("105", "104", ("104/A",)), *halves))
    assert len(inn.house.entries) == entries + 1
    assert [bed.bed for bed in inn.house.beds_of("105")] == ["104/A"]
    assert inn.house.beds_of("104") == ()
    assert inn.building == lay_out(inn.house)
    assert "201" not in {one.room for one in inn.neighbours()["101"]}
    assert "105" in {one.room for one in inn.neighbours()["104"]}


def test_the_same_drawing_again_writes_nothing(inn):
    numbers = [number for point in moved(outline(inn, "104"), (1, 0)) for number in point]
    draw_room(inn, "104", numbers)
    entries = len(inn.house.entries)
    assert not draw_room(inn, "104", numbers).topics
    assert len(inn.house.entries) == entries


@pytest.mark.parametrize(
    ("drawing", "code"),
    [
        (Drawing({"999": ((0, 0), (4, 0), (4, 4), (0, 4))}), "unknown_room"),
        (Drawing({"101": ((0, 0), (9, 0))}), "too_few_corners"),
        (Drawing({"101": ((0, 90), (9, 99), (9, 90), (0, 99))}), "walls_meet"),
        (Drawing({"101": ((0, 90), (1, 90), (1, 91), (0, 91))}), "too_small"),
        (Drawing({"101": ((4, 1), (8, 1), (8, 7), (4, 7))}), "overlaps"),
        (Drawing({}, (NewRoom("102", "101"),)), "room_exists"),
        (Drawing({}, (NewRoom(" ", "101"),)), "new_room_needs_number"),
        (Drawing({}, (NewRoom("110", "999"),)), "unknown_room"),
    ],
)
def test_what_can_not_be_is_refused_in_words_and_nothing_is_written(inn, drawing, code):
    entries = len(inn.house.entries)
    with pytest.raises(Refusal) as refused:
        save_drawing(inn, drawing)
    assert refused.value.code == code
    assert "…" not in " ".join(refusal_sentence(refused.value))
    assert len(inn.house.entries) == entries


def test_a_room_around_a_shaft_is_written_down_as_it_is_drawn(inn):
    around = (0, 90, 6, 90, 6, 95, 4, 95, 4, 93, 2, 93, 2, 95, 0, 95)
    draw_room(inn, "101", around)
    assert outline(inn, "101") == tuple(zip(around[::2], around[1::2], strict=True))
    draw_room(inn, "102", (2.1, 93.1, 3.9, 93.1, 3.9, 95, 2.1, 95))  # a store in its bay
    assert "102" in {one.room for one in inn.neighbours()["101"]}
    with pytest.raises(Refusal, match="overlaps"):
        draw_room(inn, "103", (3, 92, 5, 92, 5, 96, 3, 96))


def test_a_number_too_few_is_no_corner(inn):
    with pytest.raises(Refusal, match="outline_without_pairs"):
        draw_room(inn, "101", [1.0, 2.0, 3.0])
