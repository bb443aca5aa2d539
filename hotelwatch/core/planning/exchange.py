"""Making a plan better by moving visits between sheets, and corridors between days."""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.problem import Floats, Ints
from hotelwatch.core.planning.strict_costs import CLOSED

AT_ONCE = 200
"""Changes tried from one table of gains before it is made anew."""


def settle(board: Board, rows: Ints | None = None) -> None:
    """Single visits, all or only ``rows``, go where they cost less, as long as any does."""
    rows = np.arange(len(board.at)) if rows is None else rows
    while len(rows) and _move_singly(board, rows):
        pass


def _move_singly(board: Board, rows: Ints) -> bool:
    at, area = board.at[rows], board.area[rows]
    alone = (board.count[area, at] == 1) & (at != board.out)
    new = (board.count == 0)[area]
    new[:, board.out] = False
    saved = (board.cost[rows, at] + board.walk * alone)[:, None] - board.cost[rows]
    saved -= board.walk * new
    fits = board.minutes[rows][:, None] + board.way * new <= board.left
    saved[~fits] = 0.0
    saved[np.arange(len(rows)), at] = 0.0
    best = saved.argmax(axis=1)
    gains = saved[np.arange(len(rows)), best]
    moved = False
    for n in np.argsort(-gains, kind="stable")[:AT_ONCE]:
        if gains[n] <= LITTLE:
            break
        if board.gain(rows[n], best[n]) > LITTLE:
            board.move(rows[n], best[n])
            moved = True
    return moved


def swap(board: Board, rows: Ints) -> bool:
    """Exchanges visits of ``rows`` one against one with any other; whether any did."""
    gains = _swap_gains(board, rows)
    best = gains.argmax(axis=1)
    most = gains[np.arange(len(rows)), best]
    swapped = False
    for n in np.argsort(-most, kind="stable")[:AT_ONCE]:
        if most[n] <= LITTLE:
            break
        swapped |= _swap(board, int(rows[n]), int(best[n]))
    return swapped


def _swap(board: Board, one: int, other: int) -> bool:
    """Exchanges two visits if that still saves something."""
    here, there = int(board.at[one]), int(board.at[other])
    if here == there or max(board.cost[one, there], board.cost[other, here]) >= CLOSED:
        return False
    saved = board.gain(one, board.out)
    board.move(one, board.out)
    first = board.gain(other, here)
    if first > -CLOSED:
        board.move(other, here)
        second = board.gain(one, there)
        if saved + first + second > LITTLE:
            board.move(one, there)
            return True
        board.move(other, there)
    board.move(one, here)
    return False


def _swap_gains(board: Board, rows: Ints) -> Floats:
    at, area, count = board.at, board.area, board.count
    others = np.arange(len(at))
    same_area = area[rows][:, None] == area
    saved = board.cost[rows, at[rows]][:, None] + board.cost[others, at]
    saved = saved - board.cost[rows][:, at] - board.cost[:, at[rows]].T
    alone = (count[area, at] == 1) & (at != board.out)
    goes = board.way * (alone[rows][:, None] & ~same_area)
    other_goes = board.way * (alone & ~same_area)
    new = (count[area[rows]][:, at] == 0) & ~same_area & (at != board.out)
    other_new = (count[area][:, at[rows]].T == 0) & ~same_area
    other_new &= (at[rows] != board.out)[:, None]
    saved += board.walk * (alone[rows][:, None] & ~same_area)
    saved += board.walk * (alone & ~same_area)
    saved -= board.walk * new + board.walk * other_new
    mine, theirs = board.minutes[rows][:, None], board.minutes[None, :]
    fits = theirs + board.way * other_new <= board.left[at[rows]][:, None] + mine + goes
    fits &= mine + board.way * new <= board.left[at] + theirs + other_goes
    return np.where(fits & (at[rows][:, None] != at), saved, 0.0)


def take_out(board: Board, area: int) -> None:
    """Leaves a corridor out, all of it."""
    for visit in board.members[area].tolist():
        board.move(visit, board.out)


def plan_corridor(board: Board, area: int, *, price: Floats) -> None:
    """Puts a corridor that is out back in, sheet after sheet by what each saves.

    ``price`` is what a minute of each sheet is worth to the other corridors (B).
    """
    rows = board.members[area]
    minutes = board.minutes[rows]
    cost = board.cost[rows]
    cost[:, :-1] += minutes[:, None] * price
    where = np.arange(len(rows))
    for _ in range(2 * len(rows)):
        now = cost[where, board.at[rows]]
        gain = now[:, None] - cost[:, :-1]
        new = board.count[area, :-1] == 0
        left = board.left[:-1] - board.way * new
        chosen, saved = _fill(gain, minutes, left)
        saved -= new * (board.walk + board.way * price)
        sheet = int(saved.argmax())
        if saved[sheet] <= LITTLE:
            break
        for visit in rows[chosen[:, sheet]]:
            board.move(visit, sheet)
    _close_sheets(board, area, cost)


def _fill(gain: Floats, minutes: Floats, left: Floats) -> tuple[np.ndarray, Floats]:
    """Which visits each sheet would best take, by gain for each minute, and their sum."""
    order = np.argsort(-gain / minutes[:, None], axis=0, kind="stable")
    sheets = np.arange(gain.shape[1])
    chosen = np.zeros(gain.shape, bool)
    saved = np.zeros(gain.shape[1])
    left = left.copy()
    for visit in order:
        of_visit = gain[visit, sheets]
        takes = (of_visit > LITTLE) & (minutes[visit] <= left)
        if not takes.any():
            continue
        chosen[visit[takes], sheets[takes]] = True
        saved += of_visit * takes
        left -= minutes[visit] * takes
    return chosen, saved


def _close_sheets(board: Board, area: int, cost: Floats) -> None:
    """Spares a way where the visits of a sheet fit on the corridor's other sheets."""
    rows = board.members[area]
    for sheet in np.flatnonzero(board.count[area, :-1]):
        others = np.flatnonzero(board.count[area])
        others = np.append(others[(others != sheet) & (others != board.out)], board.out)
        here = np.flatnonzero(board.at[rows] == sheet)
        left = board.left[others].copy()
        goes, more = [], -board.walk
        for n in here:
            of_other = np.where(board.minutes[rows[n]] <= left, cost[n, others], CLOSED)
            best = int(of_other.argmin())
            more += of_other[best] - cost[n, sheet]
            left[best] -= board.minutes[rows[n]]
            goes.append((rows[n], others[best]))
        if more < -LITTLE:
            for visit, other in goes:
                board.move(visit, other)
