"""Rooms into which a guest may be moved: of which type, free on which nights, and how near.

Rooms of a type are the bits of a whole number, in the order of the roster, so that which
are free for a stay is told at once, and the nearest are looked at first.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta

from hotelwatch.core.checks.coverage import last_look
from hotelwatch.core.choice_facts import RoomTypesRanked
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.stays.agreed import kept_as_stays
from hotelwatch.core.stays.openings import Occupancy

Nights = tuple[date, date]
"""The first night, and the morning of departure."""


@dataclass(eq=False)
class Shelf:
    """The rooms of one type; each set of them is a whole number, bit by bit."""

    rooms: list[RoomNo]
    places: list[tuple[int, int]]
    """Level and place in the roster, of each room."""
    closed: int
    """Rooms that are blocked."""
    shunned: int
    """Rooms on a check list, or next to, above or below a blocked one."""
    recent: int = 0
    """Rooms that somebody looked at lately, of those that were asked about."""
    asked_about: int = 0
    by_level: dict[int, int] = field(default_factory=dict)
    taken: dict[date, int] = field(default_factory=dict)
    """Rooms that somebody has on a night, as booked or as foreseen, or that are kept free."""
    given: dict[date, int] = field(default_factory=dict)
    """Rooms that a proposal of this list takes on a night."""

    @property
    def every(self) -> int:
        """All of them."""
        return (1 << len(self.rooms)) - 1

    def let_on(self, nights: Nights) -> int:
        """Rooms that somebody has on one of these nights."""
        return _any_of(self.taken, nights)

    def given_on(self, nights: Nights) -> int:
        """Rooms that a proposal takes on one of these nights."""
        return _any_of(self.given, nights)

    def free(self, nights: Nights) -> int:
        """Rooms that a guest may be moved into for all these nights."""
        out = self.closed | self.shunned | self.let_on(nights) | self.given_on(nights)
        return self.every & ~out

    def give(self, bit: int, nights: Nights) -> None:
        """Set a room aside for these nights."""
        for night in nights_of(nights):
            self.given[night] = self.given.get(night, 0) | 1 << bit

    def take_back(self, bit: int, nights: Nights) -> None:
        """Undo ``give``."""
        for night in nights_of(nights):
            self.given[night] &= ~(1 << bit)

    def outward(self, which: int, home: tuple[int, int]) -> Iterator[tuple[int, int, int]]:
        """Rooms of a set by floors apart, then by doors apart: both, and the room's bit."""
        level, place = home
        for apart in sorted({abs(other - level) for other in self.by_level}):
            there = 0
            for other in {level - apart, level + apart}:
                there |= self.by_level.get(other, 0)
            near = [(abs(self.places[bit][1] - place), bit) for bit in bits_of(which & there)]
            for doors, bit in sorted(near):
                yield apart, doors, bit


