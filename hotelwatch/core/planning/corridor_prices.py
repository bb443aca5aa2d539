"""What a minute of each sheet is worth, from plans of whole corridors held against them.

For given prices every corridor is planned for itself: on which sheets to go there, and for
which visits. The plans so found are mixed so that the sheets' minutes suffice; that mix
gives new prices (Dantzig and Wolfe's decomposition; Dantzig, Wolfe 1960, from memory). In
the end few corridors are still mixed, about one a full sheet. Then the plans with the
greatest shares are settled, prices found anew for the others, and so on.
"""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.linear import EVER, quiet
from hotelwatch.core.planning.problem import Claims, Floats, Ints

MOST_DAYS = 10
"""A corridor is gone to on at most so many days of a plan."""
BETTERINGS = 3
FEW = 0.3
"""Plans found quickly for a smaller share of corridors: time to look harder."""
SMOOTH = 0.5
"""How much of the prices before goes into those that corridors are planned at."""
PRIMAL = 4
"""HiGHS' number for the primal simplex method."""


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


class Mixing:
    """The mix of corridor plans and its prices, plans added as they are found."""

    def __init__(self, board: Board) -> None:
        """Rows for corridors and sheets, with the plan that goes nowhere for each."""
        self.corridors = corridors_of(board)
        self.walk, self.way = board.walk, board.way
        self.areas, self.sheets = board.areas, board.out
        self.have = board.sheets.minutes.astype(float)
        self.plans: list[Ints] = []
        self.seen: list[set[bytes]] = [set() for _ in range(self.areas)]
        self.area_of: list[int] = []
        self.highs = quiet()
        self.highs.setOptionValue("presolve", "off")
        # A mix stays one when plans are added: the primal method goes on from it.
        self.highs.setOptionValue("simplex_strategy", PRIMAL)
        rows = self.areas + self.sheets
        low = np.concatenate([np.ones(self.areas), np.full(self.sheets, -EVER)])
        high = np.concatenate([np.ones(self.areas), self.have])
        starts, none = np.zeros(rows, np.int32), np.zeros(0)
        self.highs.addRows(rows, low, high, 0, starts, none.astype(np.int32), none)
        self.add(np.arange(self.areas), np.full(self.corridors.visit.shape, self.sheets))

    def add(self, areas: Ints, plans: Ints) -> int:
        """Adds a plan of each of these corridors (n, N) unless known; how many were new."""
        fresh = []
        for number, area in enumerate(areas.tolist()):
            key = plans[number].tobytes()
            if key not in self.seen[area]:
                self.seen[area].add(key)
                fresh.append(number)
        if fresh:
            self._add_columns(areas[fresh], plans[fresh])
        return len(fresh)

    def _add_columns(self, areas: Ints, plans: Ints) -> None:
        c, rows = self.corridors, np.arange(len(areas))
        whole = np.concatenate([c.cost[areas], c.never[areas][:, :, None]], axis=2)
        cost = np.take_along_axis(whole, plans[:, :, None], axis=2)[:, :, 0].sum(axis=1)
        used = self.used(areas, plans)
        plan, on = np.nonzero(used)
        row = np.concatenate([areas, self.areas + on])
        column = np.concatenate([rows, plan])
        value = np.concatenate([np.ones(len(areas)), used[plan, on]])
        order = np.lexsort((row, column))
        starts = np.zeros(len(areas), np.int64)
        np.cumsum(np.bincount(column, minlength=len(areas))[:-1], out=starts[1:])
        self.highs.addCols(
            len(areas),
            cost + self.walk * (used > 0).sum(axis=1),
            np.zeros(len(areas)),
            np.full(len(areas), EVER),
            len(row),
            starts.astype(np.int32),
            row[order].astype(np.int32),
            value[order],
        )
        self.plans.extend(plans)
        self.area_of.extend(areas.tolist())

    def used(self, areas: Ints, plans: Ints) -> Floats:
        """Minutes of each sheet that plans take, ways among them (n, B)."""
        used = np.zeros((len(areas), self.sheets + 1))
        np.add.at(used, (np.arange(len(areas))[:, None], plans), self.corridors.minutes[areas])
        taken: Floats = used[:, :-1] + self.way * (used[:, :-1] > 0)
        return taken

    def prices(self) -> Floats:
        """What a minute of each sheet is worth in the best mix."""
        self.highs.run()
        if self.highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise ArithmeticError("mix")
        dual: Floats = np.array(self.highs.getSolution().row_dual)
        price: Floats = np.maximum(0.0, -dual[self.areas :])
        return price

    def shares(self) -> Floats:
        """The share of each plan in the mix."""
        return np.array(self.highs.getSolution().col_value)

    def find(self, rounds: int) -> Floats:
        """Looks for new plans of all corridors; the prices then."""
        everyone, ways = np.arange(self.areas), (self.walk, self.way)
        corridors = self.corridors
        price = smooth = self.prices()
        for number in range(rounds):
            new = self.add(everyone, plan_alone(corridors, price, ways=ways, better=0))
            if number:
                new += self.add(everyone, plan_alone(corridors, smooth, ways=ways, better=0))
            if new < FEW * self.areas:
                hard = plan_alone(corridors, price, ways=ways, better=BETTERINGS)
                new += self.add(everyone, hard)
            if not new:
                break
            price = self.prices()
            smooth = SMOOTH * smooth + (1.0 - SMOOTH) * price
        return price

    def gone(self) -> Claims:
        """On which sheets the mix goes to a corridor, by its greatest part (A, B)."""
        shares = np.array(self.highs.getSolution().col_value)
        gone = np.zeros((self.areas, self.sheets + 1), bool)
        done = np.zeros(self.areas, bool)
        for column in np.argsort(-shares, kind="stable").tolist():
            area = self.area_of[column]
            if done[area]:
                continue
            done[area] = True
            there = self.corridors.visit[area] >= 0
            gone[area, self.plans[column][there]] = True
        return gone[:, :-1]


@dataclass(frozen=True, slots=True)
class Mixed:
    """The mix reached."""

    price: Floats
    """Of a minute, by sheet (B)."""
    gone: Claims
    """On which sheets the mix goes to a corridor (A, B)."""


def mix(board: Board, rounds: int) -> Mixed:
    """The mix after so many rounds of new plans."""
    mixing = Mixing(board)
    price = mixing.find(rounds)
    return Mixed(price, mixing.gone())
