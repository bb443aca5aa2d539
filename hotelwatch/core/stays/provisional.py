"""Provisional rooms for bookings that front desk has given none, so that vacancy can be foreseen.

A room's free nights between two stays are a gap. A booking is put into a gap when
it arrives and moves only when the gap ends under it: a move made earlier can be
put off without making more moves. Where every gap lasts to the end, as with only
guests in house holding rooms, placing bookings in order of arrival into whichever
room is free needs no move at all as long as no night is overbooked (the left-edge
argument, known from interval graphs).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.records import Stay
from hotelwatch.core.stays.gaps import Gap, Put, Span, gaps_between, trim_to_rooms
from hotelwatch.core.stays.packing import pack


@dataclass(frozen=True, slots=True)
class Placement:
    """Bookings with the rooms guessed for them."""

    placed: tuple[Stay, ...]
    """One for each room that a booking takes; a split booking keeps its number."""
    moves: int
    """Changes of room within bookings."""
    unplaced: tuple[Stay, ...]
    other_type: frozenset[str] = frozenset()
    """Bookings in a room of a type that they did not book."""


def place_bookings(
    rooms_by_type: Mapping[str, Sequence[RoomNo]],
    fixed: Iterable[Stay],
    *,
    unplaced: Iterable[Stay],
    today: date,
) -> Placement:
    """Rooms of the booked type for bookings without one, for the nights from ``today`` on.

    No move wherever possible, few otherwise. Where a type is full on some night,
    the fewest bookings go to rooms of another type; where the hotel is full, the
    fewest stay without a room. A booking of no type, or of one that no room has,
    takes what the others leave.
    """
    desk = _Desk(rooms_by_type, fixed, today)
    wishes: defaultdict[str, list[Stay]] = defaultdict(list)
    for stay in sorted(unplaced, key=lambda s: (s.arrives_on, s.leaves_on, s.booking)):
        if max(stay.arrives_on, today) < stay.leaves_on:
            wishes[stay.room_type].append(stay)
    left = [stay for kind, stays in wishes.items() if kind not in rooms_by_type for stay in stays]
    for kind in sorted(rooms_by_type):
        left += desk.place(wishes.get(kind, []), rooms_by_type[kind])
    every_room = [room for kind in sorted(rooms_by_type) for room in rooms_by_type[kind]]
    return desk.placement(unplaced=desk.place(left, every_room))


class _Desk:
    """The rooms while bookings are being put into them."""

    def __init__(
        self, rooms_by_type: Mapping[str, Sequence[RoomNo]], fixed: Iterable[Stay], today: date
    ) -> None:
        self.today = today.toordinal()
        self.type_of = {room: kind for kind, rooms in rooms_by_type.items() for room in rooms}
        self.taken: defaultdict[str, list[tuple[int, int]]] = defaultdict(list)
        for stay in fixed:
            self.taken[stay.room].append((stay.arrives_on.toordinal(), stay.leaves_on.toordinal()))
        self.placed: list[Stay] = []
        self.moves = 0

    def place(self, stays: Sequence[Stay], rooms: Sequence[RoomNo]) -> list[Stay]:
        """Put bookings into these rooms; those for which there is none come back."""
        if not stays:
            return []
        spans = [
            Span(index, max(stay.arrives_on.toordinal(), self.today), stay.leaves_on.toordinal())
            for index, stay in enumerate(stays)
        ]
        end = max(span.leaves for span in spans)
        gaps = [
            Gap(number, first, last)
            for number, room in enumerate(rooms)
            for first, last in gaps_between(self.taken[room], self.today, end)
        ]
        fitting, dropped = trim_to_rooms(spans, gaps)
        puts = pack(fitting, gaps)
        self.moves += len(puts) - len(fitting)
        for put in puts:
            self._write(stays[put.span], rooms[put.room], put)
        return [stays[index] for index in sorted(dropped)]

    def _write(self, stay: Stay, room: RoomNo, put: Put) -> None:
        self.taken[room].append((put.first, put.last))
        self.placed.append(
            replace(
                stay,
                room=room,
                arrives_on=date.fromordinal(put.first),
                leaves_on=date.fromordinal(put.last),
            )
        )

    def placement(self, *, unplaced: Iterable[Stay]) -> Placement:
        """What came of it, by arrival."""
        others = (
            stay.booking
            for stay in self.placed
            if stay.room_type and stay.room_type != self.type_of[RoomNo(stay.room)]
        )
        order = sorted(self.placed, key=lambda s: (s.arrives_on, s.booking, s.room))
        left = sorted(unplaced, key=lambda s: (s.arrives_on, s.booking))
        return Placement(tuple(order), self.moves, tuple(left), frozenset(others))
