"""Seasons: worked by hand, and held against counting the days one by one."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.checks.coverage import first_due_dates, looks
from hotelwatch.core.checks.seasons import Pace, Season, pace, seasons_noted
from hotelwatch.core.facts import CycleChosen, Scope
from hotelwatch.core.month.figures import figures
from hotelwatch.core.round_facts import SeasonNoted
from tests.build import day, house, moment


def season(first, last, percent, name="warm nights", **more):
    return SeasonNoted(name, day(first), day(last), percent, **more)


def checked(cycle=30, on=0):
    return (
        house()
        .record(CycleChosen(Scope.HOUSE, "", cycle))
        .room("101")
        .bed("A")
        .checked("A", day(on))
    )


def due(built, today=0):
    (look,) = looks(built.house, day(today))
    return (look.due_on - day(0)).days


def test_each_day_of_a_season_uses_the_cycle_up_faster():
    # Worked by hand: days 1 to 10 count 10, days 11 to 20 count 15, so 5 are left of 30:
    # the last day that is not late is day 25.
    assert due(checked().record(season(11, 20, 50))) == 25
    # Days 21 to 30 at 1.25: 20 are used by day 20, ten left are eight days.
    assert due(checked().record(season(21, 60, 25))) == 28
    # Half a day is left over: day 3 of the season at 2.0 would be one too many.
    assert due(checked(cycle=5).record(season(1, 40, 100))) == 2


def test_a_season_that_is_over_or_yet_to_come_changes_nothing():
    assert due(checked()) == 30
    assert due(checked().record(season(-40, 0, 80))) == 30
    assert due(checked().record(season(31, 60, 80))) == 30
    assert due(checked().record(season(30, 60, 80))) == 29


def test_the_latest_word_on_a_season_counts():
    built = checked().record(season(11, 20, 50)).record(season(11, 20, 100))
    assert due(built) == 20
    assert [one.faster_percent for one in seasons_noted(built.house)] == [100]
    assert due(built.record(season(11, 20, 100, holds=False))) == 30


def test_seasons_that_share_days_add_up():
    # Days 11 to 20 at 1 + 0.5 + 0.5 = 2: 10 + 20 = 30 by day 20.
    built = checked().record(season(11, 20, 50)).record(season(11, 20, 50, "fair"))
    assert due(built) == 20


def test_a_first_round_is_spread_over_a_cycle_that_runs_faster():
    built = house().record(CycleChosen(Scope.HOUSE, "", 10))
    for room in ("101", "102"):
        built.room(room).bed("A")
    assert sorted(first_due_dates(built.house).values()) == [day(5), day(10)]
    built.record(season(1, 40, 100))
    assert sorted(first_due_dates(built.house).values()) == [day(2), day(5)]


SEASONS = st.lists(
    st.builds(
        lambda first, days, percent, name: season(first, first + days, percent, name),
        st.integers(-20, 80),
        st.integers(0, 40),
        st.integers(0, 200),
        st.sampled_from("abc"),
    ),
    max_size=5,
)


@given(SEASONS, st.integers(-10, 60), st.integers(1, 90))
def test_a_due_date_is_found_by_counting_the_days_one_by_one(noted, last, cycle):
    built = house()
    for one in noted:
        built.record(one)
    held = {one.name: one for one in noted}.values()
    counted, on = Fraction(0), day(last)
    while True:
        following = on + timedelta(days=1)
        percent = sum(s.faster_percent for s in held if s.from_on <= following <= s.until_on)
        counted += 1 + Fraction(percent, 100)
        if counted > cycle:
            break
        on = following
    assert pace(built.house).due_on(day(last), cycle) == on


@given(SEASONS, st.integers(1, 90))
def test_a_season_of_no_percent_changes_nothing(noted, cycle):
    built = checked(cycle)
    before = looks(built.house, day(0))
    for one in noted:
        built.record(season(0, 0, 0, one.name), SeasonNoted("d", one.from_on, one.until_on, 0))
    assert looks(built.house, day(0)) == before


@given(SEASONS, st.integers(1, 90))
def test_more_seasons_never_make_a_bed_due_later(noted, cycle):
    built = checked(cycle)
    before = due(built)
    for one in noted:
        built.record(one)
    assert due(built) <= before


def test_one_may_ask_a_pace_without_a_house():
    runs = Pace([Season(day(1), day(10), 200), Season(day(11), day(20), 150)])
    # Ten days at 2 and six at 1.5 are 29; the seventh would make 30.5.
    assert runs.due_on(day(0), 30) == day(16)


# --- in a month's account -----------------------------------------------------------------------


def dues(built, month, today):
    found = figures(built.house, month, now=moment(today))
    return [((row.due_on - day(0)).days, str(row.state)) for row in found.rows.due]


def test_a_month_counts_a_season_from_the_day_it_was_noted():
    # Day 0 is 5 January 2026; February is days 27 to 54. Looked at on day 20, cycle 20:
    # due on day 40. A season over days 21 to 60 at 2.0 makes it day 30; noted on day 35
    # it can't make the bed late before that day.
    built = checked(cycle=20, on=20).on(35).record(season(21, 60, 100))
    assert dues(built, "2026-02", 60) == [(35, "not_done")]
    early = checked(cycle=20, on=20).on(21).record(season(21, 60, 100))
    assert dues(early, "2026-02", 60) == [(30, "not_done")]


def test_a_look_within_a_season_is_due_again_sooner_in_the_same_month():
    # Looked at on day 28: ten counted days at 2.0 are days 29 to 33; then not looked at.
    built = checked(cycle=10, on=20).on(21).record(season(29, 60, 100))
    built.on(28).checked("A", day(28))
    assert dues(built, "2026-02", 60) == [(29, "in_time"), (33, "not_done")]
    # Noted on day 30, after the look: the same, and not before the day it was noted.
    later = checked(cycle=10, on=20).on(28).checked("A", day(28)).on(30)
    later.record(season(29, 60, 100))
    assert dues(later, "2026-02", 60) == [(30, "in_time"), (33, "not_done")]


def test_a_months_account_names_the_seasons_that_touched_its_due_dates():
    def named(first, last):
        built = checked(cycle=20).record(season(first, last, 50))
        return [one.name for one in figures(built.house, "2026-02", now=moment(60)).account.seasons]

    # February is days 27 to 54, so days 7 to 54 can tell with a cycle of 20.
    assert named(0, 6) == named(55, 60) == []
    assert named(0, 7) == named(54, 60) == ["warm nights"]
