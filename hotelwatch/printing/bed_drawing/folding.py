"""Beds that move: the sofa bed, the roll-away, the adjustable base."""

from __future__ import annotations

from itertools import pairwise

from hotelwatch.printing.bed_drawing.picture import Point, Shade, Stroke
from hotelwatch.printing.bed_drawing.sketch import Finish, Sketch, inset, rounded
from hotelwatch.printing.bed_drawing.stood import panel, upright

SOFA: Point = (88.0, 200.0)
"""Deep and wide, in cm."""
SEAT, BACK, ARM = 26.0, 78.0, 20.0
CAMP: Point = (90.0, 190.0)
FINE = Finish(stroke=Stroke.FINE)


def sofa(at: Point, scale: float) -> Sketch:
    """A sofa without its cushions."""
    sketch, (deep, wide) = Sketch(at, scale), SOFA
    plain, side = Finish(Shade.TOP, Stroke.EDGE), Finish(Shade.SIDE, Stroke.NONE)
    sketch.slab((0, 0, 0), (20, wide, BACK), radius=6, top=plain, side=side)
    sketch.slab((0, 0, 0), (deep, ARM, 52), radius=7, top=plain, side=side)
    sketch.box((18, ARM, 0), (deep - 4, wide - ARM, SEAT))
    y0, y1 = ARM + 4, wide - ARM - 4
    well = ((24.0, y0), (24.0, y1), (deep - 10, y1), (deep - 10, y0))
    sketch.face([(x, y, SEAT) for x, y in well], Finish(Shade.DEEP, Stroke.EDGE))
    sketch.line([(deep - 4, ARM, 10), (deep - 4, wide - ARM, 10)])
    sketch.slab((0, wide - ARM, 0), (deep, wide, 52), radius=7, top=plain, side=side)
    return sketch


def sofa_cushions(at: Point, scale: float) -> Sketch:
    """Two cushions lifted off, their zips at the side."""
    sketch, place = Sketch(at, scale), "sofa_cushions"
    top = Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True)
    side = Finish(Shade.SIDE, Stroke.NONE, place)
    deep, wide = SOFA
    each = (wide - 2 * ARM) / 2
    for number in range(2):
        y0 = ARM + number * each + 2
        low, high = (20.0, y0, 0.0), (deep, y0 + each - 4, 15.0)
        corners = sketch.slab(low, high, radius=10, top=top, side=side)
        sketch.face([(x, y, 15) for x, y in inset(corners, 5)], FINE)
        sketch.line([(deep, y0 + 10, 8), (deep, y0 + each - 14, 8)], Stroke.EDGE)
    return sketch


def unfolded(at: Point, scale: float) -> Sketch:
    """The bed folded out: three parts with hinges between them."""
    sketch, long = Sketch(at, scale), 186.0
    wide = 136.0
    for x, y in ((6.0, long - 10), (wide - 10, long - 10), (wide - 10, long * 0.5)):
        sketch.box((x, y, -24), (x + 4, y + 4, 0))
    top = Finish(Shade.TOP, Stroke.EDGE, "mattress_top")
    side = Finish(Shade.SIDE, Stroke.NONE, "mattress_top")
    corners = sketch.slab((0, 0, 0), (wide, long, 11), radius=7, top=top, side=side)
    inner = inset(corners, 8)
    ring = [*corners, corners[0], inner[0], *reversed(inner)]
    lit = Finish(Shade.TOP, Stroke.NONE, "mattress_top", is_lit=True)
    sketch.face([(x, y, 11) for x, y in ring], lit)
    sketch.face([(x, y, 11) for x, y in inner], FINE)
    fold = Finish(Shade.TOP, Stroke.EDGE, "sofa_fold", is_lit=True)
    for y in (long * 0.34, long * 0.68):
        strip = [(0.0, y - 5, 11.0), (0.0, y + 5, 11.0), (wide, y + 5, 11.0), (wide, y - 5, 11.0)]
        sketch.face(strip, fold)
        around = rounded([(y - 11, -8), (y + 11, -8), (y + 11, 12), (y - 11, 12)], 9.9)
        sketch.face(upright(around, wide + 0.1), fold)
        sketch.face(upright(inset(around, 7), wide + 0.1), FINE)
    return sketch


def tilted_sofa(at: Point, scale: float) -> Sketch:
    """A sofa on its back: the cloth beneath it and its feet."""
    sketch, place = Sketch(at, scale), "sofa_underside"
    size = (SOFA[1], 84.0)
    corners = panel(
        sketch, size, thick=40, radius=6, face=Finish(Shade.SIDE, place=place, is_lit=True)
    )
    inner = inset(corners, 8)
    sketch.face(upright(inner), Finish(stroke=Stroke.EDGE))
    _ticks(sketch, size)
    for y in (18.0, size[0] - 18):
        for z in (18.0, size[1] - 18):
            foot = [(y - 7, z - 7), (y + 7, z - 7), (y + 7, z + 7), (y - 7, z + 7)]
            sketch.face(upright(rounded(foot, 3)), Finish(Shade.TOP, Stroke.EDGE))
    return sketch


def _ticks(sketch: Sketch, size: Point) -> None:
    long, high = size
    for number in range(1, 16):
        y = long * number / 16
        for z in (4.0, high - 4):
            sketch.line(upright([(y - 3, z), (y + 3, z)]), Stroke.EDGE)


# --- roll-away ------------------------------------------------------------------------


