"""What lies inside an outline whose corners may turn inward: convex parts, lines, the widest place.

Outlines run counter-clockwise; they are simple: their walls neither cross nor touch one another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from heapq import heappop, heappush
from itertools import combinations, pairwise
from math import hypot, inf

from hotelwatch.core.building.outlines import (
    SAME_M,
    STRAIGHT,
    Outline,
    Point,
    is_convex,
    signed_area,
)

NEAR_M = 1e-6
"""Nearer to a line than this is on it: far below what is drawn."""
ON_RAY_M = 1e-9
"""Corners so near to where a cut goes are where it ends; what turns by it stays straight."""
TALL = (0.5, 0.7, 1.0, 1.5)
"""Heights of upright rectangles that are tried in a room, for a width of one."""
TALL_IN_ARMS = (0.4, 0.5, 0.6, 0.7, 0.85, 1.0, 1.25, 1.5)
"""The same in a room with corners that turn inward, where a wider one counts."""
LABEL_TALL = 0.7
"""What the widest place is judged by: about as high for its width as a number with its sign."""
SEARCH_SHARE = 0.05
"""Of a room's size: the widest place is found as nearly."""
KEPT = 1024
"""Outlines whose widest place is remembered: a house is laid out anew at each change."""
EDGE_SHARE = 0.9
"""So far from its middle to its edge one looks how far a rectangle could be pushed."""


def can_be_built(outline: Sequence[Point]) -> bool:
    """Whether an outline encloses something, with walls that neither cross nor touch."""
    if is_convex(outline):
        return True
    return len(outline) >= len("abc") and signed_area(outline) > 0 and not walls_meet(outline)


def walls_meet(outline: Sequence[Point]) -> bool:
    """Whether two walls cross or touch elsewhere than at the corner between them."""
    walls = list(_walls(outline))
    for (number, one), (other_number, other) in combinations(enumerate(walls), 2):
        if other_number == number + 1:
            if _folds_back(*one, other[1]):
                return True
        elif other_number - number == len(walls) - 1:
            if _folds_back(*other, one[1]):
                return True
        elif _cross(one, other) or _gap(one, other) <= SAME_M:
            return True
    return False


def _folds_back(before: Point, corner: Point, after: Point) -> bool:
    ux, uy = corner[0] - before[0], corner[1] - before[1]
    vx, vy = after[0] - corner[0], after[1] - corner[1]
    limit = STRAIGHT * hypot(ux, uy) * hypot(vx, vy)
    return abs(ux * vy - uy * vx) <= limit and ux * vx + uy * vy < 0


def _cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    (a, b), (c, d) = one, other
    sides = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    return sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0


def _gap(one: tuple[Point, Point], other: tuple[Point, Point]) -> float:
    """Metres between two walls that do not cross."""
    return min(
        *(_away(end, *other) for end in one),
        *(_away(end, *one) for end in other),
    )


# --- convex parts ---------------------------------------------------------------------------


def convex_parts(outline: Outline) -> tuple[Outline, ...]:
    """The outline in convex parts that fill it and have no floor in common.

    At each corner that turns inward one of its two walls is continued to the next wall, the
    shorter way. A convex outline is its own only part.
    """
    waiting, parts = [outline], []
    while waiting:
        piece = waiting.pop()
        number = next(inward_corners(piece), None)
        if number is None:
            parts.append(piece)
        else:
            waiting += _cut_at(piece, number)
    return tuple(parts)


def inward_corners(outline: Sequence[Point]) -> Iterator[int]:
    """The numbers of corners that turn inward."""
    for number, corner in enumerate(outline):
        before, after = outline[number - 1], outline[(number + 1) % len(outline)]
        ux, uy = corner[0] - before[0], corner[1] - before[1]
        vx, vy = after[0] - corner[0], after[1] - corner[1]
        if ux * vy - uy * vx < -STRAIGHT * hypot(ux, uy) * hypot(vx, vy):
            yield number


def _cut_at(outline: Outline, number: int) -> tuple[Outline, Outline]:
    """Cut in two where a wall of an inward corner, continued, meets the next wall."""
    ring = (*outline[number:], *outline[:number])
    corner = ring[0]
    ways = [_meets(ring, (corner[0] - x, corner[1] - y)) for x, y in (ring[-1], ring[1])]
    _far, wall, at = min(ways)
    if at == ring[wall]:
        return ring[: wall + 1], (corner, *ring[wall:])
    return (*ring[: wall + 1], at), (corner, at, *ring[wall + 1 :])


def _meets(ring: Outline, way: Point) -> tuple[float, int, Point]:
    """How far it is from the first corner into the room to a wall, which, and where."""
    (x0, y0), length = ring[0], hypot(*way)
    ux, uy = way[0] / length, way[1] / length
    along = [ux * (x - x0) + uy * (y - y0) for x, y in ring]
    off = [ux * (y - y0) - uy * (x - x0) for x, y in ring]
    # The corners beside the first one are never where the way ends: the room begins there.
    inner = range(2, len(ring) - 1)
    ends = {n for n in inner if abs(off[n]) <= ON_RAY_M}
    found = [(along[n], n, ring[n]) for n in ends]
    for wall in range(1, len(ring) - 1):
        if off[wall] * off[wall + 1] < 0 and not ends & {wall, wall + 1}:
            share = off[wall] / (off[wall] - off[wall + 1])
            far = along[wall] + share * (along[wall + 1] - along[wall])
            found.append((far, wall, (x0 + far * ux, y0 + far * uy)))
    return min(one for one in found if one[0] > ON_RAY_M)


# --- lines ------------------------------------------------------------------------------------


