"""Traps for crawling insects: where each stands, since when, and who looked into it.

An empty trap is no proof of absence: national pest management association, best
management practices for bed bugs (2011), 9.15-9.16. What one tells, it tells only once
somebody has looked into it, and only after it has stood for a while.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead


@dataclass(frozen=True, slots=True)
class Reading:
    """Somebody looked into a trap."""

    read_on: date
    known_on: date
    """When it was written down."""
    by: str
    caught: int
    is_replaced: bool


@dataclass(frozen=True, slots=True)
class Monitor:
    """A trap as it stood, or stands, in one place; moved, it is another row."""

    monitor: str
    room: RoomNo
    where: str
    placed_on: date
    known_on: date
    """When that was written down."""
    placed_by: str
    taken_on: date | None
    """None while it is there."""
    readings: tuple[Reading, ...]
    """By day."""

    @property
    def is_there(self) -> bool:
        """Whether it still stands in its place."""
        return self.taken_on is None

    def last_on(self, today: date) -> date:
        """The last day up to today on which somebody had it in hand."""
        days = (reading.read_on for reading in self.readings)
        return max([self.placed_on, *(day for day in days if day <= today)])

    def stands_on(self, day: date) -> bool:
        """Whether it stood there on a day, the one on which it was taken away left out."""
        return self.placed_on <= day and (self.taken_on is None or day < self.taken_on)


def monitors(house: House) -> tuple[Monitor, ...]:
    """Every trap that was ever placed, those still there first, by room and label."""
    rows = _monitors(house, {row.fact.monitor for row in house.kept_of(MonitorPlaced)})
    return tuple(sorted(rows, key=lambda m: (not m.is_there, m.room, m.monitor, m.placed_on)))


def monitors_in(house: House, room: RoomNo) -> tuple[Monitor, ...]:
    """Traps that stand in a room, or stood there once, in the order placed."""
    labels = {row.fact.monitor for row in house.kept_of(MonitorPlaced) if row.fact.room == room}
    found = _monitors(house, labels) if labels else []
    return tuple(one for one in found if one.room == room)


def standing_in(house: House, room: RoomNo, on: date) -> tuple[Monitor, ...]:
    """Traps that stand in a room on a day."""
    return tuple(one for one in monitors_in(house, room) if one.stands_on(on))


def _monitors(house: House, labels: set[str]) -> list[Monitor]:
    by_label: defaultdict[str, list[tuple[MonitorPlaced, date]]] = defaultdict(list)
    for row in house.kept_of(MonitorPlaced):
        if row.fact.monitor in labels:
            known_on = local_day(house.entry_of(row).recorded_at, house.zone)
            by_label[row.fact.monitor].append((row.fact, known_on))
    readings = _readings(house, labels)
    found = []
    for rows in by_label.values():
        rows.sort(key=lambda pair: pair[0].placed_on)
        for number, (fact, known_on) in enumerate(rows):
            if fact.is_there:
                ends = rows[number + 1][0].placed_on if number + 1 < len(rows) else None
                of_it = readings.get((fact.monitor, fact.room), [])
                found.append(_monitor(fact, known_on, ends, readings=of_it))
    return sorted(found, key=lambda one: (one.placed_on, one.monitor))


def _readings(house: House, labels: set[str]) -> Mapping[tuple[str, RoomNo], list[Reading]]:
    found: defaultdict[tuple[str, RoomNo], list[Reading]] = defaultdict(list)
    for row in house.kept_of(MonitorRead):
        read = row.fact
        if read.monitor in labels:
            known_on = local_day(house.entry_of(row).recorded_at, house.zone)
            found[read.monitor, read.room].append(
                Reading(read.read_on, known_on, read.by, read.caught, read.is_replaced)
            )
    return found


def _monitor(
    fact: MonitorPlaced, known_on: date, ends: date | None, *, readings: list[Reading]
) -> Monitor:
    own = [
        r for r in readings if fact.placed_on <= r.read_on and (ends is None or r.read_on <= ends)
    ]
    return Monitor(
        monitor=fact.monitor,
        room=fact.room,
        where=fact.where,
        placed_on=fact.placed_on,
        known_on=known_on,
        placed_by=fact.by,
        taken_on=ends,
        readings=tuple(sorted(own, key=lambda reading: reading.read_on)),
    )


def clean_readings(
    house: House, room: RoomNo, *, first: date, last: date
) -> tuple[tuple[date, str], ...]:
    """Days and readers of empty readings that count, from ``first`` to ``last``.

    Each after the trap had stood for figures.trap_days since it was placed, replaced, or
    counted before, and since ``first``; readings of one room nearer together count once.
    """
    stands = timedelta(days=int(house.rules.figures.trap_days.value))
    counted: list[tuple[date, str]] = []
    rows = sorted(
        (reading.read_on, reading.by, max(first, since))
        for one in monitors_in(house, room)
        for since, reading in _since(one)
        if reading.caught == 0 and first <= reading.read_on <= last
    )
    for read_on, by, since in rows:
        from_on = max(since, counted[-1][0]) if counted else since
        if read_on - from_on >= stands:
            counted.append((read_on, by))
    return tuple(counted)


def _since(one: Monitor) -> list[tuple[date, Reading]]:
    """Each reading with the day from which the trap had stood there untouched."""
    since = one.placed_on
    rows = []
    for reading in one.readings:
        rows.append((since, reading))
        if reading.is_replaced:
            since = reading.read_on
    return rows


def unread_since(house: House, room: RoomNo, on: date) -> tuple[Monitor, ...]:
    """Traps in a room that nobody has looked into for longer than a reading covers."""
    covers = timedelta(days=int(house.rules.figures.watch_check_days.value))
    return tuple(one for one in standing_in(house, room, on) if on - one.last_on(on) > covers)


def waiting_for_a_look(house: House, room: RoomNo, on: date) -> tuple[Monitor, ...]:
    """Traps in a room that tell nothing yet, or no longer: never looked into, or too long ago."""
    late = unread_since(house, room, on)
    return tuple(
        one
        for one in standing_in(house, room, on)
        if one in late or not any(reading.read_on <= on for reading in one.readings)
    )
