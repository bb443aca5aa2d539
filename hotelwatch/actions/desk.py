"""Front desk: its list, moving a guest, types of room by rank, lets explained, calendars."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from hotelwatch.actions.links import record_guest_move
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import GuestMoved, LetExplained
from hotelwatch.core.cases.blocks import blocks
from hotelwatch.core.cases.desk import DeskList, desk_list
from hotelwatch.core.cases.lets import LetAgainstBlock, lets_against_blocks
from hotelwatch.core.cases.touched import Touched, TouchedArrival
from hotelwatch.core.choice_facts import RoomTypesRanked
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.store.journal import PROGRAM


def front_desk(hotel: OpenHotel) -> DeskList:
    """Front desk's list as of now."""
    return desk_list(hotel.house, hotel.occupancy(), hotel.now(), around=hotel.around())


def write_front_desk(hotel: OpenHotel, target: Path) -> None:
    """Write front desk's list as a workbook; it holds no case details."""
    from hotelwatch.papers.desk_list import write_desk_list

    described = hotel.house.hotel
    assert described is not None  # a hotel's file begins with its description
    write_desk_list(target, front_desk(hotel), hotel=described, program=PROGRAM)


# --- moves ----------------------------------------------------------------------------------


def move_guest(hotel: OpenHotel, row: TouchedArrival, to_room: RoomNo) -> Changes:
    """Write down that a touched guest moves to a room; the bookings themselves are front desk's.

    Refusal("room_is_blocked"), or as ``record_guest_move`` says.
    """
    if to_room in {block.room for block in blocks(hotel.house, hotel.occupancy(), hotel.now())}:
        raise Refusal("room_is_blocked", room=to_room)
    moved = GuestMoved(
        from_room=row.room,
        to_room=to_room,
        moved_on=hotel.today(),
        booking=row.stay.booking,
        by=hotel.by,
        because_of=_case_in(hotel.house, row.room),
        before_arrival=row.touched is Touched.ARRIVING,
    )
    return record_guest_move(hotel, moved)


def touched_guest(desk: DeskList, room: RoomNo, booking: str = "") -> TouchedArrival:
    """The guest of the list who is to be moved from a room, the most urgent if there are more.

    Refusal("nobody_to_move").
    """
    for row in desk.arrivals:
        if row.room == room and booking in ("", row.stay.booking):
            return row
    raise Refusal("nobody_to_move", room=room)


def _case_in(house: House, room: RoomNo) -> str:
    """The first case that keeps a room closed; empty if none does."""
    open_ones = (placed for placed, lifted in house.quarantines if lifted is None)
    return next((placed.case for placed in open_ones if placed.room == room), "")


def rank_types(hotel: OpenHotel, types: Sequence[str]) -> Changes:
    """Say which types of room are plainer and better, the plainest first.

    None takes the order back: a guest is then moved within a type only.
    Refusal("unknown_room_type"), ("type_twice").
    """

    def decide(house: House) -> Sequence[RoomTypesRanked]:
        known = {room.room_type for room in house.rooms.values()}
        for kind in types:
            if kind not in known:
                raise Refusal("unknown_room_type", room_type=kind)
            if list(types).count(kind) > 1:
                raise Refusal("type_twice", room_type=kind)
        ranked = RoomTypesRanked(tuple(types))
        before = house.all_of(RoomTypesRanked)
        return [] if before and before[-1] == ranked else [ranked]

    return hotel.record(decide, action="rank_types")


# --- lets against a block ---------------------------------------------------------------------


def explain_let(hotel: OpenHotel, let: LetAgainstBlock, *, note: str, by: str) -> Changes:
    """Write down how a blocked room came to be let, in a named person's words.

    Refusal("let_needs_note"), ("let_needs_name").
    """
    if not note.strip():
        raise Refusal("let_needs_note", room=let.room)
    if not by.strip():
        raise Refusal("let_needs_name", room=let.room)
    told = LetExplained(let.room, let.stay.booking, let.first_night, note.strip(), by.strip())

    def decide(house: House) -> Sequence[LetExplained]:
        return [] if told in house.all_of(LetExplained) else [told]

    return hotel.record(decide, action="explain_let")


def let_of(hotel: OpenHotel, room: RoomNo, night: date) -> LetAgainstBlock:
    """The let against a block of a room that has this night. Refusal("no_such_let")."""
    for let in lets_against_blocks(hotel.house, hotel.now()):
        last = let.stay.leaves_on
        if let.room == room and (let.first_night == night or let.first_night <= night < last):
            return let
    raise Refusal("no_such_let", room=room, day=night.isoformat())


# --- calendars --------------------------------------------------------------------------------


def write_desk_calendar(hotel: OpenHotel, target: Path, *, deadlines: bool = False) -> int:
    """Write blocked rooms, or housekeeping's deadlines, as an iCalendar file; how many events.

    Raises Refusal as ``papers.block_calendar`` says.
    """
    from hotelwatch.papers.block_calendar import write_block_calendar, write_deadline_calendar

    if deadlines:
        return write_deadline_calendar(hotel.house, target, now=hotel.now())
    return write_block_calendar(hotel.house, hotel.occupancy(), target, now=hotel.now())
