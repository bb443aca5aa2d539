"""The hotel simulated, by command."""

from __future__ import annotations

import pytest

from hotelwatch.cli.simulate_commands import tried_rule
from hotelwatch.core.odds.simulation.policies import RINGS
from hotelwatch.wording import language
from tests.core.simulations import house_rule


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


@pytest.fixture
def inn(hotel):
    hotel("team", hotel.file, "Pair", "--minutes", 60)
    return hotel


def rows(said, start):
    return [line for line in said.splitlines() if line.startswith(start)]


def test_a_hotel_without_teams_has_nobody_who_looks(hotel):
    assert "team" in hotel("simulate", hotel.file, exit_code=1)


def test_rules_as_they_are_come_with_intervals_in_three_settings(inn):
    said = inn("simulate", inn.file, "--years", 20)
    assert [line for line in said.splitlines() if line.startswith("A year, ")] == [
        "A year, cautious settings:",
        "A year, central settings:",
        "A year, optimistic settings:",
    ]
    assert "A look every 91 days: dust cover closed" in said
    assert "All teams together have 300 minutes a week" in said
    assert "Tried" not in said
    assert "Simulated over 20 hotel-years under each rule, not observed." in said
    assert "Main assumption: bed bugs come into a room and stay once in 200 years (100 to" in said
    assert "assumed from their share and usual length" in said
    assert "Lifting takes two people" in said
    looks = rows(said, "Deep looks")
    assert len(looks) == 3
    assert all("between" in line or "about" in line for line in looks)


def test_the_same_seed_says_the_same_and_another_one_does_not(inn):
    one = inn("simulate", inn.file, "--years", 10, "--cycle", 30)
    assert inn("simulate", inn.file, "--years", 10, "--cycle", 30) == one
    assert inn("simulate", inn.file, "--years", 10, "--cycle", 30, "--seed", 2) != one


def test_what_is_tried_stands_beside_with_its_change(inn):
    said = inn("simulate", inn.file, "--years", 20, "--cycle", 28, "--ring", "none", "--traps")
    assert "Tried:" in said
    assert "A look every 28 days" in said
    assert "After a find no neighbour is looked at." in said
    hours = rows(said, "Hours of one person")
    assert len(hours) == 3
    assert all(line.endswith("more") for line in hours)
    assert all(line.endswith("more") for line in rows(said, "Deep looks"))


def test_years_are_whole_and_within_reason(inn):
    assert "--years" in inn("simulate", inn.file, "--years", 1, exit_code=2)
    assert "--ring" in inn("simulate", inn.file, "--ring", "some", exit_code=2)


def test_only_what_is_tried_changes():
    usual = house_rule()
    assert tried_rule(usual, {}) is None
    tried = tried_rule(
        usual,
        {"cycle": 45, "cover": False, "encased": True, "ring": "walls", "minutes": 50},
    )
    assert tried.cycle_days == 45
    assert (tried.way.cover_opened, tried.way.headboard_off, tried.way.encased) == (
        False,
        True,
        True,
    )
    assert tried.ring == RINGS["walls"]
    assert tried.minutes_by_weekday == (80.0,) * 5 + (0.0, 0.0)
    assert tried.follow_ups == usual.follow_ups
    assert tried_rule(usual, {"follow_ups": 0, "follow_up_days": 10}).follow_up_days == 10
