from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.round_facts import NightAnswered, NightAsked, VisitArranged
from hotelwatch.core.stays.chances import chances
from hotelwatch.core.stays.forecast import learn
from hotelwatch.core.stays.openings import occupancy
from tests.build import day, house, rules

FIGURES = rules().figures
NIGHTS = FIGURES.learning_nights.value
OPEN = 1 - FIGURES.closed_without_notice.value
TODAY = 60
DAYS = tuple(days_from(day(TODAY), 14))


def a_house(*rooms, kind="Twin"):
    built = house()
    for room in rooms:
        built.room(room, room_type=kind)
    return built


def said(built, *, days=DAYS):
    seen = occupancy(built.house, day(TODAY))
    return chances(built.house, seen, learn(built.house, day(TODAY)), days=days)


# --- what is learned ------------------------------------------------------------------------


def test_a_house_without_stays_goes_by_the_assumed_figures():
    forecast = learn(a_house("101", "102").house, day(TODAY))
    assert forecast.nights == 0
    assert forecast.let.on("Twin", day(TODAY)) == FIGURES.usual_occupancy.value
    assert forecast.goes_on.on("Twin", day(TODAY)) == FIGURES.usual_goes_on.value
    assert not forecast.knows_booking_days
    assert forecast.booked_ahead[0] == 1


def test_a_share_is_drawn_towards_the_assumed_one_as_by_so_many_nights():
    # Room 101 is let every night by guests of one night, 102 never: 60 of 120 room-nights
    # but for night 0, whose departure is the first one known.
    built = a_house("101", "102").stays(*(("101", n, n + 1) for n in range(TODAY)))
    forecast = learn(built.house, day(TODAY))
    known, weight = TODAY - 1, 2 * NIGHTS
    assert forecast.nights == known
    expected = (known + weight * FIGURES.usual_occupancy.value) / (2 * known + weight)
    assert forecast.let.of_house == pytest.approx(expected)
    assert forecast.let.by_type["Twin"] == pytest.approx(
        (known + weight * expected) / (2 * known + weight)
    )
    # Nobody stays on, and the more that shows the less is assumed.
    assert 0 < forecast.goes_on.of_house < FIGURES.usual_goes_on.value / 2


def test_a_full_weekday_and_an_empty_one_are_told_apart():
    # Saturdays (day 5 is one) full, other nights empty, for a year.
    built = a_house("101").stays(*(("101", n, n + 1) for n in range(5 - 364, TODAY, 7)))
    forecast = learn(built.house, day(TODAY))
    saturday, sunday = day(61), day(62)
    assert (saturday.weekday(), sunday.weekday()) == (5, 6)
    assert forecast.let.on("Twin", saturday) > 0.5 > 0.1 > forecast.let.on("Twin", sunday)


def test_a_full_type_and_an_empty_one_are_told_apart():
    built = a_house("101").room("201", room_type="Suite")
    built.stays(*(("101", n, n + 3) for n in range(-300, TODAY, 3)))
    let = learn(built.house, day(TODAY)).let
    assert let.on("Twin", day(TODAY)) > 0.9
    assert let.on("Suite", day(TODAY)) < 0.1


def test_nights_before_the_first_departure_known_are_not_taken_for_empty():
    built = a_house("101", "102").stays(("101", -400, TODAY - 1), ("102", TODAY - 20, TODAY))
    assert learn(built.house, day(TODAY)).nights == 1


def test_cancelled_stays_teach_nothing():
    built = a_house("101")
    told = learn(built.house, day(TODAY))
    gone = Stay("x", "101", "", day(0), day(30), StayStatus.CANCELLED)
    assert learn(built.house.with_stays([gone]), day(TODAY)) == told


@pytest.mark.parametrize("ahead", [0, 3, 40, 400])
def test_bookings_still_to_come_are_learned_where_days_of_booking_are_known(ahead):
    # Every stay of two nights was booked so many days before arrival.
    built = a_house("101")
    stays = [
        Stay(f"b{n}", "101", "", day(n), day(n + 2), booked_on=day(n - ahead))
        for n in range(-1000, TODAY, 2)
    ]
    forecast = learn(built.house.with_stays(stays), day(TODAY))
    assert forecast.knows_booking_days
    # The morning over which they stay is one day after arrival.
    for lead, share in enumerate(forecast.booked_ahead):
        assert share > 0.95 if lead <= min(ahead + 1, 366) else share < 0.05


# --- what the chance is ---------------------------------------------------------------------


