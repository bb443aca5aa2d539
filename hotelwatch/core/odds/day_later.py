"""The odds a day later, when nothing but the day has changed.

While nobody looks, what is known of earlier days stays as it is and one more day is added:
something was there, or else it may have come in today. That is exact, and needs none of the
record. Rooms that somebody looked at, told of or treated on that day are reckoned anew.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.record import RoomRecord
from hotelwatch.core.odds.room import Tables, room_odds
from hotelwatch.core.odds.settings import Setting


def comes_in(setting: Setting, arrivals: ArrayLike, *, pressure: ArrayLike = 0.0) -> Floats:
    """The chance that something comes into each room on one day, by stays or neighbours."""
    stays = np.asarray(arrivals, dtype=np.float64)
    none_by_stays = np.exp(stays * np.log1p(-setting.introductions_per_stay))
    kept = none_by_stays * (1.0 - np.asarray(pressure, dtype=np.float64))
    return np.asarray(1.0 - kept)


def chances_later(chances: ArrayLike, coming: ArrayLike) -> Floats:
    """Each room's chance a day later, by the chance that something comes in on that day.

    Exact while no evidence falls on it. A confirmed find stays one. Where silence of
    bed-making counts, it is never too low: silence only lowers.
    """
    before = np.asarray(chances, dtype=np.float64)
    return np.asarray(before + (1.0 - before) * np.asarray(coming, dtype=np.float64))


def day_later(
    chances: ArrayLike, coming: ArrayLike, *, anew: Mapping[int, RoomRecord], tables: Tables
) -> Floats:
    """The same with some rooms reckoned from their records of that day, by number of room."""
    later = chances_later(chances, coming)
    for number, record in anew.items():
        later[number] = room_odds(record, tables).chance
    return later
