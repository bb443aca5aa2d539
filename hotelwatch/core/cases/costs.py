"""What a block costs in room nights: so far, and until the day on which it is expected to end.

A night is lost if the block held at the hour from which guests arrive and nobody stayed;
a night counts once, however many had the room on its day. Nights to come of a guest who is
in a room that is only held for a look are not lost either: that guest stays. Where a block
was written down later than it began, the earlier time counts. Tonight is a night to come.

What a night brings, and whether it would have been sold, nobody can say. Houses differ in
whether a blocked room still counts as one that could have been sold; these numbers leave
that to the house and say nothing of its occupancy.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.blocks import Block, BlockKind
from hotelwatch.core.cases.lets import days_in_room, is_awaited, moves_told
from hotelwatch.core.cases.stock import Nights, nights_of
from hotelwatch.core.days import local_day
from hotelwatch.core.house import House
from hotelwatch.core.records import Kept, Stay, StayStatus
from hotelwatch.core.stays.nights import first_night_after
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, slots=True)
class BlockCost:
    """Room nights of a block, or of all of them."""

    lost: int
    """Nights so far for which nobody had the room."""
    let: int
    """Nights so far for which somebody had it although it was closed."""
    expected: int | None
    """Nights from tonight until the day on which it is expected to end; None: not known."""
    at_most: int | None
    """The same until the latest day foreseen."""
    sold: int
    """Of the nights lost and those to come, as many as bookings had been given this room for."""
    rooms_unknown: int = 0
    """Rooms of a total whose end nobody can say; their nights to come are left out."""


def block_costs(
    house: House,
    occupancy: Occupancy,
    found: tuple[Block, ...],
    *,
    now: datetime,
) -> tuple[BlockCost, ...]:
    """What each block costs, in the same order."""
    moved, told = house.all_of(GuestMoved), moves_told(house)
    today = local_day(now, house.zone)
    costs = []
    for block in found:
        first = first_night_after(house, block.from_at)
        stays = [
            stay
            for stay in occupancy.stays_from(block.room, first)
            if stay.booking not in occupancy.provisional
        ]
        slept = _slept(house, stays, today, told)
        if block.kind is BlockKind.HELD:
            slept |= _staying_on(house, stays, today, told)
        sold = _sold(occupancy, block, stays, first=first, moved=moved)
        costs.append(_cost(block, (first, today), slept=slept, sold=sold))
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
    so_far = frozenset(nights_of((first, today)))
    lost = so_far - slept
    expected = _nights_until(nights, block.expected_until, slept)
    at_most = _nights_until(nights, block.latest_until, slept)
    # With no end in sight all bookings to come are touched, as far as they go.
    ahead = frozenset(night for night in sold if night >= today) - slept
    to_come = ahead if expected is None else expected
    return BlockCost(
        lost=len(lost),
        let=len(so_far & slept) if block.kind is BlockKind.CLOSED else 0,
        expected=None if expected is None else len(expected),
        at_most=None if at_most is None else len(at_most),
        sold=len((lost | to_come) & sold),
    )


def _nights_until(
    nights: Nights, until: date | None, slept: frozenset[date]
) -> frozenset[date] | None:
    """Nights from tonight until a day, on which the room is back before guests arrive."""
    return None if until is None else frozenset(nights_of((max(nights), until))) - slept


def _slept(
    house: House,
    stays: Iterable[Stay],
    today: date,
    told: Mapping[tuple[str, str], Kept[GuestMoved]],
) -> frozenset[date]:
    """Nights before today on which a known guest was in the room."""
    nights = (night for stay in stays for night in days_in_room(house, stay, today, told))
    return frozenset(night for night in nights if night < today)


def _staying_on(
    house: House,
    stays: Iterable[Stay],
    today: date,
    told: Mapping[tuple[str, str], Kept[GuestMoved]],
) -> frozenset[date]:
    """Nights to come of guests who are in the room now."""
    nights: set[date] = set()
    for stay in stays:
        moved = told.get((stay.booking, stay.room))
        is_leaving = moved is not None and is_awaited(house, stay, moved)
        is_in = stay.arrives_on < today or stay.status is StayStatus.IN_HOUSE
        if is_in and not is_leaving:
            nights.update(nights_of((max(today, stay.arrives_on), stay.leaves_on)))
    return frozenset(nights)


def _sold(
    occupancy: Occupancy,
    block: Block,
    stays: Iterable[Stay],
    *,
    first: date,
    moved: tuple[GuestMoved, ...],
) -> frozenset[date]:
    """Nights from the block's first for which a booking had been given this room.

    Also of guests who moved out because of it.
    """
    nights = {
        night
        for stay in stays
        for night in nights_of((max(first, stay.arrives_on), stay.leaves_on))
    }
    for told in moved:
        if told.from_room == block.room and told.because_of:
            for stay in occupancy.stays_by_room.get(told.to_room, ()):
                if stay.booking == told.booking:
                    begins = max(stay.arrives_on, told.moved_on)
                    nights.update(nights_of((begins, stay.leaves_on)))
    return frozenset(nights)
