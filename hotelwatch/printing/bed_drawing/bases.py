"""What carries the mattress, seen from above: bases, frames, and the headboard behind it."""

from __future__ import annotations

from hotelwatch.printing.bed_drawing.picture import Point, Shade, Stroke
from hotelwatch.printing.bed_drawing.sketch import Finish, Sketch, inset, rounded
from hotelwatch.printing.bed_drawing.soft import LENGTH, WIDTH

FINE = Finish(stroke=Stroke.FINE)
PLAIN = Finish(Shade.TOP, Stroke.EDGE)


def headboard(at: Point, scale: float, *, wide: float = WIDTH, high: float = 92.0) -> Sketch:
    """A padded headboard; its front and edges."""
    sketch, place = Sketch(at, scale), "headboard_front"
    low, top = (-6.0, -9.0, 0.0), (wide + 6, 0.0, high)
    sketch.box(low, top, place=place)
    front = [(-6.0, 0.0, 0.0), (wide + 6, 0.0, 0.0), (wide + 6, 0.0, high), (-6.0, 0.0, high)]
    sketch.face(front, Finish(Shade.END, Stroke.OUTER, place, is_lit=True))
    for share in (0.25, 0.5, 0.75):
        x = -6 + (wide + 12) * share
        sketch.line([(x, 0, high * 0.12), (x, 0, high * 0.88)])
    sketch.face(
        [(x, 0, z) for x, z in ((0.0, 6.0), (wide, 6.0), (wide, high - 6), (0.0, high - 6))], FINE
    )
    return sketch


def box_base(at: Point, scale: float) -> Sketch:
    """A box spring or its like: edge and corners."""
    sketch, place = Sketch(at, scale), "base_edge"
    edge = Finish(Shade.SIDE, Stroke.NONE, place, is_lit=True)
    corners = sketch.slab((0, 0, 0), (WIDTH, LENGTH, 20), radius=8, top=PLAIN, side=edge)
    inner = inset(corners, 7)
    ring = [*corners, corners[0], inner[0], *reversed(inner)]
    finish = Finish(Shade.TOP, Stroke.NONE, place, is_lit=True)
    sketch.face([(x, y, 20) for x, y in ring], finish)
    sketch.face([(x, y, 20) for x, y in corners], Finish(stroke=Stroke.EDGE))
    sketch.face([(x, y, 20) for x, y in inner], FINE)
    for share in (0.2, 0.4, 0.6, 0.8):
        sketch.line([(10, LENGTH * share, 20), (WIDTH - 10, LENGTH * share, 20)])
    return sketch


def divan_base(at: Point, scale: float) -> Sketch:
    """A divan with two drawers pulled out at its side."""
    sketch = Sketch(at, scale)
    high = 32.0
    edge = Finish(Shade.SIDE, Stroke.NONE, "base_edge", is_lit=True)
    corners = sketch.slab((0, 0, 0), (WIDTH, LENGTH, high), radius=6, top=PLAIN, side=edge)
    sketch.face([(x, y, high) for x, y in inset(corners, 7)], FINE)
    for y0, y1 in ((16.0, 90.0), (110.0, 184.0)):
        hole = [(WIDTH, y0, 5.0), (WIDTH, y1, 5.0), (WIDTH, y1, 26.0), (WIDTH, y0, 26.0)]
        sketch.face(hole, Finish(Shade.DEEP, Stroke.EDGE, "divan_drawers", is_lit=True))
        _drawer(sketch, y0 + 2, y1 - 2)
    return sketch


def _drawer(sketch: Sketch, y0: float, y1: float) -> None:
    place, out = "divan_drawers", WIDTH + 34
    z0, z1 = 6.0, 24.0
    inside = [(WIDTH, y0, z1), (WIDTH, y1, z1), (out, y1, z1), (out, y0, z1)]
    sketch.face(inside, Finish(Shade.DEEP, Stroke.EDGE, place, is_lit=True))
    end = [(WIDTH, y1, z0), (out, y1, z0), (out, y1, z1), (WIDTH, y1, z1)]
    sketch.face(end, Finish(Shade.END, Stroke.EDGE, place))
    front = [(out, y0, z0), (out, y1, z0), (out, y1, z1), (out, y0, z1)]
    sketch.face(front, Finish(Shade.TOP, Stroke.EDGE, place))
    middle = (y0 + y1) / 2
    sketch.line([(out, middle - 8, 16), (out, middle + 8, 16)], Stroke.EDGE)


