"""Bunk and crib: posts, rails, ladder and bars, and what lies within them."""

from __future__ import annotations

from hotelwatch.printing.bed_drawing.picture import Point, Shade, Stroke
from hotelwatch.printing.bed_drawing.sketch import Finish, Sketch, inset, rounded
from hotelwatch.printing.bed_drawing.stood import panel, upright

BUNK: Point = (90.0, 200.0)
BUNK_HIGH, LOWER, UPPER = 168.0, 30.0, 118.0
CRIB: Point = (70.0, 140.0)
CRIB_HIGH, CRIB_DECK = 92.0, 26.0
POST = 8.0
FINE = Finish(stroke=Stroke.FINE)


def bunk(at: Point, scale: float) -> Sketch:
    """Two decks between four posts, with rails, a ladder and the joints between them."""
    sketch, (wide, long) = Sketch(at, scale), BUNK
    far = ((0.0, 0.0), (0.0, long - POST), (wide - POST, 0.0))
    for x, y in far[:2]:
        _post(sketch, x, y, BUNK_HIGH)
    _deck(sketch, LOWER)
    mattress = Finish(Shade.TOP, Stroke.EDGE)
    side = Finish(Shade.SIDE, Stroke.NONE)
    sketch.slab(
        (8, 8, LOWER + 12), (wide - 9, long - 9, LOWER + 26), radius=8, top=mattress, side=side
    )
    _deck(sketch, UPPER)
    for z in (UPPER + 24, BUNK_HIGH - 6):
        sketch.box((0, 2, z), (4, long - 2, z + 5))
    _post(sketch, *far[2], BUNK_HIGH)
    for z in (UPPER + 24, BUNK_HIGH - 6):
        sketch.box((wide - 5, 4, z), (wide, long * 0.62, z + 5))
    sketch.box((wide - 5, long * 0.6, UPPER + 8), (wide, long * 0.63, BUNK_HIGH))
    _post(sketch, wide - POST, long - POST, BUNK_HIGH)
    _ladder(sketch)
    return sketch


def _post(sketch: Sketch, x: float, y: float, high: float) -> None:
    sketch.box((x, y, 0), (x + POST, y + POST, high))


def _deck(sketch: Sketch, z: float) -> None:
    """A deck's rails, with the joints at its corners."""
    wide, long = BUNK
    ground = [(4.0, 4.0, z + 6), (4.0, long - 4, z + 6), (wide - 4, long - 4, z + 6)]
    sketch.face([*ground, (wide - 4, 4.0, z + 6)], Finish(Shade.DEEP, Stroke.NONE))
    sketch.box((0, POST, z), (5, long - POST, z + 14))
    sketch.box((POST, 0, z), (wide - POST, 5, z + 14))
    for number in range(9):
        y = 14 + number * (long - 36) / 8
        slat = [(5.0, y, z + 11), (5.0, y + 9, z + 11), (wide - 5, y + 9, z + 11)]
        sketch.face([*slat, (wide - 5, y, z + 11)], Finish(Shade.TOP, Stroke.FINE))
    sketch.box((wide - 5, POST, z), (wide, long - POST, z + 14))
    sketch.box((POST, long - 5, z), (wide - POST, long, z + 14))
    for y in (POST + 7, long - POST - 7):
        _bolt(sketch, wide + 0.1, y, z + 7)


def _bolt(sketch: Sketch, x: float, y: float, z: float, place: str = "bunk_joints") -> None:
    around = rounded([(y - 8, z - 8), (y + 8, z - 8), (y + 8, z + 8), (y - 8, z + 8)], 7.9)
    sketch.face(upright(around, x), Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True))
    sketch.face(upright(inset(around, 5), x), FINE)


def _ladder(sketch: Sketch) -> None:
    wide, long = BUNK
    place, out, top = "bunk_joints", wide + 5, UPPER + 34
    y0, y1 = long * 0.66, long * 0.86
    for y in (y0, y1):
        foot, head = wide + 26, out
        rail = [(foot, y, 0.0), (foot, y + 6, 0.0), (head, y + 6, top), (head, y, top)]
        sketch.face(rail, Finish(Shade.TOP, Stroke.EDGE, place))
    for number in range(1, 5):
        share = number / 5
        x = wide + 26 + (out - wide - 26) * share
        z = top * share
        rung = [(x, y0 + 6, z), (x, y1, z), (x, y1, z + 6), (x, y0 + 6, z + 6)]
        sketch.face(rung, Finish(Shade.SIDE, Stroke.EDGE, place, is_lit=True))


