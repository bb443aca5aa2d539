"""Which nights are let, resampled from the hotel's own stays or from two figures.

Stays and the empty nights between them follow each other, each length drawn for itself.
Kept are the share of nights let, how long guests stay and how often a room turns over; left
out are seasons, weekdays, groups, and that rooms of a type fill together.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.simulation.draws import year_generator
from hotelwatch.core.odds.simulation.hotel import Ints
from hotelwatch.core.records import Stay

Nights = NDArray[np.uint8]
VACANT, ARRIVES, STAYS_OVER = 0, 1, 2
"""A night: nobody; a new guest; the guest of the night before."""

TABLE = 1 << 16
"""Lengths are drawn from so many equally likely ones."""
FEWEST_STAYS = 200
"""With fewer stays at hand their pattern says too little; an assumption."""
LONGEST = 400
"""Nights; a longer stay or gap counts as this one."""
STAYS_PART, INTRODUCTIONS_PART = 0, 1


@dataclass(frozen=True, eq=False)
class LetPattern:
    """How long guests stay and rooms stand empty: equally likely lengths, in nights."""

    nights: NDArray[np.uint16]
    gaps: NDArray[np.uint16]
    is_own: bool
    """From the hotel's own stays; else from figures."""

    @property
    def let_share(self) -> float:
        """The share of nights that are let."""
        return float(self.nights.mean() / (self.nights.mean() + self.gaps.mean()))


def usual_pattern(let_share: float, mean_nights: float) -> LetPattern:
    """A pattern from the share of nights let (above 0, at most 1) and a stay's mean nights."""
    mean_gap = mean_nights * (1.0 - let_share) / let_share
    nights = geometric_table(1.0 / mean_nights) + 1
    return LetPattern(_whole(nights), _whole(geometric_table(1.0 / (1.0 + mean_gap))), False)


def own_pattern(stays: Iterable[Stay]) -> LetPattern | None:
    """The pattern of the hotel's own stays; None where there are too few."""
    by_room: defaultdict[str, list[Stay]] = defaultdict(list)
    for stay in stays:
        if stay.counts and stay.room and stay.leaves_on > stay.arrives_on:
            by_room[stay.room].append(stay)
    nights: list[int] = []
    gaps: list[int] = []
    for some in by_room.values():
        some.sort(key=lambda stay: stay.arrives_on)
        nights += [(stay.leaves_on - stay.arrives_on).days for stay in some]
        gaps += [max(0, (later.arrives_on - one.leaves_on).days) for one, later in pairwise(some)]
    if len(nights) < FEWEST_STAYS or not gaps:
        return None
    return LetPattern(_whole(_spaced(nights)), _whole(_spaced(gaps)), True)


def geometric_table(chance: float) -> Floats:
    """Equally likely waits, in whole nights from 0, for something of that chance a night."""
    if chance >= 1.0:
        return np.zeros(TABLE)
    middles = (np.arange(TABLE) + 0.5) / TABLE
    waits: Floats = np.floor(np.log1p(-middles) / np.log1p(-chance))
    return waits


def _spaced(lengths: list[int]) -> Floats:
    """So many lengths that stand for all of them, evenly spaced in their order."""
    ordered = np.sort(np.array(lengths, float))
    places = ((np.arange(TABLE) + 0.5) / TABLE * len(ordered)).astype(np.int64)
    return np.asarray(ordered[places], np.float64)


def _whole(lengths: Floats) -> NDArray[np.uint16]:
    return np.minimum(lengths, LONGEST).astype(np.uint16)


def nights_of(pattern: LetPattern, rooms: int, days: int, *, seed: int, year: int) -> Nights:
    """Every night of a hotel-year (rooms, days): VACANT, ARRIVES or STAYS_OVER.

    The rooms are pieces of one long row of stays, so that a year may begin within one.
    """
    rng = year_generator(seed, year, STAYS_PART)
    wanted = rooms * days
    mean = float(pattern.nights.mean() + pattern.gaps.mean())
    parts: list[NDArray[np.uint16]] = []
    so_far = 0
    while so_far < wanted:
        some = int((wanted - so_far) / mean * 1.02) + 16
        drawn = rng.integers(0, TABLE, (some, 2), dtype=np.uint16)
        lengths = np.column_stack([pattern.gaps[drawn[:, 0]], pattern.nights[drawn[:, 1]]])
        parts.append(lengths.ravel())
        so_far += int(lengths.sum(dtype=np.int64))
    lengths = np.concatenate(parts)
    codes = np.repeat(np.tile(np.array([VACANT, STAYS_OVER], np.uint8), len(lengths) // 2), lengths)
    arrivals = np.cumsum(lengths, dtype=np.int64)[0::2]
    codes[arrivals[arrivals < len(codes)]] = ARRIVES
    return codes[:wanted].reshape(rooms, days)


def introductions_of(nights: Nights, chance: float, *, seed: int, year: int) -> tuple[Ints, Ints]:
    """Days and rooms on which guests bring something that takes hold, by day.

    ``nights``: of one hotel-year (days, rooms).
    """
    rng = year_generator(seed, year, INTRODUCTIONS_PART)
    arrives = nights == ARRIVES
    arrivals = int(np.count_nonzero(arrives))
    number = int(rng.binomial(arrivals, chance))
    if not number:
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    which = np.sort(rng.choice(arrivals, number, replace=False))
    by_day = np.cumsum(np.count_nonzero(arrives, axis=1))
    days = np.searchsorted(by_day, which, side="right")
    before = np.concatenate([[0], by_day])[days]
    rooms = [
        int(np.flatnonzero(arrives[day])[place])
        for day, place in zip(days.tolist(), (which - before).tolist(), strict=True)
    ]
    return days.astype(np.int64), np.array(rooms, np.int64)
