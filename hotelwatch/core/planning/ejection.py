"""Making room on a sheet: a visit that stands badly goes there, one or two others leave it."""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.problem import Floats, Ints
from hotelwatch.core.planning.strict_costs import CLOSED

WORST = 40
"""Visits that stand worst, for which room is sought."""
SHEETS = 24
"""Sheets tried for each."""


def make_room(board: Board) -> bool:
    """One pass over the visits that stand worst; whether any found room."""
    stands = board.cost[np.arange(len(board.at)), board.at]
    regret = stands - board.cost.min(axis=1, initial=CLOSED)
    found = False
    for visit in np.argsort(-regret, kind="stable")[:WORST].tolist():
        if regret[visit] > LITTLE:
            found |= _make_room_for(board, visit)
    return found


def _make_room_for(board: Board, visit: int) -> bool:
    """Tries sheets from the cheapest on."""
    now = board.cost[visit, board.at[visit]]
    order = np.argsort(board.cost[visit, :-1], kind="stable")[:SHEETS]
    for sheet in order[board.cost[visit, order] < now - LITTLE].tolist():
        if _exchange(board, visit, sheet):
            return True
    return False


def _exchange(board: Board, visit: int, sheet: int) -> bool:
    """Puts a visit on a sheet if those who leave it lose less than it wins."""
    others = np.flatnonzero(board.at == sheet)
    lose, place = _elsewhere(board, others, sheet)
    won = board.cost[visit, board.at[visit]] - board.cost[visit, sheet]
    new = board.count[board.area[visit], sheet] == 0
    lacks = board.minutes[visit] + board.way * new - board.left[sheet]
    won -= board.walk * new
    freed = board.minutes[others] + board.way * (board.count[board.area[others], sheet] == 1)
    lost, frees = _ones_and_twos(lose), _ones_and_twos(freed)
    first, second = np.nonzero(np.triu((lost < won - LITTLE) & (frees >= lacks - board.way)))
    for pair in np.argsort(lost[first, second], kind="stable").tolist():
        who = sorted({int(first[pair]), int(second[pair])})
        goes = [(int(others[n]), int(place[n])) for n in who]
        if _done(board, [*goes, (visit, sheet)]):
            return True
    return False


def _ones_and_twos(values: Floats) -> Floats:
    """The sum of each two; of one alone on the diagonal (n, n)."""
    sums: Floats = values[:, None] + values
    np.fill_diagonal(sums, values)
    return sums


def _elsewhere(board: Board, visits: Ints, sheet: int) -> tuple[Floats, Ints]:
    """What each visit would lose on the best other sheet with room for it, and which."""
    area = board.area[visits]
    new = board.count[area] == 0
    new[:, board.out] = False
    cost = board.cost[visits] + board.walk * new
    fits = board.minutes[visits][:, None] + board.way * new <= board.left
    cost[~fits] = CLOSED
    cost[:, sheet] = CLOSED
    place = cost.argmin(axis=1)
    alone = board.walk * (board.count[area, sheet] == 1)
    return cost[np.arange(len(visits)), place] - board.cost[visits, sheet] - alone, place


def _done(board: Board, goes: list[tuple[int, int]]) -> bool:
    """Makes the moves one by one; takes them back unless all fit and together save."""
    before, saved = [], 0.0
    for visit, sheet in goes:
        gain = board.gain(visit, sheet)
        if gain <= -CLOSED:
            break
        before.append((visit, int(board.at[visit])))
        board.move(visit, sheet)
        saved += gain
    else:
        if saved > LITTLE:
            return True
    for visit, sheet in reversed(before):
        board.move(visit, sheet)
    return False
