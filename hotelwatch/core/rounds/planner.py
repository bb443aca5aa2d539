"""Find a plan: day by day and team by team, the most urgent room that fits.

Asked checks go first, the earliest deadline before the others; then routine checks,
the earliest due first. A room whose bookings close it before it is due counts as due
on the last day that it is open, so that a long stay is not waited for. With rooms open
every day this is the rule that makes the greatest lateness as small as can be.

No room is passed over for ever. Whatever is less urgent gets only minutes that the
most urgent left over, and the most urgent routine room finds an empty sheet, unless

- a room before it was tried for in vain: that one then waits behind those that have
  waited since before that try, so it goes before another once and not every day;
- cases ask for checks day after day: from the second day running, a room overdue for
  longer than it could have been looked at early gets a team's sheet, one room a day,
  and what was asked for goes to another team or to the next day.

A room that fits no empty sheet is looked at bed by bed over several visits, the
earliest due beds first and as many at a time as fit.

Here an optimiser will go: it takes the same house, occupancy and wish and gives a Plan.

Source: Jackson 1955, scheduling a production line to minimize maximum tardiness,
research report 43, University of California, Los Angeles.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from hotelwatch.core.checks.sheet import walking_order
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import BedNo, RoomNo, SlotPublished, TeamDescribed, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.candidates import Bed, Candidate, View
from hotelwatch.core.rounds.plan import LeftOut, Plan, TeamDay, WhyNot
from hotelwatch.core.stays.openings import Occupancy

STEP = "planning"


@dataclass(frozen=True, slots=True)
class Wish:
    """What to plan: so many days, and the moment at which quarantines are looked up."""

    from_on: date
    days: int
    now: datetime
    """A room in quarantine now counts as in quarantine on every day of the plan."""


@dataclass(frozen=True, slots=True)
class _Visit:
    """A team looks at beds of a room."""

    team: TeamDescribed
    one: Candidate
    beds: tuple[Bed, ...]

    @property
    def room(self) -> RoomNo:
        return self.one.wanted.room


@dataclass(frozen=True, slots=True)
class _Day:
    """A day as the teams come to it, with what they have done of it already."""

    view: View
    on: date
    done: tuple[SlotPublished, ...]

    def free(self, team: TeamDescribed) -> int:
        """Minutes that a team has left."""
        return team.minutes - sum(slot.minutes for slot in self.done if slot.team == team.team)

    def was_visited(self, team: TeamDescribed, room: RoomNo) -> bool:
        """Whether a team has been to a room that day."""
        return any(slot.team == team.team and slot.room == room for slot in self.done)

    def ready(self, waiting: Iterable[Candidate]) -> list[Candidate]:
        """What can be visited that day. A bed tried for already waits for another day."""
        open_today = (one for one in waiting if self.on in one.open_on)
        if not self.done:
            return list(open_today)
        return [left for one in open_today if (left := self._undone(one)) is not None]

    def _undone(self, one: Candidate) -> Candidate | None:
        slots = [slot for slot in self.done if slot.room == one.wanted.room]
        if not slots:
            return one
        left = self.view.without(one, (BedNo(bed) for slot in slots for bed in slot.beds))
        return left if left is not None and self.on in left.open_on else None


def plan_rounds(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Plan:
    """A plan for the days of the wish; the same house, occupancy and wish give the same one.

    A team's sheet stays within its minutes; no bed stands on two sheets; no room is
    entered that is not open that day; a room in quarantine is entered only where its
    own case asks for it. A room that was looked at already on the first day keeps its
    slot there. ``progress`` is called once a day and may raise Stopped.
    """
    days = tuple(days_from(wish.from_on, max(1, wish.days)))
    view = View(house, occupancy, days, now=wish.now)
    waiting = {one.wanted.room: one for one in view.candidates()}
    was_asked = _was_asked(house, days[0])
    slots: list[SlotPublished] = []
    minutes: list[TeamDay] = []
    for number, on in enumerate(days):
        progress(number / len(days), STEP)
        day = _Day(view, on, tuple(_done_slots(house, on)))
        visits = _plan_day(day, day.ready(waiting.values()), again_asked=was_asked)
        was_asked = any(visit.one.is_asked for visit in visits) if visits else was_asked
        waiting = _still_waiting(view, waiting, visits)
        sheets = _sheets(day, visits)
        slots += (slot for _, sheet in sorted(sheets.items()) for slot in sheet)
        minutes += _team_days(view, on, sheets)
    progress(1.0, STEP)
    return Plan(
        from_on=days[0],
        until_on=days[-1],
        slots=tuple(slots),
        left_out=tuple(_left_out(waiting.values(), slots, days[-1])),
        minutes_by_day=tuple(minutes),
    )


# --- a day ----------------------------------------------------------------------------------


def _plan_day(day: _Day, ready: Sequence[Candidate], *, again_asked: bool) -> list[_Visit]:
    """The visits of a day, the most urgent that fit.

    If cases asked on the working day before too, one room may be given a sheet.
    """
    visits = _visits(day, ready)
    given = _passed_over(day, ready, visits) if again_asked else None
    return visits if given is None else _visits(day, ready, given)


def _visits(
    day: _Day, ready: Iterable[Candidate], given: tuple[TeamName, RoomNo] | None = None
) -> list[_Visit]:
    """Fill sheet after sheet. The team and room given go together, before all others."""
    visits: list[_Visit] = []
    waiting = list(ready)
    for team in day.view.working(day.on):
        first = [one for one in waiting if given == (team.team, one.wanted.room)]
        kept = [] if first or given is None else [o for o in waiting if o.wanted.room == given[1]]
        aside = {one.wanted.room for one in (*first, *kept)}
        others = waiting if not aside else [o for o in waiting if o.wanted.room not in aside]
        of_team, left = _fill(day, team, [*first, *others])
        visits += of_team
        waiting = sorted([*left, *kept], key=lambda one: one.rank) if aside else left
        given = None if first else given
    return visits


def _fill(
    day: _Day, team: TeamDescribed, waiting: Iterable[Candidate]
) -> tuple[list[_Visit], list[Candidate]]:
    """A team's visits, the first that fit its minutes, and what waits for the next team."""
    free = day.free(team)
    visits: list[_Visit] = []
    left: list[Candidate] = []
    parts: list[Candidate] = []
    for one in waiting:
        is_new = not day.was_visited(team, one.wanted.room)
        beds = one.beds_for(team, free) if is_new else None
        if beds is None:
            left.append(one)
            continue
        visits.append(_Visit(team, one, beds))
        free -= one.visit_minutes(beds)
        part = day.view.without(one, (bed.bed for bed in beds))
        if part is not None and day.on in part.open_on:
            parts.append(part)
    return visits, sorted([*left, *parts], key=lambda one: one.rank) if parts else left


