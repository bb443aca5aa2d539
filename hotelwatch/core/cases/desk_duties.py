"""What is next, bookings at hand: duties of cases, and guests who are to be given another room.

The latter need the bookings, which a case alone does not know. Whoever shows what is next in
a case, or in all, asks here. Source: the guest is offered another room quickly (travellers'
and lodging advice, read second-hand); one city's draft policy of 2014 had the guest moved
immediately.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.blocks import closed_rooms
from hotelwatch.core.cases.duties import (
    Duty,
    Role,
    duties,
    duties_of_case,
    in_order,
    owner_of,
    state_of,
)
from hotelwatch.core.cases.steps import Step
from hotelwatch.core.cases.touched import Touched, TouchedArrival, touched_arrivals
from hotelwatch.core.days import add_hours, moment_of
from hotelwatch.core.facts import CaseNo, HotelDescribed
from hotelwatch.core.house import House
from hotelwatch.core.stays.openings import Occupancy

MOVE_GUEST, OTHER_ROOM = "move_guest", "other_room"


def what_is_next(house: House, occupancy: Occupancy, now: datetime) -> tuple[Duty, ...]:
    """Every duty of every open case and of guests in closed rooms, what is next first."""
    return in_order((*duties(house, now), *guest_duties(house, occupancy, now)), now)


def what_is_next_in(
    house: House, occupancy: Occupancy, case: CaseNo, now: datetime
) -> tuple[Duty, ...]:
    """The same of one case."""
    of_guests = guest_duties(house, occupancy, now, only=case)
    return in_order((*duties_of_case(house, case, now), *of_guests), now)


def guest_duties(
    house: House, occupancy: Occupancy, now: datetime, *, only: CaseNo | None = None
) -> Iterator[Duty]:
    """Guests in closed rooms, and those to come today or tomorrow, one duty each.

    ``only`` those of rooms that one case closed first.
    """
    moved = {(fact.booking, fact.from_room) for fact in house.all_of(GuestMoved)}
    closed = {block.room: (case, block) for case, block in closed_rooms(house, now, only=only)}
    found = tuple(block for _case, block in closed.values())
    for row in touched_arrivals(house, occupancy, found, now=now):
        case, _block = closed[row.room]
        if (row.stay.booking, row.room) in moved:
            continue
        step = _step(house, row)
        if step.due_at is not None and step.due_at <= add_hours(now, _ahead(house)):
            owner = owner_of(house, case, step)
            yield Duty(case, row.room, step, Role.FRONT_DESK, owner, state_of(step, now))


def _step(house: House, row: TouchedArrival) -> Step:
    described = house.hotel or HotelDescribed("", "")
    comes_at = moment_of(row.stay.arrives_on, described.arrive_from, house.zone)
    if row.touched is not Touched.IN_HOUSE:
        return Step(OTHER_ROOM, {"room": row.room, "day": row.stay.arrives_on}, comes_at)
    values: dict[str, object] = {"room": row.room, "day": row.stay.leaves_on}
    since = row.block.from_at
    if comes_at > since:
        # Bookings tell no hour: that the guest came when guests may come is assumed, and said.
        since = values["came_at"] = comes_at
    return Step(MOVE_GUEST, values, add_hours(since, house.rules.figures.guest_move_hours.value))


def _ahead(house: House) -> float:
    return house.rules.figures.arrivals_ahead_hours.value
