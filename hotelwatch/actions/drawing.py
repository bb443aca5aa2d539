"""Rooms drawn as they are built: outlines written down, rooms split in two."""

from __future__ import annotations

from collections.abc import Sequence

from hotelwatch.actions.hotel import check_room
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.building.drawing import Drawing, Flaw, facts_of, flaws
from hotelwatch.core.building.outlines import Outline, points_of
from hotelwatch.core.facts import Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes


def save_drawing(hotel: OpenHotel, drawing: Drawing) -> Changes:
    """Write a drawing down as one entry; what is the same already is not written again.

    Refusal with the code of the first flaw, ("unknown_room"), ("room_exists") or
    ("new_room_needs_number").
    """

    def decide(house: House) -> Sequence[Fact]:
        check_drawing(house, drawing)
        return facts_of(house, drawing)

    return hotel.record(decide, action="draw_rooms")


def draw_room(hotel: OpenHotel, room: RoomNo, numbers: Sequence[float]) -> Changes:
    """Write one room's outline down; no number takes the laid-out place back."""
    return save_drawing(hotel, Drawing({room: read_outline(numbers)}))


def read_outline(numbers: Sequence[float]) -> Outline:
    """The corners that numbers stand for. Refusal("outline_without_pairs")."""
    try:
        return points_of(numbers)
    except ValueError as error:
        raise Refusal("outline_without_pairs") from error


def check_drawing(house: House, drawing: Drawing) -> None:
    """Raise Refusal unless a drawing can be written down."""
    made = {new.room for new in drawing.new_rooms}
    for new in drawing.new_rooms:
        check_room(house, new.source)
        check_new_number(house, new.room)
    for room in drawing.outlines:
        if room not in made:
            check_room(house, room)
    for flaw in flaws(house, drawing):
        raise _refusal_of(flaw)


def _refusal_of(flaw: Flaw) -> Refusal:
    room, m2 = flaw.room, f"{flaw.square_metres:.1f}"
    refusals = {
        "too_few_corners": Refusal("too_few_corners", room=room),
        "walls_meet": Refusal("walls_meet", room=room),
        "too_small": Refusal("too_small", room=room, m2=m2),
        "overlaps": Refusal("overlaps", room=room, other=flaw.other, m2=m2),
    }
    return refusals[flaw.code]


def check_new_number(house: House, room: str) -> None:
    """Raise Refusal unless a new room may bear that number."""
    if not room.strip():
        raise Refusal("new_room_needs_number")
    if room in house.rooms:
        raise Refusal("room_exists", room=room)
