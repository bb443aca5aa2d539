"""A room's record: who looked when and with what, and where a firm's dog was led."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.checks.dogs import Alert, VisitRow, dog_visits
from hotelwatch.core.facts import BedChecked, CheckKind, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept


@dataclass(frozen=True, slots=True)
class LookedAt:
    """One visit to a room by people, as it was written down."""

    entry: int
    on: date
    kind: CheckKind
    by: tuple[str, ...]
    from_clock: str
    """Hotel's clock, "HH:MM"; empty: not said."""
    until_clock: str
    aids: tuple[str, ...]
    """Codes of Aid; empty: not said."""
    beds: int
    """Beds looked at."""
    undersides: int
    """Of these, those whose whole underside was looked at."""
    found: tuple[str, ...]
    """Each as "place:sign"."""


@dataclass(frozen=True, slots=True)
class LedThrough:
    """A dog was led through a room: no look of anybody's."""

    row: VisitRow
    alert: Alert | None
    """None where it was silent."""

    @property
    def entry(self) -> int:
        """The entry of its visit."""
        return self.row.entry

    @property
    def on(self) -> date:
        """The day of its visit."""
        return self.row.on


RecordRow = LookedAt | LedThrough


def room_record(house: House, room: RoomNo) -> tuple[RecordRow, ...]:
    """Looks at a room and dogs' visits to it, the latest first."""
    rows: list[RecordRow] = [*_looks(house, room), *_dogs(house, room)]
    return tuple(sorted(rows, key=lambda row: (row.on, row.entry), reverse=True))


def _looks(house: House, room: RoomNo) -> list[LookedAt]:
    by_entry: defaultdict[int, list[Kept[BedChecked] | Kept[RoomChecked]]] = defaultdict(list)
    for bed in house.builds_by_bed:
        for check in house.checks_by_bed.get(bed, ()):
            if check.fact.room == room:
                by_entry[check.entry].append(check)
    for look in house.kept_room_checks.get(room, ()):
        by_entry[look.entry].append(look)
    return [_looked(house, rows) for rows in by_entry.values()]


def _looked(house: House, rows: list[Kept[BedChecked] | Kept[RoomChecked]]) -> LookedAt:
    first = rows[0]
    beds = [row.fact for row in rows if isinstance(row.fact, BedChecked)]
    return LookedAt(
        entry=first.entry,
        on=first.fact.checked_on,
        kind=first.fact.kind,
        by=first.fact.by,
        from_clock=first.fact.from_clock,
        until_clock=first.fact.until_clock,
        aids=first.fact.aids,
        beds=len(beds),
        undersides=sum(underside_seen(house, bed) is True for bed in beds),
        found=tuple(text for row in rows for text in row.fact.found),
    )


def _dogs(house: House, room: RoomNo) -> list[LedThrough]:
    return [
        LedThrough(row, next((alert for alert in row.alerts if alert.room == room), None))
        for row in dog_visits(house)
        if room in row.visit.rooms
    ]
