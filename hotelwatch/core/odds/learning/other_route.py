"""What finds say of how well one looks: which checks had missed what was then found.

Each find tells a story of looks: clean ones that missed what was there, and perhaps the
one that found it. How likely that story is depends on how well one insect is noticed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import accumulate
from math import exp, inf, log

from hotelwatch.core.odds.learning.estimates import INSIDE, Estimate

GRID = 120
REACH = 4.0
"""So many times the spread to either side of the assumption are tried."""
NEVER_ABOVE = 0.999
"""No look notices everything."""

Stories = Callable[[float], Sequence[float]]
"""For a chance of noticing one insect: how likely each find's own story of looks was."""


def notice_from_finds(assumed: float, stories: Stories, *, spread: float) -> Estimate:
    """The chance of noticing one insect that fits the finds, with its range.

    The belief beforehand is ln d ~ Normal(ln assumed, spread); ``stories`` gives for a d
    the chances of all finds' records. **Give every find, also those that a check made**:
    finds by guests and traps alone tell only of misses, and draw the figure too low.
    The value is the likeliest one, ``found`` and ``trials`` the number of finds.
    """
    if not 0.0 < assumed < 1.0 or spread <= 0.0:
        raise ValueError((assumed, spread))
    low, high = log(assumed) - REACH * spread, min(log(assumed) + REACH * spread, log(NEVER_ABOVE))
    tried = [low + (high - low) * number / GRID for number in range(GRID + 1)]
    heights = [
        -(((x - log(assumed)) / spread) ** 2) / 2.0 + _log_likelihood(stories(exp(x)))
        for x in tried
    ]
    best = max(heights)
    if best == -inf:
        raise ValueError("no chance tried allows these finds")
    weights = [exp(height - best) for height in heights]
    below = list(accumulate(weights))
    finds = len(stories(assumed))

    def quantile(share: float) -> float:
        return exp(
            next(x for x, upto in zip(tried, below, strict=True) if upto >= share * below[-1])
        )

    tail = (1.0 - INSIDE) / 2.0
    value = exp(tried[heights.index(best)])
    return Estimate(value, quantile(tail), quantile(1.0 - tail), finds, finds)


def _log_likelihood(chances: Sequence[float]) -> float:
    return sum(log(chance) if chance > 0.0 else -inf for chance in chances)
