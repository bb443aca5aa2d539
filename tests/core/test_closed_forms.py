"""Rules of thumb against numbers worked out otherwise: sums by day, scipy's integrals, search."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, special

from hotelwatch.core.odds.cycles.closed_forms import (
    check_finds_first,
    delay_variance,
    exponential_integral,
    longest_cycle,
    mean_days_until_reported,
    mean_delay,
    mean_delay_with_guests,
    mean_size_at_check,
    mean_size_when_reported,
    median_days_until_reported,
    median_size_when_reported,
)
from hotelwatch.core.odds.cycles.cycle_classes import Fit, classes_fit, density


@pytest.mark.parametrize(
    ("cycle_days", "chance", "days"), [(90, 0.7, 83.571), (60, 0.5, 90.0), (30, 1.0, 15.0)]
)
def test_worked_values_of_the_mean_delay(cycle_days, chance, days):
    """Derived and worked out before; summed here over checks as well."""
    assert mean_delay(cycle_days, chance) == pytest.approx(days, abs=5e-4)
    checks = np.arange(400)
    waits = chance * (1 - chance) ** checks * (cycle_days / 2 + cycle_days * checks)
    assert mean_delay(cycle_days, chance) == pytest.approx(waits.sum(), rel=1e-9)


def test_worked_value_of_its_variance():
    assert delay_variance(90, 0.7) == pytest.approx(5634.18, abs=5e-3)
    checks = np.arange(400)
    share = 0.7 * 0.3**checks
    squares = share * ((90 * checks) ** 2 + 90 * checks * 90 + 90**2 / 3)
    assert delay_variance(90, 0.7) == pytest.approx(squares.sum() - mean_delay(90, 0.7) ** 2)


def test_worked_values_where_each_insect_is_reported_alike():
    assert mean_size_when_reported(0.026, 0.00032) == pytest.approx(82.25, abs=5e-3)
    assert median_size_when_reported(0.026, 0.00032) == pytest.approx(57.318, abs=5e-4)
    assert mean_days_until_reported(0.026, 0.00032) == pytest.approx(149.2326, abs=5e-5)
    assert median_days_until_reported(0.026, 0.00032) == pytest.approx(155.716, abs=5e-4)


@given(st.floats(0.01, 0.08), st.floats(1e-5, 0.02))
def test_days_until_reported_are_the_integral_of_the_chance_to_be_unreported(rate, kappa):
    unreported = lambda days: math.exp(-kappa / rate * math.expm1(rate * days))  # noqa: E731
    far = math.log1p(rate / kappa * 60.0) / rate
    expected, _ = integrate.quad(unreported, 0.0, far, limit=400)
    assert mean_days_until_reported(rate, kappa) == pytest.approx(expected, rel=1e-6)
    assert unreported(median_days_until_reported(rate, kappa)) == pytest.approx(0.5)


@given(st.floats(0.01, 0.08), st.floats(1e-5, 0.02))
def test_halving_reporting_doubles_what_is_found(rate, kappa):
    whole, half = (mean_size_when_reported(rate, kappa / by) - 1.0 for by in (1, 2))
    assert half == pytest.approx(2 * whole)


@given(st.floats(1e-6, 30.0))
def test_the_exponential_integral_is_that_of_scipy(x):
    assert exponential_integral(x) == pytest.approx(float(special.exp1(x)), rel=1e-9)


@given(st.floats(5, 400), st.floats(0.05, 1.0), st.floats(1e-4, 0.05))
def test_check_and_guest_race_as_summed_over_checks(cycle_days, chance, guest_rate):
    uniform = -math.expm1(-guest_rate * cycle_days) / (guest_rate * cycle_days)
    later = (1 - chance) * math.exp(-guest_rate * cycle_days)
    turns = math.ceil(math.log(1e-14) / math.log(later)) if later > 0 else 1
    expected = sum(chance * uniform * later**turn for turn in range(min(turns, 200_000)))
    first = check_finds_first(cycle_days, chance, guest_rate)
    assert first == pytest.approx(expected, rel=1e-7)
    delay = mean_delay_with_guests(cycle_days, chance, guest_rate)
    assert guest_rate * delay == pytest.approx(1.0 - first)


@given(st.floats(5, 400), st.floats(0.05, 0.99), st.floats(0.005, 0.06))
def test_mean_size_has_no_end_from_the_longest_cycle_on(cycle_days, chance, rate):
    size = mean_size_at_check(cycle_days, chance, rate)
    if cycle_days >= longest_cycle(chance, rate):
        assert size == math.inf
        return
    ratio = (1 - chance) * math.exp(rate * cycle_days)
    terms = np.arange(20_000)
    uniform = math.expm1(rate * cycle_days) / (rate * cycle_days)
    if ratio < 0.999:
        assert size == pytest.approx(float((chance * uniform * ratio**terms).sum()), rel=1e-6)


# --- cycles of several classes ----------------------------------------------------------------


def is_schedule(days, periods):
    """Whether one look a day, told round and round, gives each its look within its period."""
    twice = list(days) * (2 + max(periods) // len(days))
    for number, period in enumerate(periods, 1):
        looks = [day for day, who in enumerate(twice) if who == number]
        if not looks or looks[0] >= period:
            return False
        if any(later - earlier > period for earlier, later in pairwise(looks)):
            return False
    return True


def can_be_scheduled(periods):
    """By search over how long each has waited: a schedule is a walk that comes back."""
    seen, stack = set(), [tuple(0 for _ in periods)]
    states = set(stack)
    after = {}
    while stack:
        state = stack.pop()
        if state in seen:
            continue
        seen.add(state)
        after[state] = []
        for chosen in range(len(periods)):
            waits = tuple(0 if n == chosen else wait + 1 for n, wait in enumerate(state))
            if all(wait < period for wait, period in zip(waits, periods, strict=True)):
                after[state].append(waits)
                if waits not in states:
                    states.add(waits)
                    stack.append(waits)
    alive = set(after)
    while dead := {state for state in alive if not any(to in alive for to in after[state])}:
        alive -= dead
    return tuple(0 for _ in periods) in alive


@pytest.mark.parametrize(
    ("periods", "schedule"),
    [
        ((2, 4, 4), "1213"),
        ((3, 4, 5, 8), "12314213"),
        ((4, 5, 5, 7, 7), "12413521341253"),
    ],
)
def test_cycles_that_can_be_kept(periods, schedule):
    """Kawamura's page on pinwheel scheduling names the cycles; the schedules were searched."""
    assert is_schedule([int(sign) for sign in schedule], periods)
    assert can_be_scheduled(periods)
    assert classes_fit(_counted(periods)) is not Fit.TOO_MANY


@pytest.mark.parametrize("third", [6, 12, 50])
def test_two_three_and_any_third_can_not(third):
    """Known of pinwheel scheduling (from memory), searched here."""
    assert not can_be_scheduled((2, 3, third))
    assert classes_fit(_counted((2, 3, third))) is Fit.OPEN


@given(st.lists(st.integers(2, 9), min_size=2, max_size=4))
def test_what_is_said_to_fit_can_be_scheduled_and_too_many_can_not(periods):
    """The bound of 5/6 (Kawamura 2024, arXiv 2606.27104) held against a search."""
    fit = classes_fit(_counted(periods))
    if fit is Fit.OPEN:
        assert Fraction(5, 6) < density(_counted(periods)) <= 1
    else:
        assert can_be_scheduled(tuple(periods)) is (fit is Fit.FITS)


def test_more_looks_a_day_take_more_rooms():
    rooms = {90: 300, 30: 20}
    assert density(rooms) == 4
    assert classes_fit(rooms, 3) is Fit.TOO_MANY
    assert classes_fit(rooms, 4) is Fit.OPEN
    assert classes_fit(rooms, 5) is Fit.FITS


def _counted(periods):
    return {period: list(periods).count(period) for period in periods}
