from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from hotelwatch.core.cases.release import Missing
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.whole.day import ClosedRoom, DayPicture, Late, LateKind
from hotelwatch.wording.day_picture import (
    UNTIL,
    closed_lines,
    closed_words,
    late_lines,
    late_since,
    late_words,
    looks_words,
    moment_near,
    sure_lines,
    sure_words,
    until_words,
)
from hotelwatch.wording.steps import MISSING

EMPTY = DayPicture(rooms=(), teams=(), parts=(), closed=(), late=())
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


def closed(room, code="judgement"):
    return ClosedRoom(RoomNo(room), NOON, (), Missing(code) if code else None)


def test_a_day_without_anything_says_so():
    assert looks_words(EMPTY) == "No room to look at today"
    assert closed_words(()) == "No room in quarantine"
    assert late_words(EMPTY) == "Nothing is late"
    assert late_lines(EMPTY) == ()


def test_every_condition_of_release_has_its_until():
    assert set(UNTIL) == set(MISSING)
    assert all(until_words(closed("101", code)) for code in UNTIL)
    assert until_words(closed("101", "")) == "ready to be given back"


def test_two_rooms_have_a_line_of_their_own_and_many_are_counted():
    lines = closed_lines([closed(str(room)) for room in range(101, 112)], UTC)
    assert lines == (
        "101 since Wed 25 Nov, until judged",
        "102 since Wed 25 Nov, until judged",
        "and 103, 104, 105, 106, 107 and 4 more",
    )


@pytest.mark.parametrize(
    ("beds", "days", "said"),
    [
        ((1,), 1, "1 room overdue (1 underside), by 1 day"),
        ((2, 1), 30, "2 rooms overdue (3 undersides), the longest 30 days"),
    ],
)
def test_undersides_overdue_are_counted_by_bed(beds, days, said):
    late = tuple(
        Late(LateKind.UNDERSIDE_OVERDUE, RoomNo(str(n)), date(2026, 11, 1), days, beds=count)
        for n, count in enumerate(beds)
    )
    told = DayPicture(rooms=(), teams=(), parts=(), closed=(), late=late)
    assert late_lines(told) == (said,)


def test_moments_of_today_are_clock_times():
    assert moment_near(NOON, UTC, today=date(2026, 11, 25)) == "12:00"
    assert moment_near(NOON, UTC, today=date(2026, 11, 26)) == "Wed 25 Nov, 12:00"


def test_how_long_ago_stands_beside_the_day():
    one = Late(LateKind.UNDERSIDE_OVERDUE, RoomNo("101"), date(2026, 11, 24), 1, beds=1)
    assert late_since(one, UTC, today=date(2026, 11, 25)) == "Tue 24 Nov (1 day ago)"


def test_how_sure_is_the_chance_that_something_was_missed_with_its_range():
    none = {Stance.CAUTIOUS: 0.5, Stance.CENTRAL: 0.9, Stance.OPTIMISTIC: 0.99}
    assert sure_words(none) == "1 in 10"
    assert sure_lines(none, 120) == (
        "is the chance that something was missed among 120 rooms",
        "Assumed; from 1 in 100 to 5 in 10",
    )


def test_it_never_reads_as_never():
    none = dict.fromkeys(Stance, 1.0)
    assert sure_words(none) == "Less likely than 1 in 10,000"
