"""Visits on sheets while a plan is being made: what each change costs, and whether it fits."""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy

import numpy as np

from hotelwatch.core.planning.problem import NEVER, Choice, Floats, Ints, Problem
from hotelwatch.core.planning.strict_costs import (
    CLOSED,
    Aims,
    Sheets,
    may_stand,
    sheets_of,
    strict_costs,
)

LITTLE = 1e-7
"""Differences below it are rounding."""


class Board:
    """The one mutable thing of the search. Only visits that a sheet can better stand here.

    Sheets are columns; the last column, ``out``, holds what is left out of the plan.
    """

    def __init__(self, problem: Problem, aims: Aims) -> None:
        """Every visit left out."""
        self.problem = problem
        self.sheets = sheets_of(problem)
        self.out = len(self.sheets.day)
        by_day = strict_costs(problem, aims)
        may = may_stand(problem, self.sheets, walks_in_day=aims.walks_in_day)
        costs = np.where(may, by_day[:, self.sheets.day], CLOSED)
        stayed = (problem.was_on[:, None] == self.sheets.day) & (problem.was_team != NEVER)[:, None]
        costs += aims.moved_minutes * (stayed & (problem.was_team[:, None] != self.sheets.team))
        never = by_day[:, -1]
        better = costs.min(axis=1, initial=CLOSED) < never - LITTLE
        self.visit = np.flatnonzero(better)
        self.cost: Floats = np.column_stack([costs, never])[self.visit]
        self.rest = float(never[~better].sum())
        self.minutes: Floats = problem.minutes[self.visit].astype(float)
        _, self.area = np.unique(problem.area[self.visit], return_inverse=True)
        self.areas = int(self.area.max(initial=-1)) + 1
        self.members = [np.flatnonzero(self.area == a) for a in range(self.areas)]
        self.walk = float(problem.area_minutes)
        self.way = self.walk if aims.walks_in_day else 0.0
        self.clear()

    def merged(self) -> tuple[Board, Ints]:
        """Teams that are alike on a day as one sheet with the minutes of all of them.

        The board so made, and on which of its sheets each of these stands (B).
        """
        kinds: dict[tuple[int, bytes], int] = {}
        keys = [(int(d), self.cost[:, n].tobytes()) for n, d in enumerate(self.sheets.day)]
        of = np.array([kinds.setdefault(key, len(kinds)) for key in keys], np.int64)
        _, first = np.unique(of, return_index=True)
        minutes = np.bincount(of, self.sheets.minutes).astype(np.int64)
        other = copy(self)
        other.sheets = Sheets(self.sheets.day[first], self.sheets.team[first], minutes)
        other.out = len(first)
        other.cost = np.column_stack([self.cost[:, first], self.cost[:, -1]])
        other.clear()
        return other, of

    def clear(self) -> None:
        """Everything left out."""
        self.at: Ints = np.full(len(self.visit), self.out)
        self.left: Floats = np.append(self.sheets.minutes.astype(float), np.inf)
        self.count: Ints = np.zeros((self.areas, self.out + 1), np.int64)
        self.count[:, self.out] = np.bincount(self.area, minlength=self.areas)

    def total(self) -> float:
        """All costs in minutes."""
        stand = self.cost[np.arange(len(self.at)), self.at].sum()
        return float(stand + self.walk * (self.count[:, :-1] > 0).sum()) + self.rest

    def keep(self) -> tuple[Ints, Floats, Ints]:
        """What ``put_back`` needs."""
        return self.at.copy(), self.left.copy(), self.count.copy()

    def put_back(self, kept: tuple[Ints, Floats, Ints]) -> None:
        """As it was when it was kept."""
        at, left, count = kept
        self.at, self.left, self.count = at.copy(), left.copy(), count.copy()

    def move(self, visit: int, sheet: int) -> None:
        """Puts a visit on a sheet, or out; the caller knows that it fits."""
        area, old = self.area[visit], self.at[visit]
        if old == sheet:
            return
        self.count[area, old] -= 1
        self.left[old] += self.minutes[visit]
        if self.count[area, old] == 0 and old != self.out:
            self.left[old] += self.way
        if self.count[area, sheet] == 0 and sheet != self.out:
            self.left[sheet] -= self.way
        self.count[area, sheet] += 1
        self.left[sheet] -= self.minutes[visit]
        self.at[visit] = sheet

    def gain(self, visit: int, sheet: int) -> float:
        """Minutes saved by moving a visit to a sheet; -CLOSED if it does not fit."""
        area, old = self.area[visit], self.at[visit]
        saved = self.cost[visit, old] - self.cost[visit, sheet]
        if old != self.out and self.count[area, old] == 1:
            saved += self.walk
        if sheet != self.out and self.count[area, sheet] == 0:
            saved -= self.walk
            if self.minutes[visit] + self.way > self.left[sheet]:
                return -CLOSED
        elif self.minutes[visit] > self.left[sheet]:
            return -CLOSED
        return float(saved)

    def shift(self, visit: int, sheet: int) -> float:
        """Moves a visit whether it fits or not; minutes saved."""
        area, old = self.area[visit], self.at[visit]
        if old == sheet:
            return 0.0
        saved = self.cost[visit, old] - self.cost[visit, sheet]
        if old != self.out and self.count[area, old] == 1:
            saved += self.walk
        if sheet != self.out and self.count[area, sheet] == 0:
            saved -= self.walk
        self.move(visit, sheet)
        return float(saved)

    def try_moves(self, moves: Sequence[tuple[int, int]]) -> bool:
        """Makes moves together if they save something and fit; else none of them."""
        before = [(visit, int(self.at[visit])) for visit, _ in moves]
        saved = sum(self.shift(visit, sheet) for visit, sheet in moves)
        if saved > LITTLE and all(self.left[sheet] >= 0 for _, sheet in (*moves, *before)):
            return True
        for visit, sheet in reversed(before):
            self.move(visit, sheet)
        return False

    def changes(self, rows: Ints) -> Floats:
        """What it costs to move each visit alone to each sheet, ways included (n, B + 1)."""
        at, area = self.at[rows], self.area[rows]
        alone = (self.count[area, at] == 1) & (at != self.out)
        new = self.count[area] == 0
        new[:, self.out] = False
        stands = self.cost[rows, at] + self.walk * alone
        costs: Floats = self.cost[rows] - stands[:, None] + self.walk * new
        costs[np.arange(len(rows)), at] = CLOSED
        return costs

    def choice(self) -> Choice:
        """Days and teams of all visits of the problem."""
        on = np.full(self.problem.visits, NEVER)
        team = np.full(self.problem.visits, NEVER)
        there = self.at != self.out
        on[self.visit[there]] = self.sheets.day[self.at[there]]
        team[self.visit[there]] = self.sheets.team[self.at[there]]
        return Choice(on, team)

    def take(self, choice: Choice) -> None:
        """Starts from a plan, as far as it still fits."""
        self.clear()
        number = {
            (int(d), int(t)): n
            for n, (d, t) in enumerate(zip(self.sheets.day, self.sheets.team, strict=True))
        }
        for visit, row in enumerate(self.visit):
            sheet = number.get((int(choice.on[row]), int(choice.team[row])), self.out)
            may = sheet != self.out and self.cost[visit, sheet] < CLOSED
            if may and self.gain(visit, sheet) > -CLOSED:
                self.move(visit, sheet)
