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

    def __init__(self, board: Board, stands: Ints) -> None:
        """Holds visits to these sheets; the last one, ``out``, holds nobody (R)."""
        self.board, self.cost = board, board.cost
        held = np.flatnonzero(stands != board.out)
        self.is_any = bool(len(held))
        board.cost = self.cost.copy()
        board.cost[held, :-1] = CLOSED
        board.cost[held, stands[held]] = self.cost[held, stands[held]]

    def free(self) -> None:
        """Every visit may stand wherever it may."""
        self.board.cost = self.cost
