"""The shipped figures of the odds, and files that are wrong in one place."""

from __future__ import annotations

import tomllib

import pytest

from hotelwatch import paths
from hotelwatch.core.odds_figures import FIGURE_KEYS, PLACES, Stance
from hotelwatch.core.standing import Standing
from hotelwatch.intake.odds_file import read_odds
from tests.build import rules

SHIPPED = paths.resources() / "odds.toml"
ODDS = read_odds(SHIPPED)


def written(tmp_path, *changes, end=""):
    """The shipped file with some text replaced, each piece being there."""
    text = SHIPPED.read_text(encoding="utf-8")
    for before, after in changes:
        assert before in text
        text = text.replace(before, after, 1)
    file = tmp_path / "odds.toml"
    file.write_text(text + end, encoding="utf-8")
    return file


def test_the_shipped_file_is_what_a_house_has():
    assert rules().odds == ODDS


@pytest.mark.parametrize("key", FIGURE_KEYS)
def test_every_figure_says_unit_source_and_what_it_is_for(key):
    figure = getattr(ODDS.figures, key)
    assert figure.key == key
    assert figure.unit
    assert figure.source
    assert figure.note.endswith(".")
    assert figure.low < figure.high
    assert all(figure.low <= figure.of(stance) <= figure.high for stance in Stance)
    if figure.standing is Standing.PUBLISHED:
        assert any(char.isdigit() for char in figure.source), "a published figure names its year"


def test_figures_are_those_of_the_file_and_nothing_else():
    with SHIPPED.open("rb") as file:
        tables = tomllib.load(file)
    assert set(tables["figures"]) == set(FIGURE_KEYS)
    for key, row in tables["figures"].items():
        assert set(row) == {
            *("value", "cautious", "optimistic", "low", "high"),
            *("unit", "standing", "source", "note"),
        }, key


@pytest.mark.parametrize("key", FIGURE_KEYS)
def test_the_central_value_lies_between_the_others(key):
    figure = getattr(ODDS.figures, key)
    low, high = sorted((figure.cautious, figure.optimistic))
    # How many survive a treatment has no better side: a larger rest is seen sooner.
    assert low <= figure.value <= high or key == "survivors"


def test_places_growth_and_looks_fit_together():
    assert len(ODDS.shares) == len(PLACES)
    assert sum(ODDS.shares) == pytest.approx(1.0)
    assert set(ODDS.growth_by_stance) == set(Stance)
    for curve in ODDS.growth.values():
        assert curve.days[0] == 0.0
        assert 0.0 < curve.let_share <= 1.0
        assert list(curve.insects) == sorted(curve.insects)
    for look in ODDS.looks.values():
        assert look.notice in FIGURE_KEYS
    assert {"glance", "traps", "deep_closed", "deep_full"} <= set(ODDS.looks)


WRONG = {
    "a figure is missing": (("[figures.moved_in]", "[elsewhere.moved_in]"), "moved_in"),
    "a figure is unknown": (("[figures.moved_in]", "[figures.moved_out]"), "moved_out"),
    "a value is out of its range": (
        ("value = 0.005", "value = 0.5"),
        "introductions_per_room_year",
    ),
    "a stance is out of its range": (("cautious = 0.01\n", "cautious = 9.0\n"), "cautious"),
    "shares do not sum to one": (("mattress_top = 0.10", "mattress_top = 0.20"), "shares"),
    "a share is negative": (
        (
            "mattress_top = 0.10\nmattress_under = 0.14",
            "mattress_top = -0.10\nmattress_under = 0.34",
        ),
        "places",
    ),
    "a look shows too much": (("seen = [1, 0.1, 0", "seen = [2, 0.1, 0"), "looks.glance"),
    "a look has too few places": (("seen = [1, 0.1, 0, 0, 0, 0]", "seen = [1]"), "looks.glance"),
    "a look notices by no figure": (('notice = "notice_glance"', 'notice = "luck"'), "luck"),
    "a part shows an unknown place": (("bedding = { mattress_top", "bedding = { roof"), "bedding"),
    "a part shows more than all": (("mattress_top = 0.3 }", "mattress_top = 1.3 }"), "bedding"),
    "days of growth fall": (("days = [0, 14, 28", "days = [0, 28, 14"), "growth.slow"),
    "growth begins later": (("days = [0, 14, 28", "days = [1, 14, 28"), "growth.slow"),
    "insects are none": (("insects = [1, 3, 10", "insects = [0, 3, 10"), "growth.slow"),
    "insects become fewer": (("insects = [1, 3, 10", "insects = [1, 30, 10"), "growth.slow"),
    "growth has no nights": (("let_share = 0.64", "let_share = 0.0"), "growth.slow"),
    "growth does not grow": (("rate = 0.026", "rate = 0.0"), "growth.slow"),
    "a stance has no growth": (('central = "slow"', 'central = "none"'), "growth_by_stance"),
    "a stance is missing": (('optimistic = "base"\n', "\n"), "growth_by_stance"),
    "a stance is unknown": (('optimistic = "base"', 'hopeful = "base"'), "hopeful"),
    "a standing is unknown": (('standing = "assumption"', 'standing = "sure"'), "sure"),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_file_is_refused_and_says_where(tmp_path, case):
    change, names = WRONG[case]
    with pytest.raises(ValueError, match=names):
        read_odds(written(tmp_path, change))


@pytest.mark.parametrize(
    ("table", "named"), [("places", "places"), ("growth_by_stance", "growth_by_stance")]
)
def test_a_missing_table_is_named(tmp_path, table, named):
    with pytest.raises(ValueError, match=named):
        read_odds(written(tmp_path, (f"[{table}]", f"[other_{table}]")))


def test_a_file_that_is_no_toml_is_refused(tmp_path):
    file = tmp_path / "odds.toml"
    file.write_text("[figures\n", encoding="utf-8")
    with pytest.raises(ValueError, match="line 1"):
        read_odds(file)


# --- a hotel's own values --------------------------------------------------------------------


def test_a_chosen_value_keeps_the_others_at_their_distance_and_within_range():
    figure = ODDS.figures.introductions_per_room_year
    own = figure.chosen(0.01)
    assert (own.value, own.cautious, own.optimistic) == pytest.approx((0.01, 0.02, 0.004))
    assert own.standing is Standing.CHOSEN
    most = figure.chosen(figure.high)
    assert (most.cautious, most.value) == (figure.high, figure.high)


@pytest.mark.parametrize("key", FIGURE_KEYS)
@pytest.mark.parametrize("part", [0.0, 0.01, 0.3, 0.7, 1.0])
def test_any_chosen_value_leaves_stances_in_their_order(key, part):
    """Which side is the cautious one stays so, and nothing leaves the range."""
    figure = getattr(ODDS.figures, key)
    own = figure.chosen(figure.low + part * (figure.high - figure.low))
    for stance in Stance:
        assert figure.low <= own.of(stance) <= figure.high
    if figure.cautious < figure.value < figure.optimistic:
        assert own.cautious <= own.value <= own.optimistic
    if figure.cautious > figure.value > figure.optimistic:
        assert own.cautious >= own.value >= own.optimistic


def test_chosen_values_of_unknown_keys_are_left_out():
    assert ODDS.with_chosen({"no_such_figure": 3.0}) is ODDS
    assert ODDS.with_chosen({"moved_in": 0.2}).figures.moved_in.value == 0.2
    assert ODDS.figure("moved_in") is ODDS.figures.moved_in
    assert ODDS.figure("with_figures") is None
