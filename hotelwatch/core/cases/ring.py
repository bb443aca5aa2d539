"""A case's ring: every room that it wants looked at, once, with every reason and its state.

A room with a sign that asks for a ring is a centre. Around each lie rooms by the
profile's rule, and rooms that the record ties to it. A find in one of them joins the
case as a centre of its own, and the list grows from it. It stops growing when every
room around every centre was looked at and nothing was found; or where it covers so much
of a floor that a look at the whole floor is offered instead. Which of them holds is said.

Source: grow until a whole ring is clean: a city's 2013 draft for housing, read
second-hand. That a ring is clean is no proof: looks miss infestations (national pest
management association, best management practices for bed bugs (2011), 14.3).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from hotelwatch.core.case_facts import CheckAsked
from hotelwatch.core.cases.centres import Centre, centres_of
from hotelwatch.core.cases.ring_growth import FloorOffer, Growth, floor_offers, growth_of
from hotelwatch.core.cases.ring_rooms import RingRoom, RoomState, ring_rooms
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.checks.asked import still_asks
from hotelwatch.core.days import add_hours, local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House

WHOLE_FLOOR = "whole_floor"
"""Why a room is asked for that no ring reaches."""


@dataclass(frozen=True, slots=True)
class Ring:
    """A case's list of rooms, and whether it still grows."""

    case: CaseNo
    centres: tuple[Centre, ...]
    rooms: tuple[RingRoom, ...]
    """By rank."""
    growth: Growth
    values: Mapping[str, Any]
    """What the sentence of ``growth`` names: left, rooms, centres, struck, floors."""
    floors: tuple[FloorOffer, ...]


def ring_of(house: House, around: Around, case: CaseNo, *, now: datetime) -> Ring:
    """The ring of a case as of a moment."""
    today = local_day(now, house.zone)
    centres = centres_of(house, around, case, today=today)
    rooms = ring_rooms(house, case, centres)
    floors = floor_offers(house, rooms) if still_asks(house, case) else ()
    growth, values = growth_of(house, case, centres=centres, rooms=rooms, floors=floors)
    return Ring(case, centres, rooms, growth, values, floors)


def next_first(rooms: Iterable[RingRoom]) -> tuple[RingRoom, ...]:
    """Rooms of a ring by what is next: those to be looked at by deadline, then the rest."""
    order = {state: number for number, state in enumerate(RoomState)}
    return tuple(
        sorted(
            rooms,
            key=lambda row: (
                (0, row.by_at.timestamp(), row.rank)
                if row.is_open
                else (1 + order[row.state], 0.0, row.rank)
            ),
        )
    )


def floor_wishes(house: House, ring: Ring, floor: str, *, now: datetime) -> tuple[CheckAsked, ...]:
    """Wishes for the rest of a floor that is offered whole; none if it is not offered."""
    by_at = add_hours(now, house.rules.figures.link_check_hours.value)
    on_floor = [c.room for c in ring.centres if house.rooms[c.room].floor == floor]
    source = (on_floor or [centre.room for centre in ring.centres] or [RoomNo("")])[0]
    rest = [room for offer in ring.floors if offer.floor == floor for room in offer.rest]
    return tuple(CheckAsked(ring.case, room, (WHOLE_FLOOR,), by_at, source) for room in rest)


def to_ask(ring: Ring, *, also: Collection[RingRoom] = ()) -> tuple[CheckAsked, ...]:
    """Wishes for the rooms that a ring wants and nobody has asked for yet; and for these."""
    return tuple(
        CheckAsked(
            ring.case,
            row.room,
            tuple(r.code for r in row.reasons if r.source == row.reasons[0].source),
            row.by_at,
            row.reasons[0].source,
        )
        for row in ring.rooms
        if row.state is RoomState.NOT_ASKED or row in also
    )
