"""Calendars of teams: worked by hand, and held against a reading day by day."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.facts import TeamDescribed, TeamName
from hotelwatch.core.round_facts import AS_USUAL, HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.stays.openings import Opening, OpeningKind
from tests.build import day, house

BLUE = TeamName("blue")
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def opening(from_clock, until_clock):
    return Opening(day(0), from_clock, until_clock, OpeningKind.TURNOVER)


def week(built, team=BLUE):
    calendar = Calendar(built.house)
    return [calendar.minutes(team, day(n)) for n in range(7)]


def test_a_team_has_its_minutes_on_its_weekdays_and_keeps_some_free():
    # Day 0 is a Monday; 120 minutes less 20 kept for surprises.
    built = house().team("blue", 120, works_on=("mon", "thu"), kept_free=20)
    assert week(built) == [100, 0, 0, 100, 0, 0, 0]


def test_leave_an_extra_shift_and_as_usual_again():
    built = house().team("blue", 120)
    built.record(TeamDaysChanged(BLUE, day(0), day(3), 0, "leave"))
    built.record(TeamDaysChanged(BLUE, day(5), day(5), 45, "extra shift"))
    assert week(built) == [0, 0, 0, 0, 120, 45, 0]
    built.record(TeamDaysChanged(BLUE, day(2), day(2), AS_USUAL))
    assert week(built) == [0, 0, 120, 0, 120, 45, 0]
    calendar = Calendar(built.house)
    assert calendar.changed(BLUE, day(0)).reason == "leave"
    assert calendar.changed(BLUE, day(2)) is None
    assert calendar.changed(BLUE, day(4)) is None


def test_nobody_works_on_closed_days_until_they_are_opened_again():
    built = house().team("blue", 120).team("red", 60, works_on=WEEKDAYS)
    built.record(TeamDaysChanged(BLUE, day(1), day(1), 90))
    built.record(HouseDaysClosed(day(1), day(2), "holiday"))
    calendar = Calendar(built.house)
    assert calendar.working(day(1)) == calendar.working(day(2)) == []
    assert calendar.closed_reason(day(2)) == "holiday"
    assert [team.team for team in calendar.working(day(3))] == ["blue", "red"]
    built.record(HouseDaysClosed(day(1), day(1), "", is_closed=False))
    calendar = Calendar(built.house)
    assert calendar.closed_reason(day(1)) is None
    assert (calendar.minutes(BLUE, day(1)), calendar.minutes(BLUE, day(2))) == (90, 0)


def test_a_team_that_is_no_more_or_never_was_has_no_minutes():
    built = house().team("blue", 120).team("blue", 120, in_use=False)
    assert week(built) == [0] * 7
    assert week(built, TeamName("green")) == [0] * 7
    assert Calendar(built.house).working(day(0)) == []


def test_more_kept_free_than_a_short_day_has_leaves_nothing():
    built = house().team("blue", 120, kept_free=30)
    built.record(TeamDaysChanged(BLUE, day(0), day(0), 20))
    assert week(built)[:2] == [0, 90]


def test_a_shift_meets_an_opening_for_as_long_as_both_last():
    # Worked by hand: 08:00–13:00 and 11:00–15:00 share 11:00–13:00, 120 minutes.
    built = house().team("blue", 300, from_clock="08:00", until_clock="13:00")
    calendar = Calendar(built.house)
    assert calendar.shift(BLUE) == ("08:00", "13:00")
    assert calendar.meets(BLUE, opening("11:00", "15:00"), 120)
    assert not calendar.meets(BLUE, opening("11:00", "15:00"), 121)
    assert not calendar.meets(BLUE, opening("13:00", "15:00"), 1)
    assert not calendar.meets(BLUE, opening("14:00", "15:00"), 1)
    assert not calendar.meets(BLUE, None, 1)


def test_a_team_without_a_shift_meets_every_hour_of_an_opening():
    calendar = Calendar(house().team("blue", 300).house)
    assert calendar.shift(BLUE) == ("00:00", "23:59")
    assert calendar.meets(BLUE, opening("11:00", "15:00"), 240)
    assert not calendar.meets(BLUE, opening("11:00", "15:00"), 241)
    half = Calendar(house().team("blue", 300, from_clock="12:30").house)
    assert half.meets(BLUE, opening("11:00", "15:00"), 150)
    assert not half.meets(BLUE, opening("11:00", "15:00"), 151)


# --- against a reading day by day ---------------------------------------------------------------

SPANS = st.tuples(st.integers(-3, 16), st.integers(-3, 16)).map(
    lambda pair: (day(min(pair)), day(max(pair)))
)
TEAMS = st.sampled_from([BLUE, TeamName("red")])
CHANGES = st.builds(
    lambda team, span, minutes: TeamDaysChanged(team, *span, minutes, ""),
    TEAMS,
    SPANS,
    st.sampled_from([AS_USUAL, 0, 30, 200]),
)
CLOSINGS = st.builds(
    lambda span, is_closed: HouseDaysClosed(*span, "why", is_closed), SPANS, st.booleans()
)
DESCRIBED = st.builds(
    lambda team, minutes, days, in_use, free: TeamDescribed(
        team, 2, minutes, tuple(sorted(days)), in_use, kept_free=free
    ),
    TEAMS,
    st.integers(40, 240),
    st.sets(st.sampled_from(WEEKDAYS)),
    st.booleans(),
    st.integers(0, 40),
)


def read_by_hand(told, number):
    """Whether a day is closed, what teams' minutes were changed to, and the teams by then."""
    firsts = {}
    for since, fact in told:
        if isinstance(fact, TeamDescribed):
            firsts.setdefault(fact.team, since)
    is_closed, changed, described = False, {}, {}
    for since, fact in told:
        match fact:
            case TeamDescribed() if since <= max(number, firsts[fact.team]):
                described[fact.team] = fact
            case HouseDaysClosed() if fact.from_on <= day(number) <= fact.until_on:
                is_closed = fact.is_closed
            case TeamDaysChanged() if fact.from_on <= day(number) <= fact.until_on:
                changed[fact.team] = fact.minutes
    return is_closed, changed, described


@given(st.lists(st.tuples(st.integers(0, 9), st.one_of(CHANGES, CLOSINGS, DESCRIBED)), max_size=12))
def test_the_calendar_says_what_a_reading_of_the_facts_day_by_day_says(told):
    """Teams are as described by the day, or on the first day on which they were at all."""
    built, told = house(), sorted(told, key=lambda one: one[0])
    for since, fact in told:
        built.on(since).record(fact)
    calendar = Calendar(built.house)
    for number in range(-3, 17):
        on = day(number)
        is_closed, changed, described = read_by_hand(told, number)
        working = []
        for name in ("blue", "red"):
            team = described.get(name)
            minutes = 0
            if team is not None and team.in_use and not is_closed:
                usual = team.minutes if WEEKDAYS[on.weekday()] in team.works_on else 0
                said = changed.get(name, AS_USUAL)
                minutes = max(0, (usual if said == AS_USUAL else said) - team.kept_free)
            assert calendar.minutes(TeamName(name), on) == minutes
            if minutes:
                working.append(team)
        assert calendar.working(on) == working
        assert (calendar.closed_reason(on) is not None) == is_closed
