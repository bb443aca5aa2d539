"""Surveys against published worked examples and reference software, source beside each value.

epiR: Stevenson, Sergeant, vignette "Design and analysis of disease surveillance programs" and
manual of R package epiR 2.0.57. RSurveillance: tests and manual of R package RSurveillance
0.2.1. freedom: Rosendal, vignette of R package freedom.
"""

from __future__ import annotations

from itertools import combinations
from math import comb, prod

import pytest
from scipy.stats import binom, hypergeom

from hotelwatch.core.odds.learning.estimates import all_missed
from hotelwatch.core.odds.surveys.survey import (
    GroupLooks,
    adjusted_risks,
    both_see,
    census_finds,
    chain_finds,
    design_number,
    effective_prevalences,
    either_sees,
    found_by_each,
    seen_by_any,
    survey_finds,
    survey_finds_about,
    survey_finds_by_group,
    survey_finds_in_many,
)
from hotelwatch.core.odds.surveys.survey_answers import Candidate, Looked
from hotelwatch.core.odds.surveys.survey_belief import (
    belief_after,
    belief_later,
    beliefs_over,
    finds_needed,
    lasting_belief,
)
from hotelwatch.core.odds.surveys.survey_choice import choose_rooms, weighted_finds
from hotelwatch.core.odds.surveys.survey_shown import seen_by_room, what_it_shows
from hotelwatch.core.odds.surveys.survey_signs import (
    SignLook,
    chance_of_signs,
    chance_of_signs_in_many,
    least_sign_survey,
)
from hotelwatch.core.odds.surveys.survey_size import (
    least_infested_found,
    least_rooms,
    least_rooms_about,
    least_rooms_by_group,
    least_rooms_if_all_seen,
    least_rooms_of_many,
    prevalence_left_out,
    rounds_needed,
)

SIGNS = SignLook(seen=0.90, silent=0.98)
RISKS, SHARES = (5, 3, 1), (0.1, 0.1, 0.8)


# --- how many rooms -----------------------------------------------------------------------


def test_how_many_of_very_many_rooms():
    # epiR vignette, example 1.
    assert least_rooms_of_many(0.05, seen=0.90, confidence=0.95) == 66


def test_how_many_by_the_usual_approximation():
    # epiR vignette and manual (rsu.sssep.rs): 5 % of 500 and of 1,000, rounded up.
    assert least_rooms_about(500, infested=25, seen=0.90, confidence=0.95) == 63
    assert least_rooms_about(1000, infested=50, seen=0.90, confidence=0.95) == 65
    # epiR manual: 20 % of 200, looks that never miss.
    assert least_rooms_about(200, infested=40, seen=1.0, confidence=0.95) == 15


@pytest.mark.parametrize(
    ("rooms", "infested", "seen", "confidence", "expected"),
    [
        # RSurveillance manual, n.hypergeo, with the output printed there (None: NA).
        *[(100, 5, 1.0, c, n) for c, n in ((0.5, 13), (0.8, 28), (0.9, 37), (0.95, 46))],
        *[(80, d, 1.0, 0.95, n) for d, n in ((1, 76), (2, 63), (5, 37), (10, 21))],
        *[(80, d, 0.8, 0.95, n) for d, n in ((1, None), (2, 78), (5, 46), (10, 26))],
        *[(n, d, 1.0, 0.95, x) for n, d, x in ((100, 1, 95), (200, 2, 156), (500, 5, 226))],
        (1000, 10, 1.0, 0.95, 259),
        (10000, 100, 1.0, 0.95, 296),
        (100, 1, 0.95, 0.95, 100),
    ],
)
def test_approximate_sizes_of_a_manual(rooms, infested, seen, confidence, expected):
    found = least_rooms_about(rooms, infested=infested, seen=seen, confidence=confidence)
    assert found == expected


# ISPM 31 (FAO/IPPC 2008), table 1: least units at 95 %, looks that never miss, by lot and by
# level of detection; from memory. The shares' rooms are rounded down, as the table's are.
ISPM_31 = {
    100: {0.05: 45, 0.02: 78, 0.01: 95},
    200: {0.05: 51, 0.02: 105, 0.01: 155, 0.005: 190},
    500: {0.05: 56, 0.02: 129, 0.01: 225, 0.005: 388},
    1000: {0.05: 57, 0.02: 138, 0.01: 258, 0.005: 450},
}


