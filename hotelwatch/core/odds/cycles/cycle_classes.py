"""Whether rooms of several cycles can all be looked at in time with so many looks a day.

A room with a cycle of T days wants a look in any T days that follow one another. With one
look a day this is the pinwheel problem: the sum of 1/T must not be above 1, and up to 5/6 a
schedule always exists (Kawamura 2024, STOC, arXiv 2606.27104: the density threshold
conjecture proven). Between the two it depends on the cycles: 2, 3 and any third never fit.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction

ALWAYS = Fraction(5, 6)


class Fit(StrEnum):
    """Whether cycles can be kept with the looks there are, guests and leave left aside."""

    FITS = "fits"
    OPEN = "open"
    """Neither is certain: it depends on the cycles."""
    TOO_MANY = "too_many"


def density(rooms_by_cycle: Mapping[int, int], looks_a_day: int = 1) -> Fraction:
    """The share of all looks that these rooms want, by their cycle in days."""
    wanted = sum((Fraction(rooms, days) for days, rooms in rooms_by_cycle.items()), Fraction(0))
    return wanted / looks_a_day


def classes_fit(rooms_by_cycle: Mapping[int, int], looks_a_day: int = 1) -> Fit:
    """Whether so many rooms of each cycle in days can be kept with so many looks a day.

    Looks of a day count as slots in a row, a room's cycle as that many times as many slots.
    """
    share = density(rooms_by_cycle, looks_a_day)
    if share > 1:
        return Fit.TOO_MANY
    return Fit.FITS if share <= ALWAYS else Fit.OPEN
