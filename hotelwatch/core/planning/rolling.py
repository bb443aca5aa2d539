"""A plan made day by day, team by team, from the days nearest to today on.

Each team's day is filled with the visits that save the most over going on without them
(``worth``). What was published counts for more where it
stands, and a visit that would have to be moved for less. First the days ahead get what
is firm: what cannot wait, and what was promised. Then every day is filled up with what is
likely, but may still change.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np

from hotelwatch.core.planning.filling import fill
from hotelwatch.core.planning.prices import Prices
from hotelwatch.core.planning.problem import NEVER, Choice, Claims, Floats, Ints, Problem
from hotelwatch.core.planning.worth import CLOSED, Worth, worth
from hotelwatch.core.progress import Progress, Stopped, silent

STEP = "planning"
PINNED = 1e7
"""What a supervisor chose saves more than anything else; of two such the one that saves more."""


@dataclass(frozen=True, slots=True)
class Rolled:
    """A choice, and which of its visits are firm (R)."""

    choice: Choice
    firm: Claims
    was_stopped: bool = False


@dataclass
class _Board:
    """Days and teams being filled."""

    problem: Problem
    prices: Prices
    worth: Worth
    on: Ints
    team: Ints
    firm: Claims
    been: defaultdict[tuple[int, int], set[int]] = field(default_factory=lambda: defaultdict(set))
    used: defaultdict[tuple[int, int], int] = field(default_factory=lambda: defaultdict(int))

    def put(self, visits: list[int], day: int, team: int, *, firm: bool) -> None:
        """Write visits onto a team's day."""
        key = day, team
        for visit in visits:
            area = int(self.problem.area[visit])
            way = 0 if area in self.been[key] else self.problem.area_minutes
            self.been[key].add(area)
            self.used[key] += int(self.problem.minutes[visit]) + way
            self.on[visit], self.team[visit], self.firm[visit] = day, team, firm

    def sheets_of(self, day: int) -> dict[int, list[int]]:
        """The visits of a day by team."""
        rows = np.flatnonzero(self.on == day)
        teams = np.unique(self.team[rows]).tolist()
        return {team: rows[self.team[rows] == team].tolist() for team in teams}

    def clear(self, day: int) -> None:
        """Take everything off a day again."""
        rows = self.on == day
        self.on[rows] = self.team[rows] = NEVER
        self.firm[rows] = False
        for key in [key for key in self.used if key[0] == day]:
            del self.used[key]
            self.been[key] = {area for *at, area in self.problem.been if tuple(at) == key}


def roll(problem: Problem, prices: Prices, progress: Progress = silent) -> Rolled:
    """The plan of one pass; the same problem and prices give the same one.

    If ``progress`` raises Stopped, the days filled until then stand, and of the others
    what was published.
    """
    visits = problem.visits
    board = _Board(
        problem,
        prices,
        worth(problem, prices),
        np.full(visits, NEVER),
        np.full(visits, NEVER),
        np.zeros(visits, bool),
    )
    for day, team, area in problem.been:
        board.been[day, team].add(area)
    was_stopped = False
    try:
        _roll_on(board, progress)
    except Stopped:
        was_stopped = True
        _keep_published(board)
    return Rolled(Choice(board.on, board.team), board.firm, was_stopped)


def _roll_on(board: _Board, progress: Progress) -> None:
    horizon = board.problem.horizon
    firm_days = min(board.prices.firm_days, horizon)
    for day in range(firm_days):
        progress(0.5 * day / firm_days, STEP)
        _promise(board, day)
    for day in range(1, horizon):
        progress(0.5 + 0.5 * day / horizon, STEP)
        _fill_up(board, day)


def _keep_published(board: _Board) -> None:
    """Stopped before every day was filled: what was published and has room stays there."""
    problem = board.problem
    for row in np.flatnonzero((problem.was_on != NEVER) & (board.on == NEVER)):
        visit, day, team = int(row), int(problem.was_on[row]), int(problem.was_team[row])
        way = 0 if problem.area[visit] in board.been[day, team] else problem.area_minutes
        left = int(problem.team_minutes[day, team]) - board.used[day, team]
        if _may_stay(problem, day)[visit] and int(problem.minutes[visit]) + way <= left:
            board.put([visit], day, team, firm=True)


def _promise(board: _Board, day: int) -> None:
    """Firm visits of a day: all that fits today; later what cannot wait or was promised."""
    problem = board.problem
    saved = _saved(board, day)
    if day:
        stays = (problem.was_on == day) | (problem.pinned_on == day)
        can_wait = saved <= board.prices.firm * problem.minutes
        saved = np.where((can_wait | _has_room_before(board, day)) & ~stays, 0, saved)
    _fill_teams(board, day, saved, anybodys=np.zeros(problem.visits, bool), firm=True)
    left = (problem.was_on == day) & (saved > 0) & (board.on == NEVER)
    if left.any():
        # Its own team can't do it any more, and another one may hold what can wait longer.
        before, worth_it = board.sheets_of(day), _worth_by_order(board, day, saved)
        board.clear(day)
        _fill_teams(board, day, saved, anybodys=left, firm=True)
        if _worth_by_order(board, day, saved) <= worth_it:
            board.clear(day)
            for team, visits in before.items():
                board.put(visits, day, team, firm=True)


