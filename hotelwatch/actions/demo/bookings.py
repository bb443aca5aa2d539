"""Plausible bookings for an invented hotel, as front desk would list them on a day.

Every number here is invented (assumption); nothing is learned from a real hotel.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.days import weekday
from hotelwatch.core.facts import RoomDescribed
from hotelwatch.core.records import Stay, StayStatus

LET_TONIGHT = {
    "mon": 0.42,
    "tue": 0.46,
    "wed": 0.46,
    "thu": 0.52,
    "fri": 0.72,
    "sat": 0.66,
    "sun": 0.32,
}
"""Chance that a room nobody has is taken for a stay from that night on."""
ONE_MORE_NIGHT = 1 - 1 / 2.3
"""So that nights are geometric with a mean near 2.3."""
MOST_NIGHTS = 7
LONG_STAY = 0.012
LONG_NIGHTS = (10, 24)
CANCELLED = 0.07
NO_SHOW = 0.012
BOOKED_AHEAD_DAYS = 24.0
"""Mean; some come from the street on the day."""
ROOM_GIVEN_DAYS = (0, 9)
"""Days before arrival on which a booking gets its room."""
RUN_UP_DAYS = 28
"""Bookings begin so many days earlier, so that the first night finds the house let."""


@dataclass(frozen=True, slots=True)
class Booking:
    """A booking with all that will ever happen to it."""

    stay: Stay
    booked_on: date
    room_given_on: date
    cancelled_on: date | None
    is_no_show: bool


def draw_bookings(
    rooms: Sequence[RoomDescribed], *, first: date, last: date, rng: random.Random
) -> tuple[Booking, ...]:
    """Bookings with a night in ``first`` to ``last``, each with all that becomes of it.

    No two bookings that count share a room's night, and those without a room would
    always find one of their type. The keys of a suite are let together.
    """
    return tuple(
        booking
        for booking in _bookings(rooms, first, last, rng)
        if booking.stay.leaves_on > first and booking.stay.arrives_on <= last
    )


def listed_on(bookings: Sequence[Booking], day: date) -> tuple[Stay, ...]:
    """Bookings as front desk lists them on a day: those booked by then, with rooms given."""
    stays = [_as_known(booking, day) for booking in bookings if booking.booked_on <= day]
    return tuple(sorted(stays, key=lambda stay: (stay.arrives_on, stay.booking)))


def _bookings(
    rooms: Sequence[RoomDescribed], first: date, last: date, rng: random.Random
) -> Iterator[Booking]:
    lets = _let_together(rooms)
    # A generator for each let: a longer span only adds to what a shorter one gave.
    states = [rng.getrandbits(64) for _ in lets]
    for number, (together, state) in enumerate(zip(lets, states, strict=True), 1):
        own = random.Random(state)
        day, count = first - timedelta(days=RUN_UP_DAYS), 0
        while day <= last:
            if own.random() >= LET_TONIGHT[weekday(day)]:
                day += timedelta(days=1)
                continue
            count += 1
            booking = _booking(f"D{number:03}{count:03}", together[0], day, own)
            yield from _split(booking, together)
            day = booking.stay.leaves_on


def _let_together(rooms: Sequence[RoomDescribed]) -> list[tuple[RoomDescribed, ...]]:
    """Rooms that are let one by one, and suites with all their keys, by label."""
    groups: dict[str, list[RoomDescribed]] = {}
    for room in sorted(rooms, key=lambda r: r.room):
        groups.setdefault(f"suite {room.suite}" if room.suite else room.room, []).append(room)
    return [tuple(group) for group in groups.values()]


def _booking(label: str, room: RoomDescribed, arrives_on: date, rng: random.Random) -> Booking:
    stay = Stay(
        booking=label,
        room=room.room,
        room_type=room.room_type,
        arrives_on=arrives_on,
        leaves_on=arrives_on + timedelta(days=_nights(rng)),
    )
    ahead = int(rng.expovariate(1 / BOOKED_AHEAD_DAYS))
    booked_on = arrives_on - timedelta(days=ahead)
    given = arrives_on - timedelta(days=rng.randint(*ROOM_GIVEN_DAYS))
    is_cancelled = rng.random() < CANCELLED
    cancelled_on = booked_on + timedelta(days=rng.randint(0, ahead)) if is_cancelled else None
    is_no_show = rng.random() < NO_SHOW
    return Booking(stay, booked_on, given, cancelled_on, is_no_show)


def _nights(rng: random.Random) -> int:
    if rng.random() < LONG_STAY:
        return rng.randint(*LONG_NIGHTS)
    nights = 1
    while nights < MOST_NIGHTS and rng.random() < ONE_MORE_NIGHT:
        nights += 1
    return nights


def _split(booking: Booking, together: Sequence[RoomDescribed]) -> Iterator[Booking]:
    """A booking row for each key; a suite's keys are fixed from the day of booking."""
    stay = booking.stay
    if len(together) == 1:
        yield booking
        return
    for number, room in enumerate(together, 1):
        key = Stay(
            booking=f"{stay.booking}-{number}",
            room=room.room,
            room_type=room.room_type,
            arrives_on=stay.arrives_on,
            leaves_on=stay.leaves_on,
        )
        yield Booking(
            key,
            booking.booked_on,
            booking.booked_on,
            booking.cancelled_on,
            booking.is_no_show,
        )


def _as_known(booking: Booking, known_until: date) -> Stay:
    stay = booking.stay
    has_room = booking.room_given_on <= known_until or not stay.room_type
    return Stay(
        booking=stay.booking,
        room=stay.room if has_room else "",
        room_type=stay.room_type,
        arrives_on=stay.arrives_on,
        leaves_on=stay.leaves_on,
        status=_status(booking, known_until),
    )


def _status(booking: Booking, known_until: date) -> StayStatus:
    stay = booking.stay
    if booking.cancelled_on is not None and booking.cancelled_on <= known_until:
        return StayStatus.CANCELLED
    if stay.arrives_on >= known_until:
        return StayStatus.BOOKED
    if booking.is_no_show:
        return StayStatus.NO_SHOW
    return StayStatus.LEFT if stay.leaves_on <= known_until else StayStatus.IN_HOUSE
