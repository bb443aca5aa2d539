"""Fill a team's day: the rooms that save the most within its minutes, ways included.

A knapsack over corridors: of each one any of its rooms may be taken, and the first one
costs the way there too. Exact for the rooms it looks at.

Source: Bellman 1957, Dynamic Programming (from memory).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.problem import Claims, Floats, Ints, Problem

MOST_ROOMS = 10
"""Of one corridor on one team's day: those of which a minute saves the most."""
MOST_AREAS = 64
"""Those that save the most a minute; the others could only fill gaps."""


@dataclass(frozen=True, slots=True)
class _Tried:
    """A corridor put on a day: what was taken of it at each number of minutes left."""

    rooms: list[int]
    way: int
    took: list[Claims]
    """Whether each room was taken, by minutes spent (minutes + 1)."""
    went: Claims
    """Whether to go there at all (minutes + 1)."""


def fill(problem: Problem, saved: Floats, minutes: int, *, been: Collection[int] = ()) -> list[int]:
    """Visits for so many minutes of one team, that save the most together.

    ``saved`` (R,): what each visit saves; one that saves nothing is not made.
    ``been``: corridors to which the team goes anyway that day.
    What is left is filled again, as long as a visit fits: only so many of each corridor are
    looked at together.
    """
    found: list[int] = []
    near = set(been)
    while more := _best(problem, saved, minutes, near):
        ways = {int(problem.area[visit]) for visit in more} - near
        minutes -= int(problem.minutes[more].sum()) + problem.area_minutes * len(ways)
        near |= ways
        found += more
        saved = saved.copy()
        saved[more] = 0
    return found


def _best(problem: Problem, saved: Floats, minutes: int, been: Collection[int]) -> list[int]:
    """The best of the rooms looked at."""
    if minutes < problem.least_minutes:
        return []
    best = np.zeros(minutes + 1)
    tried = []
    for rooms, way in _corridors(problem, saved, minutes, been):
        there = np.full(minutes + 1, -np.inf)
        there[way:] = best[: minutes + 1 - way]
        by_room = [_put(there, float(saved[room]), int(problem.minutes[room])) for room in rooms]
        went: Claims = there > best
        tried.append(_Tried(rooms, way, by_room, went))
        best = np.where(went, there, best)
    found = []
    spent = int(best.argmax())
    for one in reversed(tried):
        if not one.went[spent]:
            continue
        for room, took in zip(reversed(one.rooms), reversed(one.took), strict=True):
            if took[spent]:
                found.append(room)
                spent -= int(problem.minutes[room])
        spent -= one.way
    return found[::-1]


def _put(best: Floats, value: float, weight: int) -> Claims:
    """Puts a room where it makes the day better, and says where (minutes + 1)."""
    took = np.zeros(len(best), bool)
    with_it = best[: len(best) - weight] + value
    np.greater(with_it, best[weight:], out=took[weight:])
    np.maximum(with_it, best[weight:], out=best[weight:])
    return took


def _corridors(
    problem: Problem, saved: Floats, minutes: int, been: Collection[int]
) -> list[tuple[list[int], int]]:
    """The rooms of each corridor that are looked at, and the minutes of the way there."""
    # One that is too long would hide the shorter ones behind it in its corridor.
    way = np.where(np.isin(problem.area, list(been)), 0, problem.area_minutes)
    candidates = np.flatnonzero((saved > 0) & (problem.minutes + way <= minutes))
    if not candidates.size:
        return []
    rate = saved[candidates] / problem.minutes[candidates]
    order: Ints = candidates[np.lexsort((candidates, -rate, problem.area[candidates]))]
    _, starts = np.unique(problem.area[order], return_index=True)
    ends = np.append(starts[1:], order.size)
    found = [order[a : min(b, a + MOST_ROOMS)] for a, b in zip(starts, ends, strict=True)]
    if len(found) > MOST_AREAS:
        best = np.array([_most_a_minute(problem, saved, rooms, way) for rooms in found])
        kept = np.sort(np.argsort(-best, kind="stable")[:MOST_AREAS])
        found = [found[n] for n in kept]
    return [(rooms.tolist(), int(way[rooms[0]])) for rooms in found]


def _most_a_minute(problem: Problem, saved: Floats, rooms: Ints, way: Ints) -> float:
    """What a minute saves at the most in a corridor, ways included."""
    spent = way[rooms[0]] + np.cumsum(problem.minutes[rooms])
    return float((np.cumsum(saved[rooms]) / spent).max())
