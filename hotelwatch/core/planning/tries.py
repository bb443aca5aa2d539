"""A part of the plan taken out and put back in another way, mostly where something is amiss."""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.exchange import plan_corridor, settle, take_out
from hotelwatch.core.planning.problem import Claims, Floats, Ints
from hotelwatch.core.planning.refill import roll
from hotelwatch.core.planning.shareable import Sharing
from hotelwatch.core.planning.strict_costs import BED_DAY

ROLL_SHARE = 0.5
MOST_SHEETS = 12
"""Sheets filled anew together."""
TROUBLE_SHARE = 0.7
"""Of tries, where something is amiss."""
MOST_OUT = 4
"""Corridors taken out together."""
Trouble = tuple[int, int] | None
"""A corridor and a sheet."""


def trouble(board: Board, sharing: Sharing | None, random: np.random.Generator) -> Trouble:
    """A corridor and a sheet that something is amiss with; None without any, or by chance.

    That is a visit that is late but need not be, else a day that teams cannot share
    without more ways (``sharing``; None: each team has a sheet of its own).
    """
    if random.random() >= TROUBLE_SHARE:
        return None
    late = _avoidably_late(board)
    if len(late):
        visit = int(random.choice(late))
        return int(board.area[visit]), int(random.choice(_in_time(board, visit)))
    if sharing is None:
        return None
    places = [place for place in range(board.out) if sharing.extra(board, place)]
    if not places:
        return None
    place = int(random.choice(places))
    return int(random.choice(board.area[board.at == place])), place


def put_anew(
    board: Board, random: np.random.Generator, about: Trouble, *, price: Floats, expected: Claims
) -> None:
    """Empties some sheets in a row or some corridors, and puts back what fits at these prices.

    Corridors that are ``expected`` on a sheet anyway cost no way there (A, B).
    """
    if random.random() < ROLL_SHARE:
        first, last = _some_sheets(board, random, about)
        moved = roll(board, first, price=price, expected=expected, last=last)
        out = np.unique(board.area[moved[board.at[moved] == board.out]])
    else:
        out = _together(board, random, about)
        moved = np.concatenate([board.members[area] for area in out])
        for area in out:
            take_out(board, area)
    for area in out:
        plan_corridor(board, area, price=price)
    settle(board, moved)


def _avoidably_late(board: Board) -> Ints:
    """Visits that stand a bed-day worse than they could."""
    stands = board.cost[np.arange(len(board.at)), board.at]
    return np.flatnonzero(stands - board.cost.min(axis=1) > BED_DAY / 2)


def _in_time(board: Board, visit: int) -> Ints:
    """Sheets on which a visit is as little late as it can be."""
    cost = board.cost[visit, :-1]
    return np.flatnonzero(cost < cost.min() + BED_DAY / 2)


def _some_sheets(board: Board, rng: np.random.Generator, about: Trouble) -> tuple[int, int]:
    """Some sheets in a row, among them the one in trouble."""
    count = int(rng.integers(1, MOST_SHEETS))
    first = int(rng.integers(board.out))
    if about is not None:
        first = max(0, about[1] - int(rng.integers(count)))
    return first, min(board.out, first + count)


def _together(board: Board, rng: np.random.Generator, about: Trouble) -> Ints:
    """A few corridors that share sheets, or those of the trouble."""
    if about is None:
        first = int(rng.integers(board.areas))
        used = board.count[first, :-1] > 0
        shares = np.any(board.count[:, :-1][:, used] > 0, axis=1)
    else:
        first, sheet = about
        shares = board.count[:, sheet] > 0
    shares[first] = False
    near = np.flatnonzero(shares)
    more = min(int(rng.integers(0 if about is None else 1, MOST_OUT)), len(near))
    found = np.append(rng.choice(near, more, replace=False) if more else near[:0], first)
    return rng.permutation(found)
