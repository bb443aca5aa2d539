"""Who could look at a bed of a room: teams with the people for it, within their shifts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.sheet import visit_minutes
from hotelwatch.core.facts import BedDescribed, RoomNo, TeamDescribed, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.stays.openings import Opening


def teams_for_beds(house: House) -> list[TeamName]:
    """Teams with the people for at least one bed of the house, by name."""
    least = least_people(house)
    return [name for name, team in house.teams.items() if team.people >= least]


def least_people(house: House) -> int:
    """So many a team needs to look at any bed of the house; 1 while it has none."""
    kinds = house.rules.bed_kinds
    return min((kinds[bed.kind].people for bed in house.beds.values()), default=1)


def let_go(house: House, teams: int) -> list[TeamName]:
    """Which of them are gone where so many teams fewer are tried (below 0): the last by name."""
    return teams_for_beds(house)[teams:] if teams < 0 else []


class Able:
    """Answers for rooms of a house; a room is looked at in parts where it must be."""

    def __init__(self, house: House, calendar: Calendar) -> None:
        """``calendar`` is the house's."""
        self._house, self.calendar = house, calendar
        self._way = int(house.rules.figures.corridor_minutes.value)

    def teams(self, room: RoomNo, day: date) -> list[TeamDescribed]:
        """Those at work on a day with the people for one of its beds, by name."""
        least = min((people for people, _ in self._looks(room)), default=1)
        return [team for team in self.calendar.working(day) if team.people >= least]

    def can_look(self, room: RoomNo, opening: Opening | None) -> bool:
        """Whether one of them can look at a bed of it within an opening and its own minutes."""
        return opening is not None and any(
            self.calendar.meets(team.team, opening, minutes)
            for team, minutes in self._fitting(room, opening.day)
        )

    def has_minutes(self, room: RoomNo, day: date) -> bool:
        """Whether one of them has the minutes of a day for a bed of it, and for the way."""
        return any(self._fitting(room, day))

    def _fitting(self, room: RoomNo, day: date) -> Iterator[tuple[TeamDescribed, int]]:
        """Teams of a day with people and minutes for a bed, and how many that takes."""
        for people, beds in self._looks(room):
            minutes = visit_minutes(self._house, beds)
            for team in self.teams(room, day):
                has = self.calendar.minutes(team.team, day)
                if team.people >= people and has >= minutes + self._way:
                    yield team, minutes

    def shortest_look(self, room: RoomNo) -> int:
        """Minutes of a visit to the one of its beds that takes the fewest."""
        return min(visit_minutes(self._house, beds) for _, beds in self._looks(room))

    def _looks(self, room: RoomNo) -> Iterator[tuple[int, Iterable[BedDescribed]]]:
        """People and bed of each visit to a single one; a room without any is one too."""
        kinds = self._house.rules.bed_kinds
        beds = self._house.beds_of(room)
        for bed in beds:
            yield kinds[bed.kind].people, [bed]
        if not beds:
            yield 1, []
