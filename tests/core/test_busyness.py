"""How busy teams are in the long run: a sum by hand."""

from __future__ import annotations

import numpy as np
import pytest

from hotelwatch.core.planning.busyness import busyness


def test_how_busy_teams_are_is_what_looks_want_of_their_minutes():
    # 96 minutes each 0.9 · 60 days and 41 each 0.9 · 30, 0.45 of a way of 20 in both, are
    # 105 / 54 + 50 / 27 minutes a day; teams have 35 on five days of seven, 25 a day.
    minutes, cycle = np.array([96, 41]), np.array([60, 30])
    week = np.array([35, 35, 35, 35, 35, 0, 0])
    # Of three weeks one is a leave, and a day of a fourth is known.
    had = np.concatenate([week, np.zeros(7, int), week, week[:1]])
    assert busyness(minutes, cycle, way=20, had=had) == pytest.approx((105 / 54 + 50 / 27) / 25)
    assert busyness(minutes, cycle, way=20, had=np.zeros(7, int)) == 0.0
