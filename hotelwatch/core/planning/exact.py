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
SOON_DONE = 500
"""Columns of a programme that needs no presolve."""
ROUNDED = 1e-3
"""Minutes by which sums of many costs may differ."""


def formulate(board: Board) -> tuple[Programme, Claims, Ints, Ints]:
    """One column for each visit and sheet, out too, then for each corridor and sheet.

    Returns the programme, which columns are whole, and the visit and sheet of the first.
    """
    visit, sheet = np.nonzero(board.cost < CLOSED)
    kept = board.cost[visit, sheet] <= board.cost[visit, -1]
    visit, sheet = visit[kept], sheet[kept]
    on = np.flatnonzero(sheet != board.out)
    width = board.out + 1
    ways, way = ways_of(board, visit, sheet)
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


def ways_of(board: Board, visit: Ints, sheet: Ints) -> tuple[Ints, Ints]:
    """Corridors and sheets as one number, sorted; and which of them each visit there has."""
    on = sheet != board.out
    numbers = board.area[visit[on]] * (board.out + 1) + sheet[on]
    return np.unique(numbers, return_inverse=True)


def solve(board: Board, *, nodes: int, seconds: float = EVER) -> tuple[float, float] | None:
    """Puts the best plan found on the board; (its cost, the bound), or None without one.

    ``seconds`` is for measuring only: with it the same input may give another plan.
    """
    highs = quiet()
    highs.setOptionValue("mip_rel_gap", EXACT)
    highs.setOptionValue("mip_abs_gap", EXACT)
    highs.setOptionValue("mip_max_nodes", nodes)
    if seconds < EVER:
        highs.setOptionValue("time_limit", seconds)
    programme, whole, visit, sheet = formulate(board)
    hand_over(programme, highs, whole)
    highs.run()
    if not _is_found(highs):
        return None
    _put(board, highs, visit, sheet)
    return board.total(), highs.getInfo().mip_dual_bound + board.rest


def go_on(board: Board, *, nodes: int, gap: float) -> None:
    """Goes on from the plan on the board, to within ``gap`` minutes of the best or so many nodes.

    HiGHS does not begin anew when it has fixed much: that takes longer than it brings. At times
    HiGHS 1.16 reckons a start wrongly in what presolve leaves, and stops at it: then without, if
    that is soon done.
    """
    programme, whole, visit, sheet = formulate(board)
    start, before = _as_it_stands(board, visit, sheet), board.total()
    for presolve in ("on", "off")[: 2 if len(programme.costs) <= SOON_DONE else 1]:
        highs = quiet()
        highs.setOptionValue("presolve", presolve)
        highs.setOptionValue("mip_rel_gap", EXACT)
        highs.setOptionValue("mip_abs_gap", gap)
        highs.setOptionValue("mip_max_nodes", nodes)
        highs.setOptionValue("mip_allow_restart", False)
        hand_over(programme, highs, whole)
        highs.setSolution(start)
        highs.run()
        if _is_found(highs):
            _put(board, highs, visit, sheet)
            told = highs.getInfo().objective_function_value + board.rest
            if board.total() < before - ROUNDED or abs(board.total() - told) <= ROUNDED:
                return


def _as_it_stands(board: Board, visit: Ints, sheet: Ints) -> highspy.HighsSolution:
    """The plan on the board, by the columns of its programme."""
    area, there = np.divmod(ways_of(board, visit, sheet)[0], board.out + 1)
    start = highspy.HighsSolution()
    goes = board.count[area, there] > 0
    start.col_value = np.concatenate([board.at[visit] == sheet, goes]).astype(float).tolist()
    return start


def _is_found(highs: highspy.Highs) -> bool:
    status = highs.getInfo().primal_solution_status
    return bool(status == highspy.SolutionStatus.kSolutionStatusFeasible)


def _put(board: Board, highs: highspy.Highs, visit: Ints, sheet: Ints) -> None:
    value = np.array(highs.getSolution().col_value)[: len(visit)]
    board.clear()
    for column in np.flatnonzero((value > HALF) & (sheet != board.out)):
        board.move(visit[column], sheet[column])
