"""The room beside its beds: headboard off the wall, night stand, picture, seat, rack, skirting."""

from __future__ import annotations

from hotelwatch.printing.bed_drawing.picture import Point, Shade, Stroke
from hotelwatch.printing.bed_drawing.sketch import Finish, Sketch, inset, rounded

FINE = Finish(stroke=Stroke.FINE)
HIGH, WALL, SIDE_WALL = 170.0, 330.0, 210.0
"""Of the two walls of a corner, in cm."""


def wall(at: Point, scale: float) -> Sketch:
    """Two walls and the skirting along them."""
    sketch = Sketch(at, scale)
    back = [(0.0, 0.0, 0.0), (0.0, WALL, 0.0), (0.0, WALL, HIGH), (0.0, 0.0, HIGH)]
    sketch.face(back, Finish(Shade.TOP, Stroke.EDGE))
    side = [(0.0, 0.0, 0.0), (SIDE_WALL, 0.0, 0.0), (SIDE_WALL, 0.0, HIGH), (0.0, 0.0, HIGH)]
    sketch.face(side, Finish(Shade.SIDE, Stroke.EDGE))
    strip = Finish(Shade.TOP, Stroke.EDGE, "skirting", is_lit=True)
    sketch.face([(0.0, 0.0, 0.0), (0.0, WALL, 0.0), (0.0, WALL, 11.0), (0.0, 0.0, 11.0)], strip)
    sketch.face(
        [(0.0, 0.0, 0.0), (SIDE_WALL, 0.0, 0.0), (SIDE_WALL, 0.0, 11.0), (0.0, 0.0, 11.0)], strip
    )
    for y in (70.0, 255.0):
        plate = [(y, 20.0), (y + 11, 20.0), (y + 11, 31.0), (y, 31.0)]
        sketch.face([(0.0, a, b) for a, b in rounded(plate, 2)], Finish(stroke=Stroke.FINE))
    return sketch


def board_off(at: Point, scale: float) -> Sketch:
    """A headboard tipped off its hooks: its back and the wall behind it."""
    sketch, place = Sketch(at, scale), "headboard_back"
    hidden = [(0.0, 95.0, 40.0), (0.0, 235.0, 40.0), (0.0, 235.0, 118.0), (0.0, 95.0, 118.0)]
    sketch.face(hidden, Finish(Shade.DEEP, Stroke.EDGE, place, is_lit=True))
    for y in (118.0, 212.0):
        hook = [(0.0, y - 5, 104.0), (0.0, y + 5, 104.0), (0.0, y + 5, 112.0), (0.0, y - 5, 112.0)]
        sketch.face(hook, Finish(Shade.TOP, Stroke.EDGE, place))
    low, high = (22.0, 34.0), (58.0, 96.0)
    end = [
        (low[0], 235.0, low[1]),
        (low[0] + 7, 235.0, low[1]),
        (high[0] + 7, 235.0, high[1]),
        (high[0], 235.0, high[1]),
    ]
    top = [
        (high[0], 95.0, high[1]),
        (high[0], 235.0, high[1]),
        (high[0] + 7, 235.0, high[1]),
        (high[0] + 7, 95.0, high[1]),
    ]
    front = [
        (low[0] + 7, 95.0, low[1]),
        (low[0] + 7, 235.0, low[1]),
        (high[0] + 7, 235.0, high[1]),
        (high[0] + 7, 95.0, high[1]),
    ]
    sketch.face(front, Finish(Shade.SIDE, Stroke.OUTER))
    sketch.face(top, Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True))
    sketch.face(end, Finish(Shade.END, Stroke.EDGE))
    return sketch


