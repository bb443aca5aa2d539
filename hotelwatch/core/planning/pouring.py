"""Minutes of visits poured into places at the least cost, visits split where need be.

A place is a day of teams that are alike. With visits split, what is wanted is a transport
problem with many visits and few places, so shortest ways are looked for between places
only: a way from one place to another is the cheapest visit that could move. Each visit
that does not fit goes the shortest way to a place with minutes left, or out. No cheaper
pouring exists then, and none is sought anew when a place or a visit changes.

Source: Ahuja, Magnanti, Orlin 1993, Network Flows, chapter 9 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import numpy as np

from hotelwatch.core.planning.problem import Claims, Floats, Ints

LITTLE = 1e-9
"""Differences of costs below it are rounding."""
OUT = 0
"""The place of what is left out; it has room for all."""
NOBODY = -1


class Pouring:
    """The one mutable thing here."""

    def __init__(self, minutes: Ints, costs: Floats, capacity: Ints) -> None:
        """Costs a minute by visit and place, the first one of leaving out (R, 1 + B).

        Infinite where a visit cannot go; each can be left out. Minutes are above 0.
        """
        self.minutes: Ints = minutes.astype(np.int64)
        self.costs = costs
        places = costs.shape[1]
        self.at: Ints = np.zeros(costs.shape, np.int64, order="F")
        """Minutes of each visit in each place (R, 1 + B)."""
        self.free: Ints = np.append(np.int64(self.minutes.sum() + 1), capacity)
        self.step: Floats = np.full((places, places), np.inf)
        """The least cost of moving a minute from one place to another."""
        self.mover: Ints = np.full((places, places), NOBODY)
        self._pour_all(np.arange(len(self.minutes)))

    @property
    def total(self) -> float:
        """What it costs."""
        row, place = np.nonzero(self.at)
        return float((self.at[row, place] * self.costs[row, place]).sum())

    @property
    def left_out(self) -> Ints:
        """Minutes of each visit that are left out (R)."""
        return self.at[:, OUT]

    def copy(self) -> Pouring:
        """Another one, to try things with."""
        other = object.__new__(Pouring)
        other.minutes, other.costs = self.minutes, self.costs
        other.at, other.free = self.at.copy(order="F"), self.free.copy()
        other.step, other.mover = self.step.copy(), self.mover.copy()
        return other

    # --- changes ----------------------------------------------------------------------------

    def add_place(self, costs: Floats, minutes: int) -> None:
        """One more place, with its costs (R)."""
        places = len(self.free)
        self.costs = np.column_stack([self.costs, costs])
        self.at = np.asfortranarray(np.column_stack([self.at, np.zeros_like(self.minutes)]))
        self.free = np.append(self.free, minutes)
        step, mover = self.step, self.mover
        self.step = np.full((places + 1, places + 1), np.inf)
        self.mover = np.full((places + 1, places + 1), NOBODY)
        self.step[:places, :places], self.mover[:places, :places] = step, mover
        self._look_at(range(places))
        self._settle()

    def change(self, rows: Ints, costs: Floats, minutes: Ints) -> None:
        """Some visits have other costs (n, 1 + B) and other minutes (n)."""
        self.costs, self.minutes = self.costs.copy(), self.minutes.copy()
        places = np.flatnonzero(self.at[rows].any(axis=0))
        self.free += self.at[rows].sum(axis=0)
        self.at[rows] = 0
        self._look_at(places.tolist())
        self._settle()
        self.costs[rows], self.minutes[rows] = costs, minutes
        self.free[OUT] = self.minutes.sum() + 1
        self._pour_all(rows)

    # --- prices -----------------------------------------------------------------------------

    def gains(self) -> Floats:
        """What one minute more in each place would save (1 + B)."""
        return -self._from_anywhere()[0]

    def gain_of_going(self) -> Floats:
        """What a minute of each visit would save at most, could it go to a place for nothing.

        It leaves where that saves the most; whoever is in its way goes elsewhere (R, 1 + B).
        """
        gains = self.gains()
        leave = np.where(self.at > 0, self.costs + gains, -np.inf).max(axis=1)
        found: Floats = leave[:, None] - self._to_free()[None, :]
        return found

    # --- shortest ways ----------------------------------------------------------------------

    def _pour_all(self, rows: Ints) -> None:
        """Visits that are nowhere yet: what can be for nothing at once, the rest one by one.

        What costs the most if left out goes first: then fewer have to move again.
        """
        left = self._pour_for_nothing(rows)
        self._look_at(np.flatnonzero(self.at[rows].any(axis=0)).tolist())
        order = np.argsort(-self.costs[rows, OUT], kind="stable")
        for number in order[left[order] > 0].tolist():
            self._pour(int(rows[number]), int(left[number]))

    def _pour_for_nothing(self, rows: Ints) -> Ints:
        """Place by place, those first that have the fewest to come; minutes that are left."""
        left = self.minutes[rows].copy()
        can = self.costs[rows] <= 0
        last = can.shape[1] - can[:, ::-1].argmax(axis=1)
        for place in (*range(1, can.shape[1]), OUT):
            some = np.flatnonzero(can[:, place] & (left > 0))
            some = some[np.argsort(last[some], kind="stable")]
            before = np.cumsum(left[some]) - left[some]
            taken = np.clip(self.free[place] - before, 0, left[some])
            self.at[rows[some], place] = taken
            left[some] -= taken
            self.free[place] -= taken.sum() if place != OUT else 0
        return left

    def _pour(self, row: int, minutes: int) -> None:
        """So many minutes of a visit, each part the shortest way to where there is room."""
        while minutes > 0:
            costs, before = self._ways(self.costs[row].copy())
            end = int(np.where(self.free > 0, costs, np.inf).argmin())
            way = _traced(before, end)
            amount = min(minutes, self._widest(way))
            self._move(way, amount)
            self.at[row, way[0]] += amount
            minutes -= amount
            self._look_at(way)

    def _settle(self) -> None:
        """Let minutes flow to where there is room now, the most worthwhile first."""
        while True:
            costs, before = self._from_anywhere()
            end = int(np.where(self.free > 0, costs, np.inf).argmin())
            if costs[end] >= -LITTLE:
                return
            way = _traced(before, end)
            amount = self._widest(way)
            self._move(way, amount)
            self.free[way[0]] += amount
            self._look_at(way)

    def _from_anywhere(self) -> tuple[Floats, Ints]:
        """The least cost of a minute more in each place, from wherever it is cheapest."""
        return self._ways(np.zeros(len(self.free)))

    def _to_free(self) -> Floats:
        """The least cost of making room for a minute in each place."""
        costs = np.where(self.free > 0, 0.0, np.inf)
        while True:
            nearer = np.minimum(costs, (self.step + costs[None, :]).min(axis=1))
            if not (nearer < costs - LITTLE).any():
                return costs
            costs = nearer

    def _ways(self, costs: Floats) -> tuple[Floats, Ints]:
        """Shortest ways on from these first steps: costs, and the place before each."""
        before = np.full(len(costs), NOBODY)
        places = np.arange(len(costs))
        while True:
            tried = costs[:, None] + self.step
            best = tried.argmin(axis=0)
            nearest = tried[best, places]
            nearer = nearest < costs - LITTLE
            if not nearer.any():
                return costs, before
            costs = np.where(nearer, nearest, costs)
            before = np.where(nearer, best, before)

    def _widest(self, way: list[int]) -> int:
        """Minutes that can go this way at once."""
        parts = [int(self.at[self.mover[one, other], one]) for one, other in pairwise(way)]
        return min(*parts, int(self.free[way[-1]])) if parts else int(self.free[way[-1]])

    def _move(self, way: list[int], amount: int) -> None:
        """Everyone on the way one place on; the last place fills up."""
        for one, other in pairwise(way):
            mover = self.mover[one, other]
            self.at[mover, one] -= amount
            self.at[mover, other] += amount
        if way[-1] != OUT:
            self.free[way[-1]] -= amount

    def _look_at(self, places: Iterable[int]) -> None:
        """Who could leave each of these places for which other one the cheapest."""
        everywhere = np.arange(len(self.free))
        for place in places:
            there = np.flatnonzero(self.at[:, place])
            if not there.size:
                self.step[place] = np.inf
                continue
            costs = self.costs[there]
            costs = costs - costs[:, place][:, None]
            best = costs.argmin(axis=0)
            self.step[place] = costs[best, everywhere]
            self.mover[place] = there[best]


def _traced(before: Ints, end: int) -> list[int]:
    way = [end]
    while before[way[0]] != NOBODY:
        way.insert(0, int(before[way[0]]))
    return way


def crowded(pouring: Pouring) -> tuple[Claims, Claims]:
    """Of a pouring that costs nothing but in leaving out: visits that crowd one another (R).

    All places that these can go to (1 + B) are full of them, and minutes of theirs are
    left out: more is wanted there than there is.
    """
    can = pouring.costs <= 0
    rows: Claims = pouring.left_out > 0
    while True:
        places = np.asarray(can[rows].any(axis=0), bool)
        wider = rows | (pouring.at[:, places] > 0).any(axis=1)
        if (wider == rows).all():
            return rows, places
        rows = wider
