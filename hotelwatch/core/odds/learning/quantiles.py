"""Quantiles of beta and gamma distributions: below which value lies a share of the belief.

The distribution functions are mpmath's, which is loaded at the first call only.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, lgamma, log, log1p

NARROW = 1e-13
"""A bracket as narrow as this, against its upper end, holds one number."""
MOST_STEPS = 200


def beta_quantile(share: float, a: float, b: float) -> float:
    """The value below which a share (0 to 1) of a Beta(a, b) lies; a and b above 0."""
    from mpmath import mp

    scale = lgamma(a + b) - lgamma(a) - lgamma(b)

    def below(x: float) -> float:
        return float(mp.betainc(a, b, 0, x, regularized=True))

    def density(x: float) -> float:
        return exp(scale + (a - 1.0) * log(x) + (b - 1.0) * log1p(-x))

    return _inverted(share, below, density, (0.0, a / (a + b), 1.0))


def gamma_quantile(share: float, shape: float, rate: float) -> float:
    """The value below which a share (0 to 1) of a Gamma(shape, rate) lies; both above 0."""
    from mpmath import mp

    scale = -lgamma(shape)

    def below(x: float) -> float:
        return float(mp.gammainc(shape, 0, x, regularized=True))

    def density(x: float) -> float:
        return exp(scale + (shape - 1.0) * log(x) - x)

    high = shape + 1.0
    while below(high) < share:
        high *= 2.0
    return _inverted(share, below, density, (0.0, min(shape, high / 2.0), high)) / rate


def _inverted(
    share: float,
    below: Callable[[float], float],
    density: Callable[[float], float],
    within: tuple[float, float, float],
) -> float:
    """Where ``below`` reaches a share, ``within`` lowest, first guess and highest.

    Newton's steps, and halves wherever one would leave the bracket.
    """
    low, x, high = within
    for _ in range(MOST_STEPS):
        over = below(x) - share
        if over > 0.0:
            high = x
        else:
            low = x
        if over == 0.0 or high - low <= NARROW * high:
            break
        slope = density(x)
        step = x - over / slope if slope > 0.0 else low
        nearer = step if low < step < high else (low + high) / 2.0
        if abs(nearer - x) <= NARROW * nearer:
            return nearer
        x = nearer
    return x
