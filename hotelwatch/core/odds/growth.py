"""How many insects there are by the age of an infestation.

Nymphs and adults, eggs left out, after one mated fed female arrives. Derived from the life
table of Polanco, Brewster, Miller 2011, Insects 2:173-185; slower curves are assumptions.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hotelwatch.core.odds.settings import Setting
from hotelwatch.core.odds_figures import GrowthCurve

Floats = NDArray[np.float64]


def insects_at(growth: GrowthCurve, ages: ArrayLike, most: float) -> Floats:
    """Insects at ages in days (any shape), at most ``most``; log-linear between knots."""
    age = np.asarray(ages, dtype=np.float64)
    within = np.interp(age, growth.days, np.log(growth.insects))
    beyond = np.maximum(age - growth.days[-1], 0.0) * growth.rate
    return np.minimum(np.exp(np.minimum(within + beyond, np.log(most))), most)


def age_when(growth: GrowthCurve, insects: float) -> float:
    """The age in days at which a curve first reaches so many insects."""
    if insects >= growth.insects[-1]:
        return float(growth.days[-1] + np.log(insects / growth.insects[-1]) / growth.rate)
    return float(np.interp(np.log(insects), np.log(growth.insects), growth.days))


def ageing(setting: Setting, let: ArrayLike) -> Floats:
    """By how many days of its curve an infestation ages in a day.

    ``let`` is 1 for a night with guests, 0 for a vacant one, a share where that is not known.
    """
    share = setting.growth.let_share
    usual = share + (1.0 - share) * setting.vacant_night
    nights = np.asarray(let, dtype=np.float64)
    return (nights + (1.0 - nights) * setting.vacant_night) / usual
