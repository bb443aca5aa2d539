"""What a record of stays tells of how a hotel is let: sums by hand."""

from __future__ import annotations

import pytest

from hotelwatch.core.planning.letting import ASSUMED_OPEN, letting_of
from tests.build import day, house


def test_lengths_are_those_of_all_stays_known():
    built = house().room("101").stays(("101", -30, -21), ("101", -20, -19), ("101", 3, 4))
    assert letting_of(built.house, day(0)).lengths == {9: 1, 1: 2}


def test_a_room_is_open_on_all_days_but_those_on_which_a_guest_stays_on():
    # Two rooms for 40 days are 80 days. Of 9 nights a guest stays on 8 days, of one on none; who
    # stays still has stayed on 3 days of four nights, and what is to come counts for nothing.
    built = house().room("101").room("102")
    built = built.stays(("101", -40, -31), ("101", -20, -19), ("102", -4, 6), ("102", 9, 30))
    assert letting_of(built.house, day(0)).usually_open == pytest.approx(1 - (8 + 3) / 80)


def test_what_is_longer_ago_than_a_year_tells_how_long_stays_are_but_not_how_many_come():
    built = house().room("101").stays(("101", -500, -400), ("101", -100, -49))
    letting = letting_of(built.house, day(0))
    assert letting.lengths == {100: 1, 51: 1}
    assert letting.usually_open == pytest.approx(1 - 50 / 100)


def test_a_record_of_some_days_tells_nothing():
    built = house().room("101").stays(("101", -9, -2))
    assert letting_of(built.house, day(0)).usually_open == ASSUMED_OPEN
    assert letting_of(house().house, day(0)).lengths == {}
