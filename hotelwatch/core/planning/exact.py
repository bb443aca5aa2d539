"""The strict order solved to proof on small boards: whole visits, teams, corridors and all."""

from __future__ import annotations

import highspy
import numpy as np

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.linear import EVER, Programme, hand_over, quiet
from hotelwatch.core.planning.problem import Claims, Ints
from hotelwatch.core.planning.strict_costs import CLOSED

HALF = 0.5
EXACT = 1e-9
"""The gap at which a proof counts as whole."""


def formulate(board: Board) -> tuple[Programme, Claims, Ints, Ints]:
    """One column for each visit and sheet, out too, then for each corridor and sheet.

    Returns the programme, which columns are whole, and the visit and sheet of the first.
    """
    visit, sheet = np.nonzero(board.cost < CLOSED)
    kept = board.cost[visit, sheet] <= board.cost[visit, -1]
    visit, sheet = visit[kept], sheet[kept]
    on = np.flatnonzero(sheet != board.out)
    width = board.out + 1
    ways, way = np.unique(board.area[visit[on]] * width + sheet[on], return_inverse=True)
    arcs = len(visit)
    costs = np.concatenate([board.cost[visit, sheet], np.full(len(ways), board.walk)])
    programme = Programme(costs, np.ones(len(costs)))
    ones = np.ones(len(board.visit))
    programme.demand(ones, ones)
    programme.enter(visit, np.arange(arcs), np.ones(arcs))
    have = board.sheets.minutes.astype(float)
    first = programme.demand(np.full(board.out, -EVER), have)
    programme.enter(first + sheet[on], on, board.minutes[visit[on]])
    way_columns = arcs + np.arange(len(ways))
    programme.enter(first + ways % width, way_columns, np.full(len(ways), board.way))
    first = programme.demand(np.full(len(on), -EVER), np.zeros(len(on)))
    programme.enter(first + np.arange(len(on)), on, np.ones(len(on)))
    programme.enter(first + np.arange(len(on)), arcs + way, -np.ones(len(on)))
    return programme, np.ones(len(costs), bool), visit, sheet


def solve(board: Board, *, nodes: int, seconds: float = EVER) -> tuple[float, float] | None:
    """Puts the best plan found on the board; (its cost, the bound), or None without one.

    ``seconds`` is for measuring only: with it the same input may give another plan.
    """
    programme, whole, visit, sheet = formulate(board)
    highs = quiet()
    highs.setOptionValue("mip_rel_gap", EXACT)
    highs.setOptionValue("mip_abs_gap", EXACT)
    highs.setOptionValue("mip_max_nodes", nodes)
    if seconds < EVER:
        highs.setOptionValue("time_limit", seconds)
    hand_over(programme, highs, whole)
    highs.run()
    info = highs.getInfo()
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    value = np.array(highs.getSolution().col_value)[: len(visit)]
    board.clear()
    for column in np.flatnonzero((value > HALF) & (sheet != board.out)):
        board.move(visit[column], sheet[column])
    return board.total(), info.mip_dual_bound + board.rest
