"""What the demo hotel has beside its cases: a vacant room, leave, a holiday, an agreed visit."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date, timedelta
from itertools import count, islice

from hotelwatch.actions.by_hand import arrange_visit, ask_nights
from hotelwatch.actions.calendar import change_team_days, close_days, move_furniture
from hotelwatch.actions.demo.bookings import Booking
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import (
    FurnitureMoved,
    HouseDaysClosed,
    NightAsked,
    TeamDaysChanged,
    VisitArranged,
)

VACANT_DAYS = 40
"""So long nobody has had the vacant room when its next guest comes."""
NEXT_GUEST_DAYS = (5, 12)
"""Days ahead on which that guest comes."""
VISIT_DAYS = (1, 6)
"""Days ahead on which a guest who stays can be visited."""
ASKED_WITHIN_DAYS = 10
"""So many days ahead at most front desk is asked to keep a room free."""
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
    """First nights of bookings on days without a team: any other leaves hours for the look.

    Rooms that come due meanwhile go first, of them those that nobody can enter before.
    """
    seen, today, calendar = hotel.occupancy(), hotel.today(), Calendar(hotel.house)
    due = {look.room: look.due_on for look in reversed(looks(hotel.house, today))}
    nights = [
        night
        for night in days_from(today + timedelta(days=1), ASKED_WITHIN_DAYS)
        if not calendar.working(night) and calendar.working(night + timedelta(days=1))
    ]
    comes = [
        stay
        for night in nights
        for room in rooms
        if (stay := seen.stay_on(room, night)) is not None
        and stay.arrives_on == night
        and stay.leaves_on > night + timedelta(days=1)
    ]
    waits = {stay: (stay.leaves_on - due[RoomNo(stay.room)]).days for stay in comes}

    def opens_before(stay: Stay) -> bool:
        days = days_from(today, (stay.arrives_on - today).days)
        openings = (seen.opening(RoomNo(stay.room), day) for day in days if calendar.working(day))
        return any(opening is not None for opening in openings)

    def place(stay: Stay) -> tuple[bool, bool, int, str]:
        return waits[stay] <= 0, opens_before(stay), -waits[stay], stay.room

    for stay in sorted(comes, key=place):
        yield NightAsked(RoomNo(stay.room), stay.arrives_on, "Its underside comes due meanwhile")


def _visits(hotel: OpenHotel, rooms: Sequence[RoomNo]) -> Iterator[VisitArranged]:
    """Looks to which a guest in house could agree, undersides due in that time before others."""
    seen, today = hotel.occupancy(), hotel.today()
    due = {look.room: look.due_on for look in reversed(looks(hotel.house, today))}
    first, last = (today + timedelta(days=days) for days in VISIT_DAYS)
    staying = [stay for room in rooms if (stay := seen.stay_on(room, today)) is not None]
    waits = {stay.room: (stay.leaves_on - due[RoomNo(stay.room)]).days for stay in staying}
    calendar = Calendar(hotel.house)
    days = [day for day in days_from(first, (last - first).days + 1) if calendar.working(day)]
    for stay in sorted(staying, key=lambda stay: (-waits[stay.room], stay.room)):
        before = [day for day in days if day < stay.leaves_on]
        if stay.arrives_on < today and before:
            yield VisitArranged(RoomNo(stay.room), before[-1], "10:00", "11:30", "Esther")
