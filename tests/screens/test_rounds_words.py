"""What the rounds' page says of what is published."""

from __future__ import annotations

from hotelwatch.core.facts import RoundPublished
from hotelwatch.screens.rounds.words import published_text
from tests.build import day, house


def said(*rounds):
    """The text of day 0, on which each (first, last, is_whole) was published."""
    build = house()
    for first, last, is_whole in rounds:
        build.record(RoundPublished(day(first), day(last), is_whole))
    return published_text(build.house, day(0), build.house.zone)


def test_a_round_is_told_whole_as_far_as_its_days_are():
    # Day 0 is Monday 5 January 2026.
    assert "whole" not in said((0, 27, False))
    assert said((0, 27, False)).endswith(
        "until Sun 1 Feb. Coming days show the fixed visits; each morning fills up its own day."
    )
    assert said((0, 27, True)).startswith("Published whole on Mon 5 Jan 2026")
    assert said((0, 27, True)).endswith("until Sun 1 Feb: likely visits too.")


def test_the_last_whole_day_is_named_where_later_days_are_only_fixed():
    assert said((0, 27, False), (0, 2, True), (9, 9, False)).endswith(
        "until Sun 1 Feb. Likely visits too: Mon 5 Jan to Wed 7 Jan. Other coming days show the"
        " fixed visits; each morning fills up its own day."
    )


def test_whole_days_are_named_where_days_before_them_are_only_fixed():
    assert "Likely visits too: Thu 8 Jan to Mon 12 Jan, Wed 14 Jan to Sun 1 Feb. Other" in said(
        (0, 27, True), (0, 2, False), (8, 8, False)
    )


def test_nothing_is_said_where_nothing_is_published():
    assert said() == ""
