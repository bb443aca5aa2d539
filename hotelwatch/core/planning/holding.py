"""Visits that crowd narrow days held where they stand best for these, while others are planned.

With whole visits the narrow days decide how many bed-days are overdue (``narrow``). Held
there, they leave a plan to be made whose prices are those of ways and early looks alone.
"""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.problem import Ints
from hotelwatch.core.planning.strict_costs import CLOSED


class Holding:
    """Holds visits of a board by closing its other sheets to them."""

    def __init__(self, board: Board, crowd: Ints, stands: Ints) -> None:
        """Holds visits to these sheets; the last one, ``out``, holds nobody (R).

        ``crowd``: the visits of the problem that crowd narrow days.
        """
        self.board, self.cost = board, board.cost
        self.is_crowd = np.isin(board.visit, crowd)
        self.narrow = np.unique(stands[stands != board.out])
        self._hold(stands)

    def hold_as_they_stand(self) -> None:
        """Holds those of the crowd that stand on a narrow day now."""
        at = self.board.at
        self._hold(np.where(self.is_crowd & np.isin(at, self.narrow), at, self.board.out))

    def free(self) -> None:
        """Every visit may stand wherever it may."""
        self.board.cost = self.cost

    def _hold(self, stands: Ints) -> None:
        held = np.flatnonzero(stands != self.board.out)
        cost = self.cost.copy()
        cost[held, :-1] = CLOSED
        cost[held, stands[held]] = self.cost[held, stands[held]]
        self.board.cost = cost
