"""Estimates from few trials against published and recomputed values, and against scipy."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy import integrate, optimize, stats

from hotelwatch.core.odds.learning.estimates import (
    all_missed,
    checks_needed,
    clopper_pearson,
    introductions,
    lowest_if_all_found,
    planted,
    trials_to_claim,
    two_inspectors,
)
from hotelwatch.core.odds.learning.occupancy import (
    Repeated,
    by_numbers,
    numbers_likelihood,
    occupancy,
)
from hotelwatch.core.odds.learning.other_route import notice_from_finds
from hotelwatch.core.odds.learning.people import people, shrunk
from hotelwatch.core.odds.learning.quantiles import beta_quantile, gamma_quantile
from hotelwatch.core.odds.learning.trials import Tally
from hotelwatch.core.problems import Refusal

CHANCES = st.floats(0.001, 0.999)


# --- quantiles, against scipy -----------------------------------------------------------------


@given(st.floats(0.5, 150.0), st.floats(0.5, 150.0), st.floats(0.001, 0.999))
@example(0.5, 0.5, 0.5)
@example(0.5, 20.5, 0.001)
@example(20.5, 0.5, 0.999)
def test_beta_quantiles_are_those_of_scipy(a, b, share):
    assert beta_quantile(share, a, b) == pytest.approx(stats.beta.ppf(share, a, b), rel=1e-8)


@given(st.floats(0.5, 60.0), st.floats(0.1, 1e6), st.floats(0.001, 0.999))
def test_gamma_quantiles_are_those_of_scipy(shape, rate, share):
    expected = stats.gamma.ppf(share, shape, scale=1.0 / rate)
    assert gamma_quantile(share, shape, rate) == pytest.approx(expected, rel=1e-8)


# --- planted trials ---------------------------------------------------------------------------


def test_25_of_200_by_jeffreys_and_by_clopper_and_pearson():
    # Source: RSurveillance 0.2.1, tests/RSurveillance.R (binom.jeffreys, binom.cp), 95 %.
    jeffreys = planted(25, 200, inside=0.95)
    assert (jeffreys.low, jeffreys.high) == pytest.approx((0.084627, 0.176126), abs=1e-6)
    exact = clopper_pearson(25, 200, inside=0.95)
    assert (exact.low, exact.high) == pytest.approx((0.082552, 0.178974), abs=1e-6)
    assert exact.value == 0.125


@pytest.mark.parametrize(("chance", "trials"), [(0.7, 9), (0.8, 14), (0.9, 29)])
def test_so_many_dummies_all_found_claim_a_chance(chance, trials):
    # 0.05^(1/n) >= s; the counts follow from this formula of zero failures, recomputed by hand.
    assert trials_to_claim(chance) == trials
    assert lowest_if_all_found(trials) >= chance > lowest_if_all_found(trials - 1)


@given(st.integers(1, 60))
def test_the_lower_bound_if_all_are_found_is_the_exact_one(trials):
    exact = clopper_pearson(trials, trials, inside=0.9)
    assert lowest_if_all_found(trials) == pytest.approx(exact.low, rel=1e-8)


@given(st.integers(1, 60).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_a_range_holds_its_value_and_more_finds_never_lower_it(case):
    found, trials = case
    here = planted(found, trials)
    assert 0.0 < here.low < here.value < here.high < 1.0
    if found < trials:
        more = planted(found + 1, trials)
        assert more.low > here.low
        assert more.high > here.high


@pytest.mark.parametrize(("found", "trials"), [(0, 0), (-1, 3), (4, 3)])
def test_impossible_counts_are_no_trials(found, trials):
    with pytest.raises(ValueError, match=str(trials)):
        planted(found, trials)


# --- repeated looks ---------------------------------------------------------------------------

SALAMANDERS = tuple(
    Repeated(found, 5)
    for found, sites in zip(range(5), (21, 12, 1, 4, 1), strict=True)
    for _ in range(sites)
)
"""39 sites, 5 visits: found 0, 1, 2, 3, 4 times at so many sites.

