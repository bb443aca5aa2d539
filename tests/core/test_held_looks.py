"""On which day a room held for a look is likely to be looked at, and the first on which it can."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked, Sighted, Sign
from hotelwatch.core.cases.blocks import BlockKind, blocks
from hotelwatch.core.cases.costs import block_costs
from hotelwatch.core.cases.touched import touched_arrivals
from hotelwatch.core.days import weekday
from hotelwatch.core.facts import (
    CaseNo,
    CheckKind,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    SlotPublished,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.round_facts import VisitArranged
from hotelwatch.core.stays.openings import occupancy
from tests.build import Build, day, house, moment

CASE, BLUE = CaseNo("2026-001"), TeamName("blue")
BOOKED, IN_HOUSE = StayStatus.BOOKED, StayStatus.IN_HOUSE
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def waiting(*, works_on=WEEKDAYS, beds="A", by=1) -> Build:
    """Room 101, next to a sign in 102 of day 0, a Monday; wanted by noon of a day."""
    built = house()
    built.room("101", room_type="double")
    for bed in beds:
        built.bed(bed)
    built.room("102", room_type="double").bed("A")
    built.record(TeamDescribed(BLUE, 2, 300, works_on, from_clock="08:00", until_clock="17:00"))
    return built.record(
        Sighted(CASE, RoomNo("102"), "", "", Sign.LIVE_INSECT, 1, "anna", moment(0, 8)),
        CheckAsked(CASE, RoomNo("101"), ("wall",), moment(by, 11)),
    )


def publish(built: Build, *on: int, beds="A") -> Build:
    slots = (
        SlotPublished(day(n), BLUE, 1, RoomNo("101"), tuple(f"101/{b}" for b in part), 30, CASE)
        for n, part in zip(on, beds.split(), strict=True)
    )
    return built.record(RoundPublished(day(0), day(9)), *slots)


def book(built: Build, *spans) -> Build:
    rows = [
        Stay(f"b{n}", "101", "double", day(arrives), day(leaves), *more)
        for n, (arrives, leaves, *more) in enumerate(spans)
    ]
    built.house = built.house.with_stays(rows)
    return built


def held(built: Build, number=0, hour=12):
    as_booked = occupancy(built.house, day(number))
    found = blocks(built.house, as_booked, moment(number, hour))
    (block,) = (block for block in found if block.kind is BlockKind.HELD)
    return block


def days(built: Build, number=0, hour=12):
    """The earliest and the expected day, by the test's numbers."""
    block = held(built, number, hour)
    told = (block.earliest_until, block.expected_until)
    return tuple(None if on is None else (on - day(0)).days for on in told)


# --- on a sheet ---------------------------------------------------------------------------------


@pytest.mark.parametrize("on", [0, 1, 4])
def test_the_day_of_its_published_sheet_is_expected_before_its_deadline_or_after_it(on):
    assert days(waiting()) == (0, 1)
    built = publish(waiting(), on)
    assert days(built) == (0, on)
    assert held(built).review_on == day(on)


def test_a_sheet_of_yesterday_on_which_nobody_came_tells_nothing():
    assert days(publish(waiting(by=4), 0), 1) == (1, 4)


def test_a_sheet_on_whose_day_a_guest_is_in_it_by_now_tells_nothing():
    built = book(publish(waiting(), 3), (2, 6))
    assert days(built) == (0, 1)
    assert days(book(built, (-1, 6, IN_HOUSE))) == (6, 6)


def test_only_a_sheet_with_the_last_of_its_beds_gives_the_room_back():
    assert days(publish(waiting(beds="AB"), 2)) == (0, 1)
    assert days(publish(waiting(beds="AB"), 2, 5, beds="A B")) == (0, 5)
    built = publish(waiting(beds="AB"), 2, 5, beds="A B")
    built._room = RoomNo("101")
    built.on(0).checked("B", day(0), kind=CheckKind.ASKED)
    assert days(built) == (0, 2)


