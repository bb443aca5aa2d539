"""The days ahead as a calendar page has them: each team's minutes, and what is special."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from itertools import chain

from hotelwatch.core.checks.calendar import Away, Calendar
from hotelwatch.core.days import days_from, weekday
from hotelwatch.core.facts import TeamDescribed, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.able import teams_for_beds

LOOKED_AHEAD_DAYS = 366
HOUSE = TeamName("")
"""Stands for the whole hotel, where a row may be a team's or the hotel's."""


class DayKind(StrEnum):
    """What sort of day it is for a team, or for the whole hotel."""

    USUAL = "usual"
    FREE = "free"
    """Not one of its weekdays."""
    AWAY = "away"
    CHANGED = "changed"
    """It works, with other minutes than usual."""
    CLOSED = "closed"
    """Nobody looks at beds."""


@dataclass(frozen=True, slots=True)
class DayAhead:
    """A day of a team, or of the whole hotel."""

    on: date
    kind: DayKind
    minutes: int
    """What plans may use of its shift; for the hotel, of all teams together. On a day that is
    worked, usual or changed, 0 where all is kept free for surprises."""
    reason: str
    """In the words of whoever wrote it down; empty for a usual day."""
    given: int = 0
    """Minutes that it has where they are more than fit its shift; else 0."""


@dataclass(frozen=True, slots=True)
class RowOfDays:
    """A team's days, or those of the whole hotel."""

    team: TeamName
    """HOUSE for the whole hotel."""
    days: tuple[DayAhead, ...]


@dataclass(frozen=True, slots=True)
class Special:
    """Days in a row that are other than usual for one reason."""

    team: TeamName
    from_on: date
    until_on: date
    kind: DayKind
    minutes: int
    """What plans may use of each."""
    reason: str
    given: int = 0
    """Minutes of each where they are more than fit its shift; else 0."""


def rows_of_days(house: House, from_on: date, count: int) -> tuple[RowOfDays, ...]:
    """The hotel's days, then each team's by name: ``count`` days, ``from_on`` included."""
    calendar = Calendar(house)
    span = list(days_from(from_on, count))
    whole = RowOfDays(HOUSE, tuple(_of_house(house, calendar, day) for day in span))
    teams = sorted(house.teams.values(), key=lambda team: team.team)
    return (
        whole,
        *(
            RowOfDays(team.team, tuple(_of_team(calendar, team, day) for day in span))
            for team in teams
        ),
    )


def specials(rows: Sequence[RowOfDays]) -> tuple[Special, ...]:
    """What is other than usual in these rows, the earliest first; the hotel's before teams'.

    Days off that part the days of one leave do not part it; a team's days on which the
    whole hotel is closed are told once, as the hotel's.
    """
    found = [special for row in rows for special in _specials(row)]
    return tuple(sorted(found, key=lambda one: (one.from_on, one.team)))


def day_to_propose(house: House, today: date, due_on: date | None = None) -> date:
    """The last day from today to ``due_on`` on which a team works; else the next after today.

    Tomorrow where no team works within a year.
    """
    calendar, tomorrow = Calendar(house), today + timedelta(days=1)
    left = (due_on - today).days + 1 if due_on else 0
    in_time = (today + timedelta(days=n) for n in reversed(range(left)))
    after = days_from(tomorrow, LOOKED_AHEAD_DAYS)
    return next((day for day in chain(in_time, after) if calendar.working(day)), tomorrow)


def _of_house(house: House, calendar: Calendar, day: date) -> DayAhead:
    reason = calendar.closed_reason(day)
    minutes = sum(_fitting(calendar, team, day) for team in teams_for_beds(house))
    if reason is not None:
        return DayAhead(day, DayKind.CLOSED, 0, reason)
    works = minutes or any(
        calendar.why_away(team, day) is Away.NOTHING_LEFT for team in house.teams
    )
    return DayAhead(day, DayKind.USUAL if works else DayKind.FREE, minutes, "")


def _of_team(calendar: Calendar, team: TeamDescribed, day: date) -> DayAhead:
    reason = calendar.closed_reason(day)
    if reason is not None:
        return DayAhead(day, DayKind.CLOSED, 0, reason)
    minutes, changed = _fitting(calendar, team.team, day), calendar.changed(team.team, day)
    has = calendar.minutes(team.team, day)
    given = has if has > minutes else 0
    works = weekday(day) in team.works_on
    if changed is None:
        return DayAhead(day, DayKind.USUAL if works else DayKind.FREE, minutes, "", given)
    if changed.minutes:
        return DayAhead(day, DayKind.CHANGED, minutes, changed.reason, given)
    return DayAhead(day, DayKind.AWAY if works else DayKind.FREE, 0, changed.reason)


def _fitting(calendar: Calendar, team: TeamName, day: date) -> int:
    """What plans may use of a team's day: its minutes, as many as fit its shift."""
    return min(calendar.minutes(team, day), calendar.shift_minutes(team))


def _specials(row: RowOfDays) -> Iterator[Special]:
    running: Special | None = None
    for day in row.days:
        if day.kind is DayKind.FREE:
            continue
        is_told = day.kind in (DayKind.AWAY, DayKind.CHANGED) or (
            day.kind is DayKind.CLOSED and row.team == HOUSE
        )
        if running is not None and is_told and _goes_on(running, day):
            running = replace(running, until_on=day.on)
            continue
        if running is not None:
            yield running
        running = (
            Special(row.team, day.on, day.on, day.kind, day.minutes, day.reason, day.given)
            if is_told
            else None
        )
    if running is not None:
        yield running


def _goes_on(running: Special, day: DayAhead) -> bool:
    same = _what(running) == _what(day)
    # An extra shift stands on its day alone; days off between two leaves are no gap.
    touches = day.on - running.until_on == timedelta(days=1)
    return same and (touches or day.kind is DayKind.AWAY)


def _what(one: Special | DayAhead) -> tuple[DayKind, int, str, int]:
    return one.kind, one.minutes, one.reason, one.given