def camp_frame(at: Point, scale: float) -> Sketch:
    """A frame on castors that folds in the middle, strung with wire."""
    sketch, (wide, long) = Sketch(at, scale), CAMP
    place = "rollaway_frame"
    for x in (2.0, wide - 6):
        for y in (14.0, long - 20):
            sketch.box((x, y, -26), (x + 4, y + 5, 0))
            wheel = rounded([(y - 4, -34), (y + 8, -34), (y + 8, -24), (y - 4, -24)], 4.9)
            sketch.face(upright(wheel, x + 4), Finish(Shade.DEEP, Stroke.EDGE, place))
    ground = [(0.0, 0.0, 5.0), (0.0, long, 5.0), (wide, long, 5.0), (wide, 0.0, 5.0)]
    sketch.face(ground, Finish(Shade.SIDE, Stroke.NONE))
    for number in range(1, 16):
        sketch.line([(5, long * number / 16, 5), (wide - 5, long * number / 16, 5)])
    for number in range(1, 7):
        sketch.line([(wide * number / 7, 5, 5), (wide * number / 7, long - 5, 5)])
    for low, high in (
        ((0.0, 0.0, 0.0), (wide, 6.0, 7.0)),
        ((0.0, 0.0, 0.0), (6.0, long, 7.0)),
        ((0.0, long / 2 - 4, 0.0), (wide, long / 2 + 4, 7.0)),
        ((wide - 6, 0.0, 0.0), (wide, long, 7.0)),
        ((0.0, long - 6, 0.0), (wide, long, 7.0)),
    ):
        sketch.box(low, high, place=place, is_lit=True)
    middle = long / 2
    around = rounded(
        [(middle - 12, -12), (middle + 12, -12), (middle + 12, 12), (middle - 12, 12)], 11
    )
    sketch.face(upright(around, wide + 0.1), Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True))
    sketch.face(upright(inset(around, 8), wide + 0.1), FINE)
    return sketch


def stood_camp(at: Point, scale: float) -> Sketch:
    """A roll-away on its side: wire, frame and what hangs below."""
    sketch, place = Sketch(at, scale), "rollaway_underside"
    size = (CAMP[1], CAMP[0])
    corners = panel(
        sketch, size, thick=16, radius=8, face=Finish(Shade.SIDE, place=place, is_lit=True)
    )
    for number in range(1, 18):
        y = size[0] * number / 18
        sketch.line(upright([(y, 6), (y, size[1] - 6)]))
    for number in range(1, 8):
        z = size[1] * number / 8
        sketch.line(upright([(6, z), (size[0] - 6, z)]))
    inner = inset(corners, 7)
    ring = [*corners, corners[0], inner[0], *reversed(inner)]
    sketch.face(upright(ring), Finish(Shade.TOP, Stroke.NONE, place))
    sketch.face(upright(corners), Finish(stroke=Stroke.OUTER))
    sketch.face(upright(inner), Finish(stroke=Stroke.EDGE))
    middle = size[0] / 2
    bar = [(middle - 5, 0.0), (middle + 5, 0.0), (middle + 5, size[1]), (middle - 5, size[1])]
    sketch.face(upright(bar), Finish(Shade.TOP, Stroke.EDGE, place))
    return sketch


# --- adjustable -------------------------------------------------------------------------


def adjustable(at: Point, scale: float) -> Sketch:
    """A base with its head and foot raised: hinges, arms and motor beneath."""
    sketch = Sketch(at, scale)
    wide, place = 150.0, "adjustable_underside"
    line = ((0.0, 66.0), (84.0, 20.0), (118.0, 20.0), (156.0, 44.0), (200.0, 32.0))
    for x in (8.0, wide - 6):
        for y in (8.0, 100.0, 188.0):
            sketch.box((x - 4, y - 4, -22), (x + 4, y + 4, 0))
    sketch.box((0, 0, 0), (wide, 200, 8))
    back = [(wide, y, z) for y, z in line]
    under = [(wide, 0.0, 8.0), *back, (wide, 200.0, 8.0)]
    sketch.face(under, Finish(Shade.DEEP, Stroke.EDGE, place, is_lit=True))
    end = [(0.0, 200.0, 8.0), (wide, 200.0, 8.0), (wide, 200.0, 32.0), (0.0, 200.0, 32.0)]
    sketch.face(end, Finish(Shade.DEEP, Stroke.EDGE, place, is_lit=True))
    for (y0, z0), (y1, z1) in pairwise(line):
        deck = [(0.0, y0, z0), (0.0, y1, z1), (wide, y1, z1), (wide, y0, z0)]
        sketch.face(deck, Finish(Shade.TOP, Stroke.EDGE))
        edge = [(wide, y0, z0), (wide, y1, z1), (wide, y1, z1 - 6), (wide, y0, z0 - 6)]
        sketch.face(edge, Finish(Shade.TOP, Stroke.EDGE))
    motor = [(86.0, 8.0), (120.0, 8.0), (120.0, 16.0), (86.0, 16.0)]
    sketch.face(upright(motor, wide), Finish(Shade.TOP, Stroke.EDGE, place))
    for y0, z0, y1, z1 in ((88.0, 12.0, 44.0, 36.0), (118.0, 12.0, 154.0, 36.0)):
        arm = [(y0, z0 - 2), (y0, z0 + 3), (y1, z1 + 3), (y1, z1 - 2)]
        sketch.face(upright(arm, wide), Finish(Shade.TOP, Stroke.EDGE, place))
    for y in (8.0, 100.0, 192.0):
        around = rounded([(y - 9, -5), (y + 9, -5), (y + 9, 13), (y - 9, 13)], 8.9)
        joint = Finish(Shade.TOP, Stroke.EDGE, "frame_joints", is_lit=True)
        sketch.face(upright(around, wide + 0.1), joint)
        sketch.face(upright(inset(around, 6), wide + 0.1), FINE)
    return sketch
