"""Front desk's list: rooms not to sell, guests to move, what it costs, rooms let, nights.

Nothing on it says more than a guest may read over a shoulder: no sign, no case, no
reason but a neutral condition code.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hotelwatch.core.cases.blocks import Block, blocks
from hotelwatch.core.cases.costs import BlockCost, block_costs, total_cost
from hotelwatch.core.cases.keep_free import KeepFree, keep_free
from hotelwatch.core.cases.lets import LetAgainstBlock, lets_against_blocks
from hotelwatch.core.cases.ring_rule import Around
from hotelwatch.core.cases.touched import (
    TouchedArrival,
    rooms_to_shun,
    touched_arrivals,
    with_moves,
)
from hotelwatch.core.days import local_day
from hotelwatch.core.house import House
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, slots=True)
class BlockRow:
    """A room not to sell, and what that costs."""

    block: Block
    cost: BlockCost


@dataclass(frozen=True, slots=True)
class DeskList:
    """What front desk acts on, as of a moment."""

    made_at: datetime
    blocks: tuple[BlockRow, ...]
    """In the order of the roster."""
    total: BlockCost
    arrivals: tuple[TouchedArrival, ...]
    """The most urgent first: guests in house, then by arrival."""
    lets_against: tuple[LetAgainstBlock, ...]
    nights: tuple[KeepFree, ...]
    """Nights for which rounds ask that a room be kept free, by night and room."""
    without_room: int
    """Bookings of tonight and later for which no room is left in the house."""


def desk_list(house: House, occupancy: Occupancy, now: datetime, *, around: Around) -> DeskList:
    """Front desk's list as of a moment."""
    found = blocks(house, occupancy, now)
    lets = lets_against_blocks(house, now)
    costs = block_costs(house, occupancy, found, now=now)
    return DeskList(
        made_at=now,
        blocks=tuple(BlockRow(block, cost) for block, cost in zip(found, costs, strict=True)),
        total=total_cost(costs),
        arrivals=moves_for(house, occupancy, found, around=around, now=now),
        lets_against=lets,
        nights=keep_free(house, occupancy, local_day(now, house.zone)),
        without_room=len(occupancy.unplaced),
    )


def moves_for(
    house: House,
    occupancy: Occupancy,
    found: tuple[Block, ...],
    *,
    around: Around,
    now: datetime,
) -> tuple[TouchedArrival, ...]:
    """Guests whom these blocks touch, each with the room proposed, or why there is none."""
    rows = touched_arrivals(house, occupancy, found, now=now)
    if not rows:
        return ()
    shunned = rooms_to_shun(house, found, around=around, now=now)
    return with_moves(
        house,
        occupancy,
        rows,
        found=found,
        shunned=shunned,
        today=local_day(now, house.zone),
    )
