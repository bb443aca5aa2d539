"""The invented hotel's bookings: plausible, without a room let twice, the same each time."""

from __future__ import annotations

import random
from collections import Counter, defaultdict
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from hotelwatch.actions.demo.bookings import draw_bookings, listed_on
from hotelwatch.core.days import days_from, weekday
from hotelwatch.core.facts import RoomDescribed, RoomNo, Side
from hotelwatch.core.records import StayStatus
from tests.build import day

TYPES = ("Twin", "Double", "Double", "Family")
ROOMS = tuple(
    RoomDescribed(RoomNo(f"{100 + n}"), "1", "", Side.LEFT, n, room_type=TYPES[n % 4])
    for n in range(1, 41)
)
KEYS = tuple(
    RoomDescribed(RoomNo(f"5{n}"), "5", "", Side.LEFT, n, room_type="Suite", suite="Heron")
    for n in (1, 2)
)
FIRST, LAST, TODAY = day(0), day(180), day(120)


def listed(today=TODAY, last=LAST, rooms=ROOMS + KEYS, start=7):
    drawn = draw_bookings(rooms, first=FIRST, last=last, rng=random.Random(start))
    return listed_on(drawn, today)


def nights_of(stay):
    return days_from(stay.arrives_on, (stay.leaves_on - stay.arrives_on).days)


def test_the_same_start_gives_the_same_bookings():
    assert listed() == listed()
    assert listed() != listed(start=8)


@pytest.mark.parametrize("start", range(5))
def test_no_room_is_let_twice(start):
    taken = Counter(
        (stay.room, night)
        for stay in listed(start=start)
        if stay.room and stay.counts
        for night in nights_of(stay)
    )
    assert max(taken.values()) == 1


@pytest.mark.parametrize("start", range(5))
def test_bookings_without_a_room_never_outnumber_the_rooms_left(start):
    left = defaultdict(lambda: dict(Counter(room.room_type for room in ROOMS + KEYS)))
    seen = 0
    types = {room.room: room.room_type for room in ROOMS + KEYS}
    for stay in listed(start=start):
        seen += not stay.room and stay.counts
        for night in nights_of(stay) if stay.counts else ():
            assert not stay.room or types[stay.room] == stay.room_type
            left[night][stay.room_type] -= 1
            assert left[night][stay.room_type] >= 0
    assert seen > 10


@pytest.mark.long
def test_a_house_is_let_as_houses_are():
    share = {
        night: sum(stay.arrives_on <= night < stay.leaves_on for stay in listed() if stay.counts)
        / len(ROOMS + KEYS)
        for night in days_from(FIRST, 120)
    }
    assert 0.6 <= sum(share.values()) / len(share) <= 0.8
    by_day = defaultdict(list)
    for night, let in share.items():
        by_day[weekday(night)].append(let)
    mean = {name: sum(lets) / len(lets) for name, lets in by_day.items()}
    assert min(mean["fri"], mean["sat"]) > max(mean["sun"], mean["mon"])


def test_most_stay_a_few_nights_and_a_few_stay_long():
    nights = [(stay.leaves_on - stay.arrives_on).days for stay in listed()]
    short = [n for n in nights if n <= 7]
    assert min(nights) == 1
    assert 2.0 <= sum(short) / len(short) <= 2.6
    assert 0.002 < 1 - len(short) / len(nights) < 0.03


def test_states_fit_the_day_of_the_list():
    stays = listed()
    seen = Counter(stay.status for stay in stays)
    assert set(seen) == set(StayStatus)
    for stay in stays:
        if stay.status is StayStatus.IN_HOUSE:
            assert stay.arrives_on < TODAY < stay.leaves_on
        if stay.status is StayStatus.LEFT:
            assert stay.leaves_on <= TODAY
        if not stay.room and stay.counts:
            assert stay.arrives_on > TODAY
    assert 0.03 < seen[StayStatus.CANCELLED] / len(stays) < 0.12


def test_a_later_list_tells_more_of_the_same_bookings():
    lists = [listed(today=TODAY + timedelta(days=n)) for n in range(0, 60, 7)]
    for earlier, later in pairwise(lists):
        now = {stay.booking: stay for stay in later}
        for stay in earlier:
            same = now[stay.booking]
            assert (same.arrives_on, same.leaves_on) == (stay.arrives_on, stay.leaves_on)
            assert not stay.room or same.room == stay.room
            assert stay.counts or not same.counts


def test_a_longer_span_only_adds_bookings():
    short, long = set(listed(last=day(130))), set(listed(last=LAST))
    assert short == {stay for stay in long if stay.arrives_on <= day(130)}


def test_the_keys_of_a_suite_are_let_together():
    spans = defaultdict(set)
    for stay in listed():
        if stay.room_type == "Suite":
            spans[stay.room].add((stay.arrives_on, stay.leaves_on, stay.status))
    assert spans["51"] == spans["52"] != set()


def test_rooms_without_a_type_are_booked_by_room():
    rooms = tuple(replace(room, room_type="") for room in ROOMS)
    assert all(stay.room for stay in listed(rooms=rooms))
