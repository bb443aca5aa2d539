"""Which teams work on which day, with how many people, and how long they can be in a room."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.days import weekday
from hotelwatch.core.facts import TeamDescribed, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.able import teams_for_beds
from hotelwatch.core.rounds.hours import minutes_of
from hotelwatch.core.stays.openings import Opening


class Crews:
    """The teams of a house on the days planned; keeps what it worked out."""

    def __init__(self, house: House, days: tuple[date, ...], *, way: int) -> None:
        """``way``: minutes to a corridor, which leave so much less for a room."""
        self.calendar = Calendar(house)
        self.has_shifts = any(t.from_clock or t.until_clock for t in house.teams.values())
        self._teams = list(house.teams.values())
        self._able = [house.teams[name] for name in teams_for_beds(house)]
        self._way = way
        self._working = {day: self.calendar.working(day) for day in days}
        self._of_people: dict[tuple[int, bool], dict[date, int]] = {}

    def working(self, day: date) -> list[TeamDescribed]:
        """Teams that work on one of the days planned, by name."""
        return self._working.get(day, [])

    def able(self) -> list[TeamDescribed]:
        """Teams with enough people for some bed of the house."""
        return self._able

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

    def most_minutes(self, people: int, day: date | None = None) -> int:
        """The most that a team with so many people can spend in one room on a day; None: on any."""
        of_day = self._longest(people, is_usual=False)
        return max(of_day.values(), default=0) if day is None else of_day.get(day, 0)

    def usually_met(self, people: int, openings: Mapping[date, Opening]) -> int:
        """The most that a team with so many people can spend in a room on one of these days.

        Of a shift what the opening leaves of it. What a team has more than usual on a single
        day counts only where there is nothing else.
        """
        usual = self._met(people, openings, is_usual=True)
        return usual if usual > 0 else self._met(people, openings, is_usual=False)

    def _met(self, people: int, openings: Mapping[date, Opening], *, is_usual: bool) -> int:
        if not self.has_shifts:
            of_day = self._longest(people, is_usual=is_usual)
            return max(
                (
                    min(of_day[day], minutes_of(opening))
                    for day, opening in openings.items()
                    if day in of_day
                ),
                default=0,
            )
        return max(
            (
                min(
                    self._minutes(team.team, day, is_usual=is_usual) - self._way,
                    self.calendar.minutes_met(team.team, opening),
                )
                for day, opening in openings.items()
                for team in self.working(day)
                if team.people >= people
            ),
            default=0,
        )

    def _longest(self, people: int, *, is_usual: bool) -> dict[date, int]:
        """The most minutes in a room on each day on which a team with so many people works."""
        key = people, is_usual
        if key not in self._of_people:
            self._of_people[key] = {
                day: max(self._minutes(team, day, is_usual=is_usual) for team in able) - self._way
                for day, teams in self._working.items()
                if (able := [team.team for team in teams if team.people >= people])
            }
        return self._of_people[key]

    def _minutes(self, team: TeamName, day: date, *, is_usual: bool) -> int:
        minutes = self.calendar.minutes(team, day)
        return min(minutes, self.calendar.usual_minutes(team, day)) if is_usual else minutes
