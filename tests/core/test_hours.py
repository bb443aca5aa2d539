"""Hours that bind a look: a deadline is met by a look that is over before it."""

from __future__ import annotations

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from hotelwatch.core.rounds.demand import Wanted
from hotelwatch.core.rounds.hours import last_day_in_time
from hotelwatch.core.stays.openings import Opening, OpeningKind
from tests.build import day, moment

VIENNA = ZoneInfo("Europe/Vienna")


def wanted(hour, on=4):
    """By this hour of day 4, UTC; Vienna is one hour ahead in January."""
    at = moment(on, hour)
    return Wanted("101", (), (), day(on), 20, "2026-001", at)


def opening(from_clock):
    return Opening(day(4), from_clock, "23:59", OpeningKind.BEFORE_ARRIVAL)


@pytest.mark.parametrize(
    ("hour", "opens", "begins", "in_time_on"),
    [
        # A look of 20 minutes from 11:00 on is over at 11:20.
        (10, "11:00", "00:00", 3),  # by 11:00
        (11, "11:00", "00:00", 4),  # by 12:00
        (10, "10:40", "00:00", 4),  # over on the stroke
        (10, "10:41", "00:00", 3),
        # The room is vacant all day; the team begins at 08:00.
        (7, "00:00", "08:00", 3),
        (8, "00:00", "08:00", 4),
    ],
)
def test_a_deadline_is_met_by_a_look_that_is_over_before_it(hour, opens, begins, in_time_on):
    found = last_day_in_time(wanted(hour), opening(opens), begins, minutes=20, zone=VIENNA)
    assert found == day(in_time_on)


def test_without_an_opening_or_a_deadline_the_day_counts():
    assert last_day_in_time(wanted(9), None, "", minutes=20, zone=VIENNA) == day(4)
    routine = Wanted("101", (), (), day(4), 20, "", None)
    assert last_day_in_time(routine, opening("11:00"), "", minutes=20, zone=VIENNA) == day(4)


def test_the_hour_is_the_hotels_where_clocks_change():
    """29 March 2026, 02:00 becomes 03:00: 11:00 in Vienna is 09:00 UTC, not 10:00."""
    on = (day(4).replace(month=3, day=29) - day(0)).days
    by = Wanted("101", (), (), day(on), 20, "2026-001", moment(on, 9) + timedelta(minutes=20))
    found = last_day_in_time(
        by, Opening(day(on), "11:00", "15:00", OpeningKind.TURNOVER), "", minutes=20, zone=VIENNA
    )
    assert found == day(on)