def _passed_over(
    day: _Day, ready: Sequence[Candidate], visits: Iterable[_Visit]
) -> tuple[TeamName, RoomNo] | None:
    """The long overdue room, with a team, that would have been visited had nobody asked."""
    visited = {bed.bed for visit in visits for bed in visit.beds}
    passed = [
        one.beds[0].bed
        for one in ready
        if one.is_long_overdue(day.on) and one.beds[0].bed not in visited
    ]
    if not passed or not any(visit.one.is_asked for visit in visits):
        return None
    unasked = _visits(day, [one for one in ready if not one.is_asked])
    sheet_of = {bed.bed: (v.team.team, v.room) for v in unasked for bed in v.beds}
    return next((sheet_of[bed] for bed in passed if bed in sheet_of), None)


def _still_waiting(
    view: View, waiting: dict[RoomNo, Candidate], visits: Iterable[_Visit]
) -> dict[RoomNo, Candidate]:
    """What waits for another day, the most urgent first."""
    has_parts = False
    for visit in visits:
        left = view.without(waiting.pop(visit.room), (bed.bed for bed in visit.beds))
        if left is not None:
            waiting[visit.room] = left
            has_parts = True
    if not has_parts:
        return waiting
    return dict(sorted(waiting.items(), key=lambda item: item[1].rank))


# --- what comes of it -----------------------------------------------------------------------


def _sheets(day: _Day, visits: Iterable[_Visit]) -> Mapping[TeamName, list[SlotPublished]]:
    """Each team's slots of a day in walking order, those that are done among them."""
    slots = [
        *day.done,
        *(day.view.slot(visit.one, visit.beds, on=day.on, team=visit.team) for visit in visits),
    ]
    teams = sorted({slot.team for slot in slots})
    return {
        team: _in_walking_order(day.view.house, [slot for slot in slots if slot.team == team])
        for team in teams
    }


def _in_walking_order(house: House, slots: Iterable[SlotPublished]) -> list[SlotPublished]:
    """Slots of one team and day, put into walking order."""
    by_room = {slot.room: slot for slot in slots}
    order = walking_order(house, by_room)
    return [replace(by_room[room], position=number) for number, room in enumerate(order, 1)]


def _team_days(
    view: View, on: date, sheets: Mapping[TeamName, Iterable[SlotPublished]]
) -> Iterator[TeamDay]:
    used = Counter({team: sum(s.minutes for s in sheet) for team, sheet in sheets.items()})
    return (TeamDay(on, team.team, used[team.team], team.minutes) for team in view.working(on))


def _done_slots(house: House, day: date) -> Iterator[SlotPublished]:
    """Slots of a day whose beds have all been looked at that day already."""
    return (
        slot
        for slot in house.slots.get(day, ())
        if slot.room in house.rooms and is_looked_at(house, slot)
    )


def _was_asked(house: House, today: date) -> bool:
    """Whether a case's check stood on the last sheets before a day."""
    earlier = [slots for day, slots in house.slots.items() if day < today and slots]
    return bool(earlier) and any(slot.asked_by for slot in earlier[-1])


def _left_out(
    waiting: Iterable[Candidate], slots: Iterable[SlotPublished], until: date
) -> Iterator[LeftOut]:
    """What is asked for, or due, by ``until`` and waits still."""
    planned = {slot.room for slot in slots}
    pressing = [one for one in waiting if one.is_asked or one.wanted.due_on <= until]
    pressing.sort(
        key=lambda one: (not one.is_asked, date.min if one.is_asked else one.wanted.due_on)
    )
    for one in pressing:
        wanted = one.wanted
        only = wanted.beds if wanted.room in planned else ()
        yield LeftOut(wanted.room, wanted.due_on, one.why_not or WhyNot.NO_MINUTES, only)
