"""How likely one look sees an infestation, by where it sits and how large it is.

Search effort spread over the insects (Koopman's coverage, as in the theory of search);
clumped insects are missed together (the negative binomial form of Green and Young 1993);
a cap for misses that have nothing to do with numbers.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.settings import Look, Setting

RANDOM_FROM = 1e6
"""From this clumping number on insects count as spread at random: the limit 1 - exp(-C)."""


def chance_seen(
    setting: Setting, look: Look, insects: ArrayLike, *, shares: Sequence[float] | None = None
) -> Floats:
    """The chance that a look sees something, by main place and number of insects.

    Shape (places, len(insects)). ``shares`` are those of the room's beds; else the usual ones.
    """
    share = np.asarray(setting.shares if shares is None else shares, dtype=np.float64)
    seen = np.asarray(look.seen, dtype=np.float64)
    mean_seen = float(share @ seen)
    per_insect = (1.0 - setting.away_share) * seen + setting.away_share * mean_seen
    coverage = look.notice * np.multiply.outer(per_insect, np.asarray(insects, dtype=np.float64))
    return setting.highest_chance * at_least_one(coverage, setting.clumping)


def at_least_one(coverage: ArrayLike, clumping: float) -> Floats:
    """The chance of at least one success at a mean number of them, clumped or at random."""
    mean = np.asarray(coverage, dtype=np.float64)
    if clumping >= RANDOM_FROM:
        return -np.expm1(-mean)
    return -np.expm1(-clumping * np.log1p(mean / clumping))


def mean_chance_seen(
    setting: Setting, look: Look, insects: ArrayLike, *, shares: Sequence[float] | None = None
) -> Floats:
    """The same over all places, weighted by how likely each is the main one."""
    share = np.asarray(setting.shares if shares is None else shares, dtype=np.float64)
    return np.asarray(share @ chance_seen(setting, look, insects, shares=shares))


def guest_notices(setting: Setting, insects: Floats) -> Floats:
    """The chance that a guest of one night reports so many insects, assumed in shape and size."""
    if not setting.guest_most:
        return np.zeros_like(insects)
    share = setting.guest_notices * insects / setting.guest_most
    return setting.guest_most * -np.expm1(-share)