@pytest.mark.parametrize(
    ("rooms", "share", "looks"),
    [(rooms, share, looks) for rooms, row in ISPM_31.items() for share, looks in row.items()],
)
def test_exact_sizes_are_those_of_the_plant_health_standard(rooms, share, looks):
    infested = design_number(rooms, share)
    size = least_rooms(rooms, infested=infested, seen=1.0, confidence=0.95)
    assert size.looks == looks
    assert size.rounds == 1
    # scipy's hypergeometric: enough with so many, not with one fewer.
    assert size.finds == pytest.approx(hypergeom.sf(0, rooms, infested, looks), abs=1e-12)
    assert hypergeom.sf(0, rooms, infested, looks - 1) < 0.95


def test_a_share_is_rounded_down_but_to_one_at_least():
    # 5 % of 50 is 2.5: two rooms take 39 looks, three only 31 (ISPM 31's row of 50: 39, from
    # memory; both by scipy's hypergeometric).
    assert design_number(50, 0.05) == 2
    assert least_rooms(50, infested=2, seen=1.0, confidence=0.95).looks == 39
    assert least_rooms(50, infested=3, seen=1.0, confidence=0.95).looks == 31
    assert hypergeom.sf(0, 50, [2, 2, 3, 3], [39, 38, 31, 30]) == pytest.approx(
        [0.9551, 0.9461, 0.9506, 0.9418], abs=5e-5
    )
    assert design_number(30, 0.01) == 1
    # 29 % of 100 is a shade below 29 in floating point.
    assert design_number(100, 0.29) == 29


def test_the_old_formula_for_looks_that_never_miss():
    # Cannon, Roe 1982 (from memory; the same form in public code after Lane et al. 2018):
    # 44.17, 104.64, 55.11 and 449.82, rounded up.
    for rooms, infested, looks in ((100, 5, 45), (200, 4, 105), (500, 25, 56), (1000, 5, 450)):
        found = least_rooms_if_all_seen(rooms, infested=infested, confidence=0.95)
        assert found == looks


def test_how_many_by_risk_group():
    # epiR vignette, example 8: 147, of which 59, 59 and 29.
    infested = effective_prevalences(0.01, RISKS, SHARES)
    found = least_rooms_by_group(infested, (0.4, 0.4, 0.2), seen=0.95, confidence=0.95)
    assert found == (59, 59, 29)
    each = [p for p, looks in zip(infested, found, strict=True) for _ in range(looks)]
    assert found_by_each(each, [0.95] * 147) >= 0.95


def test_no_number_of_looks_that_see_nothing_is_enough():
    assert least_rooms_of_many(0.05, seen=0.0, confidence=0.95) is None
    assert least_rooms_about(100, infested=5, seen=0.0, confidence=0.95) is None
    assert least_rooms_by_group((0.1,), (1.0,), seen=0.0, confidence=0.95) is None


# --- what a survey finds ------------------------------------------------------------------


def test_what_a_survey_of_very_many_rooms_finds():
    # epiR vignette, example 4 (printed .943).
    assert survey_finds_in_many([0.95] * 300, 0.01) == pytest.approx(0.942938, abs=1e-6)
    # RSurveillance tests, sep.binom: 10, 20 … 100 looks.
    expected = [
        *(0.368994, 0.601831, 0.748753, 0.841461, 0.899961),
        *(0.936875, 0.960168, 0.974866, 0.984140, 0.989992),
    ]
    found = [survey_finds_in_many([0.9] * looks, 0.05) for looks in range(10, 101, 10)]
    assert found == pytest.approx(expected, abs=1e-6)


def test_what_a_survey_of_a_small_hotel_finds():
    # epiR vignette, example 5: one infested unit, 30 looks, herds of 80 to 100.
    expected = {80: 0.356250, 85: 0.335294, 90: 0.316667, 95: 0.300000, 100: 0.285000}
    for rooms, finds in expected.items():
        assert survey_finds([0.95] * 30, rooms=rooms, infested=1) == pytest.approx(finds, abs=1e-6)
        about = survey_finds_about([0.95] * 30, rooms=rooms, infested=1)
        assert about == pytest.approx(finds, abs=1e-6)


