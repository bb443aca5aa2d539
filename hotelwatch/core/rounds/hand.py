"""A supervisor's hand on the plan: pinned days and teams, forbidden days, and when they lapse."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date
from functools import cached_property

from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept
from hotelwatch.core.round_facts import CheckPinned, DayForbidden, TeamPinned
from hotelwatch.core.rounds.tries import is_looked_at_since


class Hand:
    """What a supervisor decided about rooms, as far as it still holds.

    A pin lapses once each of the room's beds was looked at after it was written down;
    a pinned day also once it is past, a pinned team once the team is no more.
    """

    def __init__(self, house: House) -> None:
        """Read off the latest word on each room."""
        self._house = house

    def pin(self, room: RoomNo, today: date) -> CheckPinned | None:
        """The pin of a room to a day; None if there is none, or its day is past."""
        row = self._checks.get(room)
        return row.fact if row is not None and row.fact.on >= today else None

    def pinned_day(self, room: RoomNo, today: date) -> date | None:
        """The day on which a room is to be looked at; None if any will do."""
        pinned = self.pin(room, today)
        return None if pinned is None else pinned.on

    def pinned_team(self, room: RoomNo, today: date) -> TeamName | None:
        """The team that is to look at a room; None if any will do.

        Named with the day or without, the later word counts.
        """
        words: list[tuple[int, str]] = []
        if (pinned := self.pin(room, today)) is not None and pinned.team:
            words.append((self._checks[room].entry, pinned.team))
        if (row := self._teams.get(room)) is not None:
            words.append((row.entry, row.fact.team if row.fact.holds else ""))
        team = TeamName(max(words)[1]) if words else TeamName("")
        return team if team in self._house.teams else None

    def forbidden(self, room: RoomNo) -> frozenset[date]:
        """Days on which a room is not to be looked at, those past among them."""
        return self._forbidden.get(room, frozenset())

    def pinned_rooms(self, today: date) -> tuple[RoomNo, ...]:
        """Rooms with a pinned day or team, in the house's order."""
        return tuple(
            room
            for room in self._house.rooms
            if self.pinned_day(room, today) or self.pinned_team(room, today)
        )

    @cached_property
    def _checks(self) -> Mapping[RoomNo, Kept[CheckPinned]]:
        latest = {row.fact.room: row for row in self._house.kept_of(CheckPinned)}
        return {room: row for room, row in latest.items() if row.fact.holds and self._lasts(row)}

    @cached_property
    def _teams(self) -> Mapping[RoomNo, Kept[TeamPinned]]:
        """The latest word on each room's team; one that takes a pin away is a word too."""
        latest = {row.fact.room: row for row in self._house.kept_of(TeamPinned)}
        return {room: row for room, row in latest.items() if self._lasts(row)}

    def choices(self, today: date) -> int:
        """How many rooms are pinned, and how many days ahead are forbidden for one."""
        ahead = (day >= today for days in self._forbidden.values() for day in days)
        return len(self.pinned_rooms(today)) + sum(ahead)

    @cached_property
    def _forbidden(self) -> Mapping[RoomNo, frozenset[date]]:
        latest = {(told.room, told.on): told.holds for told in self._house.all_of(DayForbidden)}
        days: defaultdict[RoomNo, set[date]] = defaultdict(set)
        for (room, day), holds in latest.items():
            if holds:
                days[room].add(day)
        return {room: frozenset(found) for room, found in days.items()}

    def _lasts(self, pin: Kept[CheckPinned] | Kept[TeamPinned]) -> bool:
        """Whether a bed of the room was not looked at since the pin was written down."""
        house = self._house
        beds = house.beds_of(pin.fact.room)
        since = local_day(house.entry_of(pin).recorded_at, house.zone)
        return not beds or not all(
            is_looked_at_since(house, bed.bed, pin.entry, since) for bed in beds
        )
