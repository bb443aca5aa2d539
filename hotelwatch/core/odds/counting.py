"""How many rooms are infested: exact sums over rooms, each with its own chance.

Two questions stand behind every statement for a hotel. Each room has its chance: how many
rooms is that, and how likely is none (the Poisson-binomial distribution)? So many rooms are
infested, nobody knows which: how likely does a survey miss every one of them?

The second is a ratio of elementary symmetric sums. Such sums overflow at a few hundred
rooms; here every step mixes two numbers between 0 and 1, so nothing overflows or cancels.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def expected_rooms(chances: Sequence[float] | Floats) -> float:
    """How many infested rooms to expect: the sum of the rooms' chances."""
    return math.fsum(chances)


def chance_of_none(chances: Sequence[float] | Floats) -> float:
    """How likely no room is infested, given each room's chance, 0 to 1."""
    given = np.asarray(chances, dtype=np.float64)
    if (given >= 1.0).any():
        return 0.0
    return float(np.exp(np.log1p(-given).sum()))


def number_chances(chances: Sequence[float] | Floats, *, most: int | None = None) -> Floats:
    """How likely 0, 1, 2 … rooms are infested, up to ``most`` or to all of them.

    Exact: one room after the other is added. Entries sum to 1 when ``most`` is not given.
    """
    given = np.asarray(chances, dtype=np.float64)
    last = len(given) if most is None else min(most, len(given))
    found = np.zeros(last + 1)
    found[0] = 1.0
    for so_far, chance in enumerate(given.tolist()):
        top = min(so_far + 1, last)
        moved = found[:top] * chance
        found[: top + 1] *= 1.0 - chance
        found[1 : top + 1] += moved[:top]
    return found


def chance_of_at_most(chances: Sequence[float] | Floats, most: int) -> float:
    """How likely no more than ``most`` rooms are infested, 0 to 1."""
    if most < 0:
        return 0.0
    if most >= len(chances):
        return 1.0
    return min(1.0, math.fsum(number_chances(chances, most=most)))


def hit_chances(rooms: int, *, looks: int, infested: int) -> Floats:
    """How likely 0, 1, 2 … of the infested rooms are among those looked at.

    The hypergeometric distribution, built by placing one infested room after the other.
    """
    found = np.zeros(infested + 1)
    found[0] = 1.0
    hits = np.arange(infested + 1)
    for placed in range(infested):
        left = rooms - placed
        inside = np.clip((looks - hits) / left, 0.0, 1.0)
        moved = found * inside
        found = found * (1.0 - inside)
        found[1:] += moved[:-1]
    return found


def all_rooms_missed(missing: Sequence[float] | Floats, *, rooms: int, most: int) -> Floats:
    """How likely a survey misses every infested room, if there are 0, 1 … ``most`` of them.

    ``missing`` holds, for each room looked at, the chance that its look misses; the other
    rooms of the hotel are not looked at. Every set of infested rooms is as likely as any
    other: entry D is e_D(q) / C(rooms, D). Needs len(missing) <= rooms, most <= rooms.
    """
    found = np.ones(most + 1)
    numbers = np.arange(1, most + 1)
    unseen = rooms - len(missing)
    for so_far, missed in enumerate(np.asarray(missing, dtype=np.float64).tolist(), start=1):
        last_one = np.minimum(numbers / (unseen + so_far), 1.0)
        found[1:] += last_one * (missed * found[:-1] - found[1:])
    return found


def last_infested(weights: Sequence[float] | Floats, most: int) -> Floats:
    """How likely each room is infested, if k of those up to it are; array (rooms, most).

    A set of infested rooms is as likely as the product of its rooms' weights. Column k - 1
    is for k infested rooms. Weights are above 0; their scale does not matter.
    """
    given = np.asarray(weights, dtype=np.float64)
    given = given / given.mean()
    found = np.ones((len(given), most))
    ratio = np.zeros(most)
    for so_far, weight in enumerate(given.tolist()):
        found[so_far] = weight / (weight + ratio)
        grown = ratio + weight
        ratio[1:] = ratio[:-1] * (grown[1:] / grown[:-1])
        ratio[0] = grown[0]
    return found


def all_rooms_missed_by_weight(missing: Sequence[float] | Floats, last: Floats) -> float:
    """How likely a survey misses every infested room, if rooms differ in their weights.

    ``last`` is what ``last_infested`` says of the hotel's rooms, in an order in which those
    looked at come last; ``missing`` are their looks' chances to miss, in that order.
    """
    most = last.shape[1]
    found = np.ones(most + 1)
    rows = last[len(last) - len(missing) :]
    for missed, row in zip(np.asarray(missing, dtype=np.float64).tolist(), rows, strict=True):
        found[1:] += row * (missed * found[:-1] - found[1:])
    return float(found[most])