class Stock:
    """The house's rooms by type, with what is taken from a day on."""

    def __init__(
        self,
        house: House,
        occupancy: Occupancy,
        span: Nights,
        *,
        closed: Collection[RoomNo],
        shunned: Collection[RoomNo],
    ) -> None:
        """For nights of ``span``, from today on.

        ``closed`` are blocked; ``shunned`` are not for a guest who has to be moved.
        """
        self._house = house
        self._occupancy = occupancy
        today, self._until = span
        self._today = today
        self._recent_from = today - timedelta(days=int(house.rules.figures.recent_look_days.value))
        self._order = {room: number for number, room in enumerate(house.rooms)}
        self._looked_on: dict[RoomNo, date | None] = {}
        self._shelves: dict[str, Shelf] = {}
        self._rooms_by_type: dict[str, list[RoomNo]] = {}
        for room in house.rooms.values():
            self._rooms_by_type.setdefault(room.room_type, []).append(room.room)
        ranked = house.all_of(RoomTypesRanked)
        self._ranked = ranked[-1].types if ranked else ()
        self._kept: dict[RoomNo, list[date]] = {}
        for stay in kept_as_stays(house, today):
            self._kept.setdefault(RoomNo(stay.room), []).append(stay.arrives_on)
        self._closed = frozenset(closed)
        self._shunned = frozenset(shunned) - self._closed

    # --- types ------------------------------------------------------------------------------

    def types_for(self, room_type: str) -> tuple[str, ...]:
        """The type and those that the hotel calls better, the plainest first."""
        if room_type not in self._ranked:
            return (room_type,)
        return self._ranked[self._ranked.index(room_type) :]

    def shelf(self, room_type: str) -> Shelf:
        """The rooms of a type."""
        if room_type not in self._shelves:
            self._shelves[room_type] = self._fill(self._rooms_by_type.get(room_type, []))
        return self._shelves[room_type]

    def other_types(self, room_type: str) -> tuple[str, ...]:
        """The types that would not do for a guest of this one."""
        fitting = set(self.types_for(room_type))
        return tuple(kind for kind in self._rooms_by_type if kind not in fitting)

    def set_aside(self, room: RoomNo, nights: Nights) -> None:
        """Keep a room of the roster for somebody who is written down to move there."""
        shelf = self.shelf(self._house.rooms[room].room_type)
        one = 1 << shelf.rooms.index(room)
        for night in nights_of(nights):
            shelf.taken[night] = shelf.taken.get(night, 0) | one

    # --- where and how lately ---------------------------------------------------------------

    def place(self, room: RoomNo) -> tuple[int, int]:
        """Level and place in the roster; before all others where the roster has no such room."""
        described = self._house.rooms.get(room)
        level = self._house.floors.get(described.floor, 0) if described else 0
        return level, self._order.get(room, -1)

    def looked_on(self, room: RoomNo) -> date | None:
        """The day until which every bed's underside was looked at; None if one never was."""
        if room not in self._looked_on:
            beds = self._house.beds_of(room)
            days = [last_look(self._house, bed.bed, self._today) for bed in beds]
            if not beds:
                looks = self._house.room_checks.get(room, ())
                days = [max((look.checked_on for look in looks), default=None)]
            known = [day for day in days if day is not None]
            self._looked_on[room] = min(known) if len(known) == len(days) else None
        return self._looked_on[room]

    def is_recent(self, room: RoomNo) -> bool:
        """Whether it was looked at within the days that count as recent."""
        for bed in self._house.beds_of(room):
            checks = self._house.checks_by_bed.get(bed.bed)
            if not checks or checks[-1].fact.checked_on < self._recent_from:
                return False
        looked_on = self.looked_on(room)
        return looked_on is not None and looked_on >= self._recent_from

    def recent_among(self, shelf: Shelf, which: int) -> int:
        """Rooms of a set that were looked at within the days that count as recent."""
        for bit in bits_of(which & ~shelf.asked_about):
            if self.is_recent(shelf.rooms[bit]):
                shelf.recent |= 1 << bit
        shelf.asked_about |= which
        return which & shelf.recent

    def _fill(self, rooms: list[RoomNo]) -> Shelf:
        shelf = Shelf(
            rooms,
            [self.place(room) for room in rooms],
            closed=_set_of(rooms, self._closed),
            shunned=_set_of(rooms, self._shunned),
        )
        begins: defaultdict[date, int] = defaultdict(int)
        ends: defaultdict[date, int] = defaultdict(int)
        for bit, room in enumerate(rooms):
            one, level = 1 << bit, shelf.places[bit][0]
            shelf.by_level[level] = shelf.by_level.get(level, 0) | one
            for first, last in self._runs(room):
                begins[first] |= one
                ends[last] |= one
        there = 0
        for night in days_from(self._today, max(0, (self._until - self._today).days)):
            there = there & ~ends[night] | begins[night]
            shelf.taken[night] = there
        for bit, room in enumerate(rooms):
            for night in self._kept.get(room, ()):
                shelf.taken[night] = shelf.taken.get(night, 0) | 1 << bit
        return shelf

    def _runs(self, room: RoomNo) -> list[Nights]:
        """Nights of a room that somebody has, those that follow one another as one run."""
        runs = []
        first = last = self._today
        for stay in self._occupancy.stays_from(room, self._today):
            arrives, leaves = stay.arrives_on, stay.leaves_on
            if arrives > last:
                if first < last:
                    runs.append((first, last))
                if arrives >= self._until:
                    return runs
                first = last = arrives
            if leaves > last:
                last = leaves
        if first < last:
            runs.append((first, last))
        return runs


def bits_of(which: int) -> Iterator[int]:
    """The bits that are set, the lowest first."""
    while which:
        lowest = which & -which
        yield lowest.bit_length() - 1
        which ^= lowest


def nights_of(nights: Nights) -> Iterator[date]:
    """Each night from the first until the morning of departure."""
    first, leaves_on = nights
    return days_from(first, max(0, (leaves_on - first).days))


def _any_of(by_night: dict[date, int], nights: Nights) -> int:
    found = 0
    for night in nights_of(nights):
        found |= by_night.get(night, 0)
    return found


def _set_of(rooms: list[RoomNo], among: Collection[RoomNo]) -> int:
    return sum(1 << bit for bit, room in enumerate(rooms) if room in among)
