"""The chance that a room known to be open is so when its day comes."""

from __future__ import annotations

from math import exp

import numpy as np
import pytest

from hotelwatch.core.planning.situation import situation_of
from hotelwatch.core.planning.still_open import AT_AN_EDGE, BOOKED_DAYS, edges, still_open
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment

DAYS = 12


def test_today_is_certain_an_edge_nearly_so_and_a_gap_the_less_the_farther_ahead():
    is_edge = np.zeros((2, DAYS), bool)
    is_edge[1, [0, 7]] = True
    found = still_open(is_edge, 0.6)
    assert found[:, 0].tolist() == [1, 1]
    assert found[1, 7] == AT_AN_EDGE
    assert found[0, 7] == pytest.approx(0.6 + 0.4 * exp(-7 / BOOKED_DAYS))
    assert (np.diff(found[0]) < 0).all()
    assert (found[0] > 0.6).all()


def view_of(built):
    wish = Wish(day(0), DAYS, moment(0, 6))
    return situation_of(built.house, occupancy(built.house, day(0)), wish)


def test_a_stay_that_begins_or_ends_makes_an_edge():
    built = house().team("blue", 240).room("101").bed("A").checked("A", day(-88))
    situation = view_of(built.stays(("101", -2, 3), ("101", 6, 8)))
    assert np.flatnonzero(edges(situation.view, situation.visits)[0]).tolist() == [3, 6, 8]


def test_a_room_that_is_our_guess_makes_none():
    built = house().team("blue", 240).room("101").bed("A").checked("A", day(-88))
    situation = view_of(built.stays(("", 3, 6)))
    assert situation.view.occupancy.provisional
    assert not edges(situation.view, situation.visits).any()