def test_a_census_finds_what_its_look_finds():
    # epiR manual (rsu.sep.cens) and RSurveillance tests (sep.exact).
    for infested, finds in enumerate((0.8, 0.96, 0.992, 0.9984, 0.99968), start=1):
        assert census_finds(0.8, infested) == pytest.approx(finds)
        assert survey_finds([0.8] * 30, rooms=30, infested=infested) == pytest.approx(finds)


def test_looks_that_see_differently_by_enumeration():
    # Every set of 3 infested rooms among 7, four of them looked at: .755542857.
    seen = (0.9, 0.5, 0.3, 0.7)
    missing = [*(1 - each for each in seen), 1.0, 1.0, 1.0]
    enumerated = 1 - sum(prod(chosen) for chosen in combinations(missing, 3)) / comb(7, 3)
    assert enumerated == pytest.approx(0.755542857, abs=1e-9)
    assert survey_finds(seen, rooms=7, infested=3) == pytest.approx(enumerated, abs=1e-12)


def test_exact_beside_the_approximation():
    # epiR (rsu.sep.rs) for the approximation; exact by scipy: hits hypergeometric, then misses.
    exact = survey_finds([0.8] * 100, rooms=200, infested=2)
    assert exact == pytest.approx(0.640804, abs=1e-6)
    assert exact == pytest.approx(
        1 - sum(hypergeom.pmf(hits, 200, 2, 100) * 0.2**hits for hits in range(3)), abs=1e-12
    )
    about = survey_finds_about([0.8] * 100, rooms=200, infested=2)
    assert about == pytest.approx(0.640000, abs=1e-6)


def test_a_survey_cannot_look_at_more_rooms_than_there_are():
    with pytest.raises(ValueError, match="no more rooms"):
        survey_finds([0.5] * 4, rooms=3, infested=1)
    with pytest.raises(ValueError, match="no more rooms"):
        survey_finds([0.5] * 2, rooms=3, infested=4)
    with pytest.raises(ValueError, match="At least one"):
        least_rooms(3, infested=4, seen=0.9, confidence=0.95)


def test_prevalence_left_out_by_looks_without_a_find():
    # epiR manual (rsu.pstar; printed .011).
    found = prevalence_left_out(280, seen=0.98, confidence=0.95)
    assert found == pytest.approx(0.0108592, abs=1e-7)
    assert survey_finds_in_many([0.98] * 280, found) == pytest.approx(0.95)
    assert prevalence_left_out(0, seen=0.98, confidence=0.95) == float("inf")


# --- risk groups --------------------------------------------------------------------------


def test_risks_and_prevalences_of_groups():
    # epiR manual (rsu.adjrisk, rsu.epinf), RSurveillance tests (adj.risk, epi.calc).
    assert adjusted_risks(RISKS, SHARES) == pytest.approx([3.125, 1.875, 0.625])
    found = effective_prevalences(0.02, RISKS, SHARES)
    assert found == pytest.approx([0.0625, 0.0375, 0.0125])
    assert effective_prevalences(0.9, RISKS, SHARES)[0] == 1.0


def test_what_a_survey_by_risk_group_finds():
    # epiR manual (rsu.sep.rb), RSurveillance tests (sep.rb.bin, sep.rb.hypergeo): 5 looks each.
    infested = effective_prevalences(0.1, RISKS, SHARES)
    each = [p for p in infested for _ in range(5)]
    assert found_by_each(each, [0.9] * 15) == pytest.approx(0.9430056, abs=1e-7)
    groups = [GroupLooks(rooms, 5, 0.9, p) for rooms, p in zip((10, 10, 80), infested, strict=True)]
    assert survey_finds_by_group(groups) == pytest.approx(0.9623211, abs=1e-7)


# --- checks that depend on each other, and chains -----------------------------------------


