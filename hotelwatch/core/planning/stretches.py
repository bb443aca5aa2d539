"""Stretches of days in which more is wanted than there is: the plainest kind of shortfall."""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.problem import Claims, Ints


def stretches(days: Claims, minutes: Ints, capacity: Ints) -> tuple[list[Claims], int]:
    """Stretches of days apart that lack the most together, and how many minutes they lack.

    ``days`` on which each visit could be made (R, H), at least one each. A stretch lacks
    what the visits with all their days inside it need beyond what it has. Of stretches
    that lack as much the shorter ones are taken.
    """
    excess = _excess(days, minutes, capacity)
    horizon = len(capacity)
    best = [0] * (horizon + 1)
    begun: list[int | None] = [None] * (horizon + 1)
    for end in range(horizon):
        best[end + 1] = best[end]
        for begin in range(end, -1, -1):
            total = best[begin] + int(excess[begin, end])
            if total > best[end + 1]:
                best[end + 1], begun[end + 1] = total, begin
    found: list[Claims] = []
    end = horizon
    while end > 0:
        start = begun[end]
        if start is None:
            end -= 1
            continue
        stretch = np.zeros(horizon, bool)
        stretch[start:end] = True
        found.insert(0, stretch)
        end = start
    return found, best[horizon]


def _excess(days: Claims, minutes: Ints, capacity: Ints) -> Ints:
    """What each stretch from a to b lacks; below 0 if it does not (H, H)."""
    horizon = len(capacity)
    first = days.argmax(axis=1)
    last = horizon - 1 - days[:, ::-1].argmax(axis=1)
    table = np.zeros((horizon, horizon), np.int64)
    np.add.at(table, (first, last), minutes)
    # needed[a, b]: of visits whose first day is a or later and whose last is b or earlier.
    needed = table[::-1].cumsum(axis=0)[::-1].cumsum(axis=1)
    total = np.concatenate([[0], np.cumsum(capacity)])
    excess: Ints = needed - (total[None, 1:] - total[:-1, None])
    return excess
