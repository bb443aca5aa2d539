"""Surveys in words: what is said, what is never said, and that whole sentences are translated."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from hotelwatch.core.odds.surveys.survey_answers import Looked
from hotelwatch.core.odds.surveys.survey_shown import what_it_shows
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording import language
from hotelwatch.wording.survey import (
    cannot_sentence,
    found_sentence,
    shown_lines,
    times_in_100,
)

CERTAIN = re.compile(
    r"\b(free|clear(ed)?|certified|guarantee[ds]?|bug-free|safe|proven?|proves|sure|certain(ly)?"
    r"|never|no infest\w+|100 %|0 %|100 times|0 times)(?!\w)",
    re.IGNORECASE,
)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def shown(looks, *, rooms, infested, seen, confidence=0.95):
    return {
        stance: what_it_shows(
            [Looked(str(number), each) for number in range(looks)],
            rooms=rooms,
            infested=infested,
            insects=12,
            confidence=confidence,
        )
        for stance, each in zip(Stance, seen, strict=True)
    }


# --- what a survey shows ------------------------------------------------------------------


def test_a_survey_that_reaches_what_was_asked():
    lines = list(shown_lines(shown(200, rooms=250, infested=5, seen=(0.74, 0.74, 0.74))))
    assert lines == [
        "If 5 or more of the 250 rooms had at least 12 bed bugs, this survey would have found"
        " at least one of them 98 times in 100.",
        "It says nothing about smaller infestations.",
        "What was asked for, 95 times in 100, is reached with each of the settings.",
        "It rests on: 200 of 250 rooms looked at; a look that sees 12 bed bugs 74 times in 100"
        " (assumed); each look missing by itself, and infested rooms no likelier among those not"
        " looked at (both assumed).",
    ]


def test_settings_stand_as_a_range():
    told = found_sentence(shown(150, rooms=250, infested=5, seen=(0.55, 0.7, 0.85)))
    assert told.endswith("93 times in 100 (between 86 and 97, depending on the settings).")


def test_a_survey_that_falls_short_says_from_where_on_it_holds():
    lines = list(shown_lines(shown(150, rooms=250, infested=5, seen=(0.55, 0.7, 0.85))))
    assert lines[2:4] == [
        "What was asked for, 95 times in 100, is not reached.",
        "As done, the survey reaches 95 times in 100 for 8 infested rooms or more.",
    ]
    assert len(lines) == 5


def test_where_only_the_cautious_setting_falls_short_it_is_said():
    lines = list(shown_lines(shown(240, rooms=250, infested=3, seen=(0.6, 0.7, 0.85))))
    assert lines[2:5] == [
        "With cautious settings what was asked for, 95 times in 100, is not reached.",
        "As done, the survey reaches 95 times in 100 for 4 infested rooms or more.",
        "3 infested rooms cannot be ruled out to 95 % in one round with this check, even if every"
        " room is looked at.",
    ]


def test_one_infested_room_that_no_number_of_rooms_rules_out():
    lines = list(shown_lines(shown(200, rooms=200, infested=1, seen=(0.6, 0.74, 0.85))))
    assert lines[0].startswith("If one or more of the 200 rooms had at least 12 bed bugs")
    assert (
        "One infested room cannot be ruled out to 95 % in one round with this check, even if every"
        " room is looked at." in lines
    )


def test_too_few_looks_show_nothing_of_any_number():
    lines = list(shown_lines(shown(3, rooms=250, infested=2, seen=(0.1, 0.1, 0.1))))
    assert "less than once in 100." in lines[0]
    assert "Too little was looked at to say so of any number of infested rooms." in lines
    nothing = list(shown_lines(shown(0, rooms=9, infested=1, seen=(0, 0, 0))))
    assert nothing == ["No room was looked at: this survey shows nothing."]


def test_what_was_measured_here_is_said_to_be():
    found = shown(150, rooms=250, infested=5, seen=(0.5, 0.7, 0.8))
    *_rest, assumed = shown_lines(found)
    *_rest, measured = shown_lines(found, is_measured_here=True)
    assert "50 to 80 times in 100 (assumed);" in assumed
    assert "50 to 80 times in 100 (measured here);" in measured


# --- chances ------------------------------------------------------------------------------


def test_chances_are_rounded_down_and_never_certain():
    assert times_in_100(0.9599) == "95 times in 100"
    assert times_in_100(0.29) == "29 times in 100"
    assert times_in_100(0.9999999) == times_in_100(1.0) == "99 times in 100"
    assert times_in_100(0.019) == "once in 100"
    assert times_in_100(0.0) == times_in_100(0.0099) == "less than once in 100"
    assert "ruled out to 99.9 %" in cannot_sentence(2, 0.99999)
    assert "ruled out to 99.5 %" in cannot_sentence(2, 0.995)


CHANCES = st.lists(st.floats(0.0, 1.0), min_size=3, max_size=3).map(sorted)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(1, 60), CHANCES, st.sampled_from([0.5, 0.9, 0.95, 0.999]), st.data())
def test_nobody_can_quote_a_certainty(rooms, seen, confidence, data):
    looks, infested = data.draw(st.integers(0, rooms)), data.draw(st.integers(1, rooms))
    found = shown(looks, rooms=rooms, infested=infested, seen=seen, confidence=confidence)
    lines = list(shown_lines(found))
    event("reached" if found[Stance.CAUTIOUS].is_reached else "not reached")
    for line in lines:
        assert not CERTAIN.search(line), line
        assert "{" not in line
        assert line.endswith(".")
    if looks:
        assert "It says nothing about smaller infestations." in lines
        assert any("assumed" in line for line in lines)


def test_every_sentence_goes_through_translation():
    language.use(language.PSEUDO)
    found = shown(240, rooms=250, infested=3, seen=(0.6, 0.7, 0.85))
    lines = list(shown_lines(found))
    assert len(lines) == 6
    assert all(line.startswith("[") and line.endswith("]") for line in lines)
