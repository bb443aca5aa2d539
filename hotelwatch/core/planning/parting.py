"""Sheets filled day by day for all teams of a day together, then parted among them.

Filled team by team, the last one gets what is left of every corridor, and walks for it. So a
day is filled as if its teams were one, and whole corridors go to teams. Where that does not
come out to the minute, a visit or two give way that lose the least, and what fits takes the
minutes that this leaves. What gave way is wanted on later days like all else.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.problem import Claims, Floats, Ints
from hotelwatch.core.planning.refill import best_fill, later_costs
from hotelwatch.core.planning.sharing import part_whole
from hotelwatch.core.planning.strict_costs import CLOSED

PAIRED = 12
"""Visits of a day that may give way in pairs too: those that lose the least."""
ENOUGH = 60
"""So many ways to part a day, of which the best is taken."""

Shares = list[list[int]]
"""The visits of each team."""


def fill_parted(sheets: Board, merged: Board, of: Ints, *, price: Floats, expected: Claims) -> None:
    """Empties both boards and fills them with the same plan, a merged sheet at a time.

    ``of``: on which merged sheet each sheet stands (B). Prices of minutes and what is
    expected of corridors are those of merged sheets, as ``refill.roll`` has them.
    """
    sheets.clear()
    merged.clear()
    best = later_costs(merged, np.arange(len(merged.at)), price=price, expected=expected)
    for place in range(merged.out):
        cost = merged.cost[:, place]
        may = (merged.at == merged.out) & (cost < CLOSED)
        day = _Day(sheets, np.flatnonzero(of == place), np.where(may, best[:, place + 1] - cost, 0))
        good = np.flatnonzero(day.saved > LITTLE)
        chosen = np.array(best_fill(merged, place, good, day.saved[good]), np.int64)
        for sheet, visits in zip(day.teams.tolist(), day.parted(chosen), strict=True):
            for visit in visits:
                sheets.move(visit, sheet)
                merged.move(visit, place)


@dataclass(frozen=True, eq=False)
class _Day:
    """A day's empty sheets, and what each visit saves on it, ways aside."""

    board: Board
    teams: Ints
    """The sheets."""
    saved: Floats
    """By visit of the board (R)."""

    def parted(self, chosen: Ints) -> Shares:
        """The visits chosen as shares of the teams, as many of them as can be."""
        whole = part_whole(self.board, chosen, self.teams)
        if whole is not None:
            return [visits.tolist() for visits in whole]
        found: list[Shares] = []
        for gone in self._may_give_way(chosen):
            shares = part_whole(self.board, np.setdiff1d(chosen, gone), self.teams)
            if shares is not None:
                found.append(self._topped_up([visits.tolist() for visits in shares]))
                if len(found) == ENOUGH:
                    break
        return max(found, key=self._worth) if found else self._one_by_one()

    def _may_give_way(self, chosen: Ints) -> Iterator[list[int]]:
        """Visits and pairs of visits, those that save the least first."""
        order = chosen[np.argsort(self.saved[chosen], kind="stable")].tolist()
        tried = [[visit] for visit in order]
        tried += [list(pair) for pair in combinations(order[:PAIRED], 2)]
        yield from sorted(tried, key=self._saved)

    def _topped_up(self, shares: Shares) -> Shares:
        """The same with what still fits each team, where it goes anyway or elsewhere."""
        board, taken = self.board, {visit for visits in shares for visit in visits}
        for sheet, visits in zip(self.teams.tolist(), shares, strict=True):
            near = set(board.area[visits].tolist())
            left = board.left[sheet] - board.minutes[visits].sum() - board.way * len(near)
            while (visit := self._best_fit(taken, left, near)) is not None:
                area = int(board.area[visit])
                left -= board.minutes[visit] + (0.0 if area in near else board.way)
                near.add(area)
                taken.add(visit)
                visits.append(visit)
        return shares

    def _best_fit(self, taken: set[int], left: float, near: set[int]) -> int | None:
        """The visit that saves the most, its way paid, of those that fit; None if none does."""
        board = self.board
        goes = np.isin(board.area, list(near), invert=True)
        gain = self.saved - board.walk * goes
        gain[list(taken)] = 0.0
        gain[board.minutes + board.way * goes > left] = 0.0
        visit = int(gain.argmax())
        return visit if gain[visit] > LITTLE else None

    def _one_by_one(self) -> Shares:
        """Each team's sheet filled by itself, from all visits."""
        left, shares = self.saved.copy(), []
        for sheet in self.teams.tolist():
            good = np.flatnonzero(left > LITTLE)
            visits = best_fill(self.board, sheet, good, left[good])
            left[visits] = 0.0
            shares.append(visits)
        return shares

    def _worth(self, shares: Shares) -> float:
        """What shares save, their ways paid."""
        ways = sum(len(np.unique(self.board.area[visits])) for visits in shares if visits)
        return sum(map(self._saved, shares)) - self.board.walk * ways

    def _saved(self, visits: Sequence[int]) -> float:
        return float(self.saved[visits].sum()) if visits else 0.0
