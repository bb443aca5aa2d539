"""What one does to an outline: move it, move a corner or a wall, cut it in two, snap it.

Nothing here decides whether a room can be so; ``drawing.flaws`` does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin

from hotelwatch.core.building.inside import spans_inside
from hotelwatch.core.building.outlines import SAME_M, Outline, Point, settled

SQUARE = 1e-3
"""Cosine of an angle between walls of a rectangle: a twentieth of a degree."""
DIGITS = 4
"""A tenth of a millimetre: what is drawn is kept no finer."""
NOTCH_M = 1.0
"""As wide and deep a piece is cut out at a corner at first."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle as one measures it: its first corner, along its first wall, and across."""

    east_m: float
    north_m: float
    width_m: float
    depth_m: float
    bearing_deg: float
    """Of the first wall, counter-clockwise from east."""

    def outline(self) -> Outline:
        """Its corners, counter-clockwise."""
        turn = radians(self.bearing_deg)
        ux, uy = round(cos(turn), 15), round(sin(turn), 15)
        corners = (
            (0.0, 0.0),
            (self.width_m, 0.0),
            (self.width_m, self.depth_m),
            (0.0, self.depth_m),
        )
        return rounded(
            (self.east_m + along * ux - left * uy, self.north_m + along * uy + left * ux)
            for along, left in corners
        )


def rounded(outline: Iterable[Point]) -> Outline:
    """Corners without digits that nobody measured."""
    return tuple((round(x, DIGITS) + 0.0, round(y, DIGITS) + 0.0) for x, y in outline)


def as_rectangle(outline: Sequence[Point]) -> Rectangle | None:
    """The outline as a rectangle; None if it is none."""
    if len(outline) != len("abcd"):
        return None
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = outline
    width, depth = hypot(bx - ax, by - ay), hypot(cx - bx, cy - by)
    if not width or not depth:
        return None
    dot = (bx - ax) * (cx - bx) + (by - ay) * (cy - by)
    slips = hypot(ax - bx + cx - dx, ay - by + cy - dy)
    if abs(dot) > SQUARE * width * depth or slips > SQUARE * (width + depth):
        return None
    bearing = round(degrees(atan2(by - ay, bx - ax)), 3) % 360.0
    return Rectangle(ax, ay, round(width, DIGITS), round(depth, DIGITS), bearing)


def moved(outline: Iterable[Point], by: Point) -> Outline:
    """Every corner so far to the east and to the north."""
    return rounded((x + by[0], y + by[1]) for x, y in outline)


def with_corner(outline: Sequence[Point], number: int, at: Point) -> Outline:
    """One corner elsewhere."""
    return rounded((*outline[:number], at, *outline[number + 1 :]))


def with_wall(outline: Sequence[Point], number: int, out_m: float) -> Outline:
    """One wall so far outward (or inward, below zero), its neighbours as straight as before."""
    count = len(outline)
    before, start = outline[number - 1], outline[number]
    end, after = outline[(number + 1) % count], outline[(number + 2) % count]
    ux, uy = end[0] - start[0], end[1] - start[1]
    length = hypot(ux, uy)
    nx, ny = uy / length, -ux / length
    shifted = []
    for corner, other in ((start, before), (end, after)):
        vx, vy = corner[0] - other[0], corner[1] - other[1]
        out = vx * nx + vy * ny
        if abs(out) < SQUARE * hypot(vx, vy):  # that wall runs along: shift straight out
            vx, vy, out = nx, ny, 1.0
        shifted.append((corner[0] + vx * out_m / out, corner[1] + vy * out_m / out))
    corners = list(outline)
    corners[number], corners[(number + 1) % count] = shifted
    return rounded(corners)


def with_more(outline: Sequence[Point], number: int) -> Outline:
    """One more corner, in the middle of a wall, to be moved from there."""
    (ax, ay), (bx, by) = outline[number], outline[(number + 1) % len(outline)]
    middle = ((ax + bx) / 2, (ay + by) / 2)
    return rounded((*outline[: number + 1], middle, *outline[number + 1 :]))


def without(outline: Sequence[Point], number: int) -> Outline:
    """One corner less."""
    return rounded((*outline[:number], *outline[number + 1 :]))


def with_notch(outline: Sequence[Point], number: int) -> Outline:
    """A piece cut out at a corner, a metre or half of its walls, to be pulled from there.

    At a corner in the middle of a straight wall the piece is cut out of that wall.
    """
    (x, y), before = outline[number], outline[number - 1]
    after = outline[(number + 1) % len(outline)]
    back = _towards((x, y), before)
    on = _towards((x, y), after)
    straight = abs(back[0] * on[1] - back[1] * on[0]) <= SQUARE * hypot(*back) * hypot(*on)
    if straight:
        deep = hypot(*on)
        left = (-on[1] / deep * NOTCH_M, on[0] / deep * NOTCH_M)
        dent = [
            back,
            (back[0] + left[0], back[1] + left[1]),
            (on[0] + left[0], on[1] + left[1]),
            on,
        ]
    else:
        dent = [back, (back[0] + on[0], back[1] + on[1]), on]
    corners = [(x + dx, y + dy) for dx, dy in dent]
    return rounded((*outline[:number], *corners, *outline[number + 1 :]))