def test_two_checks_of_one_room():
    # epiR manual (rsu.dxtest): .90 and .95, in parallel and in series.
    assert either_sees(0.90, 0.95) == pytest.approx(0.995)
    assert both_see(0.90, 0.95) == pytest.approx(0.855)
    assert seen_by_any([0.90, 0.95]) == pytest.approx(0.995)


def test_two_checks_that_depend_on_each_other():
    # epiR manual (rsu.dxtest) after Dohoo, Martin, Stryhn: covariances .035 and -.001.
    assert either_sees(0.784, 0.926, covariance=0.035) == pytest.approx(0.949016)
    assert both_see(0.951, 0.979, covariance=-0.001) == pytest.approx(0.930029)
    assert either_sees(0.784, 0.926) == pytest.approx(0.984016)
    with pytest.raises(ValueError, match="so strongly"):
        both_see(0.784, 0.926, covariance=0.1)


def test_alike_looks_are_checks_that_depend_on_each_other():
    # Gardner et al. 2000: a correlation of rho between like checks is a covariance of
    # rho s (1 - s).
    covariance = 0.3 * 0.7 * 0.3
    found = either_sees(0.7, 0.7, covariance=covariance)
    assert found == pytest.approx(1 - all_missed(0.7, 0.3, 2))


def test_a_chain_of_reports():
    # epiR vignette, example 12: .1 × .2 × .9 × .99 up to the laboratory, which tests 5 of a
    # herd .98 infested at .9; then 1,000 herds of which 1 % are infested.
    laboratory = seen_by_any([0.98 * 0.9] * 5)
    unit = chain_finds([0.1, 0.2, 0.9, 0.99, laboratory])
    assert unit == pytest.approx(0.0178196, abs=1e-7)
    assert census_finds(unit, 10) == pytest.approx(0.164565, abs=1e-6)
    assert survey_finds([unit] * 1000, rooms=1000, infested=10) == pytest.approx(0.164565, abs=1e-6)


# --- signs that may be false --------------------------------------------------------------


def test_signs_that_may_be_false():
    # epiR manual (rsu.sep.rsfreecalc), RSurveillance tests (sep.freecalc, sep.bin.imperfect).
    finds = chance_of_signs(SIGNS, rooms=150, looks=30, infested=15, at_least=2)
    assert finds == pytest.approx(0.870566, abs=1e-6)
    many = chance_of_signs_in_many(SIGNS, looks=30, prevalence=0.1, at_least=2)
    assert many == pytest.approx(0.849775, abs=1e-6)
    # By scipy: hits hypergeometric, then true and false signs binomial.
    fewer = sum(
        hypergeom.pmf(hits, 150, 15, 30)
        * binom.pmf(true, hits, 0.9)
        * binom.cdf(1 - true, 30 - hits, 0.02)
        for hits in range(16)
        for true in range(2)
    )
    assert finds == pytest.approx(1 - fewer, abs=1e-10)


def test_how_many_looks_and_signs_if_signs_may_be_false():
    # epiR vignette, example 2: 221 looks, cut-point 8.
    found = least_sign_survey(SIGNS, rooms=5000, infested=250, confidence=0.95, silence=0.95)
    assert (found.looks, found.most_signs) == (221, 8)
    assert found.finds == pytest.approx(0.950093, abs=1e-6)
    assert found.stays_silent == pytest.approx(0.964896, abs=1e-6)


def test_where_signs_are_false_too_often_no_survey_is_enough():
    look = SignLook(seen=0.5, silent=0.9)
    nothing = least_sign_survey(look, rooms=100, infested=1, confidence=0.95, silence=0.95)
    assert nothing is None


def test_without_false_signs_one_sign_is_enough():
    look = SignLook(seen=0.8, silent=1.0)
    found = least_sign_survey(look, rooms=100, infested=5, confidence=0.95, silence=0.95)
    exact = least_rooms(100, infested=5, seen=0.8, confidence=0.95)
    assert (found.looks, found.most_signs) == (exact.looks, 0)
    assert found.finds == pytest.approx(exact.finds)
    with pytest.raises(ValueError, match="no more rooms"):
        chance_of_signs(look, rooms=5, looks=6, infested=1, at_least=1)


# --- belief -------------------------------------------------------------------------------


