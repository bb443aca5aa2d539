"""Guests whom a block touches: in a room not to be let, or to come into one.

A room that is only held until somebody has looked touches nobody who is in it, and of
those to come only guests to whom front desk gave it, up to the day of its look.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.case_facts import CheckAsked, GuestMoved
from hotelwatch.core.cases.blocks import Block, BlockKind
from hotelwatch.core.cases.case import is_open, suite_mates
from hotelwatch.core.cases.centres import centres_of
from hotelwatch.core.cases.lets import is_awaited, moves_told
from hotelwatch.core.cases.moves import Move, NoRoom, Wish, choose_moves
from hotelwatch.core.cases.release import if_treated_on
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.stock import Stock
from hotelwatch.core.checks.asked import asked_states
from hotelwatch.core.checks.watching import is_watched, watched_rooms
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept, Stay, StayStatus
from hotelwatch.core.stays.openings import Occupancy

ONE_DAY = timedelta(days=1)
TOO_NEAR = frozenset(Kind) - {Kind.ACROSS}
"""Kinds of neighbour of a blocked room into which no guest is moved, whatever the ring's rule."""


class Touched(StrEnum):
    """How a block touches a guest."""

    IN_HOUSE = "in_house"
    """In the room now, or taken to be, and staying on: to be moved."""
    ARRIVING = "arriving"


class ForGuest(StrEnum):
    """What front desk does for a guest whom a block touches."""

    CHANGE_BOOKING = "change_booking"
    """The move is agreed, and the bookings do not show it yet."""
    MOVE = "move"
    GIVE_ANY_OTHER = "give_any_other"
    """Front desk has given no room yet: any but this one."""
    LOOK_OR_CHANGE = "look_or_change"
    """Once somebody has looked, the guest may have the room; else another one."""
    CHANGE_ROOM = "change_room"


@dataclass(frozen=True, slots=True)
class TouchedArrival:
    """A guest who is in a blocked room or is to come into one."""

    stay: Stay
    room: RoomNo
    block: Block
    touched: Touched
    is_provisional: bool
    """The room is a guess of ours; front desk has given none."""
    from_on: date
    """The first night for which another room is wanted."""
    move: Move | None = None
    """The room proposed; None where there is none, and before moves were chosen."""
    no_room: NoRoom | None = None
    """Why there is none, where there is none."""

    @property
    def to_do(self) -> ForGuest:
        """What front desk does for the guest."""
        if self.move is not None and self.move.is_agreed:
            return ForGuest.CHANGE_BOOKING
        if self.touched is Touched.IN_HOUSE:
            return ForGuest.MOVE
        if self.is_provisional:
            return ForGuest.GIVE_ANY_OTHER
        is_held = self.block.kind is BlockKind.HELD
        return ForGuest.LOOK_OR_CHANGE if is_held else ForGuest.CHANGE_ROOM


def touched_arrivals(
    house: House, occupancy: Occupancy, found: tuple[Block, ...], *, now: datetime
) -> tuple[TouchedArrival, ...]:
    """Guests in blocked rooms and to come into them, the most urgent first; no moves yet.

    Arrivals count up to the day on which the room is likely to be given back. Where
    nobody can name one, they count up to the day that a treatment today would make
    possible.
    """
    today = local_day(now, house.zone)
    no_day = if_treated_on(house, today)
    rows = [
        _touch(occupancy, stay, block, today)
        for block in found
        for stay in occupancy.stays_from(block.room, today)
        if stay.status is not StayStatus.LEFT
        if stay.arrives_on < max(block.expected_until or no_day, today + ONE_DAY)
    ]
    return tuple(sorted((row for row in rows if _is_touched(row)), key=_urgency))


