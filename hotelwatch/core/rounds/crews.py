"""Which teams work on which day, with how many people, and how long they can be in a room."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from statistics import median_low

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.days import weekday
from hotelwatch.core.facts import TeamDescribed
from hotelwatch.core.house import House
from hotelwatch.core.stays.openings import Opening


class Crews:
    """The teams of a house on the days planned; keeps what it worked out."""

    def __init__(self, house: House, days: tuple[date, ...], *, way: int) -> None:
        """``way``: minutes to a corridor, which leave so much less for a room."""
        self.calendar = Calendar(house)
        self.has_shifts = any(t.from_clock or t.until_clock for t in house.teams.values())
        self._teams = list(house.teams.values())
        kinds = house.rules.bed_kinds
        self._least = min((kinds[bed.kind].people for bed in house.beds.values()), default=1)
        self._way = way
        self._working = {day: self.calendar.working(day) for day in days}
        self._longest: dict[int, dict[date, int]] = {}

    def working(self, day: date) -> list[TeamDescribed]:
        """Teams that work on one of the days planned, by name."""
        return self._working.get(day, [])

    def able(self) -> list[TeamDescribed]:
        """Teams with enough people for some bed of the house."""
        return [team for team in self._teams if team.people >= self._least]

    def may_work(self, day: date, people: int) -> bool:
        """Whether a team with so many people works on a day.

        Beyond the days planned it counts as working on its weekdays.
        """
        if day in self._working:
            return any(team.people >= people for team in self._working[day])
        return any(weekday(day) in team.works_on and team.people >= people for team in self._teams)

    def has_people(self, people: int) -> bool:
        """Whether a team with so many people works on any of the days planned."""
        return any(self.may_work(day, people) for day in self._working)

    def most_minutes(self, people: int, days: Iterable[date]) -> int:
        """The most that a team with so many people can spend in one room on one of these days."""
        of_day = self._longest.get(people)
        if of_day is None:
            able = {
                day: [team.team for team in teams if team.people >= people]
                for day, teams in self._working.items()
            }
            of_day = self._longest[people] = {
                day: max(self.calendar.minutes(team, day) for team in teams) - self._way
                for day, teams in able.items()
                if teams
            }
        return max((of_day[day] for day in days if day in of_day), default=0)

    def usually_met(self, people: int, openings: Mapping[date, Opening]) -> int:
        """What a team with so many people has for a room on most of the days that it opens.

        Of a shift what the opening leaves of it. The middle day counts, of two the shorter.
        """
        longest = [self._met(people, day, opening) for day, opening in openings.items()]
        return median_low([minutes for minutes in longest if minutes > 0] or [0])

    def _met(self, people: int, day: date, opening: Opening) -> int:
        if not self.has_shifts:
            return self.most_minutes(people, [day])
        return max(
            (
                min(
                    self.calendar.minutes(team.team, day) - self._way,
                    self.calendar.minutes_met(team.team, opening),
                )
                for team in self.working(day)
                if team.people >= people
            ),
            default=0,
        )
