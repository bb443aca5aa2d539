"""The strict order as a plain formulation, handed to general solvers without any start."""

from __future__ import annotations

import numpy as np
from ortools.sat.python import cp_model

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.exact import solve
from hotelwatch.core.planning.strict_costs import CLOSED

TENTHS = 10
"""CP-SAT counts whole numbers: costs are in tenths of a minute."""


def by_highs(made, aims, seconds):
    """Its plan after so many seconds; nothing planned if it found none."""
    board = Board(made, aims)
    solve(board, nodes=10**9, seconds=seconds)
    return board.choice()


def by_cp_sat(made, aims, seconds):
    """Its plan after so many seconds on two threads; nothing planned if it found none."""
    board = Board(made, aims)
    model = cp_model.CpModel()
    visit, sheet = np.nonzero(board.cost[:, :-1] < np.minimum(CLOSED, board.cost[:, -1:]))
    x = [model.new_bool_var("") for _ in visit]
    of_visit, of_sheet, ways = {}, {}, {}
    for var, row, where in zip(x, visit, sheet, strict=True):
        of_visit.setdefault(row, []).append(var)
        way = ways.setdefault((board.area[row], where), model.new_bool_var(""))
        model.add_implication(var, way)
        of_sheet.setdefault(where, []).append((int(board.minutes[row]), var))
    for (_, where), way in ways.items():
        of_sheet[where].append((int(board.way), way))
    for variables in of_visit.values():
        model.add_at_most_one(variables)
    for where, used in of_sheet.items():
        have = int(board.sheets.minutes[where])
        model.add(sum(minutes * var for minutes, var in used) <= have)
    saved = np.rint(TENTHS * (board.cost[visit, -1] - board.cost[visit, sheet])).astype(int)
    walked = int(TENTHS * board.walk) * sum(ways.values())
    model.minimize(walked - sum(int(s) * var for s, var in zip(saved, x, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    if solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        for var, row, where in zip(x, visit, sheet, strict=True):
            if solver.value(var):
                board.move(row, where)
    return board.choice()
