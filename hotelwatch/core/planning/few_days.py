"""Visits put anew on few sheets, by whole numbers.

A plan at hand puts a visit on one sheet; a mix of corridor plans on one or two, and on
others the less a bed-day counts in it. With only these open to it, the whole plan is a
programme so small that HiGHS is done at its first node or nearly. So it is where visits
of a few days in a row, and those left out, may stand on any of these days.

Source: search between a relaxation and a plan (Danna, Rothberg, Le Pape 2005, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy

import numpy as np

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.exact import go_on
from hotelwatch.core.planning.problem import Claims
from hotelwatch.core.planning.strict_costs import BED_DAY, CLOSED, late_costs

NODES = 1
ENOUGH = 2.0
"""Minutes: a gap that is not worth more time."""
IN_A_ROW, APART = 5, 2
"""Days put anew together, and by how many the next ones begin later."""


def eased(board: Board, bed_day: float) -> Board:
    """The same board where an overdue bed-day stands for so many minutes; it bears no plan."""
    by_day = late_costs(board.problem)[board.visit]
    late = np.column_stack([by_day[:, board.sheets.day], by_day[:, -1]])
    other = copy(board)
    less = (1.0 - bed_day / BED_DAY) * late
    other.cost = np.where(board.cost < CLOSED, board.cost - less, board.cost)
    other.clear()
    return other


def as_it_stands(board: Board) -> Claims:
    """Where the plan on the board puts each visit (R, B)."""
    there: Claims = board.at[:, None] == np.arange(board.out)
    return there


def choose(board: Board, likely: Claims) -> None:
    """Puts the visits on sheets that are likely for them (R, B), the cheapest plan found."""
    before = board.keep()
    cost, total = board.cost, board.total()
    board.cost = cost.copy()
    board.cost[:, :-1][~(likely | as_it_stands(board))] = CLOSED
    go_on(board, nodes=NODES, gap=ENOUGH)
    board.cost = cost
    if board.total() > total:
        board.put_back(before)


def stretches(board: Board) -> Iterator[Claims]:
    """Which sheets are of some days in a row (B), from the first such days to the last."""
    day = board.sheets.day
    last = int(day.max()) + 1 - IN_A_ROW
    for first in range(0, max(1, last + APART), APART):
        yield (day >= first) & (day < first + IN_A_ROW)


def choose_within(board: Board, sheets: Claims) -> None:
    """Puts visits of these sheets (B), and those left out, anew on any of them."""
    moves = np.append(sheets, True)[board.at]
    choose(board, moves[:, None] & sheets[None, :])
