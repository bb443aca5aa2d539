"""Rooms that nobody can go into before they are wanted: a look to be agreed with the guest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import partial

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.checks.sheet import visit_minutes
from hotelwatch.core.checks.slots import quarantining
from hotelwatch.core.checks.sooner import pulls
from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import BedNo, RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.crews import Crews
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
    """The first day on which a team can go in unless a look is agreed; None if none is known."""
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
    """Rooms wanted within the plan's days that no team can enter up to then, in the order to ask.

    Those not yet asked first, of them the earliest due. A day counts if a team with enough
    people for the room's beds works while it is open; where only the team is waited for,
    there is nobody to ask.

    A routine look whose guest leaves soon after is not worth asking for: so many days of
    waiting are borne (figure ``visit_wait_days``). Rooms in quarantine are left out:
    nobody is let into them. Rooms whose guest agreed stay on the list until the look,
    due within these days or later.
    """
    today = local_day(now, house.zone)
    until = today + timedelta(days=int(house.rules.figures.plan_days.value) - 1)
    entry = _Entry(house, replace(occupancy, arranged={}), today)
    closed = quarantining(house, now)
    wanted = demand(house, today, until, pulled=pulls(house, occupancy, today))
    rows = [
        _row(opens, occupancy, one, today)
        for one in wanted
        if one.due_on <= until
        and one.room not in closed
        and entry.is_to_ask(one, opens := entry.first_on(one))
    ]
    borne = int(house.rules.figures.visit_wait_days.value)
    worth: dict[RoomNo, ToArrange] = {}
    for row in rows:
        if _is_worth_asking(row, today, borne):
            worth.setdefault(row.room, row)
    for one in _agreed(house, occupancy, today):
        if one.room not in worth and one.room not in closed:
            worth[one.room] = _row(entry.first_on(one), occupancy, one, today)
    noes = declined_visits(house)
    against = partial(doubts, house, now=now, seen=occupancy, calendar=entry.calendar)
    told = (
        _with_no(row, noes.get(row.room, ()), occupancy, today)
        if row.visit is None
        else replace(row, doubts=against(row.room, [row.visit.on]))
        for row in worth.values()
    )
    return tuple(sorted(told, key=lambda row: (row.place, row.due_on, row.room)))


def _with_no(
    row: ToArrange, noes: Sequence[DeclinedVisit], occupancy: Occupancy, today: date
) -> ToArrange:
    stay = occupancy.stay_on(row.room, today)
    theirs = [no for no in noes if no.stands(stay, today)]
    return replace(row, declined=max(theirs, key=lambda no: no.on)) if theirs else row


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


class _Entry:
    """When a team can go into rooms without asking a guest."""

    def __init__(self, house: House, usual: Occupancy, today: date) -> None:
        """``usual`` without looks agreed."""
        self._house, self._usual = house, usual
        self._days = tuple(days_from(today, LONGEST_STAY_DAYS))
        way = int(house.rules.figures.corridor_minutes.value)
        self._crews = Crews(house, self._days, way=way)
        self.calendar = self._crews.calendar
        self._of_day: dict[tuple[int, date], list[TeamName]] = {}

    def is_to_ask(self, one: Wanted, opens: date | None) -> bool:
        """Whether a guest is in the way of a look before it would be late, as it opens."""
        if opens is not None and opens <= max(one.due_on, self._days[0]):
            return False
        people = self._people(one)
        before = (day for day in self._days if opens is None or day < opens)
        return any(
            self._able(people, day) and self._usual.opening(one.room, day) is None for day in before
        )

    def first_on(self, one: Wanted) -> date | None:
        """The first day from today on; None if none is known."""
        house, meets, people = self._house, self.calendar.meets, self._people(one)
        # A room may be looked at in parts: a shift has to leave the time for one bed.
        least = min((visit_minutes(house, [house.beds[bed]]) for bed in one.beds), default=0)
        for day in self._days:
            able = self._able(people, day)
            opening = self._usual.opening(one.room, day) if able else None
            if opening is not None and (
                not house.teams or any(meets(team, opening, least) for team in able)
            ):
                return day
        return None

    def _people(self, one: Wanted) -> int:
        beds, kinds = self._house.beds, self._house.rules.bed_kinds
        return max((kinds[beds[bed].kind].people for bed in one.beds), default=1)

    def _able(self, people: int, day: date) -> list[TeamName]:
        """Teams with so many people that work on a day.

        In a house that has described none yet anybody is taken to.
        """
        if not self._house.teams:
            return [TeamName("")]
        found = self._of_day.get((people, day))
        if found is None:
            working = self._crews.working(day)
            found = [team.team for team in working if team.people >= people]
            self._of_day[people, day] = found
        return found


def _row(opens: date | None, occupancy: Occupancy, one: Wanted, today: date) -> ToArrange:
    stay = occupancy.stay_on(one.room, today)
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
