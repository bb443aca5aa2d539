"""Into which room each touched guest is moved: all moves chosen together, or why there is none.

A room will do if it is of the guest's type, or of one that the hotel calls better, is
free for the whole rest of the stay, is not blocked, is on no case's check list and is not
next to, above or below a blocked room (traveller and lodging advice, read second-hand).

As many guests as possible get a room, the most urgent before others; what they get costs
the least in all: first steps of type, then rooms that nobody looked at lately, then floors
apart, then doors apart (core.cases.matching). In that choice each room is given to one
guest. Rooms whose free nights hold more than one are given again afterwards, also by
putting guests elsewhere, never by leaving a more urgent one without a room: whether that
places the most is not proven (with free nights of its own in each room, nobody knows a
fast way to prove it).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.cases.matching import Edge, assign
from hotelwatch.core.cases.stock import Nights, Shelf, Stock, bits_of
from hotelwatch.core.facts import RoomNo

DEEPEST = 3
MOST_TRIES = 1000
"""How far, and how often for a list, guests are put elsewhere to make room for one more."""
FIELD_BITS = 24
"""Room for the sum over all guests of one kind of cost, so that none spills into another."""


@dataclass(frozen=True, slots=True)
class Move:
    """A room for a guest who has to be moved."""

    room: RoomNo
    is_better: bool
    """Whether it is of a better type than the guest's."""
    looked_on: date | None
    """The day until which every bed in it was looked at; None if one never was."""
    look_first: bool
    """Nobody looked at it lately: it is to be looked at before the guest comes in."""
    is_agreed: bool = False
    """Somebody wrote down that the guest moves there; the bookings do not show it yet."""


@dataclass(frozen=True, slots=True)
class NoRoom:
    """Why there is no room for a guest: rooms of the guest's type or better, each once."""

    of_type: int
    """All of them, without the guest's own."""
    closed: int
    to_be_looked_at: int
    """On a check list, or next to, above or below a blocked room."""
    let: int
    """Somebody has it, or is foreseen in it, or it is kept free, on one of the nights."""
    given: int
    """Proposed to another guest of this list."""
    other_type: int
    """Rooms that are free for the stay and would do, but for their type."""


@dataclass(frozen=True, slots=True)
class Wish:
    """A guest who wants another room."""

    room: RoomNo
    room_type: str
    nights: Nights


def choose_moves(stock: Stock, wishes: Sequence[Wish]) -> tuple[Move | NoRoom, ...]:
    """A room for each of these guests, the most urgent first; or why there is none."""
    plan = _Plan(stock, wishes)
    plan.place_together()
    plan.place_left_over()
    return tuple(plan.outcome(number) for number in range(len(wishes)))


@dataclass(frozen=True, slots=True)
class _Spot:
    """A room on its shelf."""

    shelf: Shelf
    bit: int
    steps: int
    """Of type above the guest's."""

    @property
    def room(self) -> RoomNo:
        return self.shelf.rooms[self.bit]


