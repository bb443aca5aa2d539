"""What ties rooms and grows a ring: guests moved, carts, rooms asked for later."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from hotelwatch.actions.hotel import check_room
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import CheckAsked, GuestMoved
from hotelwatch.core.cases.case import is_open
from hotelwatch.core.cases.links import moves_told
from hotelwatch.core.cases.ring import Ring, floor_wishes, ring_of, to_ask
from hotelwatch.core.cases.ring_rooms import RoomState
from hotelwatch.core.choice_facts import CartServes
from hotelwatch.core.facts import CaseNo, Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes, Entry


def ring(hotel: OpenHotel, case: CaseNo) -> Ring:
    """A case's ring as of now. Refusal("unknown_case")."""
    house = hotel.house
    if case not in house.sightings:
        raise Refusal("unknown_case", case=case)
    return ring_of(house, hotel.around(), case, now=hotel.now())


def record_guest_move(hotel: OpenHotel, *moves: GuestMoved) -> Changes:
    """Write down that guests changed rooms; open cases ask for the rooms that it ties.

    One entry for all of them. Refusal("unknown_room"), ("same_room"), ("day_to_come"),
    ("who_moved_missing"), ("unknown_booking"), ("unknown_case").
    """
    for move in moves:
        if move.from_room == move.to_room:
            raise Refusal("same_room", room=move.to_room)
        if move.moved_on > hotel.today():
            raise Refusal("day_to_come", day=move.moved_on.isoformat())
        if not move.by.strip():
            raise Refusal("who_moved_missing")

    def decide(house: House) -> Sequence[Fact]:
        bookings = {stay.booking for stay in house.stays}
        for move in moves:
            check_room(house, move.from_room)
            check_room(house, move.to_room)
            if move.booking and move.booking not in bookings:
                raise Refusal("unknown_booking", booking=move.booking)
            if move.because_of and move.because_of not in house.sightings:
                raise Refusal("unknown_case", case=move.because_of)
        known = house.all_of(GuestMoved)
        new = [move for move in moves if move not in known]
        return [*new, *asked_because_of(hotel, house, new)]

    return hotel.record(decide, action="move_guests")


def serve_with_cart(hotel: OpenHotel, serves: CartServes) -> Changes:
    """Say which rooms a cart serves from a day on; none: it is no longer used.

    Refusal("cart_needs_name"), ("unknown_room"), ("day_to_come").
    """
    if not serves.cart.strip():
        raise Refusal("cart_needs_name")
    if serves.from_on > hotel.today():
        raise Refusal("day_to_come", day=serves.from_on.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        for room in serves.rooms:
            check_room(house, RoomNo(room))
        return [] if serves in house.all_of(CartServes) else [serves]

    return hotel.record(decide, action="serve_with_cart")


def ask_rooms(
    hotel: OpenHotel, case: CaseNo, *, struck_out: Collection[RoomNo] = frozenset()
) -> Changes:
    """Ask for every room that a case's ring wants by now, and for these left out before.

    Refusal("unknown_case"), ("nothing_to_ask").
    """
    now = hotel.now()

    def decide(house: House) -> Sequence[Fact]:
        if case not in house.sightings:
            raise Refusal("unknown_case", case=case)
        found = ring_of(house, hotel.around(house), case, now=now)
        after_all = [
            row
            for row in found.rooms
            if row.room in struck_out and row.state is RoomState.STRUCK_OUT
        ]
        wishes = to_ask(found, also=after_all)
        if not wishes:
            raise Refusal("nothing_to_ask", case=case)
        return wishes

    return hotel.record(decide, action="ask_rooms")


def ask_whole_floor(hotel: OpenHotel, case: CaseNo, floor: str) -> Changes:
    """Ask for the rest of a floor that a case's ring covers for the most part.

    Refusal("unknown_case"), ("floor_not_offered").
    """
    now = hotel.now()

    def decide(house: House) -> Sequence[Fact]:
        if case not in house.sightings:
            raise Refusal("unknown_case", case=case)
        found = ring_of(house, hotel.around(house), case, now=now)
        wishes = floor_wishes(house, found, floor, now=now)
        if not wishes:
            raise Refusal("floor_not_offered", case=case, floor=floor)
        return wishes

    return hotel.record(decide, action="ask_whole_floor")


def follow_bookings(hotel: OpenHotel, before: House) -> Changes:
    """Write down who changed rooms by a new list of bookings, and ask for what it ties.

    ``before`` is the house as it was known before the list.
    """
    today = hotel.today()
    told = moves_told(before.stays, hotel.house.stays, today=today, by=hotel.by)

    def decide(house: House) -> Sequence[Fact]:
        known = set(house.all_of(GuestMoved))
        moves = [
            move
            for move in told
            if move not in known and {move.from_room, move.to_room} <= house.rooms.keys()
        ]
        after = house.add(_supposed(hotel, house), moves)
        return [*moves, *_wishes_between(hotel, before, after)]

    return hotel.record(decide, action="move_guests")


def asked_because_of(hotel: OpenHotel, house: House, facts: Sequence[Fact]) -> Sequence[CheckAsked]:
    """Wishes of open cases for rooms that only these facts tie to them."""
    if not facts:
        return ()
    return _wishes_between(hotel, house, house.add(_supposed(hotel, house), facts))


def _wishes_between(hotel: OpenHotel, before: House, after: House) -> Sequence[CheckAsked]:
    """Wishes for rooms that now have a reason which they had not before."""
    cases = [case for case in after.sightings if case in before.sightings and is_open(after, case)]
    if not cases:
        return ()
    now, around = hotel.now(), hotel.around(before)
    known = {
        (row.room, reason)
        for case in cases
        for row in ring_of(before, around, case, now=now).rooms
        for reason in row.reasons
    }
    around = hotel.around(after)
    wishes: list[CheckAsked] = []
    for case in cases:
        found = ring_of(after, around, case, now=now)
        is_new = {
            row.room for row in found.rooms if any((row.room, r) not in known for r in row.reasons)
        }
        wishes += [wish for wish in to_ask(found) if wish.room in is_new]
    return wishes


def _supposed(hotel: OpenHotel, house: House) -> Entry:
    number = max(house.entries, default=0) + 1
    return Entry(number, hotel.now(), "", "", "", None, "", "")
