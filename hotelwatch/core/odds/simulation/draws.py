"""Draws by key: the same key and purpose give the same number, in whatever order they are asked.

So two house rules meet the same luck where they meet the same infestation, although what
happened before it differs.

Source: the mixing function of G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom
number generators, OOPSLA 2014 (constants from memory; a published output checks them).
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hotelwatch.core.odds.growth import Floats

Keys = NDArray[np.uint64]

STEP = np.uint64(0x9E3779B97F4A7C15)
FIRST_FACTOR = np.uint64(0xBF58476D1CE4E5B9)
SECOND_FACTOR = np.uint64(0x94D049BB133111EB)
FIRST_SHIFT, SECOND_SHIFT, LAST_SHIFT = np.uint64(30), np.uint64(27), np.uint64(31)
LOW_BITS = np.uint64(11)
OF_BITS = 2.0**-53


class Purpose(IntEnum):
    """What a draw of an infestation decides."""

    PLACE = 0
    DEEP_LOOK = 1
    GLANCE = 2
    GUEST = 3
    TRAP = 4
    TREATMENT = 5
    SURVIVORS = 6
    MOVED_ALONG = 7
    MOVED_WHERE = 8
    MOVED = 9
    EDGE = 16
    """The first of one for each neighbour; the key of who is infested comes ``CHILD`` later."""
    CHILD = 4096
    AGAIN = 8192


def mixed(keys: ArrayLike, number: ArrayLike) -> Keys:
    """A new key from each key and number."""
    steps = np.asarray(number, dtype=np.uint64) + np.uint64(1)
    with np.errstate(over="ignore"):
        value = np.asarray(keys, dtype=np.uint64) + steps * STEP
        value = (value ^ (value >> FIRST_SHIFT)) * FIRST_FACTOR
        value = (value ^ (value >> SECOND_SHIFT)) * SECOND_FACTOR
        return np.asarray(value ^ (value >> LAST_SHIFT), dtype=np.uint64)


def uniform(keys: ArrayLike, number: ArrayLike) -> Floats:
    """A number above 0 and below 1 for each key and purpose."""
    bits = mixed(keys, number) >> LOW_BITS
    return np.asarray((bits.astype(np.float64) + 0.5) * OF_BITS)


def waiting(keys: ArrayLike, number: ArrayLike) -> Floats:
    """How much hazard something endures before it happens: exponential with mean 1."""
    return np.asarray(-np.log(uniform(keys, number)))


def year_key(seed: int, year: int) -> Keys:
    """The key of a hotel-year: the same whichever years are run beside it."""
    return np.asarray(np.random.SeedSequence([seed, year]).generate_state(1, np.uint64), np.uint64)


def year_generator(seed: int, year: int, part: int) -> np.random.Generator:
    """A generator of its own for each part of each hotel-year."""
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, year, part])))
