"""What a guest not yet booked may cost: days overdue to expect from each night of waiting.

A room that is free tonight may be taken tonight by somebody who stays for weeks. What
that costs, if the bed falls due meanwhile, follows from how long this hotel's guests
stay and how many of them come without having been known: the mean of what exceeds the
days until it is due. Where a known booking follows, nobody can stay beyond it.
"""

from __future__ import annotations

from collections import Counter

import numpy as np

from hotelwatch.core.planning.letting import LONGEST
from hotelwatch.core.planning.problem import Claims, Floats, Ints


def expected_late(lengths: Counter[int], is_open: Claims, due: Ints, *, share: float) -> Floats:
    """Days overdue to expect from a stay that begins on each night, one bed (R, H).

    ``lengths``: how many stays were of so many nights; ``share`` are not known before.

    A room is taken about once in a mean stay: so many stays begin in it a night.
    """
    horizon = is_open.shape[1]
    total = sum(lengths.values())
    if not total or not horizon:
        return np.zeros(is_open.shape)
    nights = np.array(sorted(lengths))
    chance = np.array([lengths[int(n)] for n in nights]) / total
    a_night = share / float((nights * chance).sum())
    beyond = np.array(
        [(chance * np.maximum(0, nights - k)).sum() for k in range(LONGEST + 1)], float
    )
    days = np.arange(horizon)
    closed = np.where(is_open, horizon, days[None, :])
    first_closed = np.minimum.accumulate(closed[:, ::-1], axis=1)[:, ::-1]
    gap = np.full(is_open.shape, horizon)
    gap[:, :-1] = first_closed[:, 1:]
    until_due = np.clip(np.maximum(due, 0)[:, None] - days[None, :], 0, LONGEST)
    until_gap = np.clip(gap - days[None, :], 0, LONGEST)
    late: Floats = a_night * np.maximum(0, beyond[until_due] - beyond[until_gap]) * is_open
    return late
