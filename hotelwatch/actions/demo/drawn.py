"""Rooms of the demo hotel that are not as its roster lays them out, drawn as they are built."""

from __future__ import annotations

from hotelwatch.actions.drawing import save_drawing
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.building.drawing import Drawing
from hotelwatch.core.building.outlines import Outline, Point
from hotelwatch.core.building.shaping import rounded, with_wall
from hotelwatch.core.facts import RoomNo

WIDER_M = 1.2
FAR_WALL = 1
"""Rooms to the left of a corridor have it on the side to which orders count up."""
BESIDE_THE_SHAFT = ("105", "205", "305")
"""They have the part of the bay on the corridor; the shaft has the part at the outer wall."""
SHAFT_DEEP_M = 3.2
BEVELLED = ("111", "211", "311")
"""At the corridor's end; the outer corner of the building is cut off."""
BEVEL_M = 1.5


def draw_as_built(hotel: OpenHotel) -> None:
    """Write down what was measured in the house, as one entry."""
    shapes = hotel.building.shapes
    outlines: dict[RoomNo, Outline] = {}
    for label in map(RoomNo, BESIDE_THE_SHAFT):
        if label in shapes:
            outlines[label] = _around_the_shaft(shapes[label].outline)
    for label in map(RoomNo, BEVELLED):
        if label in shapes:
            outlines[label] = _bevelled(shapes[label].outline)
    save_drawing(hotel, Drawing(outlines))


def _around_the_shaft(outline: Outline) -> Outline:
    """A rectangle with the next bay as far as the shaft."""
    _first, second, third, fourth = outline
    first, wider, far, _fourth = with_wall(outline, FAR_WALL, WIDER_M)
    return rounded(
        (
            first,
            wider,
            _towards(far, wider, SHAFT_DEEP_M),
            _towards(third, second, SHAFT_DEEP_M),
            third,
            fourth,
        )
    )


def _bevelled(outline: Outline) -> Outline:
    """A rectangle without its third corner."""
    first, second, third, fourth = outline
    bevel = _towards(third, second, BEVEL_M), _towards(third, fourth, BEVEL_M)
    return rounded((first, second, *bevel, fourth))


def _towards(start: Point, end: Point, metres: float) -> Point:
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    share = metres / length
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
