"""Each kind of bed as a picture: which pieces it has, where they stand, what they show."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from hotelwatch.core.beds import BedKind, Place
from hotelwatch.printing.bed_drawing.kinds import pieces_of, room_pieces
from hotelwatch.printing.bed_drawing.picture import BedPicture, LiftMark, PlaceMark, Point, Shape
from hotelwatch.printing.bed_drawing.sketch import CANVAS, Sketch

ROOM = "room"
"""The kind of a picture that shows no bed."""


def drawn_bed(kind: BedKind, *, encased: bool) -> BedPicture:
    """The picture of a kind of bed; numbers are those of its places in looking order.

    A place that no piece shows has its number at the lower edge, so that none is left out.
    """
    return _drawn(kind.code, kind.places_of(encased=encased), encased=encased)


@cache
def _drawn(code: str, places: tuple[Place, ...], *, encased: bool) -> BedPicture:
    """Kept: a sheet shows the same few beds in every room, at each size that is tried."""
    return _picture(code, pieces_of(code, encased=encased), places)


def drawn_room(places: Sequence[Place]) -> BedPicture:
    """What is looked at in a room beside its beds, numbered in looking order."""
    return _picture(ROOM, room_pieces(), places)


def _picture(code: str, pieces: Sequence[Sketch], places: Sequence[Place]) -> BedPicture:
    known = {place.code for place in places}
    shapes = tuple(_kept(shape, known) for piece in pieces for shape in piece.shapes)
    return BedPicture(code, shapes, _marks(pieces, places), _lifts(pieces, places))


def _kept(shape: Shape, known: set[str]) -> Shape:
    """A shape of a place that this bed has not only helps to see."""
    return shape if shape.place in known else replace(shape, place="", is_lit=False)


def _marks(pieces: Sequence[Sketch], places: Sequence[Place]) -> tuple[PlaceMark, ...]:
    pins = {pin.place: pin for piece in pieces for pin in piece.pins}
    marks, spare = [], 30.0
    for number, place in enumerate(places, 1):
        pin = pins.get(place.code)
        if pin is None:
            label = anchor = (spare, 300.0)
            spare += 44.0
        else:
            label, anchor = pin.label, pin.anchor
        marks.append(
            PlaceMark(
                place.code, number, place.likeliness, place.optional, _unit(label), _unit(anchor)
            )
        )
    return tuple(marks)


def _unit(point: Point) -> Point:
    return point[0] / CANVAS, point[1] / CANVAS


def _lifts(pieces: Sequence[Sketch], places: Sequence[Place]) -> tuple[LiftMark, ...]:
    by_code = {place.code: place for place in places}
    return tuple(
        LiftMark(_unit(at), place.people, place.move, place.caution)
        for piece in pieces
        for code, at in piece.lifts
        if (place := by_code.get(code)) is not None and place.people > 1
    )
