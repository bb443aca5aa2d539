"""The plan in the strict order: fewest overdue bed-days in these weeks, then the rest.

First a mix of plans of whole corridors gives what a minute of each day is worth; it is
rounded corridor by corridor; then corridors are taken out and put back in, a few at a
time, and visits exchanged, for as long as the effort lasts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.progress import Progress, Stopped, silent
from hotelwatch.core.rounds.board import LITTLE, Board
from hotelwatch.core.rounds.corridor_prices import Mixed, mix
from hotelwatch.core.rounds.exchange import plan_corridor, settle, swap, take_out
from hotelwatch.core.rounds.problem import Choice, Floats, Ints, Problem
from hotelwatch.core.rounds.strict_costs import Aims

STEP = "strict_plan"
WHOLE = 0.999
SWAP_ROWS = 256
MOST_OUT = 4
"""Corridors taken out together."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to search, by steps: the same effort gives the same plan."""

    mixing_rounds: int = 30
    tries: int = 400
    """Corridors, a few at a time, taken out and put back in."""
    seed: int = 0


def strict_plan(
    problem: Problem,
    start: Choice | None = None,
    *,
    aims: Aims,
    effort: Effort,
    progress: Progress = silent,
) -> Choice:
    """The best plan found; ``start`` itself, as far as it fits, if nothing better is.

    ``progress`` may raise Stopped: the best plan so far is returned.
    """
    board = Board(problem, aims)
    if start is not None:
        board.take(start)
    best, cost = board.keep(), board.total()
    try:
        progress(0.0, STEP)
        mixed = mix(board, effort.mixing_rounds)
        prices = mixed.price[board.sheets.day]
        _round(board, mixed, prices)
        if board.total() < cost - LITTLE:
            best, cost = board.keep(), board.total()
        else:
            board.put_back(best)
        for _ in _search(board, prices, effort, progress):
            if board.total() < cost - LITTLE:
                best, cost = board.keep(), board.total()
    except Stopped:
        pass
    board.put_back(best)
    return board.choice()


def _round(board: Board, mixed: Mixed, prices: Floats) -> None:
    """A plan near the mix: whole corridors as they are, the others into what is left."""
    board.clear()
    order = np.argsort(-mixed.share, kind="stable")
    whole = [area for area in order if mixed.share[area] > WHOLE]
    for area in whole:
        rows = board.members[area]
        for day in np.unique(mixed.day[rows]):
            if day < board.problem.horizon:
                _put_together(board, rows[mixed.day[rows] == day], day)
    for area in order:
        plan_corridor(board, area, prices)
    settle(board)
    swap_all(board)


def _put_together(board: Board, rows: Ints, day: int) -> None:
    """A corridor's visits of a day on one sheet, else on as few as they fit on."""
    sheets = np.flatnonzero(board.sheets.day == day)
    while len(rows) and len(sheets):
        able = np.array([board.cost[rows, s].max() < 1e11 for s in sheets])
        room = board.left[sheets] - board.way - board.minutes[rows].sum()
        if (able & (room >= 0)).any():
            sheet = sheets[np.where(able & (room >= 0), room, np.inf).argmin()]
        else:
            sheet = sheets[room.argmax()]
        for visit in rows:
            if board.gain(visit, sheet) > -1e9:
                board.move(visit, sheet)
        rows = rows[board.at[rows] == board.out]
        sheets = sheets[sheets != sheet]


def swap_all(board: Board) -> None:
    """Exchanges and single moves until none saves anything."""
    again = True
    while again:
        again = False
        for first in range(0, len(board.at), SWAP_ROWS):
            rows = np.arange(first, min(first + SWAP_ROWS, len(board.at)))
            again |= swap(board, rows)
        settle(board)


def _search(board, prices, effort, progress):
    rng = np.random.default_rng(effort.seed)
    if not board.areas:
        return
    now = board.total()
    kept = board.keep()
    for number in range(effort.tries):
        progress(number / effort.tries, STEP)
        times = rng.choice((0.0, 0.5, 1.0, 1.0, 1.5))
        out = _together(board, rng)
        for area in out:
            take_out(board, area)
        for area in out:
            plan_corridor(board, area, prices * times)
        settle(board)
        total = board.total()
        if total <= now + LITTLE:
            now, kept = total, board.keep()
            yield number
        else:
            board.put_back(kept)
    swap_all(board)
    yield effort.tries


def _together(board: Board, rng: np.random.Generator) -> Ints:
    """A few corridors that share sheets, in any order."""
    first = int(rng.integers(board.areas))
    used = board.count[first, :-1] > 0
    shares = (board.count[:, :-1][:, used] > 0).any(axis=1)
    shares[first] = False
    near = np.flatnonzero(shares)
    more = min(int(rng.integers(0, MOST_OUT)), len(near))
    found = np.append(rng.choice(near, more, replace=False) if more else near[:0], first)
    return rng.permutation(found)
