"""Surveys in words: what is said, what is never said, and that whole sentences are translated."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from hotelwatch.core.odds.survey_answers import Candidate, Looked, SurveyChoice
from hotelwatch.core.odds.survey_choice import choose_rooms
from hotelwatch.core.odds.survey_shown import what_it_shows
from hotelwatch.core.odds.survey_size import least_rooms
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording import language
from hotelwatch.wording.survey import (
    cannot_sentence,
    choice_sentence,
    found_sentence,
    rounds_sentence,
    shown_lines,
    size_lines,
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


def sizes(rooms, *, infested, seen, confidence=0.95):
    return {
        stance: least_rooms(rooms, infested=infested, seen=each, confidence=confidence)
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
        "As done, the survey reaches 95 times in 100 for 6 infested rooms or more.",
    ]
    assert len(lines) == 5


def test_where_only_the_cautious_setting_falls_short_it_is_said():
    lines = list(shown_lines(shown(240, rooms=250, infested=3, seen=(0.6, 0.7, 0.85))))
    assert lines[2:6] == [
        "With cautious settings what was asked for, 95 times in 100, is not reached.",
        "As done, the survey reaches 95 times in 100 for 4 infested rooms or more.",
        "3 infested rooms cannot be ruled out to 95 % in one round with this check, even if every"
        " room is looked at.",
        "2 rounds through every room would be enough, if each look misses by itself (assumed).",
    ]


def test_one_infested_room_that_no_number_of_rooms_rules_out():
    lines = list(shown_lines(shown(200, rooms=200, infested=1, seen=(0.6, 0.74, 0.85))))
    assert lines[0].startswith("If one or more of the 200 rooms had at least 12 bed bugs")
    assert (
        "One infested room cannot be ruled out to 95 % in one round with this check, even if every"
        " room is looked at." in lines
    )
    assert (
        "3 rounds through every room would be enough, if each look misses by itself (assumed)."
        in lines
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


# --- what a survey takes ------------------------------------------------------------------


def test_how_many_rooms_to_look_at():
    (line,) = size_lines(sizes(200, infested=4, seen=(1.0, 1.0, 1.0)), insects=12)
    # 105: ISPM 31, table 1 (200 units, 2 %), from memory.
    assert line == (
        "To find at least one 95 times in 100, if 4 or more of the 200 rooms had at least 12 bed"
        " bugs: look at 105 rooms, drawn at random."
    )


def test_how_many_rooms_is_a_range_over_the_settings():
    (line,) = size_lines(sizes(250, infested=5, seen=(0.6, 0.74, 0.97)), insects=12)
    assert "look at 152 rooms (116 to 188, depending on the settings), drawn" in line


def test_what_cautious_settings_make_impossible_is_said():
    lines = list(size_lines(sizes(250, infested=5, seen=(0.4, 0.74, 0.97)), insects=12))
    assert lines[1:] == [
        "With cautious settings no number of rooms is enough.",
        "5 infested rooms cannot be ruled out to 95 % in one round with this check, even if every"
        " room is looked at.",
        "Looking at every room once finds at least one 92 times in 100.",
        "2 rounds through every room would be enough, if each look misses by itself (assumed).",
    ]


def test_where_no_number_is_enough_none_is_named():
    lines = list(size_lines(sizes(250, infested=1, seen=(0.6, 0.74, 0.85)), insects=12))
    assert lines == [
        cannot_sentence(1, 0.95),
        "Looking at every room once finds at least one 74 times in 100.",
        "3 rounds through every room would be enough, if each look misses by itself (assumed).",
    ]
    lines = list(size_lines(sizes(250, infested=1, seen=(0.6, 0.74, 0.97)), insects=12))
    assert lines[-1] == "With optimistic settings 245 rooms drawn at random would be enough."
    assert rounds_sentence(None) == "Nor do more rounds help: this check sees too little."


def test_a_choice_of_rooms():
    hotel = [Candidate(str(number), seen=0.9, minutes=20.5) for number in range(10)]
    enough = choose_rooms(hotel, infested=3, confidence=0.9)
    assert choice_sentence(enough) == "6 rooms, 2 h 3 min, find at least one 93 times in 100."
    short = choose_rooms(hotel[:9], infested=1, confidence=0.95)
    assert choice_sentence(short) == (
        "All 9 rooms that can be entered, 3 h 5 min, find at least one 90 times in 100; what was"
        " asked for, 95 times in 100, is not reached."
    )
    none = SurveyChoice((), 0.0, 0.0, infested=1, confidence=0.95, is_reached=False)
    assert choice_sentence(none) == "No room can be entered: nothing can be looked at."


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
    needed = sizes(rooms, infested=infested, seen=seen, confidence=confidence)
    hotel = [Candidate(str(n), seen=seen[0], minutes=20) for n in range(rooms)]
    choice = choose_rooms(hotel, infested=infested, confidence=confidence)
    lines = [*shown_lines(found), *size_lines(needed, insects=12), choice_sentence(choice)]
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
    needed = sizes(250, infested=5, seen=(0.4, 0.74, 0.97))
    lines = [*shown_lines(found), *size_lines(needed, insects=12)]
    assert len(lines) == 12
    assert all(line.startswith("[") and line.endswith("]") for line in lines)
