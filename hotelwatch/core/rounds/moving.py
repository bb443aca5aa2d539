"""May a room be looked at by a team on a day? What a hand on the plan is told before it acts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import SlotRow, quarantining
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.facts import RoomNo, TeamDescribed, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.stays.entering import after_reentry, reentries
from hotelwatch.core.stays.openings import Occupancy


class Hindrance(StrEnum):
    """Why a room can't be looked at by a team on a day; in this order the first is told."""

    IS_DONE = "is_done"
    """Somebody looked already."""
    COMES_AGAIN = "comes_again"
    """It follows another look of the same draft: that one is the one to move."""
    DAY_IS_OVER = "day_is_over"
    HOUSE_CLOSED = "house_closed"
    TEAM_AWAY = "team_away"
    TOO_FEW_PEOPLE = "too_few_people"
    TOO_LONG = "too_long"
    """The visit and the way there take more minutes than the team has that day."""
    IN_QUARANTINE = "in_quarantine"
    GUEST_STAYS = "guest_stays"
    TOO_SOON = "too_soon"
    """It was treated, and is not to be entered yet that day."""
    DAY_FORBIDDEN = "day_forbidden"
    OUTSIDE_SHIFT = "outside_shift"
    """The hours in which it can be entered are too short within the team's shift."""
    DAY_TOO_SHORT = "day_too_short"
    """All rooms of a sheet, ways among them, take more minutes than the team has that day."""


@dataclass(frozen=True, slots=True)
class Target:
    """Where a room would go."""

    on: date
    team: TeamName


class Moving:
    """Answers for one state of a house, its occupancy and a moment; keeps what it worked out."""

    def __init__(self, house: House, occupancy: Occupancy, *, today: date, now: datetime) -> None:
        """Read off calendars, hands and quarantines."""
        self._house, self._occupancy, self._today = house, occupancy, today
        self._calendar, self._hand = Calendar(house), Hand(house)
        self._quarantined, self._reentries = quarantining(house, now), reentries(house)

    def hindrance(self, row: SlotRow, target: Target) -> Hindrance | None:
        """Why a room's visit can't go there; None if it can."""
        if row.is_done:
            return Hindrance.IS_DONE
        if row.is_again:
            return Hindrance.COMES_AGAIN
        return self._by_team(row, target) or self._by_room(row, target)

    def of_swap(
        self, rows: Iterable[SlotRow], teams: Mapping[RoomNo, TeamName]
    ) -> tuple[SlotRow, TeamName, Hindrance] | None:
        """The first room that its new team can't do on its day, and why; None if all can be."""
        sheets: defaultdict[Target, list[SlotRow]] = defaultdict(list)
        for row in rows:
            if row.is_again:  # likely, and planned anew after any hand
                continue
            team = teams.get(row.room)
            if team is not None and (found := self.hindrance(row, Target(row.on, team))):
                return row, team, found
            sheets[Target(row.on, team or row.team)].append(row)
        for target, sheet in sheets.items():
            if sheet_minutes(self._house, sheet) > self._calendar.minutes(target.team, target.on):
                # Rooms done stay with their team: told of is the sheet that would come to it.
                comes = next((row for row in sheet if row.team != target.team), sheet[0])
                return comes, target.team, Hindrance.DAY_TOO_SHORT
        return None

    def none_of_swap(
        self, rows: Iterable[SlotRow], teams: Mapping[RoomNo, TeamName]
    ) -> Hindrance | None:
        """Why one of two teams can do none of the other's rooms; None if each can do some."""
        found: defaultdict[TeamName, list[Hindrance | None]] = defaultdict(list)
        for row in rows:
            if row.room in teams:
                team = teams[row.room]
                found[team].append(self.hindrance(row, Target(row.on, team)))
        return next((told[0] for told in found.values() if all(told)), None)

    def first_team(self, row: SlotRow, on: date, teams: Iterable[TeamName]) -> TeamName | None:
        """The first of some teams that can look at a room that day; None if none can."""
        return next((team for team in teams if not self.hindrance(row, Target(on, team))), None)

    def _by_team(self, row: SlotRow, target: Target) -> Hindrance | None:
        if target.on < self._today:
            return Hindrance.DAY_IS_OVER
        if self._calendar.closed_reason(target.on) is not None:
            return Hindrance.HOUSE_CLOSED
        minutes = self._calendar.minutes(target.team, target.on)
        if not minutes:  # nor has a team that is no more
            return Hindrance.TEAM_AWAY
        if self._house.teams[target.team].people < _people(self._house, row):
            return Hindrance.TOO_FEW_PEOPLE
        return Hindrance.TOO_LONG if sheet_minutes(self._house, [row]) > minutes else None

    def _by_room(self, row: SlotRow, target: Target) -> Hindrance | None:
        cases = self._quarantined.get(row.room, frozenset())
        if cases and row.asked_by not in cases:
            return Hindrance.IN_QUARANTINE
        opening = self._occupancy.opening(row.room, target.on)
        if opening is None:
            return Hindrance.GUEST_STAYS
        opening = after_reentry(opening, self._reentries.get(row.room), self._house.zone)
        if opening is None:
            return Hindrance.TOO_SOON
        if target.on in self._hand.forbidden(row.room):
            return Hindrance.DAY_FORBIDDEN
        meets = self._calendar.meets(target.team, opening, row.minutes)
        return None if meets else Hindrance.OUTSIDE_SHIFT


def swapped(
    first: tuple[SlotRow, ...], second: tuple[SlotRow, ...], teams: tuple[TeamName, TeamName]
) -> Mapping[RoomNo, TeamName]:
    """Which team gets each room when two teams swap their sheets.

    Rooms done stay, and looks that others of the draft must come before.
    """
    one, other = teams
    return {
        **{row.room: other for row in first if not (row.is_done or row.is_again)},
        **{row.room: one for row in second if not (row.is_done or row.is_again)},
    }


def able_teams(house: House, row: SlotRow) -> tuple[TeamDescribed, ...]:
    """Teams with people enough for a room's beds, by name."""
    needed = _people(house, row)
    return tuple(team for team in house.teams.values() if team.people >= needed)


def _people(house: House, row: SlotRow) -> int:
    kinds = house.rules.bed_kinds
    beds = [bed for bed in house.beds_of(row.room) if bed.bed in row.beds]
    return max((kinds[bed.kind].people for bed in beds), default=1)
