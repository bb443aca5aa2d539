"""Filling sheets to the minute: the visits that save most, corridors and their ways included."""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.problem import Claims, Floats, Ints
from hotelwatch.core.planning.strict_costs import CLOSED

WAY_SHARE = 0.8
"""Of a way, for one visit later: others may share it."""
UNLIKELY = -1e18
LIKELY = 4
"""Candidates for a sheet have so many times its minutes."""


def roll(
    board: Board, first: int, *, price: Floats, expected: Claims, last: int | None = None
) -> Ints:
    """Empties sheets from one on, up to before ``last``, and fills them in turn.

    A visit saves what its best later place would cost more, minutes there at their price
    (B); only WAY_SHARE of a way counts there, and none where the corridor is ``expected``
    to be gone to anyway (A, B). Returns the visits that moved.
    """
    last = board.out if last is None else last
    before = board.at.copy()
    for visit in np.flatnonzero((board.at >= first) & (board.at < last)).tolist():
        board.move(visit, board.out)
    waiting = np.flatnonzero((board.at == board.out) | (board.at >= last))
    best = later_costs(board, waiting, first, price=price, expected=expected)
    stands = np.flatnonzero(board.at[waiting] != board.out)
    at, spent = board.at[waiting[stands]], board.minutes[waiting[stands]]
    best[stands] = (board.cost[waiting[stands], at] + price[at] * spent)[:, None]
    for sheet in range(first, last):
        free = (board.at[waiting] == board.out) | (board.at[waiting] >= last)
        cost = board.cost[waiting, sheet]
        saved = np.where(free & (cost < CLOSED), best[:, sheet + 1 - first] - cost, 0.0)
        good = np.flatnonzero(saved > LITTLE)
        for chosen in best_fill(board, sheet, waiting[good], saved[good]):
            board.move(chosen, sheet)
    return np.flatnonzero(board.at != before)


def later_costs(
    board: Board, visits: Ints, first: int = 0, *, price: Floats, expected: Claims
) -> Floats:
    """What each visit's best place costs from each sheet on, the first one first (n, B + 1)."""
    minutes, area = board.minutes[visits], board.area[visits]
    later = board.cost[visits, first:-1] + price[first:] * minutes[:, None]
    ways = WAY_SHARE * (board.walk + board.way * price[first:])
    later += ~expected[area, first:] * ways
    costs = np.column_stack([later, board.cost[visits, -1]])
    best: Floats = np.minimum.accumulate(costs[:, ::-1], axis=1)[:, ::-1].copy()
    return best


def best_fill(board: Board, sheet: int, visits: Ints, worth: Floats) -> list[int]:
    """The visits for an empty sheet that together are worth most, ways to corridors paid.

    An exact knapsack by whole minutes over corridors, each with its way, among the visits
    that are worth most for each minute.
    """
    room = int(board.left[sheet])
    visits, worth = _likely(board, visits, worth, room)
    way, walk = int(board.way), board.walk
    best = np.zeros(room + 1)
    steps: list[tuple[Ints, list[np.ndarray], np.ndarray]] = []
    order = np.argsort(board.area[visits], kind="stable")
    _, starts = np.unique(board.area[visits[order]], return_index=True)
    for rows in np.split(order, starts[1:]):
        if worth[rows].sum() <= walk or way > room:
            continue
        there = np.full(room + 1, UNLIKELY)
        there[way:] = best[: room + 1 - way] - walk
        takes = []
        for row in rows:
            length = int(board.minutes[visits[row]])
            take = np.zeros(room + 1, bool)
            if length <= room:
                more = there[: room + 1 - length] + worth[row]
                take[length:] = more > there[length:]
                there[length:] = np.maximum(there[length:], more)
            takes.append(take)
        goes = there > best
        best = np.where(goes, there, best)
        steps.append((rows, takes, goes))
    return [int(visits[row]) for row in _traced(board, visits, steps, room)]


def _likely(board: Board, visits: Ints, worth: Floats, room: int) -> tuple[Ints, Floats]:
    """Those worth most for each minute, several times as many as fit."""
    order = np.argsort(-worth / board.minutes[visits], kind="stable")
    much = np.cumsum(board.minutes[visits[order]])
    order = order[: int(np.searchsorted(much, LIKELY * room)) + 1]
    return visits[order], worth[order]


def _traced(
    board: Board,
    visits: Ints,
    steps: list[tuple[Ints, list[np.ndarray], np.ndarray]],
    room: int,
) -> list[int]:
    """Rows chosen, from the last corridor back to the first."""
    chosen = []
    for rows, takes, goes in reversed(steps):
        if not goes[room]:
            continue
        for row, take in zip(rows[::-1], takes[::-1], strict=True):
            if take[room]:
                chosen.append(int(row))
                room -= int(board.minutes[visits[row]])
        room -= int(board.way)
    return chosen
