"""The plan in the strict order: fewest overdue bed-days in these weeks, then the rest.

Teams that are alike on a day are one sheet at first. A mix of plans of whole corridors
gives what a minute of each sheet is worth, and sheets are filled at these prices; then
corridors are taken out and put back in, a few at a time, and visits traded, for as long
as the effort lasts. In the end the day's visits are shared out among its teams.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.bettering import better
from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.bounds import fewest_overdue
from hotelwatch.core.planning.corridor_prices import mix
from hotelwatch.core.planning.exact import solve
from hotelwatch.core.planning.exchange import settle
from hotelwatch.core.planning.few_days import (
    as_it_stands,
    choose,
    choose_within,
    eased,
    stretches,
)
from hotelwatch.core.planning.holding import Holding
from hotelwatch.core.planning.narrow import narrow_days
from hotelwatch.core.planning.parting import fill_parted
from hotelwatch.core.planning.problem import Choice, Claims, Floats, Ints, Problem
from hotelwatch.core.planning.refill import roll
from hotelwatch.core.planning.shareable import Sharing
from hotelwatch.core.planning.sharing import share_out
from hotelwatch.core.planning.strict_costs import BED_DAY, Aims
from hotelwatch.core.planning.trading import trade
from hotelwatch.core.planning.tries import put_anew, trouble
from hotelwatch.core.progress import Progress, Stopped, silent

STEP = "strict_plan"
TIMES = (0.0, 0.5, 1.0, 1.0, 1.5)
"""What prices are taken times, so that tries differ."""
EASED = (30.0, 10.0)
"""Minutes that a bed-day stands for, in turn, where likely sheets are looked for."""
CHOICES = 2_100
"""Times visits that all are put anew on likely sheets."""
FEW_ENOUGH = 1_200
"""Visits of which those of a few days can be put anew together, on any of these."""
CHOSEN = 300
"""Visits of a hotel for which that is all, if no bed-day can be saved; tries help small ones."""
CHOOSING_SHARE = 0.3
"""Of the time, about."""
WORSE = 16.0
"""Minutes that a plan may be worse by at first than the best, and be gone on from."""
NEARLY = 5 * BED_DAY
"""Minutes that a try may be worse by before its trades."""
TRADE_EACH = 20
"""Trades are looked for after so many tries."""
FITTINGS = 6
LESS = 2.0
"""Minutes of a day that its teams cannot share between them."""
OVERLOADED = 0.5
"""Of days."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to search, by steps: the same effort gives the same plan."""

    mixing_rounds: int = 40
    is_first: bool = False
    """Stops as soon as no plan can have fewer overdue bed-days, and tries nothing where
    days are too full to be shared out."""
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
    board = Board(problem, aims)
    if start is not None:
        board.take(start)
    best, cost = board.keep(), board.total()
    if not board.areas or not board.out:
        return board.choice()
    if len(board.visit) * board.out <= effort.exact_size:
        reached = _to_proof(board, effort, progress)
        if board.total() < cost - LITTLE:
            best, cost = board.keep(), board.total()
        if reached:
            board.put_back(best)
            return board.choice()
    search = Search(board, effort)
    with suppress(Stopped):
        search.run(progress)
    search.finish()
    if board.total() >= cost - LITTLE:
        board.put_back(best)
    return board.choice()


def _lessen(board: Board, sheet: int) -> None:
    """Takes some minutes off a sheet, and visits until it fits."""
    board.left[sheet] -= LESS
    while board.left[sheet] < 0:
        rows = np.flatnonzero(board.at == sheet)
        lost = board.cost[rows, -1] - board.cost[rows, sheet]
        board.move(int(rows[lost.argmin()]), board.out)


def _to_proof(board: Board, effort: Effort, progress: Progress) -> bool:
    """Solves a small board; whether the plan then on it is proven to be best."""
    with suppress(Stopped):
        progress(0.0, STEP)
        reached = solve(board, nodes=effort.exact_nodes)
        return reached is not None and reached[0] <= reached[1] + LITTLE
    return True


