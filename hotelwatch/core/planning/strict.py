"""The plan in the strict order: fewest overdue bed-days in these weeks, then the rest.

First a mix of plans of whole corridors gives what a minute of each day is worth; it is
rounded corridor by corridor; then corridors are taken out and put back in, a few at a
time, and visits exchanged, for as long as the effort lasts.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.corridor_prices import Mixed, mix
from hotelwatch.core.planning.ejection import make_room
from hotelwatch.core.planning.exact import solve
from hotelwatch.core.planning.exchange import plan_corridor, settle, swap, take_out
from hotelwatch.core.planning.problem import Choice, Claims, Floats, Ints, Problem
from hotelwatch.core.planning.refill import roll
from hotelwatch.core.planning.strict_costs import CLOSED, Aims
from hotelwatch.core.progress import Progress, Stopped, silent

STEP = "strict_plan"
WHOLE = 0.999
SWAP_ROWS = 256
SWAP_ROUNDS = 6
KEPT_FREE = (0.02, 0.0, 0.04)
"""Shares of days that plans near a mix start with: whole visits never fill them all."""
TIMES = (0.0, 0.5, 1.0, 1.0, 1.5)
"""What prices are taken times, so that tries differ."""
ROLL_SHARE = 0.5
MOST_SHEETS = 12
"""Sheets filled anew together."""
SWAP_EACH = 20
"""Exchanges of single visits are looked for after so many tries."""
MOST_OUT = 4
"""Corridors taken out together."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to search, by steps: the same effort gives the same plan."""

    mixing_rounds: int = 40
    mixes: int = len(KEPT_FREE)
    tries: int = 400
    """Corridors, a few at a time, taken out and put back in."""
    seed: int = 0
    exact_size: int = 500
    """Boards of at most so many visits times sheets are solved to proof."""
    exact_nodes: int = 2_000


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
    with suppress(Stopped):
        search.run(progress)
    search.board.put_back(search.best)
    return search.board.choice()


class Search:
    """A search under way, with the best plan so far."""

    def __init__(self, board: Board, effort: Effort, start: Choice | None) -> None:
        """Begins with ``start`` if there is one, else with nothing planned."""
        self.board, self.effort = board, effort
        self.random = np.random.default_rng(effort.seed)
        if start is not None:
            board.take(start)
        self.best, self.cost = board.keep(), board.total()
        self.here = self.best
        """The plan that tries start from: as good as the best, seldom the same."""

    def run(self, progress: Progress) -> None:
        """Proof on small boards, else a plan near the mix made better step by step."""
        board, effort = self.board, self.effort
        progress(0.0, STEP)
        if not board.areas or not board.out:
            return
        if len(board.visit) * board.out <= effort.exact_size:
            reached = solve(board, nodes=effort.exact_nodes)
            self.note()
            if reached is not None and reached[0] <= reached[1] + LITTLE:
                return
        mixed = self.begin(progress)
        board.put_back(self.best)
        self.here = self.best
        prices, expected = mixed.price[board.sheets.day], _expected(board, mixed)
        for number in range(effort.tries):
            progress(number / effort.tries, STEP)
            self.attempt(prices, expected)
            if number % SWAP_EACH == SWAP_EACH - 1:
                swap_all(board)
                self.note()
                self.here = board.keep()

    def note(self) -> None:
        """Keeps the board's plan if it is better than the best."""
        total = self.board.total()
        if total < self.cost - LITTLE:
            self.best, self.cost = self.board.keep(), total

    def begin(self, progress: Progress) -> Mixed:
        """The best of some plans near mixes; its mix."""
        board = self.board
        found, least = None, float("inf")
        for mixed in mix(board, self.effort.mixing_rounds, KEPT_FREE[: self.effort.mixes]):
            prices = mixed.price[board.sheets.day]
            near(board, mixed, prices)
            self.note()
            total = board.total()
            board.clear()
            roll(board, 0, price=prices, expected=_expected(board, mixed))
            settle(board)
            swap_all(board)
            self.note()
            total = min(total, board.total())
            if total < least - LITTLE:
                least, found = total, mixed
            progress(0.0, STEP)
        assert found is not None
        return found

    def attempt(self, prices: Floats, expected: Claims) -> None:
        """Takes a part of the plan out and puts it back in another way, kept if no worse."""
        board = self.board
        times = self.random.choice(TIMES)
        if self.random.random() < ROLL_SHARE:
            first = int(self.random.integers(board.out))
            last = min(board.out, first + int(self.random.integers(1, MOST_SHEETS)))
            moved = roll(board, first, price=prices * times, expected=expected, last=last)
            out = np.unique(board.area[moved[board.at[moved] == board.out]])
        else:
            out = _together(board, self.random)
            moved = np.concatenate([board.members[area] for area in out])
            for area in out:
                take_out(board, area)
        for area in out:
            plan_corridor(board, area, price=prices * times)
        settle(board, moved)
        if board.total() <= self.cost + LITTLE:
            self.note()
            self.here = board.keep()
        else:
            board.put_back(self.here)


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
        plan_corridor(board, area, price=prices)
    settle(board)
    swap_all(board)


def _put_together(board: Board, rows: Ints, day: int) -> None:
    """A corridor's visits of a day on one sheet, else on as few as they fit on."""
    sheets = np.flatnonzero(board.sheets.day == day)
    while len(rows) and len(sheets):
        able = np.array([board.cost[rows, s].max() < CLOSED for s in sheets])
        room = board.left[sheets] - board.way - board.minutes[rows].sum()
        if (able & (room >= 0)).any():
            sheet = sheets[np.where(able & (room >= 0), room, np.inf).argmin()]
        else:
            sheet = sheets[room.argmax()]
        for visit in rows:
            if board.gain(visit, sheet) > -CLOSED:
                board.move(visit, sheet)
        rows = rows[board.at[rows] == board.out]
        sheets = sheets[sheets != sheet]


def swap_all(board: Board) -> None:
    """Exchanges of the visits that could save most, and single moves, while they save."""
    for _ in range(SWAP_ROUNDS):
        stands = board.cost[np.arange(len(board.at)), board.at]
        regret = stands - board.cost.min(axis=1, initial=CLOSED)
        rows = np.argsort(-regret, kind="stable")[:SWAP_ROWS]
        better = swap(board, rows)
        better |= make_room(board)
        settle(board)
        if not better:
            break


def _together(board: Board, rng: np.random.Generator) -> Ints:
    """A few corridors that share sheets, in any order."""
    first = int(rng.integers(board.areas))
    used = board.count[first, :-1] > 0
    shares = np.any(board.count[:, :-1][:, used] > 0, axis=1)
    shares[first] = False
    near = np.flatnonzero(shares)
    more = min(int(rng.integers(0, MOST_OUT)), len(near))
    found = np.append(rng.choice(near, more, replace=False) if more else near[:0], first)
    return rng.permutation(found)
