"""What lies on top: bedding and mattress, bare or encased, seen from above."""

from __future__ import annotations

from hotelwatch.printing.bed_drawing.picture import Point, Shade, Stroke
from hotelwatch.printing.bed_drawing.sketch import Finish, Sketch, inset, rounded

WIDTH, LENGTH, THICK = 150.0, 200.0, 24.0
"""Of a large mattress, in cm."""
RADIUS, PIPING = 16.0, 8.0
FINE = Finish(stroke=Stroke.FINE)


def bedding(at: Point, scale: float, size: Point = (WIDTH, LENGTH)) -> Sketch:
    """A quilt turned down and pillows."""
    sketch, (wide, long) = Sketch(at, scale), size
    linen = Finish(Shade.TOP, Stroke.EDGE, "bedding", is_lit=True)
    wall = Finish(Shade.SIDE, Stroke.NONE, "bedding")
    count = 2 if wide > 120 else 1  # noqa: PLR2004 a bed for two has two pillows
    each = wide / count
    pillow = min(44.0, long * 0.22)
    for number in range(count):
        low = (number * each + each * 0.08, 4.0, 0.0)
        high = ((number + 1) * each - each * 0.08, 4.0 + pillow, 11.0)
        corners = sketch.slab(low, high, radius=11, top=linen, side=wall)
        sketch.face([(x, y, 11) for x, y in inset(corners, 5)], FINE)
    turn, fold = long * 0.36, long * 0.12
    sketch.slab((-3, turn, 0), (wide + 3, long + 3, 7), radius=12, top=linen, side=wall)
    low, high = (-4.0, turn - 2, 0.0), (wide + 4, turn + fold, 9.0)
    sketch.slab(low, high, radius=5, top=linen, side=wall)
    for share in (0.33, 0.66):
        y = turn + fold + (long - turn - fold) * share
        sketch.line([(4, y, 7), (wide - 4, y, 7)])
    return sketch


def mattress(at: Point, scale: float, size: Point = (WIDTH, LENGTH)) -> Sketch:
    """Top, piping, corners, the label at the foot and the handles."""
    sketch, (wide, long) = Sketch(at, scale), size
    thick = THICK * min(1.0, wide / 110)
    radius, piping = RADIUS * wide / WIDTH, PIPING * wide / WIDTH
    corners = sketch.slab(
        (0, 0, 0),
        (wide, long, thick),
        radius=radius,
        top=Finish(Shade.TOP, Stroke.EDGE, "mattress_top"),
        side=Finish(Shade.SIDE, Stroke.NONE, "mattress_top"),
    )
    _band(sketch, corners, piping, thick, "mattress_top")
    _piping(sketch, (wide, long), radius, (thick * 0.16, thick * 0.84))
    _tufts(sketch, (wide, long), thick)
    return sketch


def labelled_mattress(at: Point, scale: float, size: Point = (WIDTH, LENGTH)) -> Sketch:
    """A mattress with its label and handles."""
    sketch, (wide, long) = mattress(at, scale, size), size
    tag = Finish(Shade.TOP, Stroke.EDGE, "mattress_label", is_lit=True)
    middle, low, high = wide * 0.4, THICK * 0.12, THICK * 0.72
    sketch.face(_end((middle - 17, middle + 17), (low, high), long), tag)
    for share in (0.22, 0.66):
        grip = _side((long * share, long * (share + 0.15)), (THICK * 0.34, THICK * 0.66), wide)
        sketch.face(grip, tag)
    return sketch


def encased_mattress(at: Point, scale: float, size: Point = (WIDTH, LENGTH)) -> Sketch:
    """A mattress in its cover: the seams at its edges, the zip around side and foot."""
    sketch, (wide, long) = Sketch(at, scale), size
    thick = THICK * min(1.0, wide / 110)
    radius = 10.0 * wide / WIDTH
    cover = Finish(Shade.TOP, Stroke.EDGE, "encasement_seams")
    corners = sketch.slab((0, 0, 0), (wide, long, thick), radius=radius, top=cover, side=cover)
    _band(sketch, corners, PIPING * wide / WIDTH, thick, "encasement_seams")
    zip_strip = Finish(Shade.TOP, Stroke.EDGE, "encasement_zip", is_lit=True)
    heights = (thick * 0.34, thick * 0.7)
    sketch.face(_side((radius, long - radius / 2), heights, wide), zip_strip)
    sketch.face(_end((wide * 0.3, wide - radius / 2), heights, long), zip_strip)
    across = sum(heights) / 2
    sketch.line([(wide, radius, across), (wide, long - radius / 2, across)])
    teeth = int(long / 8)
    for tooth in range(2, teeth - 1):
        y = tooth * long / teeth
        sketch.line([(wide, y, heights[0] + 1), (wide, y, heights[1] - 1)])
    sketch.face(_end((wide * 0.3 - 12, wide * 0.3 + 2), (across - 3, across + 3), long), zip_strip)
    return sketch


def _band(sketch: Sketch, corners: list[Point], by: float, height: float, place: str) -> None:
    """The edge of a top, where its piping or seam runs."""
    inner = inset(corners, by)
    ring = [*corners, corners[0], inner[0], *reversed(inner)]
    finish = Finish(Shade.TOP, Stroke.NONE, place, is_lit=True)
    sketch.face([(x, y, height) for x, y in ring], finish)
    sketch.face([(x, y, height) for x, y in corners], Finish(stroke=Stroke.EDGE))
    sketch.face([(x, y, height) for x, y in inner], FINE)


def _piping(sketch: Sketch, size: Point, radius: float, heights: Point) -> None:
    wide, long = size
    near = rounded(_box(0, 0, wide, long), radius)
    step = len(near) // 4
    seen = near[step + step // 2 : 3 * step + step // 2 + 1]
    for z in heights:
        sketch.line([(x, y, z) for x, y in seen])


def _tufts(sketch: Sketch, size: Point, height: float) -> None:
    wide, long = size
    for row in range(1, 5):
        for column in range(1, 4):
            x, y = wide * column / 4, long * row / 5
            sketch.line([(x - 3, y, height), (x + 3, y, height)])
            sketch.line([(x, y - 3, height), (x, y + 3, height)])


def _box(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    return [(x0, y0), (x0, y1), (x1, y1), (x1, y0)]


def _end(x: Point, z: Point, at: float) -> list[tuple[float, float, float]]:
    return [(x[0], at, z[0]), (x[1], at, z[0]), (x[1], at, z[1]), (x[0], at, z[1])]


def _side(y: Point, z: Point, at: float) -> list[tuple[float, float, float]]:
    return [(at, y[0], z[0]), (at, y[1], z[0]), (at, y[1], z[1]), (at, y[0], z[1])]