Source: MacKenzie et al. 2006, Occupancy Estimation and Modeling, p. 99, as in the tests of
wiqid (test-occSS0.R, test-occSSrn.R), checked there against PRESENCE.
"""


def test_occupancy_of_a_published_survey():
    fit = occupancy(SALAMANDERS)
    assert (fit.infested, fit.noticed) == pytest.approx((0.5946, 0.2587), abs=5e-5)
    assert fit.aic == pytest.approx(165.7586, abs=5e-5)
    # Standard errors: recomputed in R from the same likelihood.
    errors = (fit.infested_error, fit.noticed_error)
    assert errors == pytest.approx((0.1226, 0.0577), abs=5e-5)


def test_what_five_misses_leave_in_that_survey():
    # Derived: (39 psi - 18) / 21, since 18 of 39 sites had a find.
    fit = occupancy(SALAMANDERS)
    assert fit.infested_though_missed(5) == pytest.approx(0.24716, abs=5e-6)
    assert fit.infested_though_missed(5) == pytest.approx((39 * fit.infested - 18) / 21, abs=1e-9)


def test_numbers_decide_in_that_survey():
    # Source: wiqid, test-occSSrn.R, "the values returned by PRESENCE".
    fit = by_numbers(SALAMANDERS)
    figures = (fit.infested, fit.insects, fit.noticed_each)
    assert figures == pytest.approx((0.6810, 1.1425, 0.1475), abs=5e-5)
    assert fit.aic == pytest.approx(164.0016, abs=5e-5)
    assert fit.infested > occupancy(SALAMANDERS).infested


def plain_likelihood(rooms, infested, noticed):
    total = 0.0
    for room in rooms:
        chance = infested * noticed**room.found * (1 - noticed) ** (room.looks - room.found)
        total += math.log(chance + (0.0 if room.found else 1.0 - infested))
    return total


def test_unequal_numbers_of_looks_against_scipy():
    rooms = [Repeated(min(room.found, 2 + n % 4), 2 + n % 4) for n, room in enumerate(SALAMANDERS)]
    fit = occupancy(rooms)
    best = optimize.minimize(
        lambda x: -plain_likelihood(rooms, *(1.0 / (1.0 + math.exp(-v)) for v in x)),
        [0.0, 0.0],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-12},
    )
    expected = [1.0 / (1.0 + math.exp(-v)) for v in best.x]
    assert (fit.infested, fit.noticed) == pytest.approx(expected, abs=1e-5)
    assert fit.log_likelihood == pytest.approx(-best.fun, abs=1e-9)


def test_the_sum_over_numbers_is_the_plain_one():
    rooms = {Repeated(0, 3): 4, Repeated(2, 3): 1, Repeated(5, 5): 2}
    expected = sum(
        count
        * math.log(
            sum(
                stats.poisson.pmf(n, 1.7)
                * (1 - 0.8**n) ** room.found
                * 0.8 ** (n * (room.looks - room.found))
                for n in range(80)
            )
        )
        for room, count in rooms.items()
    )
    assert numbers_likelihood(rooms, 1.7, 0.2) == pytest.approx(expected, rel=1e-10)


@pytest.mark.parametrize(("coverage", "seen"), [(0.5, 0.39347), (1.0, 0.63212), (2.0, 0.86466)])
def test_one_look_at_poisson_numbers_is_random_search(coverage, seen):
    # Koopman's random search 1 - exp(-coverage), as explained at sarbayes.org/search-theory.
    missed = math.exp(numbers_likelihood({Repeated(0, 1): 1}, coverage / 0.25, 0.25))
    assert 1.0 - missed == pytest.approx(seen, abs=5e-6)


def test_one_look_each_tells_nothing_apart():
    with pytest.raises(Refusal, match="repeat_looks_needed"):
        occupancy([Repeated(1, 1), Repeated(0, 1)])
    with pytest.raises(Refusal, match="repeat_looks_needed"):
        by_numbers([Repeated(1, 1), Repeated(0, 1)])


def test_without_a_find_looks_tell_nothing_of_themselves():
    assert occupancy([Repeated(0, 4)] * 9) is None
    assert by_numbers([Repeated(0, 4)] * 9) is None
    # Found by every look: numbers can't be told from looking well.
    assert by_numbers([Repeated(5, 5)] * 39) is None
    assert by_numbers([Repeated(3, 5)] * 39) is None


SURVEYS = st.integers(2, 6).flatmap(
    lambda looks: st.lists(st.builds(Repeated, st.integers(0, looks), st.just(looks)), min_size=2)
)


@given(SURVEYS)
def test_shares_lie_on_the_right_side_of_the_plain_ones(rooms):
    fit = occupancy(rooms)
    with_find = [room for room in rooms if room.found]
    if not with_find:
        assert fit is None
        return
    looks = rooms[0].looks
    mean_found = sum(room.found for room in with_find) / (looks * len(with_find))
    assert len(with_find) / len(rooms) <= fit.infested + 1e-9
    assert fit.infested <= 1.0
    assert fit.noticed <= mean_found + 1e-9


@given(SURVEYS)
def test_the_closed_form_is_the_likelihoods_peak(rooms):
    fit = occupancy(rooms)
    if fit is None:
        return
    steps = (-0.02, 0.0, 0.02)
    around = [
        plain_likelihood(rooms, min(fit.infested + a, 1.0), fit.noticed + b)
        for a in steps
        for b in steps
        if fit.infested + a > 0.0 and 0.0 < fit.noticed + b < 1.0
    ]
    assert fit.log_likelihood >= max(around, default=-math.inf) - 1e-9


# --- two blind inspectors ---------------------------------------------------------------------


def test_two_inspectors_of_a_worked_example():
    # Source: Lincoln-Petersen worked example, focusedobjective.com/latent-defect; Chapman's
    # total recomputed: 6 * 5 / 3 - 1.
    both = two_inspectors(5, 4, 2)
    assert both.plain_total == 10
    assert both.total == 9
    assert (both.first_chance, both.second_chance) == (2 / 4, 2 / 5)


def test_without_a_common_find_chapmans_total_still_stands():
    both = two_inspectors(3, 2, 0)
    assert both.plain_total is None
    assert both.total == 11
    assert (both.first_chance, both.second_chance) == (0.0, 0.0)
    assert two_inspectors(0, 2, 0).second_chance is None
    with pytest.raises(ValueError, match="3"):
        two_inspectors(2, 2, 3)


# --- checks needed, looks that resemble one another -------------------------------------------


@pytest.mark.parametrize(("chance", "checks"), [(0.72, 4), (0.89, 3)])
def test_clean_checks_from_half_to_one_in_a_hundred(chance, checks):
    # 72 % brief visual, 89 % traps: Wang, Singh, Zha, Cooper 2016; the counts are recomputed.
    assert checks_needed(1.0, 0.01 / 0.99, chance) == checks


@given(CHANCES, CHANCES, st.floats(0.01, 0.99))
def test_so_many_checks_are_enough_and_one_fewer_is_not(before, after, chance):
    w0, w1 = before / (1 - before), after / (1 - after)
    needed = checks_needed(w0, w1, chance)
    assert w0 * (1 - chance) ** needed <= w1 * (1 + 1e-6)
    assert needed == 0 or w0 * (1 - chance) ** (needed - 1) > w1 * (1 - 1e-6)


def test_looks_that_resemble_one_another():
    # Recomputed: b(b+1)/((a+b)(a+b+1)) with a = .7*.7/.3, b = .3*.7/.3, and four factors.
    assert all_missed(0.7, 0.3, 2) == pytest.approx(0.153000, abs=5e-7)
    assert all_missed(0.7, 0.3, 4) == pytest.approx(0.066136, abs=5e-7)
    assert all_missed(0.7, 0.0, 2) == pytest.approx(0.09)
    assert all_missed(0.7, 0.0, 4) == pytest.approx(0.0081)


@given(CHANCES, st.floats(0.001, 0.999), st.integers(1, 12))
def test_looks_alike_lie_between_looks_apart_and_one_look(chance, alike, looks):
    missed = all_missed(chance, alike, looks)
    assert all_missed(chance, 0.0, looks) == pytest.approx((1 - chance) ** looks, rel=1e-12)
    assert all_missed(chance, 1.0, looks) == pytest.approx(1 - chance, rel=1e-12)
    assert (1 - chance) ** looks - 1e-12 <= missed <= 1 - chance + 1e-12
    # scipy's beta-binomial, none found of so many.
    a, b = chance * (1 - alike) / alike, (1 - chance) * (1 - alike) / alike
    assert missed == pytest.approx(stats.betabinom.pmf(0, looks, a, b), rel=1e-6)


# --- introductions ----------------------------------------------------------------------------


def test_a_record_without_stays_leaves_the_assumed_rate():
    rate = introductions(4.3e-5, strength=1, finds=0, stays=0)
    assert rate.value == pytest.approx(4.3e-5)
    # Gamma(1) is the exponential: quantiles -ln(1-p).
    assert rate.low == pytest.approx(-math.log(0.95) * 4.3e-5, rel=1e-9)
    assert rate.high == pytest.approx(-math.log(0.05) * 4.3e-5, rel=1e-9)


@given(st.integers(0, 30), st.floats(0, 1e6), st.floats(1e-6, 1e-3), st.floats(0.5, 5))
def test_introductions_are_gamma_as_scipy_has_it(finds, stays, assumed, strength):
    rate = introductions(assumed, strength=strength, finds=finds, stays=stays)
    belief = stats.gamma(strength + finds, scale=1 / (strength / assumed + stays))
    assert rate.value == pytest.approx(belief.mean(), rel=1e-12)
    assert (rate.low, rate.high) == pytest.approx(belief.ppf([0.05, 0.95]), rel=1e-7)


# --- finds by another route -------------------------------------------------------------------


def test_finds_move_the_assumed_notice_as_far_as_they_weigh():
    def nothing_told(_notice):
        return [1.0]

    kept = notice_from_finds(0.3, nothing_told, spread=0.7)
    assert kept.value == pytest.approx(0.3, rel=0.01)
    misses = notice_from_finds(0.3, lambda d: [math.exp(-5 * d)] * 6, spread=0.7)
    finds = notice_from_finds(0.3, lambda d: [1 - math.exp(-5 * d)] * 6, spread=0.7)
    assert misses.value < kept.value < finds.value
    assert (misses.found, misses.trials) == (6, 6)


def test_finds_against_an_integral_and_an_optimiser():
    def stories(d):
        return [math.exp(-4 * d), math.exp(-2 * d) * (1 - math.exp(-8 * d))]

    def height(x):
        told = sum(map(math.log, stories(math.exp(x))))
        return stats.norm.logpdf(x, math.log(0.3), 0.7) + told

    estimate = notice_from_finds(0.3, stories, spread=0.7)
    best = optimize.minimize_scalar(lambda x: -height(x), bounds=(-4, -0.01), method="bounded")
    assert estimate.value == pytest.approx(math.exp(best.x), rel=0.02)
    ends = (math.log(0.3) - 2.8, math.log(0.999))
    whole = integrate.quad(lambda x: math.exp(height(x)), *ends)[0]
    for bound, share in ((estimate.low, 0.05), (estimate.high, 0.95)):
        below = integrate.quad(lambda x: math.exp(height(x)), ends[0], math.log(bound))[0]
        assert below / whole == pytest.approx(share, abs=0.005)


# --- people -----------------------------------------------------------------------------------


def test_people_stand_in_alphabetical_order_and_few_trials_show_no_figure():
    tallies = {"Zoe": Tally(30, 30), "ana": Tally(2, 25), "Bo": Tally(19, 19), "Cem": Tally(9, 20)}
    shown = people(tallies, needed=20)
    assert [own.name for own in shown.own] == ["ana", "Cem", "Zoe"]
    assert shown.too_few == ("Bo",)
    assert people({"Bo": Tally(1, 19)}, needed=20).own == ()


def test_own_figures_are_drawn_towards_the_house():
    tallies = {"ana": Tally(18, 20), "bo": Tally(11, 20), "cem": Tally(40, 60)}
    own = shrunk(tallies, ["ana", "bo"])
    assert own["ana"].value < planted(18, 20).value
    assert own["bo"].value > planted(11, 20).value
    assert own["ana"].low < own["ana"].value < own["ana"].high


def test_an_own_figure_against_a_plain_sum():
    """The same belief summed by scipy over house's chance and likeness, one point at a time."""
    tallies = {"ana": Tally(18, 20), "bo": Tally(11, 20)}
    grid = [(n + 0.5) / 60 for n in range(60)]
    below = 0.0
    whole = 0.0
    own = shrunk(tallies, ["ana"])["ana"]
    for s in grid:
        for rho in grid:
            a, b = s * (1 - rho) / rho, (1 - s) * (1 - rho) / rho
            weight = math.prod(
                stats.betabinom.pmf(t.found, t.trials, a, b) for t in tallies.values()
            )
            whole += weight
            below += weight * stats.beta.cdf(own.low, a + 18, b + 2)
    assert below / whole == pytest.approx(0.05, abs=0.01)
