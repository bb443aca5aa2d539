"""What a minute of each day is worth, from plans of whole corridors held against the days.

For given prices every corridor is planned for itself: which days to go there, and which
visits then. The plans so found are mixed so that the days' minutes suffice; that mix gives
new prices (Dantzig and Wolfe's decomposition; Dantzig, Wolfe 1960, from memory). In the
end few corridors are still mixed: about one a full day.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import highspy
import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.linear import EVER, quiet
from hotelwatch.core.planning.problem import Claims, Floats, Ints
from hotelwatch.core.planning.strict_costs import CLOSED

MOST_DAYS = 10
"""A corridor is gone to on at most so many days of a plan."""
BETTERINGS = 3
FEW = 10
"""Plans found quickly are fewer: time to look harder."""
SMOOTH = 0.5
"""How much of the prices before goes into those that corridors are planned at."""


@dataclass(frozen=True, slots=True)
class Corridors:
    """Costs by corridor, its n-th visit and day; filled up with visits of no minutes."""

    visit: Ints
    """Row on the board; -1 where filled up (A, N)."""
    cost: Floats
    """(A, N, D)."""
    never: Floats
    """(A, N)."""
    minutes: Floats
    """(A, N)."""


@dataclass(frozen=True, slots=True)
class Mixed:
    """The mix reached."""

    price: Floats
    """Of a minute, by day (D)."""
    day: Ints
    """Of each visit on the board in the corridor's greatest part; D: left out."""
    share: Floats
    """Of that part (A)."""


def corridors_of(board: Board) -> Corridors:
    """The board by corridor and day, the best team taken."""
    days = board.problem.horizon
    by_day = np.full((len(board.visit), days), CLOSED)
    for sheet, day in enumerate(board.sheets.day):
        np.minimum(by_day[:, day], board.cost[:, sheet], out=by_day[:, day])
    longest = max((len(rows) for rows in board.members), default=0)
    visit = np.full((board.areas, longest), -1)
    for area, rows in enumerate(board.members):
        visit[area, : len(rows)] = rows
    none = visit < 0
    cost = np.where(none[:, :, None], 0.0, by_day[visit])
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

    def __init__(self, board: Board, corridors: Corridors) -> None:
        """Rows for corridors and days, without plans."""
        self.corridors, self.walk, self.way = corridors, board.walk, board.way
        self.areas, self.days = board.areas, board.problem.horizon
        self.have = np.bincount(board.sheets.day, board.sheets.minutes, self.days)
        self.plans: list[Ints] = []
        self.seen: list[set[bytes]] = [set() for _ in range(self.areas)]
        self.area_of: list[int] = []
        self.highs = quiet()
        self.highs.setOptionValue("presolve", "off")
        rows = self.areas + self.days
        low = np.concatenate([np.ones(self.areas), np.full(self.days, -EVER)])
        high = np.concatenate([np.ones(self.areas), self.have])
        starts, none = np.zeros(rows, np.int32), np.zeros(0)
        self.highs.addRows(rows, low, high, 0, starts, none.astype(np.int32), none)

    def keep_free(self, share: float) -> None:
        """Leaves a share of every day's minutes for what whole visits waste."""
        for day, minutes in enumerate(self.have):
            self.highs.changeRowBounds(self.areas + day, -EVER, minutes * (1.0 - share))

    def add(self, day: Ints) -> int:
        """Adds a plan of every corridor (A, N) unless known; how many were new."""
        fresh = []
        for area, plan in enumerate(day):
            key = plan.tobytes()
            if key not in self.seen[area]:
                self.seen[area].add(key)
                fresh.append(area)
        if fresh:
            self._add_columns(np.array(fresh), day[fresh])
        return len(fresh)

    def _add_columns(self, areas: Ints, day: Ints) -> None:
        c, rows = self.corridors, np.arange(len(areas))
        whole = np.concatenate([c.cost[areas], c.never[areas][:, :, None]], axis=2)
        cost = np.take_along_axis(whole, day[:, :, None], axis=2)[:, :, 0].sum(axis=1)
        used = np.zeros((len(areas), self.days + 1))
        np.add.at(used, (rows[:, None], day), c.minutes[areas])
        gone = used[:, :-1] > 0
        used = used[:, :-1] + self.way * gone
        plan, on = np.nonzero(gone)
        row = np.concatenate([areas, self.areas + on])
        column = np.concatenate([rows, plan])
        value = np.concatenate([np.ones(len(areas)), used[plan, on]])
        order = np.lexsort((row, column))
        starts = np.zeros(len(areas), np.int64)
        np.cumsum(np.bincount(column, minlength=len(areas))[:-1], out=starts[1:])
        self.highs.addCols(
            len(areas),
            cost + self.walk * gone.sum(axis=1),
            np.zeros(len(areas)),
            np.full(len(areas), EVER),
            len(row),
            starts.astype(np.int32),
            row[order].astype(np.int32),
            value[order],
        )
        self.plans.extend(day)
        self.area_of.extend(areas.tolist())

    def prices(self) -> Floats:
        """What a minute of each day is worth in the best mix."""
        self.highs.run()
        if self.highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise ArithmeticError("mix")
        dual: Floats = np.array(self.highs.getSolution().row_dual)
        price: Floats = np.maximum(0.0, -dual[self.areas :])
        return price

    def mixed(self, price: Floats) -> Mixed:
        """The greatest part of each corridor."""
        shares = np.array(self.highs.getSolution().col_value)
        day = np.full(self.corridors.visit.max(initial=-1) + 1, self.days)
        share = np.zeros(self.areas)
        best = np.full(self.areas, -1)
        for column in np.argsort(-shares, kind="stable")[::-1]:
            best[self.area_of[column]] = column
            share[self.area_of[column]] = shares[column]
        for area, column in enumerate(best):
            there = self.corridors.visit[area] >= 0
            day[self.corridors.visit[area][there]] = self.plans[column][there]
        return Mixed(price, day, share)


def mix(board: Board, rounds: int, kept: Sequence[float] = (0.0,)) -> Iterator[Mixed]:
    """Prices and a day for each visit, once for each share of the days to be kept free."""
    corridors, ways = corridors_of(board), (board.walk, board.way)
    mixing = Mixing(board, corridors)
    mixing.add(np.full(corridors.visit.shape, board.problem.horizon))
    price = smooth = np.zeros(board.problem.horizon)
    for share in kept:
        mixing.keep_free(share)
        price = mixing.prices()
        for _ in range(rounds):
            new = mixing.add(plan_alone(corridors, smooth, ways=ways, better=0))
            new += mixing.add(plan_alone(corridors, price, ways=ways, better=0))
            if new < FEW:
                new += mixing.add(plan_alone(corridors, price, ways=ways, better=BETTERINGS))
            if not new:
                break
            price = mixing.prices()
            smooth = SMOOTH * smooth + (1.0 - SMOOTH) * price
        yield mixing.mixed(price)