def test_a_guest_who_stays_in_a_given_room_closes_it_and_a_departure_opens_it():
    built = a_house("101", "102").stays(("101", 58, 63), ("101", 63, 65))
    by_day = said(built).of(RoomNo("101"))
    assert [by_day[day(n)] for n in (60, 61, 62, 64)] == [0, 0, 0, 0]
    assert by_day[day(63)] == by_day[day(65)] == pytest.approx(OPEN)
    assert 0 < by_day[day(73)] < by_day[day(66)] < OPEN


def test_the_fuller_the_house_was_the_less_a_free_room_stays_free():
    quiet = a_house("101", "102").stays(*(("101", n, n + 2) for n in range(-300, 50, 50)))
    busy = a_house("101", "102").stays(
        *((room, n, n + 5) for n in range(-300, 50, 5) for room in ("101", "102"))
    )
    assert said(quiet).of(RoomNo("102"))[day(70)] > said(busy).of(RoomNo("102"))[day(70)] + 0.04


def test_a_guessed_room_closes_a_window_less_surely_the_further_ahead():
    built = a_house("101", "102")
    stay = Stay("b", "", "Twin", day(61), day(74))
    built.house = built.house.with_stays([stay])
    guessed = occupancy(built.house, day(TODAY))
    room = next(iter(guessed.stays_by_room))
    closed = [said(built).of(room)[day(n)] for n in range(62, 74)]
    assert closed == sorted(closed)
    assert 0 < closed[0] < closed[-1] < 0.5


def test_a_promise_opens_a_room():
    built = a_house("101", "102").stays(("101", 50, 80))
    built.on(TODAY).record(
        VisitArranged(RoomNo("101"), day(62), "10:00", "11:00", "maria"),
        NightAsked(RoomNo("102"), day(70), "due"),
    )
    built.record(NightAnswered(RoomNo("102"), day(70), True, "front desk"))
    seen = said(built)
    assert seen.of(RoomNo("101"))[day(62)] == pytest.approx(OPEN)
    assert seen.of(RoomNo("101"))[day(63)] == 0
    assert seen.of(RoomNo("102"))[day(69)] < OPEN
    assert seen.of(RoomNo("102"))[day(70)] == seen.of(RoomNo("102"))[day(71)] == pytest.approx(OPEN)


def test_days_far_apart_have_the_same_chances_as_among_all_days():
    built = a_house("101", "102").stays(("101", 58, 63), ("102", 66, 70))
    whole = said(built, days=tuple(days_from(day(TODAY), 60)))
    some = said(built, days=tuple(day(n) for n in (60, 66, 67, 81, 102)))
    for room in built.house.rooms:
        assert some.of(room) == {on: whole.of(room)[on] for on in some.days}


ROOMS = ("101", "102", "103", "201", "202")
SPANS = st.tuples(st.sampled_from(ROOMS), st.integers(30, 75), st.integers(1, 12))


def stays_of(spans):
    return [Stay(f"s{n}", room, "", day(a), day(a + n_)) for n, (room, a, n_) in enumerate(spans)]


def the_house(stays):
    built = a_house(*ROOMS[:3])
    for room in ROOMS[3:]:
        built.room(room, room_type="Suite")
    return built.house.with_stays(stays)


@given(st.lists(SPANS, max_size=12), st.lists(SPANS, max_size=6))
def test_chances_are_chances_and_known_stays_close(given_rooms, no_rooms):
    guessed = [
        replace(stay, booking=f"g{n}", room="", room_type="Twin")
        for n, stay in enumerate(stays_of(no_rooms))
    ]
    full = the_house([*stays_of(given_rooms), *guessed])
    seen = occupancy(full, day(TODAY))
    found = chances(full, seen, learn(full, day(TODAY)), days=DAYS)
    for room in full.rooms:
        for on, chance in found.of(room).items():
            assert 0 <= chance <= OPEN
            night = {s.booking for s in full.stays if s.room == room and s.arrives_on < on}
            same = [s for s in full.stays if s.booking in night and s.leaves_on > on]
            assert (chance == 0) >= bool(same)


@given(st.lists(SPANS, max_size=12), SPANS)
def test_one_more_booking_raises_no_chance_but_where_it_begins_or_ends(spans, span):
    before = the_house(stays_of(spans))
    added = replace(stays_of([span])[0], booking="more")
    after = before.with_stays([*before.stays, added])
    forecast = learn(before, day(TODAY))
    was, now = (
        chances(one, occupancy(one, day(TODAY)), forecast, days=DAYS) for one in (before, after)
    )
    for room in before.rooms:
        for on in DAYS:
            touches = room == added.room and on in (added.arrives_on, added.leaves_on)
            assert touches or now.of(room)[on] <= was.of(room)[on] + 1e-12