def with_moves(
    house: House,
    occupancy: Occupancy,
    rows: tuple[TouchedArrival, ...],
    *,
    found: tuple[Block, ...],
    shunned: frozenset[RoomNo],
    today: date,
) -> tuple[TouchedArrival, ...]:
    """The same guests with the room proposed to each; all of them chosen together.

    Who is written down to move keeps that room, unless it is itself not to be sold by now.
    """
    if not rows:
        return ()
    blocked = {block.room for block in found}
    closed = {block.room for block in found if block.kind is BlockKind.CLOSED}
    span = today, max(row.stay.leaves_on for row in rows)
    stock = Stock(house, occupancy, span, closed=closed, shunned=shunned)
    words = moves_told(house)
    agreed = {
        number: room
        for number, row in enumerate(rows)
        if (room := _agreed(house, row, words)) is not None and room not in blocked
    }
    for number, room in agreed.items():
        stock.set_aside(room, (rows[number].from_on, rows[number].stay.leaves_on))
    waiting = [number for number in range(len(rows)) if number not in agreed]
    chosen = choose_moves(stock, [_wish(house, rows[number]) for number in waiting])
    outcome: dict[int, Move | NoRoom] = dict(zip(waiting, chosen, strict=True))
    for number, room in agreed.items():
        looked_on, is_recent = stock.looked_on(room), stock.is_recent(room)
        outcome[number] = Move(room, False, looked_on, not is_recent, is_agreed=True)
    return tuple(_told(row, outcome[number]) for number, row in enumerate(rows))


def rooms_to_shun(
    house: House, found: tuple[Block, ...], *, around: Around, now: datetime
) -> frozenset[RoomNo]:
    """Rooms into which no guest is moved.

    Blocked; of the suite of a blocked one; next to, above or below one; and whatever an
    open case asked for or wants by its ring and by the record. A room that was asked for
    counts even where it has been looked at since: one clean look proves nothing, and the
    case is not closed. Once its rooms were given back, those under watch alone count, and
    what nobody has looked at yet.
    """
    shunned = {block.room for block in found}
    for block in found:
        if block.kind is BlockKind.CLOSED:
            shunned.update(suite_mates(house, block.room))
            shunned.update(
                near.room
                for near in around.neighbours.get(block.room, ())
                if not TOO_NEAR.isdisjoint(near.kinds)
            )
    today = local_day(now, house.zone)
    for case in house.sightings:
        if is_watched(house, case):
            shunned.update(watched_rooms(house, case))
            left = (state for state in asked_states(house, case) if state.is_open)
            shunned.update(state.asked.room for state in left)
        elif is_open(house, case):
            shunned.update(row.fact.room for row in house.kept_of_case(CheckAsked, case))
            for centre in centres_of(house, around, case, today=today):
                shunned.update(wanted.room for wanted in centre.wanted)
    return frozenset(shunned)


def _touch(occupancy: Occupancy, stay: Stay, block: Block, today: date) -> TouchedArrival:
    in_house = stay.status is StayStatus.IN_HOUSE or stay.arrives_on < today
    return TouchedArrival(
        stay=stay,
        room=block.room,
        block=block,
        touched=Touched.IN_HOUSE if in_house else Touched.ARRIVING,
        is_provisional=stay.booking in occupancy.provisional,
        from_on=max(stay.arrives_on, today),
    )


def _is_touched(row: TouchedArrival) -> bool:
    """Whether a held room concerns the guest: only who is given it and has yet to come."""
    is_given = row.touched is Touched.ARRIVING and not row.is_provisional
    return row.block.kind is BlockKind.CLOSED or is_given


def _urgency(row: TouchedArrival) -> tuple[bool, date, RoomNo, str]:
    return (row.touched is Touched.ARRIVING, row.from_on, row.room, row.stay.booking)


def _wish(house: House, row: TouchedArrival) -> Wish:
    described = house.rooms.get(row.room)
    room_type = described.room_type if described else row.stay.room_type
    return Wish(row.room, room_type, (row.from_on, row.stay.leaves_on))


def _agreed(
    house: House, row: TouchedArrival, words: Mapping[tuple[str, str], Kept[GuestMoved]]
) -> RoomNo | None:
    """The room to which somebody wrote down that this guest moves, while it is awaited."""
    told = words.get((row.stay.booking, row.room))
    if told is None or told.fact.to_room not in house.rooms:
        return None
    return told.fact.to_room if is_awaited(house, row.stay, told) else None


def _told(row: TouchedArrival, outcome: Move | NoRoom) -> TouchedArrival:
    if isinstance(outcome, Move):
        return replace(row, move=outcome)
    return replace(row, no_room=outcome)
