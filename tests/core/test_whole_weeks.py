"""Weeks and ages against a slow count that goes day by day and knows nothing of due dates."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CaseJudged, Outcome, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import (
    BedNo,
    CaseNo,
    CycleChosen,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.whole.ages import ages
from hotelwatch.core.whole.case_weeks import case_weeks, sign_counts
from hotelwatch.core.whole.over_time import Reach, over_time
from hotelwatch.core.whole.weeks import monday_of, weeks
from tests.build import day, house, moment

TODAY = 100
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def slot(room, on, bed="A"):
    return SlotPublished(day(on), TeamName("blue"), 1, RoomNo(room), (f"{room}/{bed}",), 20, "")


# --- weeks -----------------------------------------------------------------------------------


def test_weeks_begin_on_mondays():
    build = house().room("101").bed("A")
    told = weeks(build.house, day(TODAY), back=2, ahead=1)
    # Day 100 of the tests, whose day 0 is a Monday, is a Wednesday: its Monday is day 98.
    assert [week.from_on for week in told] == [day(84), day(91), day(98), day(105)]
    assert [week.is_ahead for week in told] == [False, False, False, True]
    assert told[0].until_on == day(90)
    assert monday_of(day(104)) == day(98)


def test_a_look_settles_its_due_date_and_makes_the_next():
    build = house().record(CycleChosen(Scope.HOUSE, "", 30)).room("101").bed("A")
    build.checked("A", day(50)).checked("A", day(85))  # due on day 80, five days late
    told = weeks(build.house, day(TODAY), back=4, ahead=4)
    by_week = {week.from_on: week for week in told}
    assert [week.due.beds for week in told] == [0, 1, 0, 0, 0, 0, 1, 0, 0]
    assert [week.done.beds for week in told] == [0, 0, 1, 0, 0, 0, 0, 0, 0]
    assert by_week[day(77)].late.beds == 1
    assert by_week[day(84)].late.beds == 0
    assert by_week[day(112)].late.beds == 1  # ahead, on no sheet: due on day 115


def test_minutes_are_those_of_the_sheets():
    build = house().room("101").bed("A").bed("B", encased=True)
    build.checked("A", day(99)).checked("B", day(99))
    (week,) = weeks(build.house, day(TODAY), back=0, ahead=0)
    kinds, figures = build.house.rules.bed_kinds, build.house.rules.figures
    kind = kinds["box_spring"]
    beds = kind.minutes_of(encased=False) + kind.minutes_of(encased=True)
    assert week.done.minutes == beds + int(figures.room_setup_minutes.value)
    assert (week.done.beds, week.done.rooms) == (2, {"101"})


def test_a_look_that_left_out_the_underside_is_none():
    build = house().room("101").bed("A").checked("A", day(99), seen=("mattress_top",))
    (week,) = weeks(build.house, day(TODAY), back=0, ahead=0)
    assert week.done.beds == 0


def test_rooms_on_published_sheets_are_planned_until_looked_at():
    build = house().team("blue", 60, works_on=EVERY_DAY)
    build.room("101").bed("A").checked("A", day(0)).room("102").bed("A").checked("A", day(0))
    build.record(RoundPublished(day(98), day(120)), slot("101", 101), slot("102", 110))
    told = weeks(build.house, day(TODAY), back=0, ahead=1)
    assert [week.planned.beds for week in told] == [1, 1]
    assert [week.planned.rooms for week in told] == [{"101"}, {"102"}]
    assert [week.capacity_minutes for week in told] == [420, 420]
    # Both have been due since day 91: the one is overdue until its sheet's week.
    assert [week.late.rooms for week in told] == [{"102"}, set()]
    build.room("101").checked("A", day(100))
    told = weeks(build.house, day(100), back=0, ahead=1)
    assert [(week.planned.beds, week.done.beds) for week in told] == [(1, 1), (1, 0)]


@st.composite
def looked_houses(draw):
    build = house().record(CycleChosen(Scope.HOUSE, "", draw(st.sampled_from((20, 45, 91)))))
    for number in range(draw(st.integers(1, 4))):
        build.room(str(101 + number)).bed("A")
        for on in sorted(draw(st.sets(st.integers(0, TODAY), max_size=4))):
            build.checked("A", day(on))
    return build.house


def slowly(known, monday):
    """Due, done and overdue of a week, from asking on each of its days what is due then."""
    due = done = late = 0
    sunday = monday + timedelta(days=6)
    for bed in known.beds:
        checks = {check.checked_on for check in known.checks_of(bed)}
        for n in range(7):
            on = monday + timedelta(days=n)
            done += on in checks and on <= day(TODAY)
        # Every due date there ever was, read off day by day.
        dues = set()
        for n in range(-1, TODAY + 1):
            (look,) = [one for one in looks(known, day(n)) if one.bed == bed]
            dues.add(look.due_on)
        due += sum(monday <= on <= sunday for on in dues)
        if sunday < day(TODAY):
            (look,) = [one for one in looks(known, sunday) if one.bed == bed]
            late += look.due_on <= sunday
    return due, done, late


@settings(max_examples=12, deadline=None)
@given(looked_houses())
def test_weeks_agree_with_a_count_from_day_to_day(known):
    for week in weeks(known, day(TODAY), back=12, ahead=6):
        due, done, late = slowly(known, week.from_on)
        assert (week.due.beds, week.done.beds) == (due, done)
        if week.until_on < day(TODAY):
            assert week.late.beds == late


# --- ages ------------------------------------------------------------------------------------


def test_every_bed_stands_in_one_tenth_of_its_cycle():
    build = house().record(CycleChosen(Scope.HOUSE, "", 50))
    for number, on in enumerate((100, 96, 95, 51, 50, 49, 0)):
        build.room(str(101 + number)).bed("A").checked("A", day(on))
    build.room("201").bed("A")
    told = {age.from_tenth: age for age in ages(build.house, day(TODAY), tenths=12)}
    # 0 and 4 days: first tenth; 5 days: second; 49 and 50 days: the last in time; 51: overdue.
    assert {tenth: age.beds for tenth, age in told.items() if age.beds} == {
        0: 2,
        1: 1,
        9: 2,
        10: 1,
        12: 1,
        None: 1,
    }
    assert told[10].is_overdue
    assert not told[9].is_overdue
    assert told[12].is_open
    assert told[None].rooms == {"201"}


@settings(max_examples=25, deadline=None)
@given(looked_houses())
def test_overdue_tenths_hold_exactly_the_overdue_beds(known):
    told = ages(known, day(TODAY), tenths=15)
    assert sum(age.beds for age in told) == len(known.beds)
    late = [one for one in looks(known, day(TODAY)) if one.is_overdue(day(TODAY)) and one.last_on]
    assert sum(age.beds for age in told if age.is_overdue) == len(late)


# --- cases ------------------------------------------------------------------------------------


@pytest.fixture
def cases():
    """One case found on day 80 and ruled out on day 90, one found on day 99."""
    build = house()
    for room in ("101", "102"):
        build.room(room).bed("A")
    one, two = CaseNo("2026-001"), CaseNo("2026-002")
    build.on(80).record(
        Sighted(one, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(80)),
        QuarantinePlaced(RoomNo("101"), one, moment(80), "sighting"),
    )
    build.on(90).record(CaseJudged(one, Outcome.NOT_BED_BUG, "Dr. Ida", "entomologist", day(90)))
    build.on(99).record(
        Sighted(two, RoomNo("102"), "", "seats", Sign.CAST_SKIN, 0, "anna", moment(99)),
        Sighted(two, RoomNo("102"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(99)),
    )
    return build


def test_cases_open_and_close_in_the_weeks_in_which_they_did(cases):
    from hotelwatch.core.case_facts import QuarantineLifted

    lifted = QuarantineLifted(RoomNo("101"), CaseNo("2026-001"), moment(90), "boss", True)
    told = case_weeks(cases.on(90).record(lifted).house, day(TODAY), back=4)
    assert [week.from_on for week in told] == [day(70), day(77), day(84), day(91), day(98)]
    assert [week.opened for week in told] == [(), ("2026-001",), (), (), ("2026-002",)]
    assert [week.closed for week in told] == [(), (), ("2026-001",), (), ()]
    assert [len(week.open_at_end) for week in told] == [0, 1, 0, 0, 1]
    assert told[-1].rooms == {"102"}


def test_opened_less_closed_is_what_is_open(cases):
    told = case_weeks(cases.house, day(TODAY), back=8)
    open_now = 0
    for week in told:
        open_now += len(week.opened) - len(week.closed)
        assert len(week.open_at_end) == open_now


def test_signs_are_counted_by_kind_within_the_weeks(cases):
    told = {row.sign: row for row in sign_counts(cases.house, day(TODAY), back=1)}
    assert told[Sign.CAST_SKIN].sightings == told[Sign.DARK_SPOTS].sightings == 1
    assert told[Sign.LIVE_INSECT].sightings == 0
    far = {row.sign: row for row in sign_counts(cases.house, day(TODAY), back=8)}
    assert far[Sign.DARK_SPOTS].rooms == {"101", "102"}


def test_all_rows_come_together(cases):
    reach = Reach(weeks_back=3, weeks_ahead=2, case_weeks_back=5, tenths=12)
    told = over_time(cases.house, day(TODAY), reach)
    assert (len(told.weeks), len(told.cases), len(told.signs)) == (6, 6, len(Sign))
    assert sum(age.beds for age in told.ages) == len(cases.house.beds)
    assert BedNo("101/A") in cases.house.beds
