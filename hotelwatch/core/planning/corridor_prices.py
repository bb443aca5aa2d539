"""What a minute of each sheet is worth, from plans of whole corridors held against them.

For given prices every corridor is planned for itself (``corridor_plans``). The plans so
found are mixed so that the sheets' minutes suffice; that mix gives new prices (Dantzig and
Wolfe's decomposition; Dantzig, Wolfe 1960, from memory). In the end few corridors are
still mixed, about one a full sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.corridor_plans import Pool
from hotelwatch.core.planning.linear import EVER, quiet
from hotelwatch.core.planning.problem import Claims, Floats, Ints

BETTERINGS = 3
FEW = 0.3
"""Plans found quickly for a smaller share of corridors: time to look harder."""
SMOOTH = 0.5
"""How much of the prices before goes into those that corridors are planned at."""
PRIMAL = 4
"""HiGHS' number for the primal simplex method."""


class Mixing:
    """The mix of corridor plans and its prices, plans added as they are found."""

    def __init__(self, board: Board) -> None:
        """Rows for corridors and sheets, with the plan that goes nowhere for each."""
        self.pool = pool = Pool(board)
        self.highs = quiet()
        self.highs.setOptionValue("presolve", "off")
        # A mix stays one when plans are added: the primal method goes on from it.
        self.highs.setOptionValue("simplex_strategy", PRIMAL)
        rows = pool.areas + pool.sheets
        low = np.concatenate([np.ones(pool.areas), np.full(pool.sheets, -EVER)])
        high = np.concatenate([np.ones(pool.areas), pool.have])
        starts, none = np.zeros(rows, np.int32), np.zeros(0)
        self.highs.addRows(rows, low, high, 0, starts, none.astype(np.int32), none)
        everyone, nowhere = np.arange(pool.areas), np.full(pool.corridors.visit.shape, pool.sheets)
        pool.add(everyone, nowhere)
        self._add_columns(everyone, nowhere)

    def _add(self, price: Floats, *, better: int = 0) -> int:
        """Adds plans made at these prices; how many were new."""
        areas, plans = self.pool.find(price, better=better)
        if len(areas):
            self._add_columns(areas, plans)
        return len(areas)

    def _add_columns(self, areas: Ints, plans: Ints) -> None:
        pool, rows = self.pool, np.arange(len(areas))
        used = pool.used(areas, plans)
        plan, on = np.nonzero(used)
        row = np.concatenate([areas, pool.areas + on])
        column = np.concatenate([rows, plan])
        value = np.concatenate([np.ones(len(areas)), used[plan, on]])
        order = np.lexsort((row, column))
        starts = np.zeros(len(areas), np.int64)
        np.cumsum(np.bincount(column, minlength=len(areas))[:-1], out=starts[1:])
        self.highs.addCols(
            len(areas),
            pool.costs(areas, plans),
            np.zeros(len(areas)),
            np.full(len(areas), EVER),
            len(row),
            starts.astype(np.int32),
            row[order].astype(np.int32),
            value[order],
        )

    def prices(self) -> Floats:
        """What a minute of each sheet is worth in the best mix."""
        self.highs.run()
        if self.highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise ArithmeticError("mix")
        dual: Floats = np.array(self.highs.getSolution().row_dual)
        price: Floats = np.maximum(0.0, -dual[self.pool.areas :])
        return price

    def find(self, rounds: int) -> Floats:
        """Looks for new plans of all corridors; the prices then."""
        price = smooth = self.prices()
        for number in range(rounds):
            new = self._add(price)
            if number:
                new += self._add(smooth)
            if new < FEW * self.pool.areas:
                new += self._add(price, better=BETTERINGS)
            if not new:
                break
            price = self.prices()
            smooth = SMOOTH * smooth + (1.0 - SMOOTH) * price
        return price

    def gone(self) -> Claims:
        """On which sheets the mix goes to a corridor, by its greatest part (A, B)."""
        pool = self.pool
        shares = np.array(self.highs.getSolution().col_value)
        gone = np.zeros((pool.areas, pool.sheets + 1), bool)
        done = np.zeros(pool.areas, bool)
        for column in np.argsort(-shares, kind="stable").tolist():
            area = pool.area_of[column]
            if done[area]:
                continue
            done[area] = True
            there = pool.corridors.visit[area] >= 0
            gone[area, pool.plans[column][there]] = True
        return gone[:, :-1]

    def stands(self) -> Claims:
        """On which sheets the mix puts a visit, whole or in part (R, B)."""
        pool = self.pool
        stands = np.zeros((pool.visits, pool.sheets + 1), bool)
        for column in np.flatnonzero(np.array(self.highs.getSolution().col_value) > LITTLE):
            visit = pool.corridors.visit[pool.area_of[column]]
            stands[visit[visit >= 0], pool.plans[column][visit >= 0]] = True
        return stands[:, :-1]


@dataclass(frozen=True, slots=True)
class Mixed:
    """The mix reached."""

    price: Floats
    """Of a minute, by sheet (B)."""
    gone: Claims
    """On which sheets the mix goes to a corridor (A, B)."""
    stands: Claims
    """On which sheets it puts a visit, whole or in part (R, B)."""


def mix(board: Board, rounds: int) -> Mixed:
    """The mix after so many rounds of new plans."""
    mixing = Mixing(board)
    price = mixing.find(rounds)
    return Mixed(price, mixing.gone(), mixing.stands())
