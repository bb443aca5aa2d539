"""Short formulas for cycles: rules of thumb, and a check on the exact sums.

Derived by us, with time as a continuous quantity; whole days add half a day to a delay.
An infestation comes in on any day of the cycle alike. Chances 0 to 1, times in days.
"""

from __future__ import annotations

import math

EULER = 0.5772156649015329
"""The Euler-Mascheroni constant."""
SERIES_UP_TO = 1.0
TERMS = 60


# --- a check that sees the same chance at any age -----------------------------------------


def mean_delay(cycle_days: float, chance: float) -> float:
    """Mean days until a check finds it; ``chance`` of each check. Half a cycle at 1."""
    return cycle_days * (1.0 / chance - 0.5)


def delay_variance(cycle_days: float, chance: float) -> float:
    """Variance of these days, in days squared."""
    return cycle_days**2 * (1.0 / 12.0 + (1.0 - chance) / chance**2)


def check_finds_first(cycle_days: float, chance: float, guest_rate: float) -> float:
    """The chance that a check finds it before a guest does, who does at a rate per day."""
    passed = math.exp(-guest_rate * cycle_days)
    mean = -math.expm1(-guest_rate * cycle_days) / (guest_rate * cycle_days)
    return chance * mean / (1.0 - (1.0 - chance) * passed)


def mean_delay_with_guests(cycle_days: float, chance: float, guest_rate: float) -> float:
    """Mean days until a check or a guest finds it."""
    return (1.0 - check_finds_first(cycle_days, chance, guest_rate)) / guest_rate


# --- growth -------------------------------------------------------------------------------


def longest_cycle(chance: float, growth_rate: float) -> float:
    """From this cycle length on the mean size at detection has no end: ln(1/(1-s)) / r."""
    return -math.log1p(-chance) / growth_rate if chance < 1.0 else math.inf


def mean_size_at_check(cycle_days: float, chance: float, growth_rate: float) -> float:
    """Mean size when a check finds it, in times of its first size; infinite for long cycles.

    So means are fragile where sizes grow, and quantiles are not.
    """
    if cycle_days >= longest_cycle(chance, growth_rate):
        return math.inf
    grown = growth_rate * cycle_days
    return chance * math.expm1(grown) / grown / (1.0 - (1.0 - chance) * math.exp(grown))


# --- found by nobody but those who meet the insects ------------------------------------------
# Each insect is reported at ``kappa`` a day; there are exp(growth_rate * days) of them. Then
# the size at detection, less 1, is exponential with mean growth_rate / kappa: whoever halves
# reporting doubles the infestation that is found.


def mean_size_when_reported(growth_rate: float, kappa: float) -> float:
    """Mean insects when somebody reports them."""
    return 1.0 + growth_rate / kappa


def median_size_when_reported(growth_rate: float, kappa: float) -> float:
    """Insects that half of the infestations reported have at most."""
    return 1.0 + growth_rate / kappa * math.log(2.0)


def mean_days_until_reported(growth_rate: float, kappa: float) -> float:
    """Mean days until somebody reports them."""
    ratio = kappa / growth_rate
    return math.exp(ratio) * exponential_integral(ratio) / growth_rate


def median_days_until_reported(growth_rate: float, kappa: float) -> float:
    """Days until half of the infestations are reported."""
    return math.log(median_size_when_reported(growth_rate, kappa)) / growth_rate


def exponential_integral(x: float) -> float:
    """E1(x), the integral of exp(-t) / t from x on, for x above 0: series, else fraction.

    Source: the usual power series and continued fraction (DLMF 6.6.2 and 6.9.1, from memory).
    """
    if x <= SERIES_UP_TO:
        terms = (-((-x) ** k) / (k * math.factorial(k)) for k in range(1, TERMS))
        return -EULER - math.log(x) + math.fsum(terms)
    tail = 0.0
    for k in range(TERMS, 0, -1):
        tail = k / (1.0 + k / (x + tail))
    return math.exp(-x) / (x + tail)