def night_stand(at: Point, scale: float) -> Sketch:
    """A night stand with its drawer pulled out."""
    sketch, place = Sketch(at, scale), "night_stands"
    sketch.box((0, 0, 0), (40, 46, 50), place=place, is_lit=True)
    hole = [(40.0, 5.0, 26.0), (40.0, 41.0, 26.0), (40.0, 41.0, 42.0), (40.0, 5.0, 42.0)]
    sketch.face(hole, Finish(Shade.DEEP, Stroke.EDGE, place))
    inside = [(40.0, 7.0, 40.0), (40.0, 39.0, 40.0), (64.0, 39.0, 40.0), (64.0, 7.0, 40.0)]
    sketch.face(inside, Finish(Shade.DEEP, Stroke.EDGE, place))
    end = [(40.0, 39.0, 28.0), (64.0, 39.0, 28.0), (64.0, 39.0, 40.0), (40.0, 39.0, 40.0)]
    sketch.face(end, Finish(Shade.END, Stroke.EDGE, place))
    front = [(64.0, 7.0, 28.0), (64.0, 39.0, 28.0), (64.0, 39.0, 40.0), (64.0, 7.0, 40.0)]
    sketch.face(front, Finish(Shade.TOP, Stroke.EDGE, place))
    return sketch


def picture_and_lamp(at: Point, scale: float) -> Sketch:
    """A picture and a lamp on the wall."""
    sketch, place = Sketch(at, scale), "pictures_lamps"
    sketch.box((0, 0, 0), (5, 52, 40), place=place, is_lit=True)
    inner = [(6.0, 6.0), (46.0, 6.0), (46.0, 34.0), (6.0, 34.0)]
    sketch.face([(5.0, y, z) for y, z in inner], Finish(Shade.SIDE, Stroke.EDGE, place))
    sketch.line([(5, 8, 12), (5, 20, 26), (5, 30, 16), (5, 36, 22), (5, 44, 10)])
    arm = [(0.0, 78.0, 14.0), (14.0, 78.0, 14.0), (14.0, 82.0, 14.0), (0.0, 82.0, 14.0)]
    sketch.face(arm, Finish(Shade.END, Stroke.EDGE, place))
    shade = [(14.0, 68.0, 10.0), (14.0, 92.0, 10.0), (14.0, 86.0, 32.0), (14.0, 74.0, 32.0)]
    sketch.face(shade, Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True))
    return sketch


def seat(at: Point, scale: float) -> Sketch:
    """An upholstered seat, its cushion lifted off."""
    sketch, place = Sketch(at, scale), "seats"
    top = Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True)
    side = Finish(Shade.SIDE, Stroke.NONE, place)
    for x, y in ((6.0, 6.0), (6.0, 62.0), (60.0, 6.0), (60.0, 62.0)):
        sketch.box((x, y, -12), (x + 4, y + 4, 0))
    sketch.slab((0, 0, 0), (14, 72, 74), radius=5, top=top, side=side)
    sketch.slab((0, 0, 0), (68, 12, 44), radius=5, top=top, side=side)
    sketch.box((12, 12, 0), (66, 60, 22), place=place)
    sketch.slab((0, 60, 0), (68, 72, 44), radius=5, top=top, side=side)
    corners = sketch.slab((16, 14, 52), (68, 58, 64), radius=8, top=top, side=side)
    sketch.face([(x, y, 64) for x, y in inset(corners, 5)], FINE)
    return sketch


def rack(at: Point, scale: float) -> Sketch:
    """A luggage rack: crossed legs and straps."""
    sketch, place = Sketch(at, scale), "luggage_rack"
    wide, long, high = 46.0, 60.0, 46.0
    for y in (0.0, long):
        for x0, x1 in ((0.0, wide), (wide, 0.0)):
            leg = [(x0 - 2, y, 0.0), (x0 + 2, y, 0.0), (x1 + 2, y, high), (x1 - 2, y, high)]
            sketch.face(leg, Finish(Shade.END, Stroke.EDGE, place))
    for share in (0.14, 0.42, 0.7):
        y = long * share
        strap = [(0.0, y, high), (0.0, y + 10, high), (wide, y + 10, high), (wide, y, high)]
        sketch.face(strap, Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True))
    for x in (0.0, wide):
        sketch.box((x - 2, -2, high - 2), (x + 2, long + 2, high + 2), place=place)
    return sketch