def spans_inside(
    outline: Sequence[Point], start: Point, direction: Point
) -> tuple[tuple[float, float], ...]:
    """From where to where a straight line lies within, in its order.

    Metres along the line from ``start`` (``direction`` has length 1). A span ends wherever
    the line comes to a wall or a corner; where it only runs along a wall it is not within.
    """
    (x0, y0), (ux, uy) = start, direction
    along = [ux * (x - x0) + uy * (y - y0) for x, y in outline]
    off = [ux * (y - y0) - uy * (x - x0) for x, y in outline]
    places = [a for a, o in zip(along, off, strict=True) if abs(o) <= NEAR_M]
    runs = []
    for number in range(len(outline)):
        before, after = off[number - 1], off[number]
        if abs(before) <= NEAR_M and abs(after) <= NEAR_M:
            runs.append((along[number - 1], along[number]))
        elif min(abs(before), abs(after)) > NEAR_M and before * after < 0:
            share = before / (before - after)
            places.append(along[number - 1] + share * (along[number] - along[number - 1]))
    return tuple(
        (first, last)
        for first, last in pairwise(sorted(places))
        if last - first > NEAR_M
        and not any(min(run) < (first + last) / 2 < max(run) for run in runs)
        and holds(outline, (x0 + (first + last) / 2 * ux, y0 + (first + last) / 2 * uy))
    )


def holds(outline: Sequence[Point], point: Point) -> bool:
    """Whether a point lies within; on a wall it may be either."""
    x, y = point
    is_within = False
    for (ax, ay), (bx, by) in _walls(outline):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            is_within = not is_within
    return is_within


# --- the widest place --------------------------------------------------------------------------


@lru_cache(maxsize=KEPT)
def widest_place(outline: Outline) -> Point:
    """The middle of the largest upright rectangle of a number's shape that fits in.

    Found by squares of which those are halved first that may hold the best place. Source:
    D. Garcia-Castellanos, U. Lombardo, Poles of inaccessibility, Scottish Geographical
    Journal 123 (2007) 227-233 (the question), from memory.
    """
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    half = max(max(xs) - min(xs), (max(ys) - min(ys)) / LABEL_TALL) / 2
    fine = half * SEARCH_SHARE
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    best = (_half_width(outline, middle), middle)
    waiting = [(-best[0] - half, middle, half)]
    while waiting:
        bound, (x, y), half = heappop(waiting)
        if -bound <= best[0] + fine:
            break
        half /= 2
        for dx, dy in ((-half, -half), (-half, half), (half, -half), (half, half)):
            at = (x + dx, y + dy * LABEL_TALL)
            wide = _half_width(outline, at)
            best = max(best, (wide, at))
            heappush(waiting, (-wide - half, at, half))
    return _between_walls(outline, *best, fine)


def _between_walls(outline: Sequence[Point], half: float, at: Point, fine: float) -> Point:
    """Midway between the walls up to which the rectangle about a place could be pushed."""
    for ux, uy in ((0.0, 1.0), (1.0, 0.0)):
        aside = half * EDGE_SHARE * (ux * LABEL_TALL + uy)
        free = [
            span
            for side in (-aside, 0.0, aside)
            for span in spans_inside(outline, (at[0] + side * uy, at[1] + side * ux), (ux, uy))
            if span[0] <= 0 <= span[1]
        ]
        if not free:
            continue
        along = (max(first for first, _ in free) + min(last for _, last in free)) / 2
        there = (at[0] + along * ux, at[1] + along * uy)
        if _half_width(outline, there) >= half - fine:
            at = there
    return at


def _half_width(outline: Sequence[Point], at: Point, tall: float = LABEL_TALL) -> float:
    """Half of the width of the largest rectangle about a point; below zero outside."""
    x, y = at
    away, is_within = inf, False
    ax, ay = outline[-1][0] - x, (outline[-1][1] - y) / tall
    for east, north in outline:
        bx, by = east - x, (north - y) / tall
        away = min(away, max(abs(bx), abs(by)))
        # Along a wall it is a bent line, lowest at an end or as far aside as up or down.
        for over, under in ((ax - ay, bx - by), (ax + ay, bx + by)):
            if (over < 0) != (under < 0):
                away = min(away, abs(ax + over / (over - under) * (bx - ax)))
        if (ay > 0) != (by > 0) and ax > ay / (by - ay) * (bx - ax):
            is_within = not is_within
        ax, ay = bx, by
    return away if is_within else -away


def upright_about(parts: Sequence[Outline], outline: Outline, at: Point) -> tuple[float, float]:
    """Half the width and half the height of the largest upright rectangle about a place within.

    ``parts`` are the outline's convex ones.
    """
    if len(parts) > 1:
        halves = [(abs(_half_width(outline, at, tall)), tall) for tall in TALL_IN_ARMS]
    else:  # whole lines bound a convex room: quicker than their pieces
        lines = [_line_away(*wall, at) for wall in _walls(outline)]
        halves = [(min(far / (nx + tall * ny) for nx, ny, far in lines), tall) for tall in TALL]
    wide, tall = max(halves, key=lambda half: half[0] * half[0] * half[1])
    return wide, wide * tall


def _line_away(start: Point, end: Point, at: Point) -> tuple[float, float, float]:
    """A wall's direction outward, without its signs, and how far its line is from a point."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    nx, ny = (end[1] - start[1]) / length, (start[0] - end[0]) / length
    return abs(nx), abs(ny), nx * (start[0] - at[0]) + ny * (start[1] - at[1])


# --- walls --------------------------------------------------------------------------------------


def _walls(outline: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return zip(outline, (*outline[1:], outline[0]), strict=True)


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _away(point: Point, start: Point, end: Point) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy)
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - start[0] - share * dx, point[1] - start[1] - share * dy)
