"""What a simulated hotel says: intervals, where none shows, and never a certainty."""

from __future__ import annotations

import re
from dataclasses import replace
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.odds.simulation.measures import (
    CalibrationRow,
    Comparison,
    Estimate,
    Measure,
    MeasureRow,
    OfFinds,
)
from hotelwatch.core.odds.simulation.policies import RINGS
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording import language
from hotelwatch.wording.simulation import (
    FIRST_SAID,
    between_text,
    calibration_cells,
    calibration_lines,
    change_lines,
    change_text,
    measure_cells,
    measure_text,
    mind_lines,
    rests_on_lines,
    rule_lines,
)
from tests.build import rules
from tests.core.simulations import house_rule

CERTAIN = re.compile(
    r"\b(clear|certified|guarantee\w*|bug-free|safe|never|always|sure)\b|100 ?%|\b0 ?%"
)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def each(told):
    return dict.fromkeys(Stance, told)


def compared(change, *, years=300):
    some = Estimate(50.0, 40.0, 60.0)
    rows = [
        *(MeasureRow(m, each(some), each(some), each(change)) for m in Measure),
        *(MeasureRow(m, each(some), each(None), {}) for m in OfFinds),
    ]
    return Comparison(years, tuple(rows))


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (Estimate(70.6, 60.9, 80.3), "between 61 and 80"),
        (Estimate(1.42, 1.2287, 1.61128), "between 1.2 and 1.6"),
        (Estimate(12345, 12340, 12350), "about 12,000"),
        (Estimate(12345, 11900, 12900), "between 12,000 and 13,000"),
        (Estimate(0.02, -0.01, 0.05), "up to 0.05"),
        (Estimate(0.0, 0.0, 0.01), "up to 0.01"),
        (Estimate(0.0, 0.0, 0.0), "less than 0.01"),
        (Estimate(20.0, 15.0, inf), "15 or more"),
        (Estimate(1.0, 0.0, inf), "too few to say"),
        (None, "nothing was found"),
    ],
)
def test_a_figure_is_told_by_its_interval(told, said):
    assert between_text(told) == said


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (Estimate(-40, -60, -20), "between 20 and 60 less"),
        (Estimate(40, 20, 60), "between 20 and 60 more"),
        (Estimate(0, -3, 12), "no change that shows (−3 to 12)"),
        (Estimate(0, 0, 0), "no change that shows"),
        (Estimate(0, -0.004, 0.02), "no change that shows (0 to 0.02)"),
        (Estimate(5, -inf, inf), "too few hotel-years to say"),
    ],
)
def test_a_change_is_told_only_where_it_shows(told, said):
    assert change_text(told) == said


@given(st.floats(-1e6, 1e6), st.floats(0, 1e6))
def test_more_or_less_is_said_only_of_what_lies_on_one_side(value, half):
    said = change_text(Estimate(value, value - half, value + half))
    assert said.endswith("more") == (value - half > 0)
    assert said.endswith("less") == (value + half < 0)


def test_every_measure_has_its_words():
    said = [measure_text(measure) for measure in (*Measure, *OfFinds)]
    assert len(set(said)) == len(said)
    assert all(text[0].isupper() or text[0].isdigit() for text in said)


def test_cells_stand_side_by_side():
    row = compared(Estimate(-5, -8, -2)).row(Measure.FINDS)
    assert measure_cells(row, Stance.CENTRAL) == (
        "Finds",
        "between 40 and 60",
        "between 40 and 60",
        "between 2 and 8 less",
    )
    finds = compared(Estimate(0, 0, 0)).row(OfFinds.MIDDLE_INSECTS)
    assert measure_cells(finds, Stance.CENTRAL)[2:] == ("nothing was found", "–")
    alone = replace(row, tried={}, change={})
    assert measure_cells(alone, Stance.CAUTIOUS) == ("Finds", "between 40 and 60")


def test_changes_name_their_setting():
    lines = list(change_lines(compared(Estimate(-5, -8, -2)), Stance.CAUTIOUS))
    assert len(lines) == len(FIRST_SAID)
    assert lines[3] == "Hours of one person a year, cautious settings: between 2 and 8 less."


def test_a_rule_says_what_is_done():
    lines = list(rule_lines(house_rule(ring=RINGS["walls"], follow_ups=1)))
    assert lines[0].startswith("A look every 90 days: dust cover opened, headboard off")
    assert lines[1] == "All teams together have 800 minutes a week for it."
    assert "within 1 day: shares a wall, connecting door, same suite." in lines[2]
    assert lines[3] == "A room is closed until 1 follow-up, 7 days after the treatment."
    assert "no neighbour" in list(rule_lines(house_rule(ring=())))[2]
    assert list(rule_lines(house_rule(follow_ups=0)))[3].startswith("After a treatment nobody")


def test_looking_has_its_cautions():
    assert any("two people" in line for line in mind_lines(house_rule()))


@pytest.mark.parametrize("own", [True, False])
def test_what_it_rests_on_is_called_assumed_and_nothing_is_certain(own):
    told = compared(Estimate(-5, -8, -2))
    lines = list(rests_on_lines(told, rules().odds, is_own_pattern=own))
    said = " ".join(lines)
    assert "300 hotel-years" in said
    assert "not observed" in said
    assert "into a room and stay once in 200 years" in said
    assert "assumed" in said
    everything = [*lines, *rule_lines(house_rule()), *change_lines(told, Stance.CENTRAL)]
    everything += [cell for row in told.rows for cell in measure_cells(row, Stance.CENTRAL)]
    assert not [line for line in everything if CERTAIN.search(line)]


def test_calibration_says_what_was_told_what_came_and_what_it_does_not_show():
    inside = CalibrationRow(600_000, 1 / 140, 1 / 150, 1 / 160, 1 / 130, 0.4)
    outside = CalibrationRow(600_000, 1 / 50, 1 / 80, 1 / 90, 1 / 70, -9.0)
    assert calibration_cells(inside) == ("600,000", "1 in 140", "1 in 150", "1 in 130 to 1 in 160")
    lines = list(calibration_lines([inside, inside, outside]))
    assert lines[0].startswith("In 1 of 3 groups of simulated rooms the odds lie outside")
    assert "not the assumed figures" in lines[-1]
    assert not [line for line in lines if CERTAIN.search(line)]