# Guests arrive from 15:00: who is booked for tonight has not come until the bookings say so.
def test_a_sheet_of_today_counts_until_the_guest_of_tonight_has_come():
    built = book(publish(waiting(), 0), (0, 5, BOOKED))
    assert days(built, hour=15) == (0, 0)
    assert days(book(built, (0, 5, IN_HOUSE)), hour=15) == (5, 5)


# --- on no sheet --------------------------------------------------------------------------------


def test_a_room_with_a_guest_in_it_waits_for_the_first_day_on_which_it_can_be_entered():
    assert days(book(waiting(), (-2, 4, IN_HOUSE))) == (4, 4)
    assert days(book(waiting(by=6), (-2, 4, IN_HOUSE))) == (4, 6)
    assert days(book(waiting(), (-2, 4, IN_HOUSE), (4, 9))) == (4, 4)


def test_a_look_to_which_the_guest_agreed_can_be_made_while_the_guest_stays():
    built = book(waiting(), (-2, 6, IN_HOUSE))
    built.record(VisitArranged(RoomNo("101"), day(3), "11:00", "12:00", "ines"))
    assert days(built) == (3, 3)


# Day 4 is a Friday: the guest leaves on Saturday, and the team works on Monday again.
def test_it_is_expected_on_a_day_on_which_a_team_works():
    built = book(waiting(works_on=WEEKDAYS[:5]), (-2, 5, IN_HOUSE))
    assert days(built) == (5, 7)


def test_nobody_is_expected_once_the_team_s_shift_is_over():
    assert days(waiting(by=0), hour=15) == (0, 0)
    assert days(waiting(by=0), hour=17) == (0, 1)


def test_where_no_team_is_known_to_work_nobody_can_say_when():
    built = book(waiting(works_on=()), (-2, 4, IN_HOUSE), (6, 8))
    assert days(built) == (4, None)
    as_booked = occupancy(built.house, day(0))
    found = blocks(built.house, as_booked, moment(0, 12))
    costs = block_costs(built.house, as_booked, found, now=moment(0, 12))
    assert [c.expected for b, c in zip(found, costs, strict=True) if b.room == "101"] == [None]


# --- whom it touches ----------------------------------------------------------------------------


def test_a_guest_who_comes_before_the_planned_look_is_touched_today():
    built = book(waiting(), (-2, 1, IN_HOUSE), (1, 2), (6, 9))
    as_booked = occupancy(built.house, day(0))

    def touched():
        now = moment(0, 14)
        found = blocks(built.house, as_booked, now)
        rows = touched_arrivals(built.house, as_booked, found, now=now)
        return [row.stay.arrives_on for row in rows if row.room == "101"]

    assert touched() == []
    publish(built, 4)
    assert touched() == [day(1)]


SPANS = st.lists(st.tuples(st.integers(0, 3), st.integers(1, 9)), max_size=4)


# Counted day by day from nights alone: a day on which the same guest sleeps before and after
# is shut, and nothing else is, since guests leave hours before others come.
@settings(deadline=None)
@given(SPANS, st.sets(st.sampled_from(WEEKDAYS), min_size=1), st.integers(0, 9))
def test_days_are_those_that_a_count_of_nights_finds(gaps, works, by):
    built = waiting(works_on=tuple(sorted(works)), by=by)
    at, spans = -3, []
    for gap, nights in gaps:
        spans.append((at + gap, at + gap + nights))
        at += gap + nights
    book(built, *spans)
    assert isinstance(built.house.hotel, HotelDescribed)
    guest = {night: n for n, (a, b) in enumerate(spans) for night in range(a, b)}
    free = [n for n in range(60) if guest.get(n - 1) is None or guest.get(n - 1) != guest.get(n)]
    met = [n for n in free if weekday(day(0) + timedelta(days=n)) in works]
    assert days(built, hour=10) == (free[0], max(met[0], by))
