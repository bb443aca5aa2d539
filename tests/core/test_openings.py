"""When a room can be entered."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import QuarantineLifted, QuarantinePlaced
from hotelwatch.core.facts import CaseNo, HotelDescribed, RoomNo
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.round_facts import VisitArranged
from hotelwatch.core.stays.openings import OpeningKind, occupancy
from tests.build import day, house, moment


def kinds(built, room, *, days=8, today=0):
    seen = occupancy(built.house, day(today))
    openings = (seen.opening(RoomNo(room), day(n)) for n in range(days))
    return [opening.kind.value if opening else None for opening in openings]


def test_a_room_is_closed_only_between_two_nights_of_the_same_stay():
    built = house().room("101").bed("A").stays(("101", 1, 4))
    assert kinds(built, "101", days=6) == [
        "all_day",
        "before_arrival",
        None,
        None,
        "after_departure",
        "all_day",
    ]


def test_a_rebooked_next_stay_leaves_a_turnover_between_the_hotels_hours():
    built = house().record(
        HotelDescribed("House of tests", "Europe/Vienna", leave_by="10:30", arrive_from="16:00")
    )
    built.room("101").stays(("101", 0, 2), ("101", 2, 4))
    opening = occupancy(built.house, day(0)).opening(RoomNo("101"), day(2))
    assert (opening.kind, opening.from_clock, opening.until_clock) == (
        OpeningKind.TURNOVER,
        "10:30",
        "16:00",
    )


def test_two_rows_of_the_same_booking_leave_no_turnover():
    built = house().room("101").stays(("101", 0, 2), ("101", 2, 4))
    first, second = built.house.stays
    built.house = built.house.with_stays((first, replace(second, booking=first.booking)))
    assert kinds(built, "101", days=5)[1:4] == [None, None, None]


def test_hours_that_leave_no_time_leave_no_turnover():
    built = house().record(
        HotelDescribed("House of tests", "Europe/Vienna", leave_by="15:00", arrive_from="14:00")
    )
    built.room("101").stays(("101", 0, 2), ("101", 2, 4))
    assert kinds(built, "101", days=4)[2] is None


@pytest.mark.parametrize("status", [StayStatus.CANCELLED, StayStatus.NO_SHOW])
def test_a_booking_that_fell_through_closes_nothing(status):
    built = house().room("101").stays(("101", 1, 4))
    built.house = built.house.with_stays([replace(built.house.stays[0], status=status)])
    assert kinds(built, "101", days=5) == ["all_day"] * 5


def test_a_guest_who_left_early_frees_the_room_from_today():
    built = house().room("101").stays(("101", 0, 6))
    built.house = built.house.with_stays([replace(built.house.stays[0], status=StayStatus.LEFT)])
    assert kinds(built, "101", days=5, today=3) == [
        "before_arrival",
        None,
        None,
        "after_departure",
        "all_day",
    ]


def test_a_stay_without_a_night_closes_nothing():
    built = house().room("101").stays(("101", 2, 2))
    assert kinds(built, "101", days=4) == ["all_day"] * 4


def test_a_room_let_twice_by_mistake_is_closed_while_anybody_stays_over():
    built = house().room("101").stays(("101", 0, 7), ("101", 2, 3))
    assert kinds(built, "101", days=8)[1:7] == [None] * 6


def test_days_past_are_told_as_they_were():
    built = house().room("101").stays(("101", -10, -7))
    seen = occupancy(built.house, day(0))
    assert [o.kind.value for o in seen.openings(RoomNo("101"), day(-11), 6)] == [
        "all_day",
        "before_arrival",
        "after_departure",
        "all_day",
    ]


def test_the_next_arrival_and_the_day_since_when_a_room_is_vacant():
    built = house().room("101").room("102").stays(("101", 0, 2), ("101", 5, 7))
    seen = occupancy(built.house, day(0))
    room = RoomNo("101")
    assert seen.next_arrival(room, day(0)) == day(0)
    assert seen.next_arrival(room, day(1)) == day(5)
    assert seen.next_arrival(room, day(6)) is None
    assert seen.vacant_since(room, day(1)) is None
    assert seen.vacant_since(room, day(2)) == day(2)
    assert seen.vacant_since(room, day(4)) == day(2)
    assert seen.vacant_since(room, day(5)) is None
    assert seen.vacant_since(RoomNo("102"), day(5)) is None


def test_who_stays_on_a_night():
    built = house().room("101").stays(("101", 0, 2), ("101", 2, 4))
    seen = occupancy(built.house, day(0))
    assert [s and s.booking for s in (seen.stay_on(RoomNo("101"), day(n)) for n in range(5))] == [
        "b0",
        "b0",
        "b1",
        "b1",
        None,
    ]


def test_a_booking_without_a_room_gets_one_of_its_type_from_today_on():
    built = house().room("101", room_type="twin").room("102", room_type="double")
    built.house = built.house.with_stays([Stay("x", "", "double", day(-3), day(4))])
    seen = occupancy(built.house, day(0))
    assert seen.provisional == {"x"}
    (stay,) = seen.stays_by_room[RoomNo("102")]
    assert (stay.arrives_on, stay.leaves_on) == (day(0), day(4))
    assert seen.stay_on(RoomNo("102"), day(-1)) is None


def test_nobody_is_foreseen_in_a_quarantined_room_while_a_plan_looks_ahead():
    built = house().room("101", room_type="twin").room("102", room_type="twin")
    built.record(QuarantinePlaced(RoomNo("101"), CaseNo("c"), moment(0), "sighting"))
    built.house = built.house.with_stays([Stay("x", "", "twin", day(1), day(4))])
    assert list(occupancy(built.house, day(0)).stays_by_room) == ["102"]
    built.house = built.house.with_stays(
        [Stay("x", "", "twin", day(1), day(4)), Stay("y", "", "twin", day(2), day(4))]
    )
    assert [stay.booking for stay in occupancy(built.house, day(0)).unplaced] == ["y"]
    built.record(QuarantineLifted(RoomNo("101"), CaseNo("c"), moment(1), "anna", True))
    assert not occupancy(built.house, day(2)).unplaced


spans = st.lists(
    st.tuples(st.sampled_from(["101", "102"]), st.integers(-9, 9), st.integers(0, 6)), max_size=6
)


@given(spans)
def test_an_opening_never_falls_between_two_nights_of_one_booking(rows):
    built = house().room("101").room("102")
    built.stays(*((room, first, first + nights) for room, first, nights in rows))
    seen = occupancy(built.house, day(0))
    for room in ("101", "102"):
        for n in range(-10, 17):
            stays_over = any(
                s.room == room and s.arrives_on < day(n) < s.leaves_on for s in built.house.stays
            )
            assert (seen.opening(RoomNo(room), day(n)) is None) == stays_over
            asleep = [
                s
                for s in built.house.stays
                if s.room == room and s.arrives_on <= day(n) < s.leaves_on
            ]
            assert (seen.stay_on(RoomNo(room), day(n)) is None) == (not asleep)
            arrivals = [
                s.arrives_on
                for s in built.house.stays
                if s.room == room and s.arrives_on >= day(n) and s.leaves_on > s.arrives_on
            ]
            assert seen.next_arrival(RoomNo(room), day(n)) == min(arrivals, default=None)


@given(spans, st.integers(1, 20))
def test_the_openings_of_a_span_are_those_of_its_days(rows, days):
    built = house().room("101").room("102")
    built.stays(*((room, first, first + nights) for room, first, nights in rows))
    seen = occupancy(built.house, day(0))
    each = [seen.opening(RoomNo("101"), day(0) + timedelta(days=n)) for n in range(days)]
    assert seen.openings(RoomNo("101"), day(0), days) == tuple(o for o in each if o)


bookings = st.lists(
    st.tuples(st.integers(-6, 12), st.integers(1, 6), st.sampled_from("abcdefgh")), max_size=6
)


@given(bookings, st.integers(-4, 6), st.integers(1, 12), st.booleans(), st.booleans())
def test_days_in_one_walk_open_as_each_by_itself(made, first, days, is_apart, is_agreed):
    built = house().record(
        HotelDescribed("House of tests", "Europe/Vienna", leave_by="10:30", arrive_from="16:00")
    )
    built.room("101").room("102")
    if is_agreed:
        built.on(-8).record(
            *(VisitArranged(RoomNo("101"), day(n), "10:00", "11:00", "ines") for n in range(4))
        )
    stays, free = [], -100
    for begins, nights, booking in sorted(made):
        begins = max(begins, free) if is_apart else begins
        free = begins + nights
        stays.append(Stay(booking, "101", "double", day(begins), day(free)))
    built.house = built.house.with_stays(tuple(stays))
    seen = occupancy(built.house, day(0))
    for room in (RoomNo("101"), RoomNo("102")):
        one_by_one = [seen.opening(room, day(first + n)) for n in range(days)]
        assert seen.by_day(room, day(first), days) == one_by_one
        # Asked again after another span; what somebody did to the first answer is not kept.
        seen.by_day(room, day(first), days).clear()
        assert seen.by_day(room, day(first + 1), days) == [
            seen.opening(room, day(first + 1 + n)) for n in range(days)
        ]
        assert seen.by_day(room, day(first), days) == one_by_one
        for n, opening in enumerate(one_by_one):
            assert (opening is None or opening.kind is OpeningKind.ARRANGED) == any(
                one.booking == other.booking
                for one in seen.stays_by_room.get(room, ())
                for other in seen.stays_by_room.get(room, ())
                if one.arrives_on < day(first + n) <= one.leaves_on
                and other.arrives_on <= day(first + n) < other.leaves_on
            )
