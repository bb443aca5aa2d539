"""What a block costs in room nights: so far, and until the day on which it is expected to end.

A night is lost if the block held at the hour from which guests arrive and nobody stayed;
a night counts once, however many had the room on its day. Where a block was written down
later than it began, the earlier time counts. Tonight is a night to come.

What a night brings, and whether it would have been sold, nobody can say. Houses differ in
whether a blocked room still counts as one that could have been sold; these numbers leave
that to the house and say nothing of its occupancy.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.blocks import Block
from hotelwatch.core.cases.lets import LetAgainstBlock
from hotelwatch.core.cases.stock import Nights, nights_of
from hotelwatch.core.days import local_day
from hotelwatch.core.house import House
from hotelwatch.core.stays.nights import first_night_after
from hotelwatch.core.stays.openings import Occupancy

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class BlockCost:
    """Room nights of a block, or of all of them."""

    lost: int
    """Nights so far for which nobody had the room."""
    let: int
    """Nights so far for which somebody had it all the same."""
    expected: int | None
    """Nights from tonight until the day on which it is expected to end; None: not known."""
    at_most: int | None
    """The same until the latest day foreseen."""
    sold: int
    """Of the nights of the block, those that a booking had been given this room for."""
    rooms_unknown: int = 0
    """Rooms of a total whose end nobody can say; their nights to come are left out."""


def block_costs(
    house: House,
    occupancy: Occupancy,
    found: tuple[Block, ...],
    *,
    lets: tuple[LetAgainstBlock, ...],
    now: datetime,
) -> tuple[BlockCost, ...]:
    """What each block costs, in the same order."""
    moved = house.all_of(GuestMoved)
    today = local_day(now, house.zone)
    costs = []
    for block in found:
        first = first_night_after(house, block.from_at)
        sold = _sold(occupancy, block, first, moved)
        costs.append(_cost(block, (first, today), slept=_slept(block, lets), sold=sold))
    return tuple(costs)


def total_cost(costs: Iterable[BlockCost]) -> BlockCost:
    """All blocks together; those whose end nobody can say count only so far."""
    every = list(costs)
    return BlockCost(
        lost=sum(cost.lost for cost in every),
        let=sum(cost.let for cost in every),
        expected=sum(cost.expected or 0 for cost in every),
        at_most=sum(cost.at_most or cost.expected or 0 for cost in every),
        sold=sum(cost.sold for cost in every),
        rooms_unknown=sum(cost.expected is None for cost in every),
    )


def _cost(
    block: Block, nights: Nights, *, slept: frozenset[date], sold: frozenset[date]
) -> BlockCost:
    first, today = nights
    so_far = set(nights_of((first, today)))
    expected = _nights_until(first, today, block.expected_until or block.earliest_until)
    at_most = _nights_until(first, today, block.latest_until)
    held = so_far | set(expected or ())
    if expected is None:
        # As far as bookings go: all of them would be touched.
        held |= {night for night in sold if night >= today}
    return BlockCost(
        lost=len(so_far - slept),
        let=len(so_far & slept),
        expected=None if expected is None else len(expected),
        at_most=None if at_most is None else len(at_most),
        sold=len(held & sold),
    )


def _nights_until(first: date, today: date, until: date | None) -> tuple[date, ...] | None:
    """Nights from tonight until a day, on which the room is back before guests arrive."""
    return None if until is None else tuple(nights_of((max(first, today), until)))


def _slept(block: Block, lets: tuple[LetAgainstBlock, ...]) -> frozenset[date]:
    return frozenset(
        night
        for let in lets
        if let.room == block.room and let.from_at >= block.from_at
        for night in nights_of((let.first_night, let.first_night + timedelta(days=let.nights)))
    )


def _sold(
    occupancy: Occupancy, block: Block, first: date, moved: tuple[GuestMoved, ...]
) -> frozenset[date]:
    """Nights from the block's first for which a booking had been given this room.

    Also of guests who moved out because of it.
    """
    nights = {
        night
        for stay in occupancy.stays_from(block.room, first)
        if stay.booking not in occupancy.provisional
        for night in nights_of((max(first, stay.arrives_on), stay.leaves_on))
    }
    for told in moved:
        if told.from_room == block.room and told.because_of:
            for stay in occupancy.stays_by_room.get(told.to_room, ()):
                if stay.booking == told.booking:
                    begins = max(stay.arrives_on, told.moved_on)
                    nights.update(nights_of((begins, stay.leaves_on)))
    return frozenset(nights)
