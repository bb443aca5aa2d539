"""The strict order as a plain formulation, handed to general solvers without any start."""

from __future__ import annotations

import numpy as np
from ortools.sat.python import cp_model

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.exact import solve
from hotelwatch.core.planning.linear import quiet
from hotelwatch.core.planning.strict_costs import CLOSED, Aims, second_costs

_AS_A_COST = Aims(moved_minutes=12, walks_in_day=False)
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


def second_tier_bound(made, within, seconds):
    """No plan of whole visits with so few overdue bed-days has a second tier below it.

    Ways cost and take no minutes. Teams of a day are one team with all their minutes, which
    can only help. HiGHS branches and bounds for so many seconds; the model
    is written anew here, only the costs are the planner's.
    """
    have = made.team_minutes.sum(axis=1)
    days, never = made.horizon, made.horizon
    costs = second_costs(made, _AS_A_COST)
    late = made.beds[:, None] * made.late_days
    may = made.open & (have > 0)[None, :]
    may &= made.minutes[:, None] <= made.team_minutes.max(axis=1)[None, :]
    highs = quiet()
    highs.setOptionValue("time_limit", seconds)
    goes = {}
    on_day = [[] for _ in range(days)]
    bed_days = []
    for row in range(made.visits):
        gains = costs[row, :-1] + 1e6 * late[row, :-1] < costs[row, -1] + 1e6 * late[row, -1]
        of_row = [highs.addBinary(obj=float(costs[row, never]))]
        bed_days.append(int(late[row, never]) * of_row[0])
        for day in np.flatnonzero(may[row] & gains):
            x = highs.addBinary(obj=float(costs[row, day]))
            key = int(made.area[row]), int(day)
            if key not in goes:
                goes[key] = highs.addBinary(obj=float(made.area_minutes))
            highs.addConstr(x <= goes[key])
            on_day[day].append(int(made.minutes[row]) * x)
            bed_days.append(int(late[row, day]) * x)
            of_row.append(x)
        highs.addConstr(highs.qsum(of_row) == 1)
    for day, used in enumerate(on_day):
        if used:
            highs.addConstr(highs.qsum(used) <= int(have[day]))
    highs.addConstr(highs.qsum(bed_days) <= int(within))
    highs.run()
    return float(highs.getInfo().mip_dual_bound)