def _fill_teams(board: _Board, day: int, saved: Floats, *, anybodys: Claims, firm: bool) -> None:
    """Fills the teams' days; what was published for a team it has to itself, but for some (R)."""
    problem = board.problem
    for team in _teams_of(problem, day):
        whole = int(problem.team_minutes[day, team])
        mine = _of_team(problem, saved, board, day, team=team, anybodys=anybodys)
        _fill_in(board, mine, whole, (day, team), firm=firm)
    of_day = problem.was_on == day
    for team in _teams_of(problem, day) if of_day.any() else ():
        # What was published for a team that has no minutes left for it, another may do.
        mine = _of_team(problem, saved, board, day, team=team, anybodys=of_day)
        whole = int(problem.team_minutes[day, team])
        _fill_in(board, np.where(of_day, mine, 0), whole, (day, team), firm=firm)


def _fill_in(board: _Board, saved: Floats, most: int, at: tuple[int, int], *, firm: bool) -> None:
    """Fills a team's day up to so many minutes, one kind of visit after the other."""
    for some in _in_order(board.problem, at[0]):
        mine = np.where(some, saved, 0)
        if not (mine > 0).any():
            continue
        visits = fill(board.problem, mine, most - board.used[at], been=board.been[at])
        board.put(visits, *at, firm=firm)


def _in_order(problem: Problem, day: int) -> tuple[Claims, ...]:
    """What comes first on a day: a supervisor's pins, cases' wishes, guests' days, the rest."""
    is_pinned, is_asked = problem.pinned_on == day, problem.is_asked
    is_agreed = is_pinned & problem.is_agreed
    by_hand, rest = is_pinned & ~is_agreed, ~is_asked & ~is_pinned
    return by_hand, is_asked & ~is_pinned, is_agreed, rest


def _worth_by_order(board: _Board, day: int, saved: Floats) -> tuple[float, ...]:
    """What the visits of a day save, what comes first before the others."""
    there = board.on == day
    return tuple(float(saved[some & there].sum()) for some in _in_order(board.problem, day))


def _has_room_before(board: _Board, day: int) -> Claims:
    """Whether a visit would cost less on a nearer day whose minutes are not all spent (R)."""
    problem, of_day = board.problem, board.worth.of_day
    found = np.zeros(problem.visits, bool)
    for before in range(1, day):
        for team in np.flatnonzero(problem.team_minutes[before]):
            left = int(problem.team_minutes[before, team]) - board.used[before, int(team)]
            fits = problem.minutes + problem.area_minutes <= left
            able = fits & (problem.needs <= problem.team_people[team])
            if problem.shut is not None:
                able = able & ~problem.shut[:, before, team]
            found |= able & (of_day[:, before] < of_day[:, day])
    return found


def _fill_up(board: _Board, day: int) -> None:
    """What is likely: the minutes that are left, with whatever saves something."""
    saved, nobodys = _saved(board, day), np.zeros(board.problem.visits, bool)
    _fill_teams(board, day, saved, anybodys=nobodys, firm=False)


def _teams_of(problem: Problem, day: int) -> list[int]:
    """Those at work, who can do the least first: what only others can do is left to them."""
    working = np.flatnonzero(problem.team_minutes[day])
    order = np.lexsort((problem.team_minutes[day, working], problem.team_people[working]))
    return [int(team) for team in working[order]]


def _saved(board: _Board, day: int) -> Floats:
    """What each visit saves on a day, over the best that it could have later (R)."""
    problem, prices, of = board.problem, board.prices, board.worth
    stays = problem.was_on == day
    was_later = problem.was_on > day
    saved = of.saved[:, day] + prices.moved * stays - prices.moved * was_later
    saved = np.where(problem.pinned_on == day, PINNED + np.clip(saved, 0, PINNED / 10), saved)
    is_elsewhere = (problem.pinned_on != NEVER) & (problem.pinned_on != day)
    is_elsewhere &= ~(problem.is_agreed & (problem.pinned_on < day))
    is_open = of.of_day[:, day] < CLOSED
    return np.where(is_open & ~is_elsewhere & (board.on == NEVER), saved, 0)


def _of_team(
    problem: Problem,
    saved: Floats,
    board: _Board,
    day: int,
    *,
    team: int,
    anybodys: Claims,
) -> Floats:
    """The same for one team: what it can do, and what other teams were not promised.

    ``anybodys`` (R,): visits that any team may do, though promised to another.
    """
    able = problem.needs <= problem.team_people[team]
    free = (problem.pinned_team == NEVER) | (problem.pinned_team == team)
    if problem.shut is not None:
        able = able & ~problem.shut[:, day, team]
    other = (problem.was_team != team) & (problem.pinned_team == NEVER) & _may_stay(problem, day)
    return np.where(able & free & (anybodys | ~other) & (board.on == NEVER), saved, 0)


def _may_stay(problem: Problem, day: int) -> Claims:
    """Which published visits of a day its team can still make, on that day (R)."""
    by = np.maximum(problem.was_team, 0)
    may: Claims = (problem.was_on == day) & (problem.was_team != NEVER) & problem.open[:, day]
    may &= problem.needs <= problem.team_people[by]
    may &= problem.minutes + problem.area_minutes <= problem.team_minutes[day, by]
    may &= (problem.kept_to == NEVER) | (problem.kept_to == day)
    may &= (problem.pinned_team == NEVER) | (problem.pinned_team == by)
    if problem.shut is not None:
        may &= ~problem.shut[np.arange(problem.visits), day, by]
    return may