class Search:
    """A search under way, with the best plan so far."""

    def __init__(self, sheets: Board, effort: Effort) -> None:
        """Begins with the plan on the sheets."""
        self.sheets, self.effort = sheets, effort
        self.fewest = 0
        """No plan has fewer overdue bed-days."""
        self.board, self.of = sheets.merged()
        self.random = np.random.default_rng(effort.seed)
        for visit, sheet in enumerate(np.append(self.of, self.board.out)[sheets.at].tolist()):
            self.board.move(visit, sheet)
        self.sharing = Sharing(sheets, self.of)
        self.begin_here()

    def begin_here(self) -> None:
        """Takes the plan on the board as the best."""
        self.go_on_from_here()
        self.best, self.cost = self.here, self.total()

    def go_on_from_here(self) -> None:
        """Takes the plan on the board as the one that tries start from."""
        self.here = self.board.keep()

    def total(self) -> float:
        """All costs of the plan on the board, its days shared out among their teams."""
        total = self.board.total()
        if self.board is not self.sheets:
            total += self.sharing.total(self.board)
        return total

    def run(self, progress: Progress) -> None:
        """Sheets filled at the prices of a mix, made better step by step."""
        progress(0.0, STEP)
        is_shared = self.board.out < self.sheets.out and not self.board.way
        if self.effort.is_first and is_shared and _is_overloaded(self.board.problem):
            # Days will be too full for teams to share: their sheets at once.
            mixed = mix(self.board, self.effort.mixing_rounds)
            self.fill_sheets(mixed.price, mixed.gone)
            return
        holding = self._held()
        mixed = mix(self.board, self.effort.mixing_rounds)
        price, gone = mixed.price, mixed.gone
        self.fill(price, gone, holding)
        if self.sharing.total(self.board) >= BED_DAY:
            if not self.board.way and not self.effort.is_first:
                self.finish()
            price, gone = self.fill_sheets(price, gone)
        elif self.board.way:
            self.fewest = fewest_overdue(self.board.problem)
        elif not self.effort.is_first:
            self.choose(progress)
        self.search(price, gone, progress)

    def fill_sheets(self, price: Floats, gone: Claims) -> tuple[Floats, Claims]:
        """Goes on with each team's sheet, filled at the prices of the merged ones; its prices."""
        merged, self.board = self.board, self.sheets
        of_sheets = price[self.of], gone[:, self.of]
        self.begin_here()
        if not self.board.way:
            # So full that what ways cost hardly counts: as if each corridor were gone to anyway.
            self.fill(of_sheets[0], np.ones_like(of_sheets[1]))
            return of_sheets
        fill_parted(self.sheets, merged, self.of, price=price, expected=gone)
        better(self.board)
        self.note()
        self.go_back()
        return of_sheets

    def _held(self) -> Holding:
        """Holds visits that crowd narrow days where they stand best for these.

        Where ways come out of the day, the narrow days are others, and nobody is held.
        """
        board, nobody = self.board, np.full(len(self.board.at), self.board.out)
        if board.way:
            return Holding(board, nobody)
        narrow = narrow_days(board.problem)
        self.fewest = narrow.fewest
        stands = nobody if narrow.choice is None else self._sheets_of(narrow.choice)
        return Holding(board, stands)

    def choose(self, progress: Progress) -> None:
        """All visits put anew on their likely sheets, for other worths of a bed-day each time."""
        times = max(1, min(len(EASED), CHOICES // len(self.board.at)))
        stood = as_it_stands(self.board)
        for number, bed_day in enumerate(EASED[:times]):
            progress(CHOOSING_SHARE * number / times, STEP)
            self.go_back()
            mixed = mix(eased(self.board, bed_day), self.effort.mixing_rounds)
            choose(self.board, mixed.stands | stood)
            stood = as_it_stands(self.board)
            better(self.board)
            self.sharing.mend(self.board)
            self.note()
        self.go_back()
        if len(self.board.at) <= FEW_ENOUGH:
            self.choose_by_days(progress)

    def choose_by_days(self, progress: Progress) -> None:
        """Visits of a few days put anew on these, from the first days to the last."""
        for sheets in stretches(self.board):
            progress(CHOOSING_SHARE, STEP)
            choose_within(self.board, sheets)
        better(self.board)
        self.sharing.mend(self.board)
        self.note()
        self.go_back()

    def fill(self, price: Floats, gone: Claims, holding: Holding | None = None) -> None:
        """Fills all sheets anew at these prices; keeps the plan if it is the best."""
        self.board.clear()
        roll(self.board, 0, price=price, expected=gone)
        better(self.board)
        if holding is not None and holding.is_any:
            holding.free()
            better(self.board)
        if self.board is not self.sheets:
            self.sharing.mend(self.board)
        self.note()
        self.go_back()

    def go_back(self) -> None:
        """Puts the best plan on the board, to go on from there."""
        self.board.put_back(self.best)
        self.here = self.best

    def search(self, price: Floats, gone: Claims, progress: Progress) -> None:
        """Tries, for as long as the effort lasts."""
        if self.effort.is_first and self.board is self.sheets:
            return
        # On merged sheets, putting all visits anew does more than tries.
        is_done = self.board is not self.sheets and self.overdue() <= self.fewest
        if is_done and len(self.board.at) >= CHOSEN:
            return
        tries = self.effort.tries
        for number in range(tries):
            if self.effort.is_first and self.overdue() <= self.fewest:
                break
            progress(CHOOSING_SHARE + (1.0 - CHOOSING_SHARE) * number / tries, STEP)
            self.attempt(price, gone, worse=WORSE * (1.0 - number / tries))
            if number % TRADE_EACH == TRADE_EACH - 1:
                better(self.board)
                self.note()
                self.go_on_from_here()

    def overdue(self) -> int:
        """Overdue bed-days of the plan on the board."""
        return self.board.problem.overdue_bed_days(self.board.choice())

    def _sheets_of(self, choice: Choice) -> Ints:
        """The merged sheet of each visit on the board (R); the last one if it has none."""
        on = self.sheets.sheets
        number = {
            key: int(sheet)
            for key, sheet in zip(
                zip(on.day.tolist(), on.team.tolist(), strict=True), self.of, strict=True
            )
        }
        keys = zip(choice.on.tolist(), choice.team.tolist(), strict=True)
        sheets = np.array([number.get(key, self.board.out) for key in keys], np.int64)
        return sheets[self.board.visit]

    def finish(self) -> None:
        """The best plan on the sheets; days that cannot be shared out get fewer minutes."""
        self.board.put_back(self.best)
        if self.board is self.sheets:
            return
        for _ in range(FITTINGS):
            failed = share_out(self.sheets, self.board, self.of)
            if not failed:
                break
            for sheet in failed:
                _lessen(self.board, sheet)
            better(self.board)
        settle(self.sheets)
        is_whole = self.sheets.total() < self.cost + BED_DAY
        trade(self.sheets, within_days=is_whole)
        settle(self.sheets)

    def note(self) -> float:
        """Keeps the board's plan if it is better than the best; its total."""
        total = self.total()
        if total < self.cost - LITTLE:
            self.best, self.cost = self.board.keep(), total
        return total

    def attempt(self, prices: Floats, expected: Claims, *, worse: float = 0.0) -> None:
        """Takes a part of the plan out and puts it back in another way.

        Tries go on from there if it is not more minutes ``worse`` than the best plan.
        """
        board, random = self.board, self.random
        before = board.at.copy()
        price = prices * random.choice(TIMES)
        sharing = None if board is self.sheets else self.sharing
        put_anew(board, random, trouble(board, sharing, random), price=price, expected=expected)
        if self.cost + LITTLE < board.total() < self.cost + NEARLY:
            changed = np.flatnonzero(board.at != before)
            trade(board, sheets=np.union1d(board.at[changed], before[changed]))
        if board.total() <= self.cost + worse + LITTLE:
            if board is not self.sheets:
                self.sharing.mend(board)
            if self.note() <= self.cost + worse + LITTLE:
                self.go_on_from_here()
                return
        board.put_back(self.here)


def _is_overloaded(problem: Problem) -> bool:
    """Whether on most days more has fallen due than minutes sufficed for, whatever is open."""
    soon = problem.due < problem.horizon
    on = np.maximum(problem.due[soon], 0)
    needed = np.bincount(on, problem.minutes[soon], problem.horizon).cumsum()
    behind = needed > problem.team_minutes.sum(axis=1).cumsum()
    return bool(behind.mean() > OVERLOADED)
