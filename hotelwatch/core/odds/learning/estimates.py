"""What a handful of trials say, always with a range: pure reckoning, no record is read here.

Ranges reach from 5 to 95 % of the belief unless said otherwise: nine times in ten the
true value lies within. That share is a choice of ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, log

from hotelwatch.core.odds.learning.quantiles import beta_quantile, gamma_quantile

INSIDE = 0.9
"""Share of the belief that lies within a range."""
SURE = 0.95
"""How sure one is to be of a claim; usual, and a choice all the same."""
HALF = 0.5
JEFFREYS = 0.5
"""Half a success and half a failure seen before the first trial: Jeffreys' prior."""
ROUNDING = 1e-9
"""A count that misses a whole number by less than this is that number."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its range, and how many trials of how many it rests on."""

    value: float
    low: float
    high: float
    found: int
    trials: int


def planted(found: int, trials: int, *, inside: float = INSIDE) -> Estimate:
    """The chance that a planted dummy is found: median and range of Beta(½+k, ½+n-k).

    Source: Jeffreys' prior for a binomial share; Brown, Cai, DasGupta 2001, Statist. Sci.
    16:101-133 (from memory).
    """
    _counted(found, trials)
    a, b = JEFFREYS + found, JEFFREYS + trials - found
    tail = (1.0 - inside) / 2.0
    low, value, high = (beta_quantile(share, a, b) for share in (tail, HALF, 1.0 - tail))
    return Estimate(value, low, high, found, trials)


def clopper_pearson(found: int, trials: int, *, inside: float = INSIDE) -> Estimate:
    """The same share with its exact range, wider than any belief: for comparison.

    Source: Clopper, Pearson 1934, Biometrika 26:404-413 (from memory).
    """
    _counted(found, trials)
    tail = (1.0 - inside) / 2.0
    low = beta_quantile(tail, found, trials - found + 1) if found else 0.0
    high = beta_quantile(1.0 - tail, found + 1, trials - found) if found < trials else 1.0
    return Estimate(found / trials, low, high, found, trials)


def lowest_if_all_found(trials: int, *, sure: float = SURE) -> float:
    """Below which chance so many finds out of so many would happen too rarely to believe."""
    _counted(trials, trials)
    return float((1.0 - sure) ** (1.0 / trials))


def trials_to_claim(chance: float, *, sure: float = SURE) -> int:
    """How many dummies must be hidden, and all of them found, to claim at least a chance."""
    if not 0.0 < chance < 1.0:
        raise ValueError(chance)
    return ceil(log(1.0 - sure) / log(chance) - ROUNDING)


def checks_needed(odds_before: float, odds_after: float, chance: float) -> int:
    """How many clean checks bring odds down to others, if each finds with a chance.

    Checks are taken to miss by themselves; where one misses because the other did, more
    are needed.
    """
    if odds_before <= 0.0 or odds_after <= 0.0 or not 0.0 < chance < 1.0:
        raise ValueError((odds_before, odds_after, chance))
    if odds_after >= odds_before:
        return 0
    return ceil(log(odds_after / odds_before) / log(1.0 - chance) - ROUNDING)


def all_missed(chance: float, alike: float, looks: int) -> float:
    """The chance that so many looks all miss, if looks resemble one another.

    Beta-binomial: ``alike`` 0 means that each misses by itself, 1 that all see the same.
    """
    if looks < 1:
        return 1.0
    miss = given = 1.0 - chance
    for before in range(1, looks):
        given *= (miss * (1.0 - alike) + before * alike) / (1.0 - alike + before * alike)
    return given


@dataclass(frozen=True, slots=True)
class TwoInspectors:
    """What two blind looks at the same rooms say of both, and of how many there were."""

    first: int
    second: int
    both: int
    total: float
    """Rooms with something, by Chapman's formula."""
    plain_total: float | None
    """By the plain one of Lincoln and Petersen; None where nothing was found by both."""
    first_chance: float | None
    """Share of the second's finds that the first made too; None without such finds."""
    second_chance: float | None


def two_inspectors(first: int, second: int, both: int) -> TwoInspectors:
    """Rooms found by the first, by the second and by both, as an estimate of all there were.

    Where some rooms are easier for both, the total comes out too small and the chances too
    large. Source: Chapman 1951 (from memory).
    """
    if not 0 <= both <= min(first, second):
        raise ValueError((first, second, both))
    return TwoInspectors(
        first=first,
        second=second,
        both=both,
        total=(first + 1) * (second + 1) / (both + 1) - 1,
        plain_total=first * second / both if both else None,
        first_chance=both / second if second else None,
        second_chance=both / first if first else None,
    )


@dataclass(frozen=True, slots=True)
class Rate:
    """Introductions for each stay: mean and range of the belief."""

    value: float
    low: float
    high: float


def introductions(
    assumed: float, *, strength: float, finds: int, stays: float, inside: float = INSIDE
) -> Rate:
    """Introductions for each stay, after so many finds in so many stays.

    Gamma-Poisson: the assumed rate weighs as much as ``strength`` finds. ``stays`` are those
    of which an introduction would be known by now, so those observed times that share.
    """
    if assumed <= 0.0 or strength <= 0.0 or finds < 0 or stays < 0.0:
        raise ValueError((assumed, strength, finds, stays))
    shape, rate = strength + finds, strength / assumed + stays
    tail = (1.0 - inside) / 2.0
    low, high = (gamma_quantile(share, shape, rate) for share in (tail, 1.0 - tail))
    return Rate(shape / rate, low, high)


def _counted(found: int, trials: int) -> None:
    if trials < 1 or not 0 <= found <= trials:
        raise ValueError((found, trials))