def test_beliefs_from_period_to_period():
    # epiR (rsu.pfree.rs): survey .6, .02 brought in a period, half to begin with.
    found = beliefs_over(0.5, [0.6] * 9, [0.02] * 9)
    expected = [0.706052, 0.848830, 0.925194, 0.960463, 0.975643]
    assert found[:5] == pytest.approx(expected, abs=1e-6)
    # RSurveillance tests (pfree.calc): survey .4, .01 brought in.
    expected = [
        *(0.6203008, 0.7261937, 0.8099976, 0.8709093, 0.9124970),
        *(0.9396922, 0.9569776, 0.9677666, 0.9744246, 0.9785045),
    ]
    assert beliefs_over(0.5, [0.4] * 10, [0.01] * 10) == pytest.approx(expected, abs=1e-7)


def test_where_beliefs_settle():
    # epiR manual (rsu.pfree.equ): before and after each survey; first above .986 in period 9.
    before, after = lasting_belief(0.6, 0.02)
    assert (before, after) == (pytest.approx(0.966667, abs=1e-6), pytest.approx(0.986395, abs=1e-6))
    found = beliefs_over(0.5, [0.6] * 9, [0.02] * 9)
    assert found[8] == pytest.approx(0.98609, abs=1e-5)
    assert [belief >= 0.986 for belief in found] == [False] * 8 + [True]
    assert lasting_belief(0.02, 0.6) == (0.0, 0.0)


def test_beliefs_after_a_yearly_survey():
    # freedom vignette: 500 units at .2, 1 % of them; nothing brought in before the first.
    finds = survey_finds_in_many([0.2] * 500, 0.01)
    assert finds == pytest.approx(0.6324887, abs=1e-7)
    found = beliefs_over(0.5, [finds] * 3, [0.0, 0.01, 0.01])
    assert found == pytest.approx([0.7312554, 0.8770845, 0.9472066], abs=1e-7)


def test_what_a_survey_must_find():
    # RSurveillance tests (sep.prior).
    found = [finds_needed(0.5, wanted) for wanted in (0.8, 0.9, 0.95, 0.99)]
    assert found == pytest.approx([0.75, 0.8888889, 0.9473684, 0.9898990], abs=1e-7)
    assert finds_needed(0.9, 0.8) == 0.0


def test_a_belief_of_nought_stays_nought():
    assert belief_after(0.0, 1.0) == 0.0
    assert belief_later(0.8, 0.25) == pytest.approx(0.6)


# --- when no number of rooms will do ------------------------------------------------------


def test_a_census_that_does_not_reach_says_so_and_how_many_rounds_would():
    # By hand: .2 of one room's infestations is missed each round, .04 in two.
    size = least_rooms(200, infested=1, seen=0.8, confidence=0.95)
    assert not size.is_reachable
    assert (size.looks, size.rounds) == (None, 2)
    assert size.finds == pytest.approx(0.8)
    alike = least_rooms(200, infested=1, seen=0.8, confidence=0.95, likeness=0.3)
    assert all_missed(0.8, 0.3, alike.rounds) <= 0.05
    assert all_missed(0.8, 0.3, alike.rounds - 1) > 0.05
    assert alike.rounds > 2


def test_rounds_that_nobody_would_walk_are_no_answer():
    assert rounds_needed(0.0, 3, confidence=0.95) is None
    assert rounds_needed(0.001, 1, confidence=0.95) is None
    # 1 - .95^rounds reaches .95 at 59 (58.4 rounded up).
    assert rounds_needed(0.05, 1, confidence=0.95) == 59


def test_a_census_that_just_reaches_is_enough():
    size = least_rooms(40, infested=1, seen=0.95, confidence=0.95)
    assert (size.looks, size.rounds) == (40, 1)


# --- what a survey shows ------------------------------------------------------------------


def test_what_a_survey_of_a_hotel_shows():
    looked = [Looked(str(number), 0.8) for number in range(135)]
    shown = what_it_shows(looked, rooms=250, infested=5, insects=12, confidence=0.95)
    by_scipy = [
        1 - sum(hypergeom.pmf(h, 250, d, 135) * 0.2**h for h in range(d + 1)) for d in range(1, 8)
    ]
    assert shown.finds == pytest.approx(by_scipy[4], abs=1e-12)
    least = next(d for d, finds in enumerate(by_scipy, start=1) if finds >= 0.95)
    assert shown.least_infested == least == 6
    assert not shown.is_reached
    assert shown.is_reachable
    assert (shown.lowest_seen, shown.highest_seen) == (0.8, 0.8)