def stood_bunk_deck(at: Point, scale: float) -> Sketch:
    """The upper deck from below: slats, with the mattress between them."""
    sketch, place = Sketch(at, scale), "bunk_upper_underside"
    long, high = BUNK[1], BUNK[0]
    panel(sketch, (long, high), thick=14, radius=2, face=Finish(Shade.DEEP, place=place))
    for number in range(8):
        y = 16 + number * (long - 46) / 7
        slat = [(y, 9.0), (y + 13, 9.0), (y + 13, high - 9), (y, high - 9)]
        sketch.face(upright(slat), Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True))
    for z0, z1 in ((0.0, 9.0), (high - 9, high)):
        rail = [(0.0, z0), (long, z0), (long, z1), (0.0, z1)]
        sketch.face(upright(rail), Finish(Shade.SIDE, Stroke.EDGE, place, is_lit=True))
    return sketch


# --- crib -------------------------------------------------------------------------------


def crib(at: Point, scale: float) -> Sketch:
    """Barred sides on four posts; the joints where they meet."""
    sketch, (wide, long) = Sketch(at, scale), CRIB
    _bars(sketch, along_y=True, fixed=0.0)
    _bars(sketch, along_y=False, fixed=0.0)
    for x, y in ((0.0, 0.0), (0.0, long - 6), (wide - 6, 0.0)):
        sketch.box((x, y, 0), (x + 6, y + 6, CRIB_HIGH))
    deck = [(4.0, 4.0), (4.0, long - 4), (wide - 4, long - 4), (wide - 4, 4.0)]
    sketch.face([(x, y, CRIB_DECK) for x, y in deck], Finish(Shade.DEEP, Stroke.EDGE))
    _bars(sketch, along_y=True, fixed=wide)
    _bars(sketch, along_y=False, fixed=long)
    sketch.box((wide - 6, long - 6, 0), (wide, long, CRIB_HIGH))
    for y in (3.0, long - 3):
        for z in (CRIB_DECK - 3, CRIB_HIGH - 8):
            _crib_joint(sketch, wide, y, z)
    return sketch


def _crib_joint(sketch: Sketch, x: float, y: float, z: float) -> None:
    around = rounded([(y - 7, z - 7), (y + 7, z - 7), (y + 7, z + 7), (y - 7, z + 7)], 6.9)
    finish = Finish(Shade.TOP, Stroke.EDGE, "crib_joints", is_lit=True)
    sketch.face(upright(around, x), finish)
    sketch.face(upright(inset(around, 4), x), FINE)


def _bars(sketch: Sketch, *, along_y: bool, fixed: float) -> None:
    wide, long = CRIB
    length, low, high = (long if along_y else wide), CRIB_DECK - 6, CRIB_HIGH
    count = round(length / 11)

    def spot(along: float, z: float) -> tuple[float, float, float]:
        return (fixed, along, z) if along_y else (along, fixed, z)

    shade = Shade.SIDE if along_y else Shade.END
    for number in range(1, count):
        a = length * number / count
        bar = [spot(a - 1.2, low), spot(a + 1.2, low), spot(a + 1.2, high), spot(a - 1.2, high)]
        sketch.face(bar, Finish(Shade.TOP, Stroke.FINE))
    for z in (low, high - 7):
        rail = [spot(0, z), spot(length, z), spot(length, z + 7), spot(0, z + 7)]
        sketch.face(rail, Finish(shade, Stroke.EDGE))


def crib_deck(at: Point, scale: float) -> Sketch:
    """The board under a crib's mattress, taken by itself."""
    sketch, (wide, long) = Sketch(at, scale), CRIB
    board = Finish(Shade.TOP, Stroke.EDGE, "crib_base", is_lit=True)
    side = Finish(Shade.SIDE, Stroke.NONE, "crib_base")
    sketch.slab((0, 0, 0), (wide, long, 5), radius=4, top=board, side=side)
    for row in range(6):
        y = 14 + row * (long - 28) / 5
        slot = [(12, y - 4), (12, y + 4), (wide - 12, y + 4), (wide - 12, y - 4)]
        finish = Finish(Shade.DEEP, Stroke.FINE, "crib_base")
        sketch.face([(a, b, 5) for a, b in rounded(slot, 3.9)], finish)
    return sketch
