"""Sums over rooms, against enumeration, scipy's distributions and plain fractions."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, product
from math import comb, prod

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, hypergeom, poisson_binom

from hotelwatch.core.odds.counting import (
    all_rooms_missed,
    all_rooms_missed_by_weight,
    chance_of_at_most,
    chance_of_none,
    expected_rooms,
    hit_chances,
    last_infested,
    number_chances,
)

CHANCES = st.floats(0.0, 1.0, allow_nan=False)
ROOMS = st.lists(CHANCES, min_size=1, max_size=9)
WEIGHTS = st.floats(0.01, 100.0)


def symmetric(values, degree):
    """The elementary symmetric sum, by enumeration."""
    return sum(prod(chosen) for chosen in combinations(values, degree))


# --- how many rooms are infested ----------------------------------------------------------


def test_three_rooms_by_hand():
    # Poisson-binomial of .1 .2 .3, reckoned by hand: .9 × .8 × .7 = .504 and so on.
    assert number_chances([0.1, 0.2, 0.3]) == pytest.approx([0.504, 0.398, 0.092, 0.006])
    assert chance_of_none([0.1, 0.2, 0.3]) == pytest.approx(0.504)
    assert chance_of_at_most([0.1, 0.2, 0.3], 1) == pytest.approx(0.902)
    assert expected_rooms([0.1, 0.2, 0.3]) == pytest.approx(0.6)


@given(ROOMS)
def test_numbers_are_those_of_every_possible_hotel(chances):
    found = [0.0] * (len(chances) + 1)
    for hotel in product((0, 1), repeat=len(chances)):
        found[sum(hotel)] += prod(
            p if there else 1 - p for p, there in zip(chances, hotel, strict=True)
        )
    assert number_chances(chances) == pytest.approx(found, abs=1e-12)


@given(st.lists(CHANCES, min_size=1, max_size=60))
def test_sum_mean_variance_and_none(chances):
    found, numbers = number_chances(chances), np.arange(len(chances) + 1)
    mean = float(found @ numbers)
    assert found.sum() == pytest.approx(1.0, abs=1e-12)
    assert mean == pytest.approx(expected_rooms(chances), abs=1e-9)
    variance = float(found @ (numbers - mean) ** 2)
    assert variance == pytest.approx(sum(p * (1 - p) for p in chances), abs=1e-9)
    assert chance_of_none(chances) == pytest.approx(prod(1 - p for p in chances), abs=1e-12)
    assert found[0] == pytest.approx(chance_of_none(chances), abs=1e-12)


@given(st.lists(CHANCES, min_size=1, max_size=40), st.integers(-1, 41))
def test_at_most_agrees_with_scipy_and_with_the_whole_sum(chances, most):
    # scipy.stats.poisson_binom, an independent way (Fourier transform).
    assert chance_of_at_most(chances, most) == pytest.approx(
        poisson_binom(chances).cdf(most), abs=1e-9
    )
    cut = max(most, 0)
    assert number_chances(chances, most=cut) == pytest.approx(
        number_chances(chances)[: cut + 1], abs=1e-12
    )


def test_equal_chances_are_binomial_in_a_hotel_of_thousands():
    found = number_chances([0.03] * 5000)
    assert found == pytest.approx(binom.pmf(np.arange(5001), 5000, 0.03), abs=1e-13)
    # Tails keep their relative precision: nothing is subtracted.
    assert found[0] == pytest.approx(0.97**5000, rel=1e-9)
    assert found[400] == pytest.approx(binom.pmf(400, 5000, 0.03), rel=1e-9)


def test_certain_and_impossible_rooms():
    assert chance_of_none([0.2, 1.0]) == 0.0
    assert chance_of_none([]) == 1.0
    assert number_chances([1.0, 0.0, 1.0]) == pytest.approx([0, 0, 1, 0])
    assert number_chances([]) == pytest.approx([1.0])


# --- how likely a survey misses them all --------------------------------------------------


@given(st.integers(1, 60), st.data())
def test_hits_are_hypergeometric(rooms, data):
    looks, infested = data.draw(st.integers(0, rooms)), data.draw(st.integers(0, rooms))
    expected = hypergeom.pmf(np.arange(infested + 1), rooms, infested, looks)
    found = hit_chances(rooms, looks=looks, infested=infested)
    assert found == pytest.approx(expected, abs=1e-10)


@given(ROOMS, st.integers(0, 4))
def test_missing_all_is_the_ratio_of_symmetric_sums(missing, unseen):
    rooms = len(missing) + unseen
    everywhere = [*missing, *[1.0] * unseen]
    expected = [symmetric(everywhere, k) / comb(rooms, k) for k in range(rooms + 1)]
    assert all_rooms_missed(missing, rooms=rooms, most=rooms) == pytest.approx(expected, abs=1e-12)


@given(st.lists(st.tuples(WEIGHTS, CHANCES), min_size=1, max_size=8), st.data())
def test_by_weight_it_is_the_ratio_of_weighted_sums(rooms, data):
    infested = data.draw(st.integers(1, len(rooms)))
    looked = data.draw(st.integers(0, len(rooms)))
    weights = [weight for weight, _ in rooms]
    missing = [missed for _, missed in rooms[len(rooms) - looked :]]
    everywhere = [*[1.0] * (len(rooms) - looked), *missing]
    thinned = [w * q for w, q in zip(weights, everywhere, strict=True)]
    found = all_rooms_missed_by_weight(missing, last_infested(weights, infested))
    assert found == pytest.approx(
        symmetric(thinned, infested) / symmetric(weights, infested), abs=1e-9
    )


def test_nothing_overflows_where_plain_sums_do():
    # C(5000, 2500) has 1,504 digits, far above what a float holds; by fractions it is exact.
    rooms, looks, infested = 5000, 2000, 2500
    found = all_rooms_missed([0.5] * looks, rooms=rooms, most=infested)[infested]
    expected = sum(
        Fraction(comb(looks, hits) * comb(rooms - looks, infested - hits), 2**hits)
        for hits in range(looks + 1)
    ) / comb(rooms, infested)
    assert found == pytest.approx(float(expected), rel=1e-9)


def test_weights_of_any_scale_give_the_same():
    rng = np.random.default_rng(7)
    weights, missing = rng.uniform(0.5, 5, 300), rng.uniform(0, 1, 120)
    found = all_rooms_missed_by_weight(missing, last_infested(weights, 4))
    for scale in (1e-200, 1e200):
        scaled = all_rooms_missed_by_weight(missing, last_infested(weights * scale, 4))
        assert scaled == pytest.approx(found, rel=1e-10)
    equal = all_rooms_missed_by_weight(missing, last_infested(np.ones(300), 4))
    assert equal == pytest.approx(all_rooms_missed(missing, rooms=300, most=4)[4], rel=1e-12)