def _towards(start: Point, end: Point) -> Point:
    """The way from a corner along a wall, a metre or half of the wall."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy)
    share = min(NOTCH_M, length / 2) / length if length else 0.0
    return dx * share, dy * share


def partition(outline: Sequence[Point], wall: int, at_m: float) -> tuple[Point, Point] | None:
    """Where a new wall would stand: square to a wall, so many metres from where that begins.

    It goes from there to the next wall; beyond that wall's ends it is the nearest piece of
    its line that lies within. None where the line misses the room.
    """
    (ax, ay), (bx, by) = outline[wall], outline[(wall + 1) % len(outline)]
    length = hypot(bx - ax, by - ay)
    if not length:
        return None
    ux, uy = (bx - ax) / length, (by - ay) / length
    foot, way = (ax + at_m * ux, ay + at_m * uy), (-uy, ux)
    spans = spans_inside(outline, foot, way)
    if not spans:
        return None
    ends = min(spans, key=lambda span: min(abs(end) for end in span))
    begin, end = sorted(ends, key=abs)
    # A corner that is only touched is a wall come to, else a half would hang by a point.
    met = (abs(at - begin) for at in _corners_met(outline, foot, way) if min(ends) < at < max(ends))
    reach = min((far for far in met if far > SAME_M), default=abs(end - begin))
    places = sorted((begin, begin + reach if end > begin else begin - reach))
    first, last = ((foot[0] + far * way[0], foot[1] + far * way[1]) for far in places)
    return first, last


def _corners_met(outline: Sequence[Point], start: Point, way: Point) -> Iterator[float]:
    """How far along a line it comes upon corners, as near as two places count as one."""
    for x, y in outline:
        dx, dy = x - start[0], y - start[1]
        if abs(way[0] * dy - way[1] * dx) <= SAME_M:
            yield way[0] * dx + way[1] * dy


def cut(outline: Sequence[Point], wall: int, at_m: float) -> tuple[Outline, Outline] | None:
    """An outline cut in two where ``partition`` stands.

    First what lies before the cut, then what lies behind it; None where the cut misses it.
    """
    ends = partition(outline, wall, at_m)
    if ends is None:
        return None
    corners = list(outline)
    foot, far = (_put_in(corners, end) for end in ends)
    first, last = corners.index(foot), corners.index(far)
    low, high = min(first, last), max(first, last)
    between, around = corners[low : high + 1], [*corners[: low + 1], *corners[high:]]
    halves = (around, between) if first < last else (between, around)
    before, behind = (settled(rounded(half)) for half in halves)
    if min(len(before), len(behind)) < len("abc"):
        return None
    return before, behind


def _put_in(corners: list[Point], at: Point) -> Point:
    """Make a place on a wall a corner, unless there is one; that corner."""
    for corner in corners:
        if hypot(corner[0] - at[0], corner[1] - at[1]) <= SAME_M:
            return corner
    walls = zip(corners, (*corners[1:], corners[0]), strict=True)
    away = [hypot(x - at[0], y - at[1]) for x, y in (_foot(at, *wall) for wall in walls)]
    corners.insert(away.index(min(away)) + 1, at)
    return at


def wall_length(outline: Sequence[Point], wall: int) -> float:
    """Metres of a wall."""
    (ax, ay), (bx, by) = outline[wall], outline[(wall + 1) % len(outline)]
    return hypot(bx - ax, by - ay)


# --- snapping -----------------------------------------------------------------------------


def snapped_point(
    at: Point, others: Iterable[Sequence[Point]], *, reach_m: float, grid_m: float
) -> Point:
    """A point on the nearest corner within reach, else on the nearest wall, else on the grid."""
    best: tuple[float, Point] | None = None
    on_wall: tuple[float, Point] | None = None
    for outline in others:
        for number, corner in enumerate(outline):
            away = hypot(corner[0] - at[0], corner[1] - at[1])
            if away <= reach_m and (best is None or away < best[0]):
                best = (away, corner)
            foot = _foot(at, corner, outline[(number + 1) % len(outline)])
            off = hypot(foot[0] - at[0], foot[1] - at[1])
            if off <= reach_m and (on_wall is None or off < on_wall[0]):
                on_wall = (off, foot)
    found = best or on_wall
    return found[1] if found else (_on_grid(at[0], grid_m), _on_grid(at[1], grid_m))


def snapped_move(
    outline: Sequence[Point], others: Iterable[Sequence[Point]], *, reach_m: float, grid_m: float
) -> Outline:
    """A moved outline so that it meets others' corners or walls within reach, else the grid."""
    near = [tuple(other) for other in others]
    best: tuple[float, Point] | None = None
    for x, y in outline:
        for other in near:
            for ox, oy in other:
                by = (ox - x, oy - y)
                away = hypot(*by)
                if away <= reach_m and (best is None or away < best[0]):
                    best = (away, by)
    if best is None:
        best = _onto_wall(outline, near, reach_m)
    if best is not None:
        return moved(outline, best[1])
    x, y = outline[0]
    return moved(outline, (_on_grid(x, grid_m) - x, _on_grid(y, grid_m) - y))


def _onto_wall(
    outline: Sequence[Point], others: Iterable[Sequence[Point]], reach_m: float
) -> tuple[float, Point] | None:
    best: tuple[float, Point] | None = None
    for point in outline:
        for other in others:
            for start, end in zip(other, (*other[1:], other[0]), strict=True):
                foot = _foot(point, start, end)
                by = (foot[0] - point[0], foot[1] - point[1])
                away = hypot(*by)
                if away <= reach_m and (best is None or away < best[0]):
                    best = (away, by)
    return best


def _foot(point: Point, start: Point, end: Point) -> Point:
    """The point of a wall that is nearest to another point."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    squared = dx * dx + dy * dy
    if not squared:
        return start
    share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / squared
    share = min(1.0, max(0.0, share))
    return start[0] + share * dx, start[1] + share * dy


def _on_grid(metres: float, grid_m: float) -> float:
    return round(metres / grid_m) * grid_m
