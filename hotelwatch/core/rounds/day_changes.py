"""What was ever published for a day, and which entry last made a team's day what it is.

Calendars remember what a file once brought them. So what was undone or taken back counts
here, and so does the entry that did so.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date
from functools import cached_property
from typing import TypeVar, cast

from hotelwatch.core.facts import (
    BedDescribed,
    Fact,
    RoomDescribed,
    RoomNo,
    RoundPublished,
    SlotPublished,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry, Kept
from hotelwatch.core.round_facts import HouseDaysClosed, TeamDaysChanged

F = TypeVar("F", bound=Fact)
K = TypeVar("K", bound=str)
TeamDay = tuple[date, TeamName]


class DayChanges:
    """Answers for a house; keeps what it worked out."""

    def __init__(self, house: House) -> None:
        """Read every fact, whether it counts or not."""
        self._house = house
        self._ended_by = {
            entry.corrects: number
            for number, entry in house.entries.items()
            if entry.corrects is not None
        }

    @cached_property
    def rooms(self) -> Mapping[TeamDay, frozenset[RoomNo]]:
        """The rooms that ever stood on each team's day."""
        found: defaultdict[TeamDay, set[RoomNo]] = defaultdict(set)
        for row in self._ever(SlotPublished):
            found[row.fact.on, row.fact.team].add(row.fact.room)
        return {day: frozenset(rooms) for day, rooms in found.items()}

    def last(self, on: date, team: TeamName) -> Entry | None:
        """The last entry that changed a team's published day; None if it never was published."""
        spans = self._spans
        published = [number for first, last, number in spans[""] if first <= on <= last]
        if not published:
            return None
        rooms = self.rooms.get((on, team), frozenset())
        changes = (
            *published,
            *(number for first, last, number in spans[team] if first <= on <= last),
            self._described.get(team, 0),
            *(self._described_rooms.get(room, 0) for room in rooms),
        )
        return self._house.entries.get(max(changes))

    @cached_property
    def _spans(self) -> Mapping[str, list[tuple[date, date, int]]]:
        """Days that an entry was about: of all teams under "", of one under its name."""
        found: defaultdict[str, list[tuple[date, date, int]]] = defaultdict(list)
        for round_ in self._ever(RoundPublished):
            found[""].append((round_.fact.from_on, round_.fact.until_on, self._last_of(round_)))
        closed = [
            (row.fact.from_on, row.fact.until_on, self._last_of(row))
            for row in self._ever(HouseDaysClosed)
        ]
        for changed in self._ever(TeamDaysChanged):
            span = changed.fact.from_on, changed.fact.until_on, self._last_of(changed)
            found[changed.fact.team].append(span)
        for team in {team for _on, team in self.rooms}:
            found[team].extend(closed)
        return found

    @cached_property
    def _described(self) -> Mapping[TeamName, int]:
        return self._latest((row.fact.team, row) for row in self._ever(TeamDescribed))

    @cached_property
    def _described_rooms(self) -> Mapping[RoomNo, int]:
        """The last entry about each room or a bed of it."""
        rooms = self._latest((row.fact.room, row) for row in self._ever(RoomDescribed))
        beds = self._latest((row.fact.room, row) for row in self._ever(BedDescribed))
        return {no: max(rooms.get(no, 0), beds.get(no, 0)) for no in {*rooms, *beds}}

    def _latest(self, rows: Iterable[tuple[K, Kept[F]]]) -> Mapping[K, int]:
        latest: dict[K, int] = {}
        for key, row in rows:
            latest[key] = max(latest.get(key, 0), self._last_of(row))
        return latest

    def _last_of(self, row: Kept[F]) -> int:
        """The entry that ended a fact; while it counts, the one that wrote it down."""
        return self._ended_by.get(row.entry, row.entry)

    def _ever(self, kind: type[F]) -> tuple[Kept[F], ...]:
        return cast("tuple[Kept[F], ...]", self._house.kept.get(kind, ()))


def ever_published_ahead(house: House, today: date) -> tuple[date, date] | None:
    """First and last day, from today on, for which a team ever had a room; None without any."""
    days = [on for on, _team in DayChanges(house).rooms if on >= today]
    return (min(days), max(days)) if days else None
