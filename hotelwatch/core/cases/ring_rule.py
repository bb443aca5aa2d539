"""Which rooms a sign asks for, how each is a neighbour or tied, and by when they are due.

The hotel's profile says which kinds of neighbour count and how far: a radius of two
adds the second room along a wall and the second floor up and down. The other keys of a
suite always count, since they are closed with it.

Source: neighbours on both sides, above and below: national pest management association,
best management practices for bed bugs (2011), 13.2.2; across the corridor: Wang et al.
2010, J Econ Entomol 103:172-177 (53 % of the homes next to infested ones had bed bugs
too; an upper bound for a hotel, where finds come earlier); two units each way: a city's
2013 draft for housing, read second-hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.building.neighbours import Kind, Neighbour
from hotelwatch.core.case_facts import Sighted
from hotelwatch.core.cases.case import suite_mates, weight_of
from hotelwatch.core.cases.links import NOTHING, LinkKind, Record, links_of
from hotelwatch.core.cases.notices import started_at
from hotelwatch.core.clocks import due_at
from hotelwatch.core.days import add_hours, local_day, moment_of
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.profile import Start

CHECK_NEIGHBOURS = "check_neighbours"
NOON = "12:00"
Neighbours = Mapping[RoomNo, tuple[Neighbour, ...]]


class Further(StrEnum):
    """The second room each way, where the radius is two."""

    TWO_ALONG = "two_along"
    TWO_ABOVE = "two_above"
    TWO_BELOW = "two_below"


NEAREST: tuple[str, ...] = (
    Kind.SAME_SUITE,
    Kind.CONNECTS,
    Kind.SHARES_WALL,
    Kind.ABOVE,
    Kind.BELOW,
    Kind.ACROSS,
    *Further,
    *LinkKind,
)
"""In which order rooms are looked at: doors, then walls, then the rest, ties of the record last.

Common practice; no share was found for rooms above and below.
"""
PLACE = {code: number for number, code in enumerate(NEAREST)}
BEYOND = {
    Kind.SHARES_WALL: Further.TWO_ALONG,
    Kind.ABOVE: Further.TWO_ABOVE,
    Kind.BELOW: Further.TWO_BELOW,
}
LINKS = frozenset(LinkKind)


@dataclass(frozen=True, slots=True)
class Around:
    """Who is whose neighbour in a house, and what its record ties together."""

    neighbours: Neighbours
    record: Record = NOTHING


@dataclass(frozen=True, slots=True)
class Wanted:
    """A room that a sign asks for."""

    room: RoomNo
    codes: tuple[str, ...]
    """Kinds of neighbourhood and of ties, the nearest first."""
    by_at: datetime
    entry: int
    """The latest entry that made it so; 0 where only the building and bookings did."""

    @property
    def is_neighbour(self) -> bool:
        """Whether it is a neighbour, and not merely tied by the record."""
        return any(code not in LINKS for code in self.codes)


def asks_ring(house: House, sighted: Sighted) -> bool:
    """Whether a sign asks for the rooms around it, by the responses of resources/evidence.toml."""
    return house.rules.responses[weight_of(house, sighted)].asks_ring


def ring_around(
    house: House, neighbours: Neighbours, room: RoomNo
) -> Mapping[RoomNo, tuple[str, ...]]:
    """Every room that the profile's rule counts as around this one, with its kinds.

    The nearest first. Symmetric: whoever is in it has this room in its own, in the
    mirrored kind, where the profile has both of a mirrored pair or neither.
    """
    counted = {*house.profile.ring_kinds, Kind.SAME_SUITE}
    kinds: dict[RoomNo, tuple[str, ...]] = {}
    for near in neighbours.get(room, ()):
        if mine := tuple(kind for kind in near.kinds if kind in counted):
            kinds[near.room] = mine
    for mate in suite_mates(house, room):
        kinds.setdefault(mate, (Kind.SAME_SUITE,))
    if house.profile.ring_radius > 1:
        for other, codes in _second(neighbours, room, kinds).items():
            kinds.setdefault(other, codes)
    present = {other: codes for other, codes in kinds.items() if other in house.rooms}
    return {other: nearest_first(present[other]) for other in _by_nearness(present)}


def rooms_wanted(
    house: House, around: Around, sighted: Sighted, *, today: date
) -> tuple[Wanted, ...]:
    """Every room beside its own that a sign asks for, the nearest first."""
    if not asks_ring(house, sighted):
        by_at = look_by(house, sighted)
        mates = suite_mates(house, sighted.room)
        return tuple(Wanted(mate, (Kind.SAME_SUITE.value,), by_at, 0) for mate in mates)
    ring = ring_around(house, around.neighbours, sighted.room)
    by_at = look_by(house, sighted)
    found = {room: Wanted(room, codes, by_at, 0) for room, codes in ring.items()}
    sign_on = local_day(sighted.seen_at, house.zone)
    for link in links_of(house, around.record, sighted.room, sign_on=sign_on, today=today):
        before = found.get(link.room)
        if before is not None:
            codes = (*before.codes, link.kind.value)
            entry = max(before.entry, link.entry)
            found[link.room] = Wanted(link.room, codes, before.by_at, entry)
        else:
            due = link_by(house, sighted.seen_at, link.on)
            found[link.room] = Wanted(link.room, (link.kind.value,), due, link.entry)
    return tuple(found.values())


def nearest_first(codes: tuple[str, ...]) -> tuple[str, ...]:
    """Codes as plain text in the order of NEAREST."""
    return tuple(str(code) for code in sorted(codes, key=PLACE.__getitem__))


def look_by(house: House, sighted: Sighted) -> datetime:
    """By when the rooms around a sign are to be looked at.

    The profile's clock, if it has one and its event came; else real hours from the sign,
    whatever clocks do. It counts from the sign and not from the typing, so it may have
    passed already.
    """
    clock = house.profile.clock(CHECK_NEIGHBOURS)
    if clock is not None:
        is_sign = clock.starts is Start.SIGHTING
        start = sighted.seen_at if is_sign else started_at(house, sighted.case, clock.starts)
        if start is not None:
            return due_at(house, clock, start)
    return add_hours(sighted.seen_at, house.rules.figures.neighbour_check_hours.value)


def link_by(house: House, seen_at: datetime, tied_on: date) -> datetime:
    """By when a room that the record ties is to be looked at: hours from sign or tie."""
    start = max(seen_at, moment_of(tied_on, NOON, house.zone))
    if tied_on <= local_day(seen_at, house.zone):
        start = seen_at
    return add_hours(start, house.rules.figures.link_check_hours.value)


def _second(
    neighbours: Neighbours, room: RoomNo, first: Mapping[RoomNo, tuple[str, ...]]
) -> Mapping[RoomNo, tuple[str, ...]]:
    """The second room each way: what is to a neighbour what that is to this room.

    Along walls that may go round a corner: rather one room too many than one too few.
    """
    found: dict[RoomNo, dict[str, None]] = {}
    for near, kinds in first.items():
        for kind, further in BEYOND.items():
            if kind in kinds:
                for beyond in neighbours.get(near, ()):
                    if kind in beyond.kinds and beyond.room != room and beyond.room not in first:
                        found.setdefault(beyond.room, {})[further.value] = None
    return {other: tuple(codes) for other, codes in found.items()}


def _by_nearness(kinds: Mapping[RoomNo, tuple[str, ...]]) -> list[RoomNo]:
    """Rooms by their nearest kind; those alike in the order in which they came."""
    return sorted(kinds, key=lambda room: min(PLACE[code] for code in kinds[room]))
