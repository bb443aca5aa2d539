"""Which team has how many minutes on which day: its weekdays, its leave, closed days, its shift."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date
from enum import StrEnum

from hotelwatch.core.days import local_day, minute_of, weekday
from hotelwatch.core.facts import TeamDescribed, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.stays.openings import DAY_ENDS, DAY_STARTS, Opening


class Away(StrEnum):
    """Why a team has no minutes on a day."""

    CLOSED = "closed"
    """Nobody looks at beds that day."""
    CHANGED = "changed"
    """Leave, training, a day off: written down for that day."""
    NOT_ITS_WEEKDAY = "not_its_weekday"
    GONE = "gone"
    """The team is in use no more; a sheet of it is left."""
    NOTHING_LEFT = "nothing_left"
    """What it has is kept free for surprises."""


class Calendar:
    """The calendars of a house's teams; keeps what it worked out.

    A day that is past has its team as it was described by then, or at first.
    """

    def __init__(self, house: House) -> None:
        """Read off what is known of teams and days."""
        self._teams = house.teams
        described: defaultdict[TeamName, list[tuple[date, TeamDescribed]]] = defaultdict(list)
        for row in house.kept_of(TeamDescribed):
            since = local_day(house.entry_of(row).recorded_at, house.zone)
            described[row.fact.team].append((since, row.fact))
        self._described: Mapping[TeamName, list[tuple[date, TeamDescribed]]] = described
        self._closed = house.all_of(HouseDaysClosed)[::-1]
        changes: defaultdict[TeamName, list[TeamDaysChanged]] = defaultdict(list)
        for changed in reversed(house.all_of(TeamDaysChanged)):
            changes[changed.team].append(changed)
        self._changes: Mapping[TeamName, list[TeamDaysChanged]] = changes
        self._minutes: dict[tuple[TeamName, date], int] = {}
        self._met: dict[tuple[TeamName, str, str], int] = {}

    def minutes(self, team: TeamName, day: date) -> int:
        """Minutes that plans may use of a team's day; 0 where it does not work, or is no more.

        Those that it keeps free for surprises are taken off.
        """
        key = team, day
        if key not in self._minutes:
            self._minutes[key] = self._worked_out(team, day)
        return self._minutes[key]

    def working(self, day: date) -> list[TeamDescribed]:
        """Teams with minutes on a day, by name, as they were described by then."""
        at_work = (name for name in sorted(self._described) if self.minutes(name, day))
        return [team for name in at_work if (team := self._as_of(name, day)) is not None]

    def why_away(self, team: TeamName, day: date) -> Away | None:
        """Why plans may use no minutes of a team's day; None where they may."""
        if self.minutes(team, day):
            return None
        described = self._as_of(team, day)
        if described is None:
            return Away.GONE
        if self.closed_reason(day) is not None:
            return Away.CLOSED
        changed = self.changed(team, day)
        if changed is not None:
            return Away.NOTHING_LEFT if changed.minutes else Away.CHANGED
        works = weekday(day) in described.works_on
        return Away.NOTHING_LEFT if works else Away.NOT_ITS_WEEKDAY

    def closed_reason(self, day: date) -> str | None:
        """Why nobody looks at beds on a day; None where the house does."""
        for told in self._closed:
            if told.from_on <= day <= told.until_on:
                return told.reason if told.is_closed else None
        return None

    def changed(self, team: TeamName, day: date) -> TeamDaysChanged | None:
        """What makes a team's day other than usual; None if nothing does."""
        for told in self._changes.get(team, ()):
            if told.from_on <= day <= told.until_on:
                return told if told.minutes >= 0 else None
        return None

    def away(self, team: TeamName, day: date) -> TeamDaysChanged | None:
        """The entry by which a team is away on a day; None where it works, or is simply off.

        None too where nobody of the house looks at beds.
        """
        return self.changed(team, day) if self.why_away(team, day) is Away.CHANGED else None

    def shift(self, team: TeamName) -> tuple[str, str]:
        """When a team's shift begins and ends, hotel's clock; the whole day where none is said."""
        described = self._teams.get(team)
        if described is None:
            return DAY_STARTS, DAY_ENDS
        return described.from_clock or DAY_STARTS, described.until_clock or DAY_ENDS

    def shift_minutes(self, team: TeamName) -> int:
        """How long a team's shift is: no more fits a day, however many minutes it has."""
        begins, ends = self.shift(team)
        return minute_of(ends) - minute_of(begins)

    def meets(self, team: TeamName, opening: Opening | None, minutes: int) -> bool:
        """Whether so many minutes of a team's shift lie within the hours of an opening."""
        return self.minutes_met(team, opening) >= minutes

    def minutes_met(self, team: TeamName, opening: Opening | None) -> int:
        """Minutes of a team's shift within the hours of an opening; below 0 where it has none."""
        if opening is None:
            return -1
        key = team, opening.from_clock, opening.until_clock
        if key not in self._met:
            from_clock, until_clock = self.shift(team)
            begins = max(minute_of(from_clock), minute_of(opening.from_clock))
            ends = min(minute_of(until_clock), minute_of(opening.until_clock))
            self._met[key] = ends - begins
        return self._met[key]

    def usual_minutes(self, team: TeamName, day: date) -> int:
        """Minutes that plans may use of such a weekday of a team, had nobody changed it."""
        described = self._as_of(team, day)
        if described is None or weekday(day) not in described.works_on:
            return 0
        return max(0, described.minutes - described.kept_free)

    def _as_of(self, team: TeamName, day: date) -> TeamDescribed | None:
        """A team as it was described by a day; None if it was no more in use."""
        words = self._described.get(team, [])
        if not words:
            return None
        by = max(day, words[0][0])
        latest = [described for since, described in words if since <= by][-1]
        return latest if latest.in_use else None

    def _worked_out(self, team: TeamName, day: date) -> int:
        described = self._as_of(team, day)
        if described is None or self.closed_reason(day) is not None:
            return 0
        changed = self.changed(team, day)
        if changed is not None:
            minutes = changed.minutes
        else:
            minutes = described.minutes if weekday(day) in described.works_on else 0
        return max(0, minutes - described.kept_free)
