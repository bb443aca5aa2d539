"""Rooms around a sign that are closed, or not to be let, until somebody has looked at them.

What happens to them the profile says: closed to guests like the room itself, not to be
let before they were looked at, or looked at by the deadline and let meanwhile. A closed
one is given back by a named person once its look found nothing (core.cases.conditions).
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from hotelwatch.core.cases.ring_rule import LINKS
from hotelwatch.core.checks.asked import AskedState, open_asked
from hotelwatch.core.facts import BedNo, CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.profile import Hold

NOT_AROUND = frozenset({*LINKS, "sighting", "whole_floor"})
"""Reasons of a wish that make a room no neighbour."""


@dataclass(frozen=True, slots=True)
class HeldRoom:
    """A room not to be let before somebody has looked."""

    room: RoomNo
    from_at: datetime
    """When it was first asked for."""
    by_at: datetime
    """The earliest deadline of its look."""
    cases: tuple[CaseNo, ...]
    beds_left: frozenset[BedNo]
    """Beds that nobody has looked at for it."""


def rooms_held_until_looked_at(house: House, now: datetime) -> tuple[HeldRoom, ...]:
    """Rooms not to be let before somebody has looked, in the order of the roster.

    None unless the profile holds neighbours so; without those in quarantine, which are
    not to be let anyway.
    """
    if house.profile.hold is not Hold.INSPECT_THEN_SELL:
        return ()
    closed = house.quarantined(now)
    waiting: defaultdict[RoomNo, list[AskedState]] = defaultdict(list)
    for state in open_asked(house):
        if _is_around(state) and state.asked_at <= now and state.asked.room not in closed:
            waiting[state.asked.room].append(state)
    order = {room: number for number, room in enumerate(house.rooms)} if waiting else {}
    return tuple(
        HeldRoom(
            room,
            min(state.asked_at for state in waiting[room]),
            min(state.asked.by_at for state in waiting[room]),
            tuple(dict.fromkeys(state.asked.case for state in waiting[room])),
            frozenset(bed for state in waiting[room] for bed in state.beds_left),
        )
        for room in sorted(waiting, key=order.__getitem__)
    )


def _is_around(state: AskedState) -> bool:
    return any(reason not in NOT_AROUND for reason in state.asked.reasons)
