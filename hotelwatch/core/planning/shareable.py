"""Days made shareable among their teams without further ways, by few and cheap changes.

A full day's corridors seldom fill its teams to the minute. One visit moved or exchanged
with another day often does it, and costs less than one more way.
"""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.problem import Floats, Ints
from hotelwatch.core.planning.sharing import extra_ways, part_whole
from hotelwatch.core.planning.strict_costs import BED_DAY

MOST_CHANGES = 150
"""Tried for each day."""
OVERLOADED = 0.25
"""Of days: where more do not fit, none of those tried on invented hotels was mended."""
CHEAPEST = 60
"""Visits of other days that might come, by what that costs."""

Moves = list[tuple[int, int]]


class Sharing:
    """What sharing out the days of a merged board costs, each set of visits worked out once."""

    def __init__(self, sheets: Board, of: Ints) -> None:
        """``of``: on which merged sheet each sheet stands (B)."""
        self.sheets, self.of = sheets, of
        self.extras: dict[tuple[int, bytes], float] = {}
        self.whole: dict[tuple[int, bytes], bool] = {}

    def extra(self, board: Board, place: int) -> float:
        """Minutes beyond one way for each corridor; a bed-day if the visits do not all fit."""
        rows = np.flatnonzero(board.at == place)
        key = place, rows.tobytes()
        if key not in self.extras:
            ways = extra_ways(self.sheets, rows, np.flatnonzero(self.of == place))
            self.extras[key] = BED_DAY if ways is None else board.walk * ways
        return self.extras[key]

    def total(self, board: Board) -> float:
        """Of all days."""
        return sum(self.extra(board, place) for place in range(board.out))

    def _is_whole(self, board: Board, place: int) -> bool:
        rows = np.flatnonzero(board.at == place)
        key = place, rows.tobytes()
        if key not in self.whole:
            parted = part_whole(self.sheets, rows, np.flatnonzero(self.of == place))
            self.whole[key] = parted is not None
        return self.whole[key]

    def mend(self, board: Board) -> None:
        """Changes days that take further ways, as long as that saves something.

        Not where so many days do not fit their teams that few changes cannot help.
        """
        changed = True
        while changed:
            extras = [self.extra(board, place) for place in range(board.out)]
            if sum(extra >= BED_DAY for extra in extras) > OVERLOADED * len(extras):
                return
            places = [place for place, extra in enumerate(extras) if extra > LITTLE]
            changed = any(self._mend(board, place) for place in places)

    def _mend(self, board: Board, place: int) -> bool:
        """Makes the first cheap change after which the day needs no further way, if any."""
        extra = self.extra(board, place)
        before = board.total()
        for moves in _changes(board, place, extra):
            stood = [(visit, int(board.at[visit])) for visit, _ in moves]
            other = {sheet for _, sheet in (*moves, *stood)} - {place, board.out}
            now = extra + sum(self.extra(board, one) for one in other)
            for visit, sheet in moves:
                board.move(visit, sheet)
            fits = bool((board.left[[place, *other]] >= 0).all())
            if fits and board.total() < before + now - LITTLE and self._is_whole(board, place):
                then = sum(self.extra(board, one) for one in other)
                if board.total() + then < before + now - LITTLE:
                    return True
            for visit, sheet in reversed(stood):
                board.move(visit, sheet)
        return False


def _changes(board: Board, place: int, most: float) -> list[Moves]:
    """The cheapest moves off or onto a sheet and exchanges with others, that cost less."""
    here = np.flatnonzero(board.at == place)
    there = np.flatnonzero(board.at != place)
    go = board.changes(here)
    come = board.changes(there)[:, place]
    order = np.argsort(come, kind="stable")[:CHEAPEST]
    there, come = there[order], come[order]
    found: list[tuple[float, Moves]] = []
    for n, sheet in np.argwhere(go < most).tolist():
        found.append((float(go[n, sheet]), [(int(here[n]), sheet)]))
    for n in np.flatnonzero(come < most).tolist():
        found.append((float(come[n]), [(int(there[n]), place)]))
    both: Floats = go[:, board.at[there]] + come[None, :]
    for n, m in np.argwhere(both < most).tolist():
        moves = [(int(here[n]), int(board.at[there[m]])), (int(there[m]), place)]
        found.append((float(both[n, m]), moves))
    found.sort(key=lambda one: one[0])
    return [moves for _, moves in found[:MOST_CHANGES]]
