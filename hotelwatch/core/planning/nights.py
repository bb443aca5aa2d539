"""Which nights to ask of front desk: few, each the one that saves the most beside those before.

A night opens the next day to all visits of its room: one too long for a sheet has several.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.places import open_at, overdue_costs
from hotelwatch.core.planning.pouring import LITTLE, Pouring
from hotelwatch.core.planning.problem import Claims, Floats, Ints
from hotelwatch.core.planning.standing import Standing

LEAST_SAVED = 1.0
"""A night that saves less than a bed-day is not worth asking for."""


@dataclass(frozen=True, slots=True)
class Night:
    """A room opens on a day, since the night before it is kept free."""

    room: RoomNo
    rows: tuple[int, ...]
    """Its visits, as rows of the problem."""
    day: int
    saves: float
    """Overdue bed-days, beside the nights chosen before it."""


class _Choosing:
    """Visits that get overdue, and the places that kept nights would open to them."""

    def __init__(self, base: Standing, could: Claims) -> None:
        self.base, places = base, base.places
        self.pouring = base.overdue.pouring
        self.rows = base.overdue.rows
        rooms = [base.problem.rooms[row] for row in self.rows.tolist()]
        number_of = {room: number for number, room in enumerate(dict.fromkeys(rooms))}
        self.rooms: tuple[RoomNo, ...] = tuple(number_of)
        self.room_of: Ints = np.array([number_of[room] for room in rooms], np.int64)
        kept = base.problem.with_changes(open=could)
        opened = open_at(kept, places.day, places.first)[self.rows]
        self.opened: Claims = opened & ~places.open[self.rows]
        self.costs: Floats = overdue_costs(base.problem, self.rows, places.day)

    def candidates(self) -> list[tuple[float, int, int]]:
        """What each could save at most, the room's number, the day; the most first.

        Pourings are convex: no visit saves more than its first minute would, times all.
        """
        days, begin = np.unique(self.base.places.day, return_index=True)
        if not self.rows.size or not days.size:
            return []
        gain = np.where(self.opened, self.pouring.gain_of_going()[:, 1:] - self.costs, 0.0)
        most = np.maximum(gain, 0.0) * self.pouring.minutes[:, None]
        of_room = np.zeros((len(self.rooms), days.size))
        np.add.at(of_room, self.room_of, np.maximum.reduceat(most, begin, axis=1))
        room, day = np.nonzero(of_room >= LEAST_SAVED - LITTLE)
        # Of nights that save as much, the latest: the bed's cycle is used to the full.
        return sorted(
            zip(of_room[room, day].tolist(), room.tolist(), days[day].tolist(), strict=True),
            key=lambda one: (-round(one[0], 6), one[1], -one[2]),
        )

    def with_night(self, room: int, day: int) -> Pouring:
        """The pouring if a room opens on a day too."""
        tried = self.pouring.copy()
        rows: Ints = np.flatnonzero(self.room_of == room)
        there = self.opened[rows] & (self.base.places.day == day)[None, :]
        costs = tried.costs[rows].copy()
        costs[:, 1:] = np.where(there, np.minimum(costs[:, 1:], self.costs[rows]), costs[:, 1:])
        costs[:, 1:] = np.where(costs[:, 1:] < costs[:, :1], costs[:, 1:], np.inf)
        tried.change(rows, costs, tried.minutes[rows])
        return tried


def chosen_nights(base: Standing, could: Claims, most: int) -> tuple[list[Night], Pouring]:
    """At most so many nights, and the overdue visits poured with them."""
    choosing = _Choosing(base, could)
    rooms = np.array(base.problem.rooms)
    found: list[Night] = []
    while len(found) < most:
        best: tuple[float, int, int, Pouring] | None = None
        for bound, number, day in choosing.candidates():
            if best is not None and best[0] >= bound - LITTLE:
                break
            tried = choosing.with_night(number, day)
            saved = choosing.pouring.total - tried.total
            if best is None or saved > best[0] + LITTLE:
                best = saved, number, day, tried
        if best is None or best[0] < LEAST_SAVED - LITTLE:
            break
        saved, number, day, choosing.pouring = best
        of_room = choosing.room_of == number
        choosing.opened[np.ix_(of_room, base.places.day == day)] = False
        room = choosing.rooms[number]
        rows = np.flatnonzero((rooms == room) & could[:, day])
        found.append(Night(room, tuple(rows.tolist()), day, saved))
    return found, choosing.pouring
