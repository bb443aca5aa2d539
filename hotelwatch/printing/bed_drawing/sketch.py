"""Drawing pieces of a bed seen from above and aside, in centimetres of the bed.

``x`` goes across the bed, ``y`` from the head to the foot, ``z`` up. The eye is at the foot,
to the left: of a box one sees the top, the long side at ``x`` most and the foot at ``y`` most.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hotelwatch.printing.bed_drawing.picture import Outline, Point, Shade, Shape, Stroke, middle

Spot = tuple[float, float, float]
TURN, TILT = math.radians(30), math.radians(25)
"""How far the bed is turned and how steeply one looks down."""
CANVAS = 480.0
"""Width of a whole picture, in the units in which pieces are placed."""
ROUND_STEPS = 5
ACROSS = (-math.sin(TURN), math.cos(TURN) * math.sin(TILT))
ALONG = (math.cos(TURN), math.sin(TURN) * math.sin(TILT))
UP = (0.0, -math.cos(TILT))


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a place's number stands: what it points to, and its centre, both on the canvas."""

    place: str
    anchor: Point
    label: Point


@dataclass(frozen=True, slots=True)
class Finish:
    """How an area is drawn and what it belongs to."""

    shade: Shade = Shade.NONE
    stroke: Stroke = Stroke.EDGE
    place: str = ""
    is_lit: bool = False
    is_dashed: bool = False


class Sketch:
    """A piece that is drawn face by face, the farthest first."""

    def __init__(self, at: Point, scale: float = 1.0) -> None:
        """Its corner (0, 0, 0) stands at a point of the canvas, so many units to a centimetre."""
        self._at, self._scale = at, scale
        self.shapes: list[Shape] = []
        self.pins: list[Pin] = []
        self.lifts: list[tuple[str, Point]] = []
        """A place's code and where on the canvas its lift is shown."""

    def on_canvas(self, spot: Spot) -> Point:
        """Where a spot of the bed is on the canvas."""
        x, y, z = (value * self._scale for value in spot)
        return (
            self._at[0] + x * ACROSS[0] + y * ALONG[0] + z * UP[0],
            self._at[1] + x * ACROSS[1] + y * ALONG[1] + z * UP[1],
        )

    def outline(self, spots: Iterable[Spot]) -> Outline:
        """Spots as an outline in widths of the picture."""
        return tuple((x / CANVAS, y / CANVAS) for x, y in (self.on_canvas(spot) for spot in spots))

    def face(self, spots: Iterable[Spot], finish: Finish) -> None:
        """An area through these spots."""
        self.shapes.append(
            Shape(
                self.outline(spots),
                finish.shade,
                finish.stroke,
                finish.place,
                is_lit=finish.is_lit,
                is_dashed=finish.is_dashed,
            )
        )

    def line(
        self, spots: Iterable[Spot], stroke: Stroke = Stroke.FINE, *, is_dashed: bool = False
    ) -> None:
        """An open line through these spots."""
        self.shapes.append(
            Shape(self.outline(spots), Shade.NONE, stroke, is_closed=False, is_dashed=is_dashed)
        )

    def pin(self, place: str, spot: Spot, *, by: Point) -> None:
        """A place's number, so far from a spot on the canvas."""
        x, y = self.on_canvas(spot)
        self.pins.append(Pin(place, (x, y), (x + by[0], y + by[1])))

    def box(self, low: Spot, high: Spot, *, place: str = "", is_lit: bool = False) -> None:
        """A box with sharp edges."""
        (x0, y0, z0), (x1, y1, z1) = low, high
        for shade, corners in (
            (Shade.SIDE, ((x1, y0, z0), (x1, y1, z0), (x1, y1, z1), (x1, y0, z1))),
            (Shade.END, ((x0, y1, z0), (x1, y1, z0), (x1, y1, z1), (x0, y1, z1))),
            (Shade.TOP, ((x0, y0, z1), (x1, y0, z1), (x1, y1, z1), (x0, y1, z1))),
        ):
            self.face(corners, Finish(shade, Stroke.EDGE, place, is_lit=is_lit))

    def slab(
        self, low: Spot, high: Spot, *, radius: float, top: Finish, side: Finish
    ) -> list[Point]:
        """A box with rounded upright edges: a mattress, a base. Its top's corners, across."""
        (x0, y0, z0), (x1, y1, z1) = low, high
        corners = rounded(((x0, y0), (x0, y1), (x1, y1), (x1, y0)), radius)
        step = len(corners) // 4
        # from the middle of the corner at the right to that at the left, by way of the near one
        right, near, left = step + step // 2, 2 * step + step // 2, 3 * step + step // 2
        for shade, strip in (
            (Shade.END, corners[right : near + 1]),
            (Shade.SIDE, corners[near : left + 1]),
        ):
            wall = [(x, y, z0) for x, y in strip] + [(x, y, z1) for x, y in reversed(strip)]
            self.face(wall, Finish(shade, Stroke.NONE, side.place, is_lit=side.is_lit))
        self.face([(x, y, z1) for x, y in corners], top)
        around = corners[right : left + 1]
        back = [*corners[left:], *corners[: right + 1]]
        silhouette = [(x, y, z0) for x, y in around] + [(x, y, z1) for x, y in back]
        self.face(silhouette, Finish(Shade.NONE, Stroke.OUTER))
        return corners


def rounded(corners: Sequence[Point], radius: float) -> list[Point]:
    """A convex outline with its corners rounded; each corner has as many points."""
    found = []
    for number, here in enumerate(corners):
        before, after = corners[number - 1], corners[(number + 1) % len(corners)]
        start, end = _towards(here, before, radius), _towards(here, after, radius)
        for step in range(ROUND_STEPS + 1):
            t = step / ROUND_STEPS
            a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t**2
            found.append(
                (
                    a * start[0] + b * here[0] + c * end[0],
                    a * start[1] + b * here[1] + c * end[1],
                )
            )
    return found


def inset(corners: Sequence[Point], by: float) -> list[Point]:
    """An outline drawn in towards its middle, so far from each side of its box."""
    x, y = middle(corners)
    half_x = max(abs(one[0] - x) for one in corners)
    half_y = max(abs(one[1] - y) for one in corners)
    return [
        (x + (a - x) * (half_x - by) / half_x, y + (b - y) * (half_y - by) / half_y)
        for a, b in corners
    ]


def _towards(start: Point, end: Point, length: float) -> Point:
    whole = math.dist(start, end)
    share = length / whole
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share
