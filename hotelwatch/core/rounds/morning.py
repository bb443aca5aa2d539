"""The morning: whether today's sheets should be planned again before teams go up."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from itertools import islice

from hotelwatch.core.checks.asked import AskedState, open_asked
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import SlotRow, SlotState, published_rows
from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.able import Able, teams_for_beds
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.team_days import TeamOnDay, published_round, team_days
from hotelwatch.core.stays.entering import after_reentry, from_clock_on, reentries, until_clock
from hotelwatch.core.stays.openings import DAY_ENDS, Occupancy, Opening, OpeningKind


@dataclass(frozen=True, slots=True)
class WaitingRoom:
    """Wanted by a case, on none of today's sheets; today somebody can look, later not in time."""

    room: RoomNo
    by_on: date
    """The day of its earliest deadline."""
    is_late: bool
    """Whether that day is over."""
    is_today_last: bool = False
    """Whether that day is still to come, and nobody can look in time after today."""


@dataclass(frozen=True, slots=True)
class Morning:
    """What speaks for planning the day again."""

    free_minutes: int
    """Minutes of today's teams that no room on their sheets, nor the way there, takes."""
    teams: tuple[TeamName, ...]
    """Those that have them."""
    closed_rooms: tuple[RoomNo, ...]
    """On a sheet, not looked at, and not to be entered today after all."""
    waiting: tuple[WaitingRoom, ...] = ()
    """The earliest deadline first."""
    overfull: tuple[TeamOnDay, ...] = ()
    """Today's sheets that take more minutes than their team has by now."""


def morning(
    house: House, occupancy: Occupancy, now: datetime, *, rows: Iterable[SlotRow] | None = None
) -> Morning | None:
    """What speaks for planning today again; None if nothing does, or today has no sheets.

    ``rows`` are today's slots, where they are at hand already.

    Publishing a round promises only part of a later day; the rest is filled on its
    morning. So a day last published before it began is planned again, unless its
    teams' minutes are taken, every room on their sheets can be entered, and no room
    waits for a case. What a case asked for since the day was published waits too.
    """
    today = local_day(now, house.zone)
    told = published_round(house, today, today)
    entry = told.last_entry
    if entry is None:
        return None
    planned_on = local_day(entry.recorded_at, house.zone)
    shut = (SlotState.GUEST_STAYS, SlotState.TOO_SOON, SlotState.IN_QUARANTINE)
    if rows is None:
        rows = published_rows(house, occupancy, from_on=today, until_on=today, now=now)
    rows = tuple(rows)
    since = None if planned_on < today else entry.recorded_at
    # Where a case closed a room and wants a look there, its sheet does not have that look yet.
    planned = {row.room for row in rows if row.state is not SlotState.IN_QUARANTINE}
    entering = _Entry(house, occupancy, now)
    waiting = _waiting(house, entering, today, planned, since=since)
    asked = {one.room for one in waiting}
    closed = tuple(row.room for row in rows if row.state in shut and row.room not in asked)
    figures = house.rules.figures
    least = int(figures.room_setup_minutes.value) + _shortest_bed(house)
    way = int(figures.corridor_minutes.value)
    days = team_days(house, told)
    overfull = tuple(day for day in days if day.rooms and day.used > day.minutes)
    if planned_on < today:
        able = teams_for_beds(house)
        free = {
            day.team: min(day.minutes - day.used, entering.minutes_left(day.team))
            for day in days
            if day.team in able
        }
        idle = {team: minutes for team, minutes in free.items() if minutes >= way + least}
    else:
        idle = {}
    if not (idle or closed or waiting or overfull):
        return None
    return Morning(sum(idle.values()), tuple(idle), closed, waiting, overfull)


def _waiting(
    house: House,
    entering: _Entry,
    today: date,
    planned: Collection[RoomNo],
    *,
    since: datetime | None,
) -> tuple[WaitingRoom, ...]:
    """Rooms that cases want and no sheet has, where today is the last day in time or later.

    Those asked for after ``since``, if it is given: what was asked for before had its turn
    when the day was planned. Left out is what no team could look at any more today, and
    what a supervisor keeps off the day.
    """
    by_on: dict[RoomNo, date] = {}
    for state in open_asked(house):
        is_told = since is None or state.asked_at > since
        if is_told and state.asked.room not in planned and not entering.has_later_day(state):
            by_on.setdefault(state.asked.room, state.due_on)
    return tuple(
        WaitingRoom(room, day, is_late=day < today, is_today_last=day > today)
        for room, day in by_on.items()
        if entering.is_today(room)
    )


class _Entry:
    """On which days from now on a team could look at rooms."""

    def __init__(self, house: House, occupancy: Occupancy, now: datetime) -> None:
        self._house, self._occupancy = house, occupancy
        local = now.astimezone(house.zone)
        self._rest = Opening(local.date(), f"{local:%H:%M}", DAY_ENDS, OpeningKind.ALL_DAY)
        self._able, self._hand = Able(house, Calendar(house)), Hand(house)
        self._reentries = reentries(house)

    def minutes_left(self, team: TeamName) -> int:
        """Minutes of a team within what is left of today."""
        return self._able.calendar.minutes_met(team, self._rest)

    def is_today(self, room: RoomNo) -> bool:
        """Whether in what is left of today."""
        opening = self._opening(room, self._rest.day)
        return self._can_look(room, from_clock_on(opening, self._rest.from_clock))

    def has_later_day(self, state: AskedState) -> bool:
        """Whether after today, before the deadline."""
        room, ends = state.asked.room, state.asked.by_at.astimezone(self._house.zone)
        today = self._rest.day
        days = days_from(today, max(0, (ends.date() - today).days) + 1)
        openings = (self._opening(room, day) for day in islice(days, 1, None))
        return any(
            self._can_look(room, until_clock(opening, f"{ends:%H:%M}"))
            if opening is not None and opening.day == ends.date()
            else self._can_look(room, opening)
            for opening in openings
        )

    def _opening(self, room: RoomNo, day: date) -> Opening | None:
        opening = self._occupancy.opening(room, day)
        return after_reentry(opening, self._reentries.get(room), self._house.zone)

    def _can_look(self, room: RoomNo, opening: Opening | None) -> bool:
        is_kept_off = opening is not None and opening.day in self._hand.forbidden(room)
        return not is_kept_off and self._able.can_look(room, opening)


def _shortest_bed(house: House) -> int:
    kinds = house.rules.bed_kinds
    return min(
        (kinds[bed.kind].minutes_of(encased=bed.encased) for bed in house.beds.values()),
        default=0,
    )
