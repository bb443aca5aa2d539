"""Guests who are to be given another room, as duties beside those of the cases.

They need the bookings, which a case alone does not know: so they stand where bookings are
at hand. Source: the guest is offered another room quickly (travellers' and lodging advice,
read second-hand); one city's draft policy of 2014 had the guest moved immediately.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.blocks import Block, blocks
from hotelwatch.core.cases.duties import Duty, Role, in_order, state_of
from hotelwatch.core.cases.steps import Step
from hotelwatch.core.cases.touched import Touched, TouchedArrival, touched_arrivals
from hotelwatch.core.days import add_hours, moment_of
from hotelwatch.core.facts import CaseNo, HotelDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.stays.openings import Occupancy

MOVE_GUEST, OTHER_ROOM = "move_guest", "other_room"


def with_guests(
    house: House, occupancy: Occupancy, found: tuple[Duty, ...], now: datetime
) -> tuple[Duty, ...]:
    """These duties with those that guests of closed rooms make, in one order."""
    return in_order((*found, *desk_duties(house, occupancy, now)), now)


def desk_duties(house: House, occupancy: Occupancy, now: datetime) -> tuple[Duty, ...]:
    """Guests in closed rooms, and those to come today or tomorrow, one duty each."""
    return tuple(_duties(house, occupancy, now))


def _duties(house: House, occupancy: Occupancy, now: datetime) -> Iterator[Duty]:
    moved = {(fact.booking, fact.from_room) for fact in house.all_of(GuestMoved)}
    closed = tuple(block for block in blocks(house, occupancy, now) if _case_of(house, block, now))
    for row in touched_arrivals(house, occupancy, closed, now=now):
        case = _case_of(house, row.block, now)
        if case is None or (row.stay.booking, row.room) in moved:
            continue
        step = _step(house, row)
        if step.due_at is not None and step.due_at <= add_hours(now, _ahead(house)):
            yield Duty(case, row.room, step, Role.FRONT_DESK, "", state_of(step, now))


def _step(house: House, row: TouchedArrival) -> Step:
    if row.touched is Touched.IN_HOUSE:
        hours = house.rules.figures.guest_move_hours.value
        values = {"room": row.room, "day": row.stay.leaves_on}
        return Step(MOVE_GUEST, values, add_hours(row.block.from_at, hours))
    described = house.hotel or HotelDescribed("", "")
    by_at = moment_of(row.stay.arrives_on, described.arrive_from, house.zone)
    return Step(OTHER_ROOM, {"room": row.room, "day": row.stay.arrives_on}, by_at)


def _ahead(house: House) -> float:
    return house.rules.figures.arrivals_ahead_hours.value


def _case_of(house: House, block: Block, now: datetime) -> CaseNo | None:
    """The case that closed a room first; None for one that only waits for a look."""
    room = RoomNo(block.room)
    held = (
        placed
        for placed, lifted in house.quarantines
        if placed.room == room and placed.from_at <= now
        if lifted is None or now < lifted.lifted_at
    )
    first = min(held, key=lambda placed: placed.from_at, default=None)
    return first.case if first is not None else None
