"""Rooms that will not open before they are wanted: a look to be agreed with the guest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.sheet import visit_minutes
from hotelwatch.core.checks.slots import quarantining
from hotelwatch.core.checks.sooner import pulls
from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import BedNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.rounds.demand import Wanted, demand
from hotelwatch.core.rounds.doubts import Doubt, doubts
from hotelwatch.core.stays.agreed import ArrangedVisit, DeclinedVisit, declined_visits
from hotelwatch.core.stays.openings import Occupancy, OpeningKind

LONGEST_STAY_DAYS = 366
"""So far ahead a departure is looked for."""


@dataclass(frozen=True, slots=True)
class ToArrange:
    """A room let through the day by which it is wanted, as known from bookings."""

    room: RoomNo
    beds: tuple[BedNo, ...]
    due_on: date
    """The last day that is not late."""
    minutes: int
    is_asked: bool
    """Whether a case asks for the look."""
    guest_since: date | None
    """The day on which the guest came: the last one with an opening before today."""
    next_open_on: date | None
    """The first day on which it can be entered unless a look is agreed; None if none is known."""
    overdue_bed_days: int
    """Bed-days overdue by that day, counted from today, that an agreed look may save."""
    visit: ArrangedVisit | None
    """The next agreed look that still holds."""
    doubts: tuple[Doubt, ...] = ()
    """What stands against the agreed look, as things are now."""
    declined: DeclinedVisit | None = None
    """The last no of the guest who stays, where no look is agreed: the room remains due."""

    @property
    def place(self) -> int:
        """Who is yet to be asked comes first, then whose look nobody can make, then a no."""
        if self.visit is not None:
            return 1 if self.doubts else 3
        return 0 if self.declined is None else 2


def to_arrange(house: House, occupancy: Occupancy, now: datetime) -> tuple[ToArrange, ...]:
    """Rooms wanted within the plan's days that open on none up to then, in the order to ask.

    Those not yet asked first, of them the earliest due.

    A routine look whose guest leaves soon after is not worth asking for: so many days of
    waiting are borne (figure ``visit_wait_days``). Rooms in quarantine are left out:
    nobody is let into them. Rooms whose guest agreed stay on the list until the look,
    due within these days or later.
    """
    today = local_day(now, house.zone)
    until = today + timedelta(days=int(house.rules.figures.plan_days.value) - 1)
    usual = replace(occupancy, arranged={})
    closed = quarantining(house, now)
    wanted = demand(house, today, until, pulled=pulls(house, occupancy, today))
    rows = [
        _row(usual, occupancy, one, today)
        for one in wanted
        if one.due_on <= until and one.room not in closed and not _opens(usual, one, today)
    ]
    borne = int(house.rules.figures.visit_wait_days.value)
    worth = {row.room: row for row in rows if _is_worth_asking(row, today, borne)}
    for one in _agreed(house, occupancy, today):
        if one.room not in worth and one.room not in closed:
            worth[one.room] = _row(usual, occupancy, one, today)
    noes = declined_visits(house)
    told = (
        _with_no(row, noes.get(row.room, ()), occupancy, today)
        if row.visit is None
        else _doubted(house, row, row.visit, now)
        for row in worth.values()
    )
    return tuple(sorted(told, key=lambda row: (row.place, row.due_on, row.room)))


def _with_no(
    row: ToArrange, noes: Sequence[DeclinedVisit], occupancy: Occupancy, today: date
) -> ToArrange:
    stay = occupancy.stay_on(row.room, today)
    theirs = [no for no in noes if no.stands(stay, today)]
    return replace(row, declined=max(theirs, key=lambda no: no.on)) if theirs else row


def _doubted(house: House, row: ToArrange, visit: ArrangedVisit, now: datetime) -> ToArrange:
    return replace(row, doubts=doubts(house, row.room, [visit.on], now=now))


def _agreed(house: House, occupancy: Occupancy, today: date) -> Iterator[Wanted]:
    """Every bed of each room whose guest agreed to a look that is still to come."""
    rooms = {room for room, on in occupancy.arranged if on >= today and room in house.beds_by_room}
    agreed = sorted(room for room in rooms if any(_visits(occupancy, room, today)))
    if not agreed:
        return
    due = {look.bed: look.due_on for look in looks(house, today)}
    for room in agreed:
        beds = house.beds_of(room)
        dues = tuple(due[bed.bed] for bed in beds)
        yield Wanted(
            room=room,
            beds=tuple(bed.bed for bed in beds),
            bed_due_on=dues,
            due_on=min(dues),
            minutes=visit_minutes(house, beds),
            asked_by="",
            by_at=None,
        )


def _is_worth_asking(row: ToArrange, today: date, borne: int) -> bool:
    if row.is_asked or row.visit is not None or row.next_open_on is None:
        return True
    return (row.next_open_on - max(row.due_on, today)).days > borne


def _opens(usual: Occupancy, one: Wanted, today: date) -> bool:
    """Whether the room can be entered, without asking a guest, before a look would be late."""
    last = max(one.due_on, today)
    days = days_from(today, (last - today).days + 1)
    return any(usual.opening(one.room, day) is not None for day in days)


def _row(usual: Occupancy, occupancy: Occupancy, one: Wanted, today: date) -> ToArrange:
    stay = usual.stay_on(one.room, today)
    ahead = days_from(today, LONGEST_STAY_DAYS)
    opens = next((day for day in ahead if usual.opening(one.room, day) is not None), None)
    return ToArrange(
        room=one.room,
        beds=one.beds,
        due_on=one.due_on,
        minutes=one.minutes,
        is_asked=bool(one.asked_by),
        guest_since=stay.arrives_on if stay is not None else None,
        next_open_on=opens,
        overdue_bed_days=0 if opens is None else _late(one, opens, today),
        visit=next(_visits(occupancy, one.room, today), None),
    )


def _late(one: Wanted, opens: date, today: date) -> int:
    """Days from today on that begin with a bed overdue, up to the day of the look.

    Where a case asks, each of its beds is wanted by the case's day.
    """
    before = today - timedelta(days=1)
    wanted_by = [one.due_on] * len(one.beds) if one.asked_by else one.bed_due_on
    return sum(max(0, (opens - max(due_on, before)).days) for due_on in wanted_by)


def _visits(occupancy: Occupancy, room: RoomNo, today: date) -> Iterator[ArrangedVisit]:
    held = (visit for (of, on), visit in occupancy.arranged.items() if of == room and on >= today)
    for visit in sorted(held, key=lambda visit: visit.on):
        opening = occupancy.opening(room, visit.on)
        if opening is not None and opening.kind is OpeningKind.ARRANGED:
            yield visit
