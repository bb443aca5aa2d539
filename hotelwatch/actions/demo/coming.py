"""What the demo hotel has beside its cases: a vacant room, leave, a holiday, an agreed visit."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date, timedelta
from itertools import count, islice

from hotelwatch.actions.by_hand import arrange_visit, ask_nights
from hotelwatch.actions.calendar import change_team_days, close_days, move_furniture
from hotelwatch.actions.demo.bookings import Booking
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.round_facts import (
    FurnitureMoved,
    HouseDaysClosed,
    NightAsked,
    TeamDaysChanged,
    VisitArranged,
)
from hotelwatch.core.rounds.calendar import Calendar

VACANT_DAYS = 40
"""So long nobody has had the vacant room when its next guest comes."""
NEXT_GUEST_DAYS = (5, 12)
"""Days ahead on which that guest comes."""
VISIT_DAYS = (1, 6)
"""Days ahead on which a guest who stays can be visited."""
SELDOM_LET_CYCLE = 91
"""The vacant room's own cycle: it is seldom let."""
LEAVE_BEGINS_DAYS, LEAVE_DAYS = 3, 2
"""So many days ahead at least, over so many of the team's own days."""
HOLIDAY_DAYS = 8
MOVED_DAYS = 1


def with_a_vacant_room(
    bookings: Sequence[Booking], *, today: date, rooms: Collection[RoomNo]
) -> tuple[tuple[Booking, ...], RoomNo | None]:
    """The bookings less those of one of these rooms for weeks before its next guest, and which."""
    first, last = (today + timedelta(days=days) for days in NEXT_GUEST_DAYS)
    comes = [
        one
        for one in bookings
        if first <= one.stay.arrives_on <= last
        and one.room_given_on <= today
        and one.stay.room in rooms
        and one.cancelled_on is None
    ]
    if not comes:
        return tuple(bookings), None
    guest = min(comes, key=lambda one: (one.stay.arrives_on, one.stay.room)).stay
    since = guest.arrives_on - timedelta(days=VACANT_DAYS)
    left = tuple(
        one
        for one in bookings
        if one.stay.room != guest.room
        or one.stay.leaves_on <= since
        or one.stay.arrives_on >= guest.arrives_on
    )
    return left, RoomNo(guest.room)


def look_ahead(hotel: OpenHotel, *, aside: Collection[RoomNo]) -> None:
    """Write down this morning what the days to come hold; ``aside`` play another part."""
    today = hotel.today()

    def ahead(days: int) -> date:
        return today + timedelta(days=days)

    team = next(iter(hotel.house.teams))
    calendar = Calendar(hotel.house)
    days = (ahead(n) for n in count(LEAVE_BEGINS_DAYS))
    first, last = islice((day for day in days if calendar.minutes(team, day)), LEAVE_DAYS)
    change_team_days(hotel, TeamDaysChanged(team, first, last, 0, "Training with the district"))
    holiday = ahead(HOLIDAY_DAYS)
    close_days(hotel, HouseDaysClosed(holiday, holiday, "Boathouse day"))
    rooms = [room for room in hotel.house.beds_by_room if room not in aside]
    moved_on = today - timedelta(days=MOVED_DAYS)
    move_furniture(hotel, FurnitureMoved(rooms[0], rooms[-1], moved_on, "Reading chair"))
    for visit in _visits(hotel, rooms):
        arrange_visit(hotel, visit)
        break
    for night in _nights(hotel, rooms):
        ask_nights(hotel, [night])
        break


def _nights(hotel: OpenHotel, rooms: Sequence[RoomNo]) -> Iterator[NightAsked]:
    """Tomorrow's night of rooms whose guest stays beyond an underside's day, the longest first."""
    seen, today = hotel.occupancy(), hotel.today()
    tomorrow = today + timedelta(days=1)
    due = {look.room: look.due_on for look in reversed(looks(hotel.house, today))}
    staying = [stay for room in rooms if (stay := seen.stay_on(room, tomorrow)) is not None]
    waits = {stay.room: (stay.leaves_on - due[RoomNo(stay.room)]).days for stay in staying}
    for stay in sorted(staying, key=lambda stay: (-waits[stay.room], stay.room)):
        if stay.leaves_on > tomorrow and stay.arrives_on <= today:
            yield NightAsked(RoomNo(stay.room), tomorrow, "Its underside comes due meanwhile")


def _visits(hotel: OpenHotel, rooms: Sequence[RoomNo]) -> Iterator[VisitArranged]:
    """Looks to which a guest in house could agree, undersides due in that time before others."""
    seen, today = hotel.occupancy(), hotel.today()
    due = {look.room: look.due_on for look in reversed(looks(hotel.house, today))}
    first, last = (today + timedelta(days=days) for days in VISIT_DAYS)
    staying = [stay for room in rooms if (stay := seen.stay_on(room, today)) is not None]
    waits = {stay.room: (stay.leaves_on - due[RoomNo(stay.room)]).days for stay in staying}
    for stay in sorted(staying, key=lambda stay: (-waits[stay.room], stay.room)):
        day = min(stay.leaves_on - timedelta(days=1), last)
        if stay.arrives_on < today and day >= first:
            yield VisitArranged(RoomNo(stay.room), day, "10:00", "11:30", "Esther")
