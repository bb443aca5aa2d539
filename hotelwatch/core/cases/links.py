"""Where insects may have been carried: rooms that the record ties to a room with a sign.

Same guests: they changed rooms, or one booking had several. Furniture, roll-aways and
cribs: carried between the two. Same cart: one cart served both. Each is looked back for
so many days before the sign (figures.look_back_days) and counts until today.

Source: insects are carried by people, belongings and furniture: Wang et al. 2010,
J Econ Entomol 103:172-177; which ties to follow is common practice, no source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from itertools import pairwise

from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.choice_facts import CartServes
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedDescribed, Fact, RoomNo, StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay
from hotelwatch.core.round_facts import FurnitureMoved

TYING: tuple[type[Fact], ...] = (GuestMoved, FurnitureMoved, BedDescribed, CartServes)
"""Kinds of fact that tie rooms; bookings do, too."""


class LinkKind(StrEnum):
    """How the record ties a room to another, the likeliest way first: common practice."""

    SAME_GUESTS = "same_guests"
    FURNITURE = "furniture"
    SAME_CART = "same_cart"


@dataclass(frozen=True, slots=True)
class Link:
    """A room that the record ties to another."""

    room: RoomNo
    kind: LinkKind
    on: date
    """The first day of the tie."""
    entry: int
    """The latest that told of it; of bookings, that of the last list read in."""


@dataclass(frozen=True, slots=True)
class Tie:
    """Two or more rooms that something went between, from a day until another."""

    rooms: frozenset[RoomNo]
    kind: LinkKind
    from_on: date
    until_on: date
    entry: int


@dataclass(frozen=True, slots=True)
class Record:
    """Every tie of each room; made once for a house and kept while its record stands."""

    ties: Mapping[RoomNo, tuple[Tie, ...]]
    stays: Mapping[RoomNo, tuple[Stay, ...]]
    """Stays of bookings that had more than one room, or whose guests moved."""
    rooms_of: Mapping[str, tuple[Stay, ...]]
    """The same stays by booking."""


NOTHING = Record({}, {}, {})


def record_of(house: House) -> Record:
    """Every tie that the record of a house knows."""
    ties: defaultdict[RoomNo, list[Tie]] = defaultdict(list)
    for tie in (*_moved_furniture(house), *_moved_beds(house), *_carts(house)):
        for room in tie.rooms:
            ties[room].append(tie)
    stays = _stays_in_several_rooms(house)
    by_room: defaultdict[RoomNo, list[Stay]] = defaultdict(list)
    by_booking: defaultdict[str, list[Stay]] = defaultdict(list)
    for stay in stays:
        by_room[RoomNo(stay.room)].append(stay)
        by_booking[stay.booking].append(stay)
    return Record(
        {room: tuple(found) for room, found in ties.items()},
        {room: tuple(found) for room, found in by_room.items()},
        {booking: tuple(found) for booking, found in by_booking.items()},
    )


def links_of(
    house: House, record: Record, room: RoomNo, *, sign_on: date, today: date
) -> tuple[Link, ...]:
    """Rooms of the roster that the record ties to a room with a sign seen on that day.

    Each kind of tie once for each room, with its first day; guests' rooms first.
    """
    since = sign_on - timedelta(days=int(house.rules.figures.look_back_days.value))
    found: dict[tuple[RoomNo, LinkKind], Link] = {}
    for link in (
        *_guests_rooms(house, record, room, since=since, today=today),
        *_tied(record, room, since=since, today=today),
    ):
        key = link.room, link.kind
        if link.room in house.rooms:
            known = found.get(key, link)
            first, latest = min(link.on, known.on), max(link.entry, known.entry)
            found[key] = Link(link.room, link.kind, first, latest)
    order = list(LinkKind)
    return tuple(sorted(found.values(), key=lambda one: (order.index(one.kind), one.on, one.room)))


def stays_since(house: House, room: RoomNo, *, sign_on: date, today: date) -> tuple[Stay, ...]:
    """Stays in a room since the look-back before a sign began, the latest first."""
    since = sign_on - timedelta(days=int(house.rules.figures.look_back_days.value))
    found = [
        stay
        for stay in house.stays
        if stay.room == room
        and stay.counts
        and stay.leaves_on >= since
        and stay.arrives_on <= today
    ]
    return tuple(sorted(found, key=lambda stay: stay.arrives_on, reverse=True))


def moves_told(
    before: Iterable[Stay], after: Iterable[Stay], *, today: date, by: str
) -> tuple[GuestMoved, ...]:
    """Guests in house for whom a new list of bookings gives another room than the last one.

    They slept in the earlier room at least once; a list that has both rooms ties them by
    itself.
    """
    then: dict[str, Stay] = {}
    for stay in before:
        if stay.counts and stay.room and stay.arrives_on < today <= stay.leaves_on:
            then[stay.booking] = stay
    now: defaultdict[str, list[Stay]] = defaultdict(list)
    for stay in after:
        if stay.booking in then and stay.counts and stay.room:
            now[stay.booking].append(stay)
    found = []
    for booking, stays in now.items():
        was = then[booking].room
        here = [stay.room for stay in stays if stay.arrives_on <= today <= stay.leaves_on]
        if len(set(here)) == 1 and was not in {stay.room for stay in stays}:
            found.append(GuestMoved(RoomNo(was), RoomNo(here[0]), today, booking, by))
    return tuple(found)


def carts(house: House, today: date) -> tuple[CartServes, ...]:
    """Which rooms each cart in use serves on a day, by its name."""
    latest: dict[str, CartServes] = {}
    for fact in sorted(house.all_of(CartServes), key=lambda fact: fact.from_on):
        if fact.from_on <= today:
            latest[fact.cart] = fact
    return tuple(fact for _, fact in sorted(latest.items()) if fact.rooms)


# --- what ties rooms ------------------------------------------------------------------------


def _moved_furniture(house: House) -> Iterator[Tie]:
    for row in house.kept_of(FurnitureMoved):
        both = frozenset({row.fact.from_room, row.fact.to_room})
        yield Tie(both, LinkKind.FURNITURE, row.fact.moved_on, row.fact.moved_on, row.entry)


def _moved_beds(house: House) -> Iterator[Tie]:
    """A bed described in another room than before was carried there."""
    for rows in house.builds_by_bed.values():
        for before, after in pairwise(rows):
            if before.fact.room != after.fact.room:
                day = local_day(house.entry_of(after).recorded_at, house.zone)
                both = frozenset({before.fact.room, after.fact.room})
                yield Tie(both, LinkKind.FURNITURE, day, day, after.entry)


def _carts(house: House) -> Iterator[Tie]:
    """Rooms of a cart, from the day on which it began to serve them until it served others."""
    by_cart: defaultdict[str, list[tuple[CartServes, int]]] = defaultdict(list)
    for row in house.kept_of(CartServes):
        by_cart[row.fact.cart].append((row.fact, row.entry))
    for words in by_cart.values():
        words.sort(key=lambda word: (word[0].from_on, word[1]))
        for number, (fact, entry) in enumerate(words):
            later = [word.from_on for word, _ in words[number + 1 :]]
            until = later[0] - timedelta(days=1) if later else date.max
            if until >= fact.from_on:
                rooms = frozenset(map(RoomNo, fact.rooms))
                yield Tie(rooms, LinkKind.SAME_CART, fact.from_on, until, entry)


def _stays_in_several_rooms(house: House) -> Iterable[Stay]:
    told = (fact for fact in house.all_of(GuestMoved) if not fact.before_arrival)
    moved = {fact.booking for fact in told if fact.booking}
    first: dict[str, str] = {}
    several = set(moved)
    for stay in house.stays:
        if stay.room and stay.booking and first.setdefault(stay.booking, stay.room) != stay.room:
            several.add(stay.booking)
    return [s for s in house.stays if s.booking in several and s.room and s.counts]


# --- what ties one room -----------------------------------------------------------------------


def _tied(record: Record, room: RoomNo, *, since: date, today: date) -> Iterator[Link]:
    for tie in record.ties.get(room, ()):
        if tie.until_on >= since and tie.from_on <= today:
            for other in tie.rooms - {room}:
                yield Link(other, tie.kind, max(tie.from_on, since), tie.entry)


def _guests_rooms(
    house: House, record: Record, room: RoomNo, *, since: date, today: date
) -> Iterator[Link]:
    """Rooms of the guests who had this one since then: before, meanwhile or after."""
    moves = [
        row
        for row in house.kept_of(GuestMoved)
        if since <= row.fact.moved_on <= today and not row.fact.before_arrival
    ]
    bookings = {
        stay.booking
        for stay in record.stays.get(room, ())
        if stay.leaves_on >= since and stay.arrives_on <= today
    }
    for row in moves:
        both = {row.fact.from_room, row.fact.to_room}
        if room in both:
            bookings.add(row.fact.booking)
            for other in both - {room}:
                yield Link(other, LinkKind.SAME_GUESTS, row.fact.moved_on, row.entry)
    bookings.discard("")
    for row in moves:
        if row.fact.booking in bookings:
            for other in {row.fact.from_room, row.fact.to_room} - {room}:
                yield Link(other, LinkKind.SAME_GUESTS, row.fact.moved_on, row.entry)
    most = int(house.rules.figures.group_rooms.value)
    told_by = max((row.entry for row in house.kept_of(StaysImported)), default=0)
    for booking in bookings:
        stays = record.rooms_of.get(booking, ())
        for other, day in _rooms_of_booking(stays, room, (since, today), most):
            yield Link(other, LinkKind.SAME_GUESTS, day, told_by)


def _rooms_of_booking(
    stays: tuple[Stay, ...], room: RoomNo, span: tuple[date, date], most: int
) -> Iterator[tuple[RoomNo, date]]:
    """Other rooms of a booking; of a group only those that were changed from or to.

    Which guests of a group had which of its rooms at the same time nobody wrote down.
    """
    mine = [stay for stay in stays if stay.room == room]
    is_group = len({stay.room for stay in stays}) > most
    for stay in stays:
        in_time = stay.leaves_on >= span[0] and stay.arrives_on <= span[1]
        changed = any(
            stay.leaves_on == own.arrives_on or own.leaves_on == stay.arrives_on for own in mine
        )
        if stay.room != room and in_time and (changed or not is_group):
            yield RoomNo(stay.room), max(stay.arrives_on, span[0])
