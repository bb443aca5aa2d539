"""Odds in words: short of certainty at both ends, one or two figures, always with a range."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.odds.rows import GroupRow
from hotelwatch.core.odds.story import LastVisit, RoomStory
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.standing import Standing
from hotelwatch.wording import language
from hotelwatch.wording.odds import (
    chance_text,
    figure_text,
    hotel_lines,
    known_text,
    last_visit_lines,
    main_assumption,
    number_text,
    numbers_text,
    one_in,
    percent_text,
    range_cell,
    range_text,
    room_lines,
    times_text,
)
from tests.build import day, rules

CHANCES = st.floats(0.0, 1.0)
CERTAIN = re.compile(
    r"\b(clear|certified|guarantee\w*|bug-free|safe|never|always|impossible|certain)\b"
    r"|(?<![\d.,])0 ?%|\b100 ?%|\b10 in 10\b|\b0 in 10\b",
    re.IGNORECASE,
)
"""What a reader could quote as a certainty."""


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def three(cautious, central, optimistic):
    return {
        Stance.CAUTIOUS: cautious,
        Stance.CENTRAL: central,
        Stance.OPTIMISTIC: optimistic,
    }


def story(**more):
    plain = RoomStory(
        room="101",
        last=LastVisit(
            day(0), False, ("mattress_top",), ("base_underside",), 12, three(0.7, 0.6, 0.5)
        ),
        looks=1,
        record_from=day(-100),
        arrivals_since=3.0,
        is_expected=False,
        by_day=three(2e-5, 1e-5, 5e-6),
        window=dict.fromkeys(Stance, (day(-60), day(-2))),
        insects=three(10, 12, 14),
        treated_on=None,
        in_a_month=three(1 / 30, 1 / 90, 1 / 200),
    )
    return replace(plain, **more)


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (1 / 140, "1 in 140"),
        (1 / 143, "1 in 140"),
        (0.25, "1 in 4"),
        (0.62, "6 in 10"),
        (1 / 9_400, "1 in 9,400"),
        (1 / 10_001, "less likely than 1 in 10,000"),
        (0.0, "less likely than 1 in 10,000"),
        (0.99, "likelier than 19 in 20"),
        (1.0, "likelier than 19 in 20"),
    ],
)
def test_a_chance_in_words(chance, said):
    assert one_in(chance) == said


def test_a_chance_comes_with_the_range_of_its_settings():
    assert chance_text(three(1 / 60, 1 / 140, 1 / 400)) == "about 1 in 140 (1 in 60 to 1 in 400)"


@given(CHANCES, CHANCES, CHANCES)
def test_no_chance_reads_as_a_certainty(one, two, three_):
    for said in (
        chance_text(three(one, two, three_)),
        times_text(three(one, two, three_)),
        percent_text(one),
    ):
        assert not CERTAIN.search(said), said


@given(st.floats(1e-4, 0.34))
def test_no_more_than_two_figures(chance):
    digits = one_in(chance).removeprefix("1 in ").replace(",", "").rstrip("0")
    assert len(digits) <= 2


@given(st.floats(0.0, 5_000.0))
def test_an_expected_number_is_short_and_near(number):
    said = number_text(number)
    if number >= 0.01:
        assert abs(float(said.replace(",", "")) - number) <= 0.06 * number
    else:
        assert said == "less than 0.01"


def test_an_expected_number_with_its_range():
    assert numbers_text(three(0.6, 0.15, 0.05)) == "about 0.15 (0.05 to 0.6)"
    assert numbers_text(three(0.02, 0.001, 0.0)) == "less than 0.01 (up to 0.02)"


def test_the_hotel_says_the_expected_number_first_and_its_main_assumption():
    row = GroupRow("", 200, 2, three(0.6, 0.15, 0.05), three(0.55, 0.86, 0.95), three(1, 1, 1))
    lines = hotel_lines(row, rules().odds)
    assert lines[0] == (
        "Infested rooms that nobody knows of, expected now: about 0.15 (0.05 to 0.6), of 200."
    )
    assert "86 % (55 % to 95 %)" in lines[1]
    assert "2 rooms with confirmed finds" in lines[2]
    assert lines[-1].endswith(
        "bed bugs come into a room and stay once in 200 years (100 to 500), assumed."
    )
    assert not any(CERTAIN.search(line) for line in lines)


def test_a_measured_main_assumption_says_so():
    figure = replace(rules().odds.figures.introductions_per_room_year, standing=Standing.MEASURED)
    said = main_assumption(rules().odds.with_figures({figure.key: figure}))
    assert said.endswith("measured here.")
    assert known_text(Standing.ASSUMPTION) == "assumed"


@given(CHANCES, CHANCES, CHANCES)
def test_a_narrow_range_says_the_same_and_breaks_only_between_its_ends(
    cautious, central, optimistic
):
    chance = three(cautious, central, optimistic)
    cell = range_cell(chance)
    assert cell.replace("\u00a0", " ") == range_text(chance)
    if " to " in cell:
        assert all(" " not in end for end in cell.split(" to ") if end[0].isdigit())


def test_a_room_says_what_was_looked_at_what_was_not_and_what_would_be_missed():
    lines = room_lines(story(), three(1 / 60, 1 / 140, 1 / 400), is_found=False)
    told = "\n".join(lines)
    assert "about 1 in 140 (1 in 60 to 1 in 400)" in told
    assert "in the next 30 days, it is then about 1 in 90 (1 in 30 to 1 in 200)" in told
    assert "Nothing found on Mon 5 Jan 2026." in told
    assert "Looked at: Mattress top, piping and corners." in told
    assert "Not looked at: Underside of the box spring." in told
    several = replace(story().last, seen=("mattress_top", "bedding"))
    told_of = "\n".join(last_visit_lines(several))
    assert "Looked at: Mattress top, piping and corners; Bedding, layer by layer." in told_of
    assert "about 6 times in 10 (5 to 7) (assumed)" in told
    assert "3 stays have begun since." in told
    assert not CERTAIN.search(told)


def test_a_room_that_was_treated_says_that_survivors_are_likeliest():
    treated = story(treated_on=day(-20), window=dict.fromkeys(Stance, (day(-20), day(-20))))
    told = "\n".join(room_lines(treated, three(0.1, 0.1, 0.1), is_found=False))
    assert "outlived the treatment of Tue 16 Dec 2025" in told


def test_a_room_nobody_looked_at_and_one_with_a_find():
    told = room_lines(story(last=None), three(0.1, 0.01, 0.001), is_found=False)
    assert "Nobody has looked at this room since its record began" in told[2]
    found = room_lines(story(), three(1, 1, 1), is_found=True)
    assert found[0] == "Bed bugs were confirmed here, and no treatment since is on record."
    assert not any("Chance" in line for line in found)


def test_a_figure_shows_its_three_values():
    figures = rules().odds.figures
    assert figure_text(figures.notice_deep) == "0.3 (cautious 0.2, optimistic 0.45)"
    assert figure_text(figures.random_share) == "0.15"


def test_a_day_is_said_as_everywhere():
    lines = room_lines(story(), three(0.1, 0.1, 0.1), is_found=False)
    assert any(f"{date(2025, 11, 6):%d}".lstrip("0") + " Nov 2025" in line for line in lines)
