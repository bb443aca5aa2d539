"""Rooms of the demo hotel that are not as its roster lays them out, drawn as they are built."""

from __future__ import annotations

from hotelwatch.actions.drawing import save_drawing
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.building.drawing import Drawing
from hotelwatch.core.building.outlines import Outline
from hotelwatch.core.building.shaping import rounded, with_wall
from hotelwatch.core.facts import RoomNo

WIDER_M = 1.2
FAR_WALL = 1
"""Rooms to the left of a corridor have it on the side to which orders count up."""
BESIDE_THE_SHAFT = ("105", "205", "305")
"""They have a part of the bay that the shaft does not need."""
BEVELLED = ("111", "211", "311")
"""At the corridor's end; the outer corner of the building is cut off."""
BEVEL_M = 1.5


def draw_as_built(hotel: OpenHotel) -> None:
    """Write down what was measured in the house, as one entry."""
    shapes = hotel.building.shapes
    outlines: dict[RoomNo, Outline] = {}
    for label in map(RoomNo, BESIDE_THE_SHAFT):
        if label in shapes:
            outlines[label] = with_wall(shapes[label].outline, FAR_WALL, WIDER_M)
    for label in map(RoomNo, BEVELLED):
        if label in shapes:
            outlines[label] = _bevelled(shapes[label].outline)
    save_drawing(hotel, Drawing(outlines))


def _bevelled(outline: Outline) -> Outline:
    """A rectangle without its third corner."""
    first, second, third, fourth = outline
    return rounded((first, second, _towards(third, second), _towards(third, fourth), fourth))


def _towards(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    share = BEVEL_M / length
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
