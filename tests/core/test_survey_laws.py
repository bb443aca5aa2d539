"""Laws of surveys: inequalities that hold of any hotel, and choices against every other one.

Maclaurin's inequality, Bayes' rule and brute enumeration stand outside the program.
"""

from __future__ import annotations

from itertools import combinations, pairwise
from math import comb, prod

import pytest
from hypothesis import assume, event, given
from hypothesis import strategies as st
from scipy.stats import hypergeom

from hotelwatch.core.odds.learning.estimates import all_missed
from hotelwatch.core.odds.surveys.survey import (
    census_finds,
    design_number,
    either_sees,
    found_by_each,
    seen_by_any,
    survey_finds,
    survey_finds_about,
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
from hotelwatch.core.odds.surveys.survey_shown import what_it_shows
from hotelwatch.core.odds.surveys.survey_signs import SignLook, chance_of_signs, least_sign_survey
from hotelwatch.core.odds.surveys.survey_size import (
    least_infested_found,
    least_rooms,
    least_rooms_about,
    rounds_needed,
)

NEAR = 1e-9
SEEN = st.floats(0.0, 1.0)
SOME = st.floats(0.05, 1.0)
CONFIDENCE = st.floats(0.05, 0.995)


@st.composite
def surveys(draw, most=12):
    """Chances of the looks, the hotel's rooms, and how many are infested."""
    seen = draw(st.lists(SEEN, min_size=1, max_size=most))
    rooms = len(seen) + draw(st.integers(0, most))
    return seen, rooms, draw(st.integers(1, rooms))


@st.composite
def equal_surveys(draw, most=80):
    rooms = draw(st.integers(1, most))
    return rooms, draw(st.integers(1, rooms)), draw(SOME)


# --- what a survey finds ------------------------------------------------------------------


@given(surveys(most=6))
def test_a_survey_finds_what_enumeration_says(survey):
    seen, rooms, infested = survey
    missing = [*(1 - each for each in seen), *[1.0] * (rooms - len(seen))]
    missed = sum(prod(chosen) for chosen in combinations(missing, infested))
    assert survey_finds(seen, rooms=rooms, infested=infested) == pytest.approx(
        1 - missed / comb(rooms, infested), abs=1e-11
    )


@given(surveys())
def test_exact_is_never_below_the_approximation(survey):
    # Maclaurin: the D-th symmetric mean is at most the mean to the power of D.
    seen, rooms, infested = survey
    exact = survey_finds(seen, rooms=rooms, infested=infested)
    about = survey_finds_about(seen, rooms=rooms, infested=infested)
    assert exact >= about - NEAR
    if infested == 1:
        assert exact == pytest.approx(about, abs=NEAR)


@given(st.integers(1, 40), SEEN, st.data())
def test_equal_looks_everywhere_make_both_the_same(rooms, seen, data):
    infested = data.draw(st.integers(1, rooms))
    exact = survey_finds([seen] * rooms, rooms=rooms, infested=infested)
    assert exact == pytest.approx(1 - (1 - seen) ** infested, abs=NEAR)
    assert exact == pytest.approx(census_finds(seen, infested), abs=NEAR)
    about = survey_finds_about([seen] * rooms, rooms=rooms, infested=infested)
    assert about == pytest.approx(exact, abs=NEAR)


@given(surveys(), st.data())
def test_more_looks_better_looks_and_more_infested_rooms_find_more(survey, data):
    seen, rooms, infested = survey
    finds = survey_finds(seen, rooms=rooms, infested=infested)
    assert 0 <= finds <= 1
    at = data.draw(st.integers(0, len(seen) - 1))
    better = [*seen[:at], data.draw(st.floats(seen[at], 1.0)), *seen[at + 1 :]]
    assert survey_finds(better, rooms=rooms, infested=infested) >= finds - NEAR
    assert survey_finds(seen[1:], rooms=rooms, infested=infested) <= finds + NEAR
    if infested < rooms:
        assert survey_finds(seen, rooms=rooms, infested=infested + 1) >= finds - NEAR
    assert census_finds(max(seen), infested) >= finds - NEAR


@given(surveys(), st.randoms())
def test_the_order_of_looks_changes_nothing(survey, dice):
    seen, rooms, infested = survey
    shuffled = dice.sample(seen, len(seen))
    assert survey_finds(shuffled, rooms=rooms, infested=infested) == pytest.approx(
        survey_finds(seen, rooms=rooms, infested=infested), abs=NEAR
    )


@given(SEEN, SEEN)
def test_two_looks_at_one_room_tell_less_than_at_two(first, second):
    together = seen_by_any([first, second])
    assert together == pytest.approx(1 - (1 - first) * (1 - second))
    assert together == pytest.approx(either_sees(first, second))
    # Two checks of the same rooms find less than their surveys put together as if apart.
    rooms, looks = 10, 5
    both = survey_finds([together] * looks, rooms=rooms, infested=1)
    apart = [survey_finds([s] * looks, rooms=rooms, infested=1) for s in (first, second)]
    assert both <= seen_by_any(apart) + NEAR
    if min(first, second) > 0.01:
        assert both < seen_by_any(apart)


@given(st.integers(1, 4000), st.floats(0.0, 1.0))
def test_the_number_asked_about_is_cautious(rooms, share):
    infested = design_number(rooms, share)
    assert 1 <= infested <= rooms
    assert infested <= max(1.0, rooms * share + NEAR)
    assert infested > rooms * share - 1


# --- how many rooms -----------------------------------------------------------------------


@given(equal_surveys(), CONFIDENCE)
def test_the_least_number_is_enough_and_one_fewer_is_not(survey, confidence):
    rooms, infested, seen = survey

    def finds(looks):
        hits = range(infested + 1)
        missed = hypergeom.pmf(hits, rooms, infested, looks) @ [(1 - seen) ** h for h in hits]
        return 1 - missed

    size = least_rooms(rooms, infested=infested, seen=seen, confidence=confidence)
    event("reachable" if size.is_reachable else "not reachable")
    if size.looks is None:
        assert finds(rooms) < confidence
        assert size.finds == pytest.approx(finds(rooms), abs=NEAR)
        assert size.rounds is None or size.rounds > 1
    else:
        assert size.finds == pytest.approx(finds(size.looks), abs=1e-8)
        assert size.finds >= confidence - 1e-8
        assert finds(size.looks - 1) < confidence + 1e-8


@given(equal_surveys(), CONFIDENCE)
def test_the_approximation_never_asks_for_fewer(survey, confidence):
    rooms, infested, seen = survey
    size = least_rooms(rooms, infested=infested, seen=seen, confidence=confidence)
    about = least_rooms_about(rooms, infested=infested, seen=seen, confidence=confidence)
    if about is not None:
        assert size.looks is not None
        assert size.looks <= about


@given(equal_surveys(), CONFIDENCE, st.data())
def test_better_looks_and_more_infested_rooms_ask_for_fewer(survey, confidence, data):
    rooms, infested, seen = survey

    def looks(infested, seen, confidence):
        size = least_rooms(rooms, infested=infested, seen=seen, confidence=confidence)
        return rooms + 1 if size.looks is None else size.looks

    usual = looks(infested, seen, confidence)
    assert looks(infested, data.draw(st.floats(seen, 1.0)), confidence) <= usual
    assert looks(data.draw(st.integers(infested, rooms)), seen, confidence) <= usual
    assert looks(infested, seen, data.draw(st.floats(confidence, 0.995))) >= usual


@given(SOME, st.integers(1, 10), CONFIDENCE, st.floats(0.0, 0.5))
def test_rounds_are_the_fewest_that_are_enough(seen, infested, confidence, likeness):
    rounds = rounds_needed(seen, infested, confidence=confidence, likeness=likeness)

    def finds(count):
        return 1 - all_missed(seen, likeness, count) ** infested

    if rounds is None:
        assert finds(1000) < confidence
    else:
        assert finds(rounds) >= confidence - NEAR
        assert finds(rounds - 1) < confidence


@given(surveys(), CONFIDENCE)
def test_what_is_shown_holds_from_the_least_number_on(survey, confidence):
    seen, rooms, infested = survey
    least = least_infested_found(seen, rooms=rooms, confidence=confidence)
    finds = [survey_finds(seen, rooms=rooms, infested=d) for d in range(1, rooms + 1)]
    enough = [d for d, found in enumerate(finds, start=1) if found >= confidence - NEAR]
    assert least == (enough[0] if enough else None)
    looked = [Looked(str(number), each) for number, each in enumerate(seen)]
    shown = what_it_shows(looked, rooms=rooms, infested=infested, insects=12, confidence=confidence)
    assert shown.is_reached == (shown.finds >= confidence - NEAR)
    if shown.is_reached:
        assert shown.is_reachable


# --- signs that may be false --------------------------------------------------------------


@given(equal_surveys(most=15), st.floats(0.5, 1.0), st.data())
def test_more_signs_are_asked_for_more_seldom(survey, silent, data):
    rooms, infested, seen = survey
    looks = data.draw(st.integers(0, rooms))
    look = SignLook(seen=seen, silent=silent)
    chances = [
        chance_of_signs(look, rooms=rooms, looks=looks, infested=infested, at_least=least)
        for least in range(looks + 2)
    ]
    assert chances[0] == 1.0
    assert chances[-1] == pytest.approx(0.0, abs=NEAR)
    assert all(more <= fewer + NEAR for fewer, more in pairwise(chances))
    if silent == 1.0 and looks:
        exact = survey_finds([seen] * looks, rooms=rooms, infested=infested)
        assert chances[1] == pytest.approx(exact, abs=NEAR)


@given(equal_surveys(most=25), st.floats(0.8, 1.0), st.floats(0.5, 0.95))
def test_a_survey_that_counts_signs_reaches_both(survey, silent, confidence):
    rooms, infested, seen = survey
    look = SignLook(seen=seen, silent=silent)
    found = least_sign_survey(
        look, rooms=rooms, infested=infested, confidence=confidence, silence=0.9
    )
    event("reached" if found else "not reached")
    if found is not None:
        assert found.stays_silent >= 0.9
        assert found.finds >= confidence - NEAR
        told = {"rooms": rooms, "looks": found.looks, "at_least": found.most_signs + 1}
        finds = chance_of_signs(look, infested=infested, **told)
        assert found.finds == pytest.approx(finds, abs=NEAR)
        silent_too = 1 - chance_of_signs(look, infested=0, **told)
        assert found.stays_silent == pytest.approx(silent_too, abs=NEAR)


# --- belief -------------------------------------------------------------------------------


@given(st.floats(0.001, 0.999), st.floats(0.0, 0.999))
def test_three_ways_to_the_same_belief(before, finds):
    after = belief_after(before, finds)
    # Odds of infested against none are multiplied by what the survey misses.
    odds = (1 - before) / before * (1 - finds)
    assert after == pytest.approx(1 / (1 + odds))
    # A filter of two states: none, silent for certain; infested, silent where missed.
    silent = before * 1.0 + (1 - before) * (1 - finds)
    assert after == pytest.approx(before / silent)
    assert belief_after(before, 0.0) == pytest.approx(before)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_belief_rises_with_the_survey_and_with_what_was_held_before(before, finds, more):
    after = belief_after(before, finds)
    assert 0 <= after <= 1 + NEAR
    assert after >= before - NEAR
    assert belief_after(before, max(finds, more)) >= after - NEAR
    if finds < 1:
        assert belief_after(max(before, more), finds) >= after - NEAR


@given(st.floats(0.01, 0.98), st.floats(0.01, 0.98))
def test_what_is_needed_is_just_enough(before, wanted):
    needed = finds_needed(before, wanted)
    assert 0 <= needed <= 1
    assert belief_after(before, needed) == pytest.approx(max(before, wanted))


@given(st.floats(0.05, 1.0), st.floats(0.0, 0.9), st.floats(0.01, 0.99))
def test_beliefs_settle_where_they_are_said_to(finds, brought_in, start):
    before, after = lasting_belief(finds, brought_in)
    if before > 0:
        assert belief_after(before, finds) == pytest.approx(after)
        assert belief_later(after, brought_in) == pytest.approx(before)
    assume(abs(finds - brought_in) > 0.05)
    periods = 2000
    last = beliefs_over(start, [finds] * periods, [brought_in] * periods)[-1]
    assert last == pytest.approx(after, abs=1e-6)


# --- which rooms --------------------------------------------------------------------------


@st.composite
def hotels(draw, alike=""):
    """A small hotel, all looks of equal minutes; ``alike`` says what its rooms share."""
    count = draw(st.integers(1, 7))
    seen = draw(st.lists(SOME, min_size=count, max_size=count))
    weights = draw(st.lists(st.floats(0.1, 10.0), min_size=count, max_size=count))
    if alike == "seen":
        seen = seen[:1] * count
    if alike == "weights":
        weights = [1.0] * count
    if alike == "order":
        seen, weights = sorted(seen), sorted(weights)
    return [
        Candidate(str(number), seen=s, minutes=20, weight=w)
        for number, (s, w) in enumerate(zip(seen, weights, strict=True))
    ]


def finds_with(hotel, looked, infested):
    """By enumeration: sets of infested rooms as likely as the product of their weights."""
    sets = list(combinations(hotel, infested))
    likely = [prod(room.weight for room in chosen) for chosen in sets]
    missed = [
        prod(1 - room.seen for room in chosen if room.room in looked) * each
        for chosen, each in zip(sets, likely, strict=True)
    ]
    return 1 - sum(missed) / sum(likely)


@given(
    st.sampled_from(["one infested", "seen", "weights", "order"]).flatmap(
        lambda alike: st.tuples(st.just(alike), hotels(alike))
    ),
    st.data(),
)
def test_with_equal_minutes_no_fewer_rooms_are_enough(drawn, data):
    alike, hotel = drawn
    infested = 1 if alike == "one infested" else data.draw(st.integers(1, len(hotel)))
    confidence = data.draw(st.floats(0.05, 0.95))
    choice = choose_rooms(hotel, infested=infested, confidence=confidence)
    event(f"{alike}, {'reached' if choice.is_reached else 'not reached'}")
    assert choice.finds == pytest.approx(finds_with(hotel, choice.rooms, infested), abs=NEAR)
    assert choice.minutes == pytest.approx(20 * len(choice.rooms))
    best = [
        max(
            finds_with(hotel, {room.room for room in looked}, infested)
            for looked in combinations(hotel, count)
        )
        for count in range(len(hotel) + 1)
    ]
    if choice.is_reached:
        # Nor does any other choice of as many rooms find more.
        assert choice.finds == pytest.approx(best[len(choice.rooms)], abs=1e-8)
        assert len(choice.rooms) <= 1 or best[len(choice.rooms) - 1] < confidence + NEAR
    else:
        assert best[-1] < confidence
        assert len(choice.rooms) == len(hotel)


@given(hotels(), st.data())
def test_a_choice_reaches_what_was_asked_or_all_rooms_do_not(hotel, data):
    infested = data.draw(st.integers(1, len(hotel)))
    confidence = data.draw(CONFIDENCE)
    choice = choose_rooms(hotel, infested=infested, confidence=confidence)
    found = finds_with(hotel, choice.rooms, infested)
    assert choice.finds == pytest.approx(found, abs=NEAR)
    assert choice.is_reached == (choice.finds >= confidence - NEAR)
    everything = weighted_finds(hotel, infested=infested)
    assert choice.is_reached == (everything >= confidence - NEAR)
    assert everything >= choice.finds - NEAR
    assert len(set(choice.rooms)) == len(choice.rooms)


@given(
    st.lists(st.tuples(SOME, st.integers(5, 60), st.floats(0.1, 10)), min_size=1, max_size=7),
    st.data(),
)
def test_with_unequal_minutes_it_is_a_room_too_much_at_the_most(rooms, data):
    hotel = [Candidate(str(n), s, m, w) for n, (s, m, w) in enumerate(rooms)]
    confidence = data.draw(CONFIDENCE)
    choice = choose_rooms(hotel, infested=1, confidence=confidence)
    assume(choice.is_reached)
    least = min(
        sum(room.minutes for room in looked)
        for count in range(1, len(hotel) + 1)
        for looked in combinations(hotel, count)
        if finds_with(hotel, {room.room for room in looked}, 1) >= confidence - NEAR
    )
    event("least minutes" if choice.minutes == least else "more")
    assert choice.minutes <= least + max(room.minutes for room in hotel)


@given(st.lists(st.tuples(SOME, st.floats(0.1, 5.0)), min_size=1, max_size=6))
def test_each_room_by_itself_finds_less_than_one_infested_for_certain(rooms):
    # Scenario trees let rooms be infested each by itself; with one infested for certain the
    # same looks find more: 1 - prod(1 - x) <= sum of x.
    hotel = [Candidate(str(n), s, 20, w) for n, (s, w) in enumerate(rooms)]
    total = sum(room.weight for room in hotel)
    each = found_by_each([room.weight / total for room in hotel], [r.seen for r in hotel])
    assert each <= weighted_finds(hotel, infested=1) + NEAR