def test_several_looks_at_one_room_are_one_room():
    looked = [Looked("101", 0.5), Looked("102", 0.5), Looked("101", 0.4)]
    assert seen_by_room(looked) == {"101": pytest.approx(0.7), "102": 0.5}
    shown = what_it_shows(looked, rooms=10, infested=1, insects=12, confidence=0.95)
    assert shown.looked_at == 2
    assert shown.finds == pytest.approx(0.12)
    assert shown.least_infested is None


def test_a_survey_of_no_room_shows_nothing():
    shown = what_it_shows([], rooms=10, infested=1, insects=12, confidence=0.95)
    assert shown.finds == 0.0
    assert shown.least_infested is None
    assert not shown.is_reached
    assert not shown.is_reachable


def test_from_how_many_infested_rooms_on():
    # scipy: 95 of 100 rooms at 1.0 find one of 1; 45 one of 5 and not one of 4.
    assert least_infested_found([1.0] * 95, rooms=100, confidence=0.95) == 1
    assert least_infested_found([1.0] * 45, rooms=100, confidence=0.95) == 5
    assert hypergeom.sf(0, 100, [4, 5], 45) == pytest.approx([0.9130, 0.9538], abs=5e-4)
    assert least_infested_found([1.0] * 100, rooms=100, confidence=0.95) == 1


# --- which rooms --------------------------------------------------------------------------


def test_what_tells_most_a_minute_is_looked_at_first():
    hotel = [
        Candidate("plain", seen=0.9, minutes=20),
        Candidate("quick", seen=0.9, minutes=10),
        Candidate("risky", seen=0.9, minutes=20, weight=5.0),
        Candidate("blind", seen=0.1, minutes=20),
    ]
    choice = choose_rooms(hotel, infested=1, confidence=0.65)
    assert choice.rooms == ("risky", "quick")
    assert choice.minutes == 30
    # One infested room among weights 1, 1, 5, 1: .9 × 6 / 8.
    assert choice.finds == pytest.approx(0.675)
    assert choice.is_reached


def test_equal_rooms_are_as_many_as_a_drawn_survey_takes():
    hotel = [Candidate(f"{number:03}", seen=0.8, minutes=25) for number in range(200)]
    choice = choose_rooms(hotel, infested=4, confidence=0.95)
    size = least_rooms(200, infested=4, seen=0.8, confidence=0.95)
    assert len(choice.rooms) == size.looks
    assert choice.finds == pytest.approx(size.finds)
    assert choice.rooms == tuple(f"{number:03}" for number in range(size.looks))


def test_rooms_that_cannot_be_entered_may_be_infested_all_the_same():
    hotel = [
        Candidate(str(number), seen=1.0, minutes=20, can_be_entered=number < 8)
        for number in range(10)
    ]
    choice = choose_rooms(hotel, infested=1, confidence=0.95)
    assert not choice.is_reached
    assert choice.finds == pytest.approx(0.8)
    assert choice.finds == pytest.approx(weighted_finds(hotel, infested=1))
    assert sorted(choice.rooms) == [str(number) for number in range(8)]


def test_a_room_in_which_nothing_would_be_seen_is_not_looked_at():
    hotel = [Candidate("101", seen=0.0, minutes=20), Candidate("102", seen=0.9, minutes=20)]
    choice = choose_rooms(hotel, infested=1, confidence=0.95)
    assert choice.rooms == ("102",)
    assert choice.finds == pytest.approx(0.45)


def test_a_hotel_that_cannot_be_entered_at_all():
    shut = [Candidate("101", seen=1.0, minutes=20, can_be_entered=False)]
    choice = choose_rooms(shut, infested=1, confidence=0.95)
    assert (choice.rooms, choice.minutes, choice.finds) == ((), 0, 0.0)
    assert not choice.is_reached