class _Plan:
    def __init__(self, stock: Stock, wishes: Sequence[Wish]) -> None:
        self._stock = stock
        self._wishes = wishes
        self._spots: dict[int, _Spot] = {}
        self._holders: dict[tuple[Shelf, int], set[int]] = {}
        self._tries_left = MOST_TRIES

    def place_together(self) -> None:
        """Give each room to one guest at most, for all guests at once."""
        spots: dict[int, tuple[Shelf, int, int]] = {}
        columns = assign([self._edges(wish, spots) for wish in self._wishes])
        for number, column in enumerate(columns):
            if column is not None:
                self._give(number, _Spot(*spots[column]))

    def place_left_over(self) -> None:
        """Give rooms again whose free nights hold one more; else put others elsewhere."""
        for number in range(len(self._wishes)):
            if number not in self._spots:
                self._seat(number, DEEPEST)

    def outcome(self, number: int) -> Move | NoRoom:
        """What came of it for one guest."""
        spot = self._spots.get(number)
        if spot is None:
            return self._why_none(self._wishes[number])
        return Move(
            room=spot.room,
            is_better=spot.steps > 0,
            looked_on=self._stock.looked_on(spot.room),
            look_first=not self._stock.is_recent(spot.room),
        )

    # --- rooms that would do ----------------------------------------------------------------

    def _edges(self, wish: Wish, spots: dict[int, tuple[Shelf, int, int]]) -> Iterator[Edge]:
        """Rooms for a guest, the cheapest first; the roster's places stand for rooms."""
        home = self._stock.place(wish.room)
        for steps, room_type in enumerate(self._stock.types_for(wish.room_type)):
            shelf = self._stock.shelf(room_type)
            free = shelf.free(wish.nights)
            recent = self._stock.recent_among(shelf, free)
            for unseen, which in enumerate((recent, free & ~recent)):
                step_cost = (steps << FIELD_BITS | unseen) << 2 * FIELD_BITS
                for floors, doors, bit in shelf.outward(which, home):
                    number = shelf.places[bit][1]
                    if number != home[1]:
                        spots[number] = shelf, bit, steps
                        yield step_cost | floors << FIELD_BITS | doors, number

    # --- giving -----------------------------------------------------------------------------

    def _give(self, number: int, spot: _Spot) -> None:
        spot.shelf.give(spot.bit, self._wishes[number].nights)
        self._spots[number] = spot
        self._holders.setdefault((spot.shelf, spot.bit), set()).add(number)

    def _take_back(self, number: int) -> None:
        spot = self._spots.pop(number)
        spot.shelf.take_back(spot.bit, self._wishes[number].nights)
        self._holders[spot.shelf, spot.bit].remove(number)

    def _seat(self, number: int, deep: int) -> bool:
        """Give a guest a room, if need be one whose guests of this list all find another."""
        spots: dict[int, tuple[Shelf, int, int]] = {}
        for _cost, place in self._edges(self._wishes[number], spots):
            self._give(number, _Spot(*spots[place]))
            return True
        if not deep:
            return False
        for given in self._given_away(self._wishes[number]):
            if not self._tries_left:
                return False
            self._tries_left -= 1
            before = dict(self._spots)
            holders = self._in_the_way(given, self._wishes[number].nights)
            for holder in holders:
                self._take_back(holder)
            self._give(number, given)
            if all(self._seat(holder, deep - 1) for holder in holders):
                return True
            self._go_back_to(before)
        return False

    def _given_away(self, wish: Wish) -> Iterator[_Spot]:
        """Rooms that would do, were it not for other guests of this list."""
        for steps, room_type in enumerate(self._stock.types_for(wish.room_type)):
            shelf = self._stock.shelf(room_type)
            out = shelf.closed | shelf.shunned | shelf.let_on(wish.nights)
            for bit in bits_of(shelf.every & ~out & shelf.given_on(wish.nights)):
                if shelf.rooms[bit] != wish.room:
                    yield _Spot(shelf, bit, steps)

    def _in_the_way(self, spot: _Spot, nights: Nights) -> list[int]:
        """Guests of this list in a room on these nights, the most urgent first."""
        there = self._holders.get((spot.shelf, spot.bit), set())
        return sorted(n for n in there if _overlap(self._wishes[n].nights, nights))

    def _go_back_to(self, before: dict[int, _Spot]) -> None:
        for number, spot in list(self._spots.items()):
            if before.get(number) != spot:
                self._take_back(number)
        for number, spot in before.items():
            if number not in self._spots:
                self._give(number, spot)

    # --- where there is none ----------------------------------------------------------------

    def _why_none(self, wish: Wish) -> NoRoom:
        of_type = closed = shunned = let = given = 0
        for room_type in self._stock.types_for(wish.room_type):
            shelf = self._stock.shelf(room_type)
            own = sum(1 << bit for bit, room in enumerate(shelf.rooms) if room == wish.room)
            left = shelf.every & ~own
            of_type += left.bit_count()
            counted = []
            for which in (shelf.closed, shelf.shunned, shelf.let_on(wish.nights)):
                counted.append((left & which).bit_count())
                left &= ~which
            closed, shunned, let = closed + counted[0], shunned + counted[1], let + counted[2]
            given += (left & shelf.given_on(wish.nights)).bit_count()
        others = (self._stock.shelf(kind) for kind in self._stock.other_types(wish.room_type))
        return NoRoom(
            of_type=of_type,
            closed=closed,
            to_be_looked_at=shunned,
            let=let,
            given=given,
            other_type=sum(shelf.free(wish.nights).bit_count() for shelf in others),
        )


def _overlap(one: Nights, other: Nights) -> bool:
    return one[0] < other[1] and other[0] < one[1]
