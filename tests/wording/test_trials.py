"""Blind trials in words: measured here or assumed, with a range, and never a certainty."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.odds.learning.estimates import planted, two_inspectors
from hotelwatch.core.odds.learning.learned import NOTICE, Learned, LearnedFigure, learned
from hotelwatch.core.odds.learning.occupancy import Repeated, by_numbers, occupancy
from hotelwatch.core.odds.learning.people import people
from hotelwatch.core.odds.learning.trials import Tally, TrialState
from hotelwatch.core.standing import Standing
from hotelwatch.wording import language
from hotelwatch.wording.trials import (
    SAYS_NOTHING,
    chance_text,
    dummy_caution,
    found_text,
    introductions_sentence,
    learned_lines,
    lifting_caution,
    notice_sentence,
    pairs_sentence,
    rate_text,
    repeats_sentence,
    standing_text,
)
from tests.build import day, house, rules

ASSUMED = rules().odds.figures.notice_deep
RATE = rules().odds.figures.introductions_per_room_year
CERTAIN = re.compile(
    r"\b(clear|certified|guaranteed|safe|free of|100 ?%|0 ?%|0\.00\b|1\.00\b)", re.IGNORECASE
)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def known(found=None, trials=20, **more) -> Learned:
    nothing = learned(house().house, day(1))
    if found is None:
        return replace(nothing, **more)
    seen = planted(found, trials)
    figure = LearnedFigure(
        NOTICE, seen.value, seen.low, seen.high, found, trials, is_enough=trials >= 20
    )
    return replace(nothing, notice=figure, by_place={"base_underside": seen}, **more)


def test_before_trials_it_says_assumed():
    said = notice_sentence(known(), ASSUMED)
    assert said == "A deep look notices one insect with chance 0.30 (0.20 to 0.45): assumed."


def test_nineteen_trials_are_told_and_the_assumption_still_counts():
    said = notice_sentence(known(14, 19), ASSUMED)
    assert "assumed" in said
    assert "So far 14 of 19 dummies found (0.55 to 0.87); from 20 on they count instead." in said


def test_twenty_trials_are_measured_here():
    said = notice_sentence(known(14, 20), ASSUMED)
    assert said.endswith("measured here: 14 of 20 dummies found (0.52 to 0.84).")
    assert "assumed" not in said


def test_a_chosen_figure_stays_and_the_trials_are_told_beside_it():
    chosen = replace(ASSUMED, value=0.4, standing=Standing.CHOSEN)
    said = notice_sentence(known(14, 20), chosen)
    assert "chance 0.40: the hotel's own choice" in said
    assert "14 of 20" in said


def test_standings_in_a_word():
    assert standing_text(ASSUMED) == "assumed"
    assert standing_text(replace(ASSUMED, standing=Standing.MEASURED)) == "measured here"
    assert standing_text(replace(ASSUMED, standing=Standing.PUBLISHED)) == "published"


@given(st.floats(0, 1))
def test_no_chance_is_ever_none_or_certain(chance):
    assert chance_text(chance) not in ("0.00", "1.00")
    assert re.fullmatch(r"(below |above )?0\.\d\d", chance_text(chance))


def test_a_rate_is_never_none():
    assert rate_text(0.00001) == "below 0.0001"
    assert rate_text(0.00456) == "0.0046"


def test_one_dummy_and_several():
    assert found_text(1, 1, 0.2, 0.995).startswith("1 of 1 dummy found (0.20 to above 0.99)")
    assert found_text(0, 2, 0.001, 0.6) == "0 of 2 dummies found (below 0.01 to 0.60)"


def test_introductions_say_how_many_cases_and_stays_are_behind_them():
    figure = LearnedFigure("x", 0.0031, 0.0066, 0.0009, 1, 40000, is_enough=True)
    said = introductions_sentence(figure, RATE)
    assert "0.0031 (0.0009 to 0.0066): measured here." in said
    assert "1 confirmed case in 40,000 stays" in said
    said = introductions_sentence(replace(figure, is_enough=False), RATE)
    assert "0.005 (0.002 to 0.01): assumed." in said


def test_what_says_nothing_is_told_apart_in_a_line_of_its_own():
    counts = dict.fromkeys(TrialState, 0) | dict.fromkeys(SAYS_NOTHING, 2)
    lines = list(learned_lines(known(14, 20, states=counts, brief=Tally(1, 3)), (ASSUMED, RATE)))
    assert sum(line.startswith("Not counted: 2 ") for line in lines) == len(SAYS_NOTHING)
    assert any("a brief look met 3 first and found 1" in line for line in lines)
    assert set(SAYS_NOTHING) == set(TrialState) - {
        TrialState.HIDDEN,
        TrialState.FOUND,
        TrialState.MISSED,
    }


def test_people_by_name_and_nobody_below_twenty():
    staff = people({"Zoe": Tally(20, 20), "Ana": Tally(3, 24), "Bo": Tally(5, 8)}, needed=20)
    lines = list(learned_lines(known(14, 20, people=staff), (ASSUMED, RATE)))
    (ana,) = (n for n, line in enumerate(lines) if line.startswith("Ana: 3 of 24"))
    (zoe,) = (n for n, line in enumerate(lines) if line.startswith("Zoe: 20 of 20"))
    assert ana < zoe
    assert any(
        "before 20 trials each: Bo." in line and "nobody is ranked" in line for line in lines
    )
    assert not any("5 of 8" in line for line in lines)


def test_looks_apart_and_repeated():
    assert "10" not in pairs_sentence(two_inspectors(3, 2, 0))
    said = pairs_sentence(two_inspectors(5, 4, 2))
    assert "5 by the first, 4 by the second, 2 by both; about 9 had something" in said
    rooms = [Repeated(0, 5)] * 21 + [Repeated(1, 5)] * 12 + [Repeated(3, 5)] * 6
    said = repeats_sentence(occupancy(rooms), by_numbers(rooms))
    assert "one look found about 0." in said
    assert "If numbers decide" in said


def test_one_find_in_many_repeated_looks_tells_no_share():
    # Its likeliest share lies at the very end, all of them, which one find can't show.
    rooms = [Repeated(0, 2)] * 40 + [Repeated(1, 2)]
    fit = occupancy(rooms)
    assert fit.infested > 0.99
    assert fit.infested_error is None
    said = repeats_sentence(fit, by_numbers(rooms))
    assert said.startswith("Rooms looked at again within days: finds are too few to tell")
    assert not any(digit in said for digit in "0123456789")


def test_no_line_can_be_quoted_as_a_certainty():
    staff = people({"Zoe": Tally(40, 40)}, needed=20)
    full = known(40, 40, people=staff, pairs=two_inspectors(3, 3, 3))
    lines = [*learned_lines(full, (ASSUMED, RATE)), dummy_caution(), lifting_caution()]
    assert len(lines) > 6
    assert not [line for line in lines if CERTAIN.search(line)]
    assert "never live or dead insects" in dummy_caution()
    assert "collect it" in dummy_caution()


def test_everything_is_marked_for_translation():
    language.use(language.PSEUDO)
    staff = people({"Zoe": Tally(40, 40), "Bo": Tally(1, 2)}, needed=20)
    full = known(14, 20, people=staff, pairs=two_inspectors(5, 4, 2))
    assert all(line.strip().startswith("[") for line in learned_lines(full, (ASSUMED, RATE)))
