"""What is worked out about a plan once it is there: what it leans on, what a hand costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import RoomNo, SlotPublished
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.leaning import Leaning, leaning
from hotelwatch.core.rounds.plan import Proof, Wish
from hotelwatch.core.stays.chances import chances
from hotelwatch.core.stays.forecast import learn
from hotelwatch.core.stays.openings import Occupancy

STEP = "reading_plan"


@dataclass(frozen=True, slots=True)
class Reading:
    """What stands beside a plan."""

    leanings: tuple[Leaning, ...] = ()
    """Visits whose window may close."""
    pins: int = 0
    """Rooms that a supervisor's hand holds."""
    price: tuple[Proof, Proof] | None = None
    """The plan with those pins, and without them; None where there are none."""


def read_plan(
    house: House,
    occupancy: Occupancy,
    wish: Wish,
    slots: Sequence[SlotPublished],
    progress: Progress = silent,
) -> Reading:
    """Read a plan's slots, drafted or published. ``progress`` may raise Stopped."""
    progress(0.0, STEP)
    leaning_on = _leanings(house, occupancy, wish.from_on, slots)
    progress(0.4, STEP)
    pinned = Hand(house).pinned_rooms(wish.from_on)
    if not pinned or not house.teams:
        return Reading(leaning_on)
    # Its arrays take their time to load.
    from hotelwatch.core.rounds.planner import price_of_hand

    price = price_of_hand(house, occupancy, wish)
    return Reading(leaning_on, len(pinned), (price.with_hand, price.without))


def _leanings(
    house: House, occupancy: Occupancy, from_on: date, slots: Sequence[SlotPublished]
) -> tuple[Leaning, ...]:
    if not house.stays or not slots:
        return ()
    ahead = tuple(sorted({slot.on for slot in slots if slot.on >= from_on}))
    known = chances(house, occupancy, learn(house, from_on), days=ahead)
    due_on: dict[RoomNo, date] = {}
    for look in looks(house, from_on):
        due_on[look.room] = min(due_on.get(look.room, date.max), look.due_on)
    # What is late already falls back to any day there is.
    ahead_due = {room: due for room, due in due_on.items() if due >= from_on}
    enough = house.rules.figures.certain_enough.value
    wanted = [slot for slot in slots if slot.on > from_on and slot.room in house.rooms]
    return leaning(wanted, known, due_on=ahead_due, certain_enough=enough)
