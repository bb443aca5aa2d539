"""On how many days to come a house is behind: sums by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.planning.behind import behind_days, busyness

DAYS = 10


def to_come(due, had, *, minutes=100, cycle=365, way=0):
    count = len(due)
    return behind_days(
        np.full(count, minutes),
        np.array(due, int),
        np.full(count, cycle),
        way=way,
        had=np.array(had, int),
    ).tolist()


def test_two_days_of_minutes_are_kept_for_rooms_that_are_closed():
    # Five visits are late or due today and want 500 minutes: with the 200 that are lost, 100 a
    # day are enough on the seventh day.
    assert to_come([-9, -1, 0, 0, 0], [100] * DAYS) == [6, 5, 4, 3, 2, 1, 0, 0, 0, 0]


def test_a_leave_ahead_is_felt_before_it():
    had = [250, 250, 250, 100, 0, 0, 0, 100, 100, 100]
    # 1,150 minutes on seven days; two such days are 329. Less those the teams have had -79,
    # 171, 421, 521, 521, 521, 521, 621, 721, 821; due are 100, 200, 300 … 1,000.
    assert to_come(range(DAYS), had) == [7, 6, 5, 5, 5, 5, 4, 3, 2, 1]


def test_ways_count_and_what_was_looked_at_falls_due_again_a_little_early():
    # 92 minutes and 0.45 of a way of 20 are 101, on day 0 and, after nine days for a cycle
    # of ten, on day 9. The teams have had 25 a day, less 50: 100 on day 5, 200 on day 9.
    found = to_come([0], [25] * DAYS, minutes=92, cycle=10, way=20)
    assert found == [7, 6, 5, 4, 3, 2, 1, 1, 1, 1]


def test_how_busy_teams_are_is_what_looks_want_of_their_minutes():
    # 96 minutes each 0.9 · 60 days and 41 each 0.9 · 30, 0.45 of a way of 20 in both, are
    # 105 / 54 + 50 / 27 minutes a day; teams have 35 on five days of seven, 25 a day.
    minutes, cycle = np.array([96, 41]), np.array([60, 30])
    week = np.array([35, 35, 35, 35, 35, 0, 0])
    # Of three weeks one is a leave, and a day of a fourth is known.
    had = np.concatenate([week, np.zeros(7, int), week, week[:1]])
    assert busyness(minutes, cycle, way=20, had=had) == pytest.approx((105 / 54 + 50 / 27) / 25)
    assert busyness(minutes, cycle, way=20, had=np.zeros(7, int)) == 0.0


@given(
    st.lists(st.integers(-20, 20), min_size=1, max_size=20),
    st.lists(st.integers(0, 200), min_size=DAYS, max_size=DAYS),
)
def test_one_visit_more_never_puts_a_house_less_behind(due, had):
    fewer, more = to_come(due[1:], had), to_come(due, had)
    assert all(a <= b for a, b in zip(fewer, more, strict=True))
