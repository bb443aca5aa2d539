"""Outlines as they are drawn: corners in metres, one after the other, seen from above.

A fact keeps an outline as a row of numbers, east and north of each corner in turn.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import hypot

Point = tuple[float, float]
"""Metres east and north of the hotel's own zero."""
Outline = tuple[Point, ...]

SAME_M = 1e-3
"""Corners nearer to one another are one corner: no tape measures a room finer."""
STRAIGHT = 1e-6
"""Sine of an angle that is no corner: far below a degree."""


def points_of(numbers: Sequence[float]) -> Outline:
    """The corners that a row of numbers stands for; ValueError where one lacks its north."""
    if len(numbers) % 2:
        raise ValueError("a corner has two numbers")
    return tuple(zip(numbers[::2], numbers[1::2], strict=True))


def numbers_of(outline: Iterable[Point]) -> tuple[float, ...]:
    """The row of numbers that stands for these corners."""
    return tuple(number for point in outline for number in point)


def settled(outline: Sequence[Point]) -> Outline:
    """The same outline counter-clockwise, without corners that are the one before again."""
    kept: list[Point] = []
    for point in outline:
        if not kept or _apart(kept[-1], point) > SAME_M:
            kept.append(point)
    while len(kept) > 1 and _apart(kept[0], kept[-1]) <= SAME_M:
        kept.pop()
    if signed_area(kept) < 0:
        kept = [kept[0], *reversed(kept[1:])]
    return tuple(kept)


def signed_area(outline: Sequence[Point]) -> float:
    """Square metres inside; less than zero where the corners run clockwise."""
    if not outline:
        return 0.0
    # Measured from a corner, so that a hotel far from its zero loses no digits.
    x0, y0 = outline[0]
    return (
        sum(
            (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
            for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True)
        )
        / 2
    )


def centre_of(outline: Sequence[Point]) -> Point:
    """The centre of gravity of what an outline encloses; of nothing, the corners' middle."""
    x0, y0 = outline[0]
    area, east, north = 0.0, 0.0, 0.0
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True):
        cross = (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
        area += cross
        east += (ax + bx - 2 * x0) * cross
        north += (ay + by - 2 * y0) * cross
    if abs(area) < SAME_M * SAME_M:
        count = len(outline)
        return sum(x for x, _ in outline) / count, sum(y for _, y in outline) / count
    return x0 + east / (3 * area), y0 + north / (3 * area)


def is_convex(outline: Sequence[Point]) -> bool:
    """Whether an outline turns left at each corner, once around, and encloses something.

    Corners in the middle of a straight wall are allowed.
    """
    corners = len(outline)
    if corners < len("abc") or signed_area(outline) <= 0:
        return False
    closed = (*outline, outline[0], outline[1])
    sides = [(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(closed)]
    for (ux, uy), (vx, vy) in pairwise(sides):
        limit = STRAIGHT * hypot(ux, uy) * hypot(vx, vy)
        turn = ux * vy - uy * vx
        if turn < -limit or (turn <= limit and ux * vx + uy * vy < 0):
            return False
    # Left at every corner, yet more than once around: a star drawn in one stroke.
    return _turns_east(sides[:-1]) == 1


def _turns_east(sides: Sequence[Point]) -> int:
    """How often the direction passes east while going around."""
    return sum(
        (uy < 0 or (uy == 0 and ux < 0)) and (vy > 0 or (vy == 0 and vx > 0))
        for (ux, uy), (vx, vy) in pairwise((*sides, sides[0]))
    )


def front_of(outline: Sequence[Point], start: Point, end: Point) -> tuple[Point, Point]:
    """The wall whose middle lies nearest to the corridor's middle line; the longer of two."""
    walls = list(zip(outline, (*outline[1:], outline[0]), strict=True))
    return min(
        walls, key=lambda wall: (round(_away(_middle(*wall), start, end), 3), -_apart(*wall))
    )


def _away(point: Point, start: Point, end: Point) -> float:
    """Metres from a point to a straight piece."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    squared = dx * dx + dy * dy
    if not squared:
        return _apart(point, start)
    share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / squared
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - start[0] - share * dx, point[1] - start[1] - share * dy)


def _middle(one: Point, other: Point) -> Point:
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2


def _apart(one: Point, other: Point) -> float:
    return hypot(other[0] - one[0], other[1] - one[1])
