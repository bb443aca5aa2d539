"""Which nights to ask of front desk: few, each the one that saves the most beside those before."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.places import open_at, overdue_costs
from hotelwatch.core.planning.pouring import LITTLE, Pouring
from hotelwatch.core.planning.problem import Claims, Floats, Ints
from hotelwatch.core.planning.standing import Standing

LEAST_SAVED = 1.0
"""A night that saves less than a bed-day is not worth asking for."""


@dataclass(frozen=True, slots=True)
class Night:
    """A visit's room opens on a day, since the night before it is kept free."""

    row: int
    day: int
    saves: float
    """Overdue bed-days, beside the nights chosen before it."""


class _Choosing:
    """Visits that get overdue, and the places that kept nights would open to them."""

    def __init__(self, base: Standing, could: Claims) -> None:
        self.base, places = base, base.places
        self.pouring = base.overdue.pouring
        self.rows = base.overdue.rows
        kept = base.problem.with_changes(open=could)
        opened = open_at(kept, places.day, places.first)[self.rows]
        self.opened: Claims = opened & ~places.open[self.rows]
        self.costs: Floats = overdue_costs(base.problem, self.rows, places.day)

    def candidates(self) -> list[tuple[float, int, int]]:
        """What each could save at most, the visit's number, the day; the most first.

        Pourings are convex: no night saves more than its first minute would, times all.
        """
        gain = np.where(self.opened, self.pouring.gain_of_going()[:, 1:] - self.costs, -np.inf)
        most = gain * self.pouring.minutes[:, None]
        number, place = np.nonzero(most >= LEAST_SAVED - LITTLE)
        found: dict[tuple[int, int], float] = {}
        days = self.base.places.day
        for n, p in zip(number.tolist(), place.tolist(), strict=True):
            key = n, int(days[p])
            found[key] = max(found.get(key, 0.0), float(most[n, p]))
        # Of nights that save as much, the latest: the bed's cycle is used to the full.
        return sorted(
            ((saved, n, day) for (n, day), saved in found.items()),
            key=lambda one: (-round(one[0], 6), one[1], -one[2]),
        )

    def with_night(self, number: int, day: int) -> Pouring:
        """The pouring if a visit's room opens on a day too."""
        tried = self.pouring.copy()
        there = self.opened[number] & (self.base.places.day == day)
        costs = tried.costs[number].copy()
        costs[1:] = np.where(there, np.minimum(costs[1:], self.costs[number]), costs[1:])
        costs[1:] = np.where(costs[1:] < costs[0], costs[1:], np.inf)
        rows: Ints = np.array([number])
        tried.change(rows, costs[None, :], tried.minutes[rows])
        return tried


def chosen_nights(base: Standing, could: Claims, most: int) -> tuple[list[Night], Pouring]:
    """At most so many nights, and the overdue visits poured with them."""
    choosing = _Choosing(base, could)
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
        choosing.opened[number, base.places.day == day] = False
        found.append(Night(int(choosing.rows[number]), day, saved))
    return found, choosing.pouring
