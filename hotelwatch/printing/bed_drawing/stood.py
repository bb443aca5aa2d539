"""What is stood on its side: undersides of mattress, base and platform, their edges and inside."""

from __future__ import annotations

from hotelwatch.printing.bed_drawing.picture import Point, Shade, Stroke
from hotelwatch.printing.bed_drawing.sketch import Finish, Sketch, Spot, inset, rounded

LONG, HIGH = 200.0, 150.0
"""Of what stands on its long side, in cm."""
Cut = tuple[float, float, float, float]
"""Along and up, where it begins and where it ends."""
FINE = Finish(stroke=Stroke.FINE)


def panel(sketch: Sketch, size: Point, *, thick: float, radius: float, face: Finish) -> list[Point]:
    """A piece on its side, its face towards the eye; the face's corners, along and up."""
    long, high = size
    corners = rounded([(0, 0), (long, 0), (long, high), (0, high)], radius)
    step = len(corners) // 4
    top = [(0.0, y, z) for y, z in corners[2 * step + step // 2 : 3 * step + step // 2 + 1]]
    top += [(-thick, y, z) for _x, y, z in reversed(top)]
    end = [(0.0, y, z) for y, z in corners[step + step // 2 : 2 * step + step // 2 + 1]]
    end += [(-thick, y, z) for _x, y, z in reversed(end)]
    sketch.face(end, Finish(Shade.END, Stroke.OUTER))
    sketch.face(top, Finish(Shade.TOP, Stroke.OUTER))
    sketch.face(upright(corners), Finish(face.shade, Stroke.OUTER, face.place, is_lit=face.is_lit))
    return corners


def upright(corners: list[Point], x: float = 0.0) -> list[Spot]:
    """Corners along and up as spots of the bed."""
    return [(x, y, z) for y, z in corners]


def stood_mattress(at: Point, scale: float, size: Point = (LONG, HIGH)) -> Sketch:
    """The underside of a mattress, its piping around it."""
    sketch, (long, high) = Sketch(at, scale), size
    whole = Finish(Shade.SIDE, Stroke.EDGE, "mattress_underside")
    thick = 24 * high / HIGH
    corners = panel(sketch, size, thick=thick, radius=16 * high / HIGH, face=whole)
    band(sketch, corners, by=9 * high / HIGH, place="mattress_underside")
    for row in range(1, 5):
        for column in range(1, 4):
            y, z = long * row / 5, high * column / 4
            sketch.line([(0, y - 3, z), (0, y + 3, z)])
            sketch.line([(0, y, z - 3), (0, y, z + 3)])
    return sketch


def band(sketch: Sketch, corners: list[Point], *, by: float, place: str) -> None:
    """The strip along the edge of a stood face."""
    inner = inset(corners, by)
    ring = [*corners, corners[0], inner[0], *reversed(inner)]
    sketch.face(upright(ring), Finish(Shade.SIDE, Stroke.NONE, place, is_lit=True))
    sketch.face(upright(corners), Finish(stroke=Stroke.OUTER))
    sketch.face(upright(inner), FINE)


def stood_base(at: Point, scale: float, *, is_divan: bool = False, is_open: bool = True) -> Sketch:
    """A base with its dust cover, the staples that hold it, corner caps, and what is inside.

    A divan has castors instead of caps.
    """
    sketch = Sketch(at, scale)
    underside = "divan_underside" if is_divan else "base_underside"
    cover = Finish(Shade.SIDE, Stroke.EDGE, underside, is_lit=True)
    corners = panel(sketch, (LONG, HIGH), thick=20, radius=7, face=cover)
    inner = inset(corners, 12)
    ring = [*corners, corners[0], inner[0], *reversed(inner)]
    strip = Finish(Shade.TOP, Stroke.NONE, "base_staple_line", is_lit=True)
    sketch.face(upright(ring), strip)
    sketch.face(upright(inner), Finish(stroke=Stroke.EDGE))
    if is_open:
        _opening(sketch)
    _staples(sketch)
    for y, z in ((0.0, 0.0), (LONG, 0.0), (LONG, HIGH), (0.0, HIGH)):
        if is_divan:
            _castor(sketch, abs(y - 26), abs(z - 26))
        else:
            _cap(sketch, y, z)
    sketch.face(upright(corners), Finish(stroke=Stroke.OUTER))
    return sketch


def _opening(sketch: Sketch) -> None:
    """A corner of the dust cover turned back: slats and springs behind it."""
    place = "base_inside"
    hole = [(96.0, 14.0), (178.0, 14.0), (178.0, 84.0)]
    sketch.face(upright(hole), Finish(Shade.DEEP, Stroke.EDGE, place, is_lit=True))
    for y in (122.0, 144.0, 166.0):
        highest = 14 + (y - 96) * 70 / 82
        board = [(y - 4, 14), (y + 4, 14), (y + 4, highest + 3), (y - 4, highest - 3)]
        sketch.face(upright(board), Finish(Shade.TOP, Stroke.EDGE, place))
    flap = [(96.0, 14.0), (178.0, 84.0), (126.0, 78.0), (108.0, 60.0)]
    sketch.face(upright(flap), Finish(Shade.TOP, Stroke.EDGE, place))
    sketch.line(upright([(104, 30), (117, 58)]))
    sketch.line(upright([(164, 78), (136, 74)]))


def _staples(sketch: Sketch) -> None:
    for count, runs_along in ((16, True), (12, False)):
        for number in range(1, count):
            share = number / count
            for side in (6.0, (HIGH if runs_along else LONG) - 6.0):
                if runs_along:
                    y, z, dy, dz = LONG * share, side, 3.0, 0.0
                else:
                    y, z, dy, dz = side, HIGH * share, 0.0, 3.0
                sketch.line(upright([(y - dy, z - dz), (y + dy, z + dz)]), Stroke.EDGE)


def _cap(sketch: Sketch, y: float, z: float) -> None:
    """A plastic cap over a corner."""
    in_y, in_z = (1 if y == 0 else -1), (1 if z == 0 else -1)
    corners = [
        (y, z),
        (y + 26 * in_y, z),
        (y + 26 * in_y, z + 9 * in_z),
        (y + 20 * in_y, z + 20 * in_z),
        (y + 9 * in_y, z + 26 * in_z),
        (y, z + 26 * in_z),
    ]
    sketch.face(upright(corners), Finish(Shade.TOP, Stroke.EDGE, "base_corner_caps", is_lit=True))


def _castor(sketch: Sketch, y: float, z: float) -> None:
    around = rounded([(y - 7, z - 7), (y + 7, z - 7), (y + 7, z + 7), (y - 7, z + 7)], 6.9)
    sketch.face(upright(around), Finish(Shade.DEEP, Stroke.EDGE))
    sketch.face(upright(inset(around, 4)), Finish(Shade.TOP, Stroke.FINE))


def stood_cover(at: Point, scale: float) -> Sketch:
    """An encased box spring on its side."""
    sketch, place = Sketch(at, scale), "base_encasement_underside"
    corners = panel(sketch, (LONG, HIGH), thick=20, radius=9, face=Finish(Shade.SIDE, place=place))
    band(sketch, corners, by=10, place=place)
    inner = inset(corners, 30)
    sketch.face(upright(inner), Finish(stroke=Stroke.FINE, is_dashed=True))
    return sketch


def stood_platform(at: Point, scale: float) -> Sketch:
    """A platform on its side: boards and beams from below, their joints and screw holes."""
    sketch = Sketch(at, scale)
    below = Finish(Shade.SIDE, Stroke.EDGE, "platform_underneath", is_lit=True)
    corners = panel(sketch, (LONG, HIGH), thick=12, radius=2, face=below)
    for share in (0.25, 0.5, 0.75):
        sketch.line(upright([(LONG * share, 0), (LONG * share, HIGH)]))
    beam = Finish(Shade.TOP, Stroke.EDGE, "platform_underneath")
    for z in (16.0, HIGH / 2, HIGH - 16):
        strip = [(8.0, z - 6), (LONG - 8, z - 6), (LONG - 8, z + 6), (8.0, z + 6)]
        sketch.face(upright(strip), beam)
    joint = Finish(Shade.TOP, Stroke.EDGE, "platform_joints", is_lit=True)
    for y in (22.0, LONG / 2, LONG - 22):
        for z in (16.0, HIGH / 2, HIGH - 16):
            plate = [(y - 11, z - 11), (y + 11, z - 11), (y + 11, z + 11), (y - 11, z + 11)]
            sketch.face(upright(rounded(plate, 4)), joint)
            sketch.face(upright(rounded(inset(plate, 6.5), 4.4)), Finish(Shade.DEEP, Stroke.FINE))
    sketch.face(upright(corners), Finish(stroke=Stroke.OUTER))
    return sketch
