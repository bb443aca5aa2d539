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
from hotelwatch.core.rounds.exact import solve
from hotelwatch.core.rounds.exchange import plan_corridor, settle, swap, take_out
from hotelwatch.core.rounds.problem import Choice, Claims, Floats, Ints, Problem
from hotelwatch.core.rounds.refill import roll
from hotelwatch.core.rounds.strict_costs import Aims

STEP = "strict_plan"
WHOLE = 0.999
SWAP_ROWS = 256
KEPT_FREE = (0.0, 0.02, 0.04)
"""Shares of days that plans near a mix start with: whole visits never fill them all."""
WAY_SHARE = 0.8
TIMES = (0.0, 0.5, 1.0, 1.0, 1.5)
"""What prices are taken times, so that tries differ."""
ROLL_SHARE = 0.5
MOST_SHEETS = 12
"""Sheets filled anew together."""
MOST_OUT = 4
"""Corridors taken out together."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to search, by steps: the same effort gives the same plan."""

    mixing_rounds: int = 30
    tries: int = 400
    """Corridors, a few at a time, taken out and put back in."""
    seed: int = 0
    exact_size: int = 3000
    """Boards of at most so many visits times sheets are solved to proof."""
    exact_nodes: int = 20_000


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
    search = Search(Board(problem, aims), effort, start)
    try:
        search.run(progress)
    except Stopped:
        pass
    search.board.put_back(search.best)
    return search.board.choice()


class Search:
    """A search under way, with the best plan so far."""

    def __init__(self, board: Board, effort: Effort, start: Choice | None) -> None:
        self.board, self.effort = board, effort
        self.random = np.random.default_rng(effort.seed)
        if start is not None:
            board.take(start)
        self.best, self.cost = board.keep(), board.total()

    def run(self, progress: Progress) -> None:
        """Proof on small boards, else a plan near the mix made better step by step."""
        board, effort = self.board, self.effort
        progress(0.0, STEP)
        if not board.areas or not board.out:
            return
        if len(board.visit) * board.out <= effort.exact_size:
            if solve(board, nodes=effort.exact_nodes) is not None:
                self.note()
            return
        mixed = self.begin()
        self.board.put_back(self.best)
        prices, expected = mixed.price[board.sheets.day], _expected(board, mixed)
        for number in range(effort.tries):
            progress(number / effort.tries, STEP)
            self.attempt(prices, expected)
        swap_all(board)
        self.note()

    def note(self) -> bool:
        """Keeps the board's plan if it is better; whether it is at least as good."""
        total = self.board.total()
        if total < self.cost - LITTLE:
            self.best, self.cost = self.board.keep(), total
            return True
        return total <= self.cost + LITTLE

    def begin(self) -> Mixed:
        """The best of some plans near mixes; its mix."""
        found, least = None, float("inf")
        for mixed in mix(self.board, self.effort.mixing_rounds, KEPT_FREE):
            prices = mixed.price[self.board.sheets.day]
            near(self.board, mixed, prices)
            self.note()
            if self.board.total() < least - LITTLE:
                least, found = self.board.total(), mixed
            self.board.clear()
            roll(self.board, 0, prices, _expected(self.board, mixed), WAY_SHARE)
            settle(self.board)
            swap_all(self.board)
            self.note()
            if self.board.total() < least - LITTLE:
                least, found = self.board.total(), mixed
        assert found is not None
        return found

    def attempt(self, prices: Floats, expected: Claims) -> None:
        """Takes a part of the plan out and puts it back in another way, kept if no worse."""
        board = self.board
        times = self.random.choice(TIMES)
        if self.random.random() < ROLL_SHARE:
            first = int(self.random.integers(board.out))
            last = min(board.out, first + int(self.random.integers(1, MOST_SHEETS)))
            moved = roll(board, first, prices * times, expected, WAY_SHARE, last)
            out = np.unique(board.area[moved[board.at[moved] == board.out]])
        else:
            out = _together(board, self.random)
            moved = np.concatenate([board.members[area] for area in out])
            for area in out:
                take_out(board, area)
        for area in out:
            plan_corridor(board, area, prices * times)
        settle(board, moved)
        if not self.note():
            board.put_back(self.best)
        elif board.total() <= self.cost:
            self.best = board.keep()


def _expected(board: Board, mixed: Mixed) -> Claims:
    """On which sheets' days the mix goes to a corridor (A, B)."""
    gone = np.zeros((board.areas, board.problem.horizon + 1), bool)
    gone[board.area, mixed.day] = True
    return gone[:, board.sheets.day]


def near(board: Board, mixed: Mixed, prices: Floats) -> None:
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
