"""Fill a team's day: the rooms that save the most within its minutes, ways included.

A knapsack over corridors. Of each corridor the first n rooms are taken, in the order of
what a minute on them saves; the first one also costs the way there. Exact for that
choice of order.

Source: Bellman 1957, Dynamic Programming (from memory).
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from hotelwatch.core.planning.problem import Floats, Ints, Problem

MOST_ROOMS = 10
"""Of one corridor on one team's day."""
MOST_AREAS = 64
"""Those that save the most a minute; the others could only fill gaps."""
IMPOSSIBLE = -1e18


def fill(problem: Problem, saved: Floats, minutes: int, *, been: Collection[int] = ()) -> list[int]:
    """Visits for so many minutes of one team, that save the most together.

    ``saved`` (R,): what each visit saves; one that saves nothing is not made.
    ``been``: corridors to which the team goes anyway that day.
    What is left is filled again, as long as a visit fits: a long one may have hidden it.
    """
    found: list[int] = []
    near = set(been)
    while more := _first_rooms(problem, saved, minutes, near):
        ways = {int(problem.area[visit]) for visit in more} - near
        minutes -= int(problem.minutes[more].sum()) + problem.area_minutes * len(ways)
        near |= ways
        found += more
        saved = saved.copy()
        saved[more] = 0
    return found


def _first_rooms(problem: Problem, saved: Floats, minutes: int, been: Collection[int]) -> list[int]:
    """The first rooms of each corridor, by what a minute on them saves."""
    if minutes < problem.least_minutes:
        return []
    # One that is too long would hide the shorter ones behind it in its corridor.
    way = np.where(np.isin(problem.area, list(been)), 0, problem.area_minutes)
    candidates = np.flatnonzero((saved > 0) & (problem.minutes + way <= minutes))
    if not candidates.size:
        return []
    rate = saved[candidates] / problem.minutes[candidates]
    order = candidates[np.lexsort((candidates, -rate, problem.area[candidates]))]
    areas, starts = np.unique(problem.area[order], return_index=True)
    ends = np.append(starts[1:], order.size)
    rooms = [order[a : min(b, a + MOST_ROOMS)] for a, b in zip(starts, ends, strict=True)]
    ways = [0 if int(area) in been else problem.area_minutes for area in areas]
    options = [_options(problem, saved, of, way) for of, way in zip(rooms, ways, strict=True)]
    if len(options) > MOST_AREAS:
        best = np.array([float((value / weight).max()) for weight, value in options])
        kept = np.sort(np.argsort(-best, kind="stable")[:MOST_AREAS])
        rooms, options = [rooms[n] for n in kept], [options[n] for n in kept]
    return [int(r) for of, n in zip(rooms, _best(options, minutes), strict=True) for r in of[:n]]


def _options(problem: Problem, saved: Floats, rooms: Ints, way: int) -> tuple[Ints, Floats]:
    """Minutes and savings of the first one, two, three … rooms of a corridor."""
    return way + np.cumsum(problem.minutes[rooms]), np.cumsum(saved[rooms])


def _best(options: list[tuple[Ints, Floats]], minutes: int) -> list[int]:
    """How many rooms of each corridor to take."""
    best = np.zeros(minutes + 1)
    taken = np.zeros((len(options), minutes + 1), np.int64)
    spent = np.arange(minutes + 1)
    for number, (weights, values) in enumerate(options):
        left = spent[None, :] - weights[:, None]
        tried = np.where(left >= 0, best[np.maximum(left, 0)] + values[:, None], IMPOSSIBLE)
        row = tried.argmax(axis=0)
        reached = tried[row, spent]
        better = reached > best
        taken[number] = np.where(better, row + 1, 0)
        best = np.where(better, reached, best)
    counts = [0] * len(options)
    left_over = int(best.argmax())
    for number in range(len(options) - 1, -1, -1):
        counts[number] = int(taken[number, left_over])
        if counts[number]:
            left_over -= int(options[number][0][counts[number] - 1])
    return counts
