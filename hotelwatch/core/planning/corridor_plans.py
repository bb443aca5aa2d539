"""Plans of whole corridors: on which sheets to go there, and for which visits.

Each is made for itself at given prices of minutes, without regard to others: where to go
is then a facility location problem of one corridor, solved by adding, dropping and
exchanging sheets, for all corridors at once (Kuehn, Hamburger 1963, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.linear import EVER
from hotelwatch.core.planning.problem import Claims, Floats, Ints

MOST_DAYS = 10
"""A corridor is gone to on at most so many days of a plan."""


@dataclass(frozen=True, slots=True)
class Corridors:
    """Costs by corridor, its n-th visit and sheet; filled up with visits of no minutes."""

    visit: Ints
    """Row on the board; -1 where filled up (A, N)."""
    cost: Floats
    """(A, N, B)."""
    never: Floats
    """(A, N)."""
    minutes: Floats
    """(A, N)."""


def corridors_of(board: Board) -> Corridors:
    """The board by corridor."""
    longest = max((len(rows) for rows in board.members), default=0)
    visit = np.full((board.areas, longest), -1)
    for area, rows in enumerate(board.members):
        visit[area, : len(rows)] = rows
    none = visit < 0
    cost = np.where(none[:, :, None], 0.0, board.cost[visit, :-1])
    never = np.where(none, 0.0, board.cost[visit, -1])
    return Corridors(visit, cost, never, np.where(none, 0.0, board.minutes[visit]))


def plan_alone(
    corridors: Corridors, price: Floats, *, ways: tuple[float, float], better: int
) -> Ints:
    """The day of each visit at these prices, without regard to others (A, N); D: left out.

    ``ways`` are a way's cost and its minutes of the day; days once chosen are changed
    ``better`` times.
    """
    walk, way = ways
    cost = corridors.cost + corridors.minutes[:, :, None] * price
    opening = walk + way * price
    gone = _add_days(cost, corridors.never, opening, np.zeros((len(cost), len(price)), bool))
    for _ in range(better):
        before = gone.copy()
        gone = _change_days(cost, corridors.never, opening, gone)
        gone = _add_days(cost, corridors.never, opening, gone)
        if (gone == before).all():
            break
    there = np.where(gone[:, None, :], cost, EVER)
    day: Ints = np.concatenate([there, corridors.never[:, :, None]], axis=2).argmin(axis=2)
    return day


def _add_days(cost: Floats, never: Floats, opening: Floats, gone: Claims) -> Claims:
    """Days added while they save more than the way there."""
    best = np.minimum(np.where(gone[:, None, :], cost, EVER).min(axis=2, initial=EVER), never)
    gone = gone.copy()
    rows = np.arange(len(cost))
    for _ in range(MOST_DAYS):
        saved = np.maximum(best[:, :, None] - cost, 0.0).sum(axis=1) - opening
        saved[gone] = 0.0
        day = saved.argmax(axis=1)
        good = saved[rows, day] > LITTLE
        if not good.any():
            break
        gone[rows[good], day[good]] = True
        best[good] = np.minimum(best[good], cost[rows[good], :, day[good]])
    return gone


def _change_days(cost: Floats, never: Floats, opening: Floats, gone: Claims) -> Claims:
    """In each corridor the one best day dropped, or exchanged for another."""
    rows = np.arange(len(cost))
    there = np.where(gone[:, None, :], cost, EVER)
    now = np.minimum(there.min(axis=2, initial=EVER), never).sum(axis=1)
    most, drop, add = np.full(len(cost), LITTLE), np.full(len(cost), -1), np.full(len(cost), -1)
    order = np.argsort(~gone, axis=1, kind="stable")
    for slot in range(int(gone.sum(axis=1).max(initial=0))):
        day = order[:, slot]
        used = gone[rows, day]
        without = there.copy()
        without[rows, :, day] = EVER
        best = np.minimum(without.min(axis=2, initial=EVER), never)
        saved = now - best.sum(axis=1) + opening[day]
        more = np.maximum(best[:, :, None] - cost, 0.0).sum(axis=1) - opening
        more[gone] = 0.0
        new = more.argmax(axis=1)
        extra = np.maximum(more[rows, new], 0.0)
        better = used & (saved + extra > most)
        most = np.where(better, saved + extra, most)
        drop = np.where(better, day, drop)
        add = np.where(better, np.where(extra > 0, new, -1), add)
    gone = gone.copy()
    gone[rows[drop >= 0], drop[drop >= 0]] = False
    gone[rows[add >= 0], add[add >= 0]] = True
    return gone


class Pool:
    """Plans of corridors that were found, each once, with what they cost and take."""

    def __init__(self, board: Board) -> None:
        """No plan yet; costs are the board's as they are now."""
        self.corridors = corridors_of(board)
        self.walk, self.way = board.walk, board.way
        self.visits, self.areas, self.sheets = len(board.at), board.areas, board.out
        self.have: Floats = board.sheets.minutes.astype(float)
        self.plans: list[Ints] = []
        self.area_of: list[int] = []
        self.number: dict[tuple[int, bytes], int] = {}

    def add(self, areas: Ints, plans: Ints) -> Ints:
        """Adds a plan of each of these corridors (n, N) unless known; which of them were new."""
        fresh = []
        for place, area in enumerate(areas.tolist()):
            key = area, plans[place].tobytes()
            if key not in self.number:
                self.number[key] = len(self.plans)
                self.plans.append(plans[place])
                self.area_of.append(area)
                fresh.append(place)
        return np.array(fresh, np.int64)

    def find(self, price: Floats, *, better: int) -> tuple[Ints, Ints]:
        """A plan of each corridor at these prices, added; those that were new, and whose."""
        plans = plan_alone(self.corridors, price, ways=(self.walk, self.way), better=better)
        fresh = self.add(np.arange(self.areas), plans)
        return fresh, plans[fresh]

    def used(self, areas: Ints, plans: Ints) -> Floats:
        """Minutes of each sheet that plans take, ways among them (n, B)."""
        used, goes = self._minutes(areas, plans)
        taken: Floats = used + self.way * goes
        return taken

    def costs(self, areas: Ints, plans: Ints) -> Floats:
        """What plans cost, ways among it (n)."""
        c = self.corridors
        whole = np.concatenate([c.cost[areas], c.never[areas][:, :, None]], axis=2)
        cost = np.take_along_axis(whole, plans[:, :, None], axis=2)[:, :, 0].sum(axis=1)
        found: Floats = cost + self.walk * self._minutes(areas, plans)[1].sum(axis=1)
        return found

    def _minutes(self, areas: Ints, plans: Ints) -> tuple[Floats, Claims]:
        used = np.zeros((len(areas), self.sheets + 1))
        np.add.at(used, (np.arange(len(areas))[:, None], plans), self.corridors.minutes[areas])
        return used[:, :-1], used[:, :-1] > 0
