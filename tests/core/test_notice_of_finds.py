"""How well a look notices one insect, as the hotel's own finds fit it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm

from hotelwatch.core.case_facts import CaseJudged, Outcome, Sighted, Sign
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.odds.learning.finds import notice_of_finds
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, moment, rules

TODAY = 200
ASSUMED = rules().odds.figures.notice_deep.value
SPREAD = rules().odds.figures.notice_spread.value


def hotel(finds, *, looks=()):
    """So many rooms with a guest's confirmed find, each looked at on these days before."""
    built = house()
    for number in range(finds):
        room = RoomNo(f"1{number:02}")
        built.room(room).bed("A")
        for on in looks:
            built.checked("A", day(on))
        case = CaseNo(f"2026-{number:03}")
        sign = Sighted(
            case, room, "", "", Sign.LIVE_INSECT, 2, "desk", moment(TODAY - 5), by_guest=True
        )
        built.on(TODAY - 5).record(sign)
        built.record(CaseJudged(case, Outcome.CONFIRMED, "Dr. Lis", "licence", day(TODAY - 4)))
        built.on(0)
    return built.house


def estimate(built):
    return notice_of_finds(built, occupancy(built, day(TODAY)), day(TODAY))


def test_without_a_confirmed_find_nothing_is_told():
    assert estimate(hotel(0)) is None
    assert estimate(house().room("101").bed("A").checked("A", day(5)).house) is None


def test_finds_that_no_look_came_before_leave_the_assumption_with_its_own_range():
    """ln d ~ Normal(ln assumed, spread): scipy has its quantiles; the grid is 5 % fine."""
    told = estimate(hotel(3))
    assert told.value == pytest.approx(ASSUMED, rel=0.05)
    low, high = np.exp(norm.ppf([0.05, 0.95], np.log(ASSUMED), SPREAD))
    assert told.low == pytest.approx(low, rel=0.06)
    # Above it is cut where every insect would be noticed.
    assert told.value < told.high <= min(1.0, high)
    assert told.trials == 3


def test_looks_that_missed_what_a_guest_then_found_draw_it_down():
    one, five = estimate(hotel(1, looks=(120, 150, 180))), estimate(hotel(5, looks=(120, 150, 180)))
    assert five.value < one.value < ASSUMED
    assert five.high < one.high