def metal_frame(at: Point, scale: float) -> Sketch:
    """Rails on legs with castors; joints where they meet."""
    sketch = Sketch(at, scale)
    for x in (0.0, WIDTH / 2, WIDTH):
        for y in (4.0, LENGTH / 2, LENGTH - 4):
            _leg(sketch, x, y)
    for y in (0.0, LENGTH / 2 - 1, LENGTH - 8):
        sketch.box((0, y, 14), (WIDTH, y + 8, 20))
    for x in (0.0, WIDTH / 2 - 4, WIDTH - 8):
        sketch.box((x, 0, 14), (x + 8, LENGTH, 20))
    _joints(sketch, 20.0)
    return sketch


def _leg(sketch: Sketch, x: float, y: float) -> None:
    sketch.box((x - 3, y - 3, 0), (x + 3, y + 3, 15))
    wheel = rounded([(y - 5, -6), (y + 5, -6), (y + 5, 4), (y - 5, 4)], 4.9)
    finish = Finish(Shade.DEEP, Stroke.EDGE, "frame_joints")
    sketch.face([(x + 3, along, z) for along, z in wheel], finish)


def _joints(sketch: Sketch, z: float, place: str = "frame_joints") -> None:
    finish = Finish(Shade.TOP, Stroke.EDGE, place, is_lit=True)
    for x in (2.0, WIDTH / 2, WIDTH - 2):
        for y in (2.0, LENGTH / 2 + 3, LENGTH - 2):
            box = [(x - 9, y - 9), (x - 9, y + 9), (x + 9, y + 9), (x + 9, y - 9)]
            sketch.face([(a, b, z) for a, b in rounded(box, 8.9)], finish)
            sketch.face([(a, b, z) for a, b in rounded(inset(box, 6), 2.9)], FINE)


def slat_frame(at: Point, scale: float) -> Sketch:
    """Side rails with slats between them, their ends in holders."""
    sketch, high = Sketch(at, scale), 16.0
    for x, y in ((8, 8), (8, LENGTH - 8), (WIDTH - 4, 8), (WIDTH - 4, LENGTH - 8)):
        sketch.box((x - 6, y - 6, -16), (x + 2, y + 6, 0))
    ground = [(6.0, 6.0, 4.0), (6.0, LENGTH - 6, 4.0), (WIDTH - 6, LENGTH - 6, 4.0)]
    sketch.face([*ground, (WIDTH - 6, 6.0, 4.0)], Finish(Shade.DEEP, Stroke.NONE))
    sketch.box((0, 0, 0), (WIDTH, 6, high))
    sketch.box((0, 0, 0), (6, LENGTH, high))
    count = 8
    for number in range(count):
        y = 14 + number * (LENGTH - 40) / (count - 1)
        slat = [
            (6.0, y, 12.0),
            (6.0, y + 12, 12.0),
            (WIDTH - 6, y + 12, 12.0),
            (WIDTH - 6, y, 12.0),
        ]
        sketch.face(slat, Finish(Shade.TOP, Stroke.EDGE, "slats", is_lit=True))
    holder = Finish(Shade.TOP, Stroke.EDGE, "slat_ends", is_lit=True)
    sketch.box((WIDTH - 6, 0, 0), (WIDTH, LENGTH, high))
    sketch.box((0, LENGTH - 6, 0), (WIDTH, LENGTH, high))
    for number in range(count):
        y = 14 + number * (LENGTH - 40) / (count - 1)
        for x in (6.0, WIDTH - 22):
            cap = [
                (x, y - 2, 14.0),
                (x, y + 11, 14.0),
                (x + 14, y + 11, 14.0),
                (x + 14, y - 2, 14.0),
            ]
            sketch.face(cap, holder)
    finish = Finish(Shade.TOP, Stroke.EDGE, "frame_joints", is_lit=True)
    for x, y in ((4.0, 4.0), (4.0, LENGTH - 4), (WIDTH - 4, 4.0), (WIDTH - 4, LENGTH - 4)):
        box = [(x - 10, y - 10), (x - 10, y + 10), (x + 10, y + 10), (x + 10, y - 10)]
        sketch.face([(a, b, high) for a, b in rounded(box, 9.9)], finish)
    return sketch


def platform_top(at: Point, scale: float) -> Sketch:
    """A platform of boards, seen from above."""
    sketch = Sketch(at, scale)
    for x in (10.0, WIDTH - 14):
        for y in (10.0, LENGTH - 14):
            sketch.box((x, y, -18), (x + 8, y + 8, 0))
    sketch.box((0, 0, 0), (WIDTH, LENGTH, 10))
    top = [(0.0, 0.0, 10.0), (0.0, LENGTH, 10.0), (WIDTH, LENGTH, 10.0), (WIDTH, 0.0, 10.0)]
    sketch.face(top, Finish(Shade.TOP, Stroke.OUTER, "platform_top", is_lit=True))
    for share in (0.25, 0.5, 0.75):
        sketch.line([(0, LENGTH * share, 10), (WIDTH, LENGTH * share, 10)], Stroke.EDGE)
    return sketch
