"""The days ahead, worked by hand on a week of two teams."""

from __future__ import annotations

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.facts import TeamName
from hotelwatch.core.round_facts import AS_USUAL, HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.rounds.days_ahead import (
    HOUSE,
    DayKind,
    day_to_propose,
    rows_of_days,
    specials,
)
from hotelwatch.wording.days import day_kind_text
from tests.build import day, house

BLUE, RED = TeamName("blue"), TeamName("red")


def test_each_day_says_what_sort_it_is_and_its_minutes():
    # Day 0 is a Monday; blue works Monday to Friday, red at weekends.
    built = house().team("red", 60, works_on=("sat", "sun")).team("blue", 120, kept_free=20)
    built.record(TeamDaysChanged(BLUE, day(1), day(1), 0, "leave"))
    built.record(TeamDaysChanged(BLUE, day(2), day(2), 50, "training"))
    built.record(HouseDaysClosed(day(3), day(3), "holiday"))
    whole, blue, red = rows_of_days(built.house, day(0), 7)
    assert [whole.team, blue.team, red.team] == [HOUSE, BLUE, RED]
    assert [one.kind for one in blue.days] == [
        DayKind.USUAL,
        DayKind.AWAY,
        DayKind.CHANGED,
        DayKind.CLOSED,
        DayKind.USUAL,
        DayKind.FREE,
        DayKind.FREE,
    ]
    assert [one.minutes for one in blue.days] == [100, 0, 30, 0, 100, 0, 0]
    assert [one.minutes for one in whole.days] == [100, 0, 30, 0, 100, 60, 60]
    assert [one.kind for one in red.days].count(DayKind.FREE) == 4


def test_a_day_to_propose_is_one_on_which_a_team_works_and_in_time_if_it_can_be():
    # Day 4 is a Friday, days 5 and 6 a weekend; on day 7 the house is closed.
    built = house().team("blue", 120)
    built.record(HouseDaysClosed(day(7), day(7), "holiday"))
    for today, due_on, proposed in (
        (4, None, 8),
        (3, None, 4),
        (4, 4, 4),
        (2, 7, 4),
        (5, 7, 8),
        (4, 2, 8),
    ):
        found = day_to_propose(built.house, day(today), None if due_on is None else day(due_on))
        assert found == day(proposed)
    assert day_to_propose(house().house, day(4)) == day(5)


def test_minutes_are_those_that_plans_may_use():
    built = house().team("blue", 120, kept_free=20).team("red", 60, works_on=("sat",))
    built.record(TeamDaysChanged(RED, day(2), day(8), 30, "more"))
    calendar = Calendar(built.house)
    for row in rows_of_days(built.house, day(0), 14)[1:]:
        assert [one.minutes for one in row.days] == [
            calendar.minutes(row.team, one.on) for one in row.days
        ]


def test_of_minutes_beyond_the_shift_only_those_within_it_count():
    # From 8 to 12 fit 240 of 300 minutes; red's 60 fit its hour.
    built = house().team("blue", 300, from_clock="08:00", until_clock="12:00")
    built.team("red", 60, from_clock="09:00", until_clock="10:00")
    built.record(TeamDaysChanged(BLUE, day(1), day(1), 200, "training"))
    built.record(TeamDaysChanged(BLUE, day(2), day(2), 260, "more"))
    built.record(TeamDaysChanged(BLUE, day(3), day(3), 280, "more"))
    rows = rows_of_days(built.house, day(0), 4)
    whole, blue, red = ([(one.minutes, one.given) for one in row.days] for row in rows)
    assert blue == [(240, 300), (200, 0), (240, 260), (240, 280)]
    assert red == [(60, 0)] * 4
    assert whole == [(300, 0), (260, 0), (300, 0), (300, 0)]
    assert [(one.minutes, one.given) for one in specials(rows)] == blue[1:]


def test_a_leave_over_days_off_is_told_once_and_a_closed_day_as_the_hotel_s():
    built = house().team("blue", 120)
    # Friday, Monday and Tuesday: the weekend between parts nothing.
    built.record(TeamDaysChanged(BLUE, day(4), day(8), 0, "leave"))
    built.record(HouseDaysClosed(day(10), day(11), "holiday"))
    found = specials(rows_of_days(built.house, day(0), 21))
    assert [(one.team, one.from_on, one.until_on, one.kind, one.reason) for one in found] == [
        (BLUE, day(4), day(8), DayKind.AWAY, "leave"),
        (HOUSE, day(10), day(11), DayKind.CLOSED, "holiday"),
    ]


def test_what_differs_stands_apart_and_what_was_taken_back_is_not_told():
    built = house().team("blue", 120)
    built.record(TeamDaysChanged(BLUE, day(0), day(0), 60, "doctor"))
    built.record(TeamDaysChanged(BLUE, day(1), day(1), 90, "doctor"))
    built.record(TeamDaysChanged(BLUE, day(2), day(3), 0, "leave"))
    built.record(TeamDaysChanged(BLUE, day(3), day(3), AS_USUAL))
    found = specials(rows_of_days(built.house, day(0), 7))
    assert [(one.from_on, one.until_on, one.minutes) for one in found] == [
        (day(0), day(0), 60),
        (day(1), day(1), 90),
        (day(2), day(2), 0),
    ]


def test_an_extra_shift_on_a_day_off_is_told():
    built = house().team("blue", 120)
    built.record(TeamDaysChanged(BLUE, day(5), day(5), 45, "extra shift"))
    (found,) = specials(rows_of_days(built.house, day(0), 14))
    assert (found.from_on, found.until_on, found.kind) == (day(5), day(5), DayKind.CHANGED)


def test_a_day_all_of_whose_minutes_are_in_reserve_is_said_so():
    # Blue keeps 30 of 30 minutes; on day 1 an entered change of 30 leaves as little.
    built = house().team("blue", 30, kept_free=30)
    built.record(TeamDaysChanged(BLUE, day(1), day(1), 30, "course"))
    rows = rows_of_days(built.house, day(0), 7)
    for row in rows:
        told = [day_kind_text(one.kind, one.minutes) for one in row.days]
        assert told == ["all of its minutes are in reserve"] * 5 + ["does not work"] * 2
    (found,) = specials(rows)
    assert (found.from_on, found.until_on, found.reason) == (day(1), day(1), "course")
