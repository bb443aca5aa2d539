"""Trades between two sheets: up to two visits one way against up to two the other.

Visits of the same minutes are alike for a sheet, so of each sheet only the two that would
go the cheapest to each other sheet are looked at, by minutes. All trades of a plan are
then a table, and every one of them is tried.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations_with_replacement

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.problem import Claims, Floats, Ints
from hotelwatch.core.planning.strict_costs import CLOSED

MOST_LENGTHS = 8
"""Different minutes of visits that are told apart; visits of other minutes are not traded."""
ROUNDS = 60
NOBODY = -1
AT_ONCE = 400_000
"""Trades in one table."""


@dataclass(frozen=True, slots=True)
class Hands:
    """What one sheet may hand to another: nobody, one or two visits, by their minutes."""

    first: Ints
    """Number of the minutes of the first visit; K: nobody (O)."""
    second: Ints
    is_same: np.ndarray
    """Whether both have the same minutes (O)."""
    minutes: Ints


def hands_of(lengths: Ints) -> Hands:
    """All hands of visits with such minutes (K)."""
    nobody = len(lengths)
    pairs = list(combinations_with_replacement(range(nobody + 1), 2))
    first = np.array([one for one, _ in pairs])
    second = np.array([other for _, other in pairs])
    minutes = np.append(lengths, 0)
    is_same = (first == second) & (first != nobody)
    return Hands(first, second, is_same, minutes[first] + minutes[second])


def trade(board: Board, *, sheets: Ints | None = None, within_days: bool = False) -> bool:
    """Makes the trades that save most, as long as any saves something; whether any did.

    ``sheets``: only trades that one of these takes part in. ``within_days``: only between
    sheets of the same day.
    """
    lengths, length = _lengths(board)
    if not len(lengths):
        return False
    hands = hands_of(lengths)
    one, other = np.triu_indices(board.out + 1, 1)
    if within_days:
        day = np.append(board.sheets.day, NOBODY)
        one, other = one[day[one] == day[other]], other[day[one] == day[other]]
    if sheets is not None:
        some = np.isin(one, sheets) | np.isin(other, sheets)
        one, other = one[some], other[some]
    best = Best(one, other)
    traded = False
    for _ in range(ROUNDS):
        changed = _round(board, hands, (length, len(lengths)), best)
        if not changed.any():
            break
        traded = True
        best.is_old = changed[one] | changed[other]
    return traded


def _lengths(board: Board) -> tuple[Ints, Ints]:
    """The commonest minutes, and which of them each visit has; -1 for others."""
    found, which, often = np.unique(
        board.minutes.astype(np.int64), return_inverse=True, return_counts=True
    )
    common = np.argsort(-often, kind="stable")[:MOST_LENGTHS]
    place = np.full(len(found), NOBODY)
    place[common] = np.arange(len(common))
    return found[common], place[which]


def _round(board: Board, hands: Hands, lengths: tuple[Ints, int], best: Best) -> Claims:
    """Makes the best trade of each two sheets, those first that save most; whose (B + 1)."""
    cost, who = _cheapest(board, *lengths)
    width = board.out + 1
    # Nobody costs nothing.
    cost = np.concatenate([cost, np.zeros((2, width, 1, width))], axis=2)
    who = np.concatenate([who, np.full((2, width, 1, width), NOBODY)], axis=2)
    second = np.where(hands.is_same[:, None], cost[1][:, hands.second], cost[0][:, hands.second])
    best.look(board, hands, cost[0][:, hands.first] + second)
    changed = np.zeros(width, bool)
    for n in np.argsort(-best.most, kind="stable"):
        if best.most[n] <= LITTLE:
            break
        d, e = int(best.one[n]), int(best.other[n])
        if changed[d] or changed[e]:
            continue
        moves = _moves(who, hands, (d, e), int(best.mine[n]))
        moves += _moves(who, hands, (e, d), int(best.theirs[n]))
        if board.try_moves(moves):
            changed[[d, e]] = True
    return changed


class Best:
    """The most that each two sheets (P pairs) can save, and the hands of both."""

    def __init__(self, one: Ints, other: Ints) -> None:
        """Nothing looked at yet."""
        self.one, self.other = one, other
        self.most: Floats = np.zeros(len(one))
        self.mine: Ints = np.zeros(len(one), np.int64)
        self.theirs: Ints = np.zeros(len(one), np.int64)
        self.is_old: Claims = np.ones(len(one), bool)
        """Pairs of which a sheet has changed."""

    def look(self, board: Board, hands: Hands, of_hand: Floats) -> None:
        """Looks at pairs that have changed; ``of_hand``: what hands cost (B + 1, O, B + 1)."""
        more = hands.minutes[:, None] - hands.minutes[None, :]
        size = len(hands.minutes)
        step = max(1, AT_ONCE // size**2)
        old = np.flatnonzero(self.is_old)
        for first in range(0, len(old), step):
            some = old[first : first + step]
            d, e = self.one[some], self.other[some]
            saved = -(of_hand[d, :, e][:, :, None] + of_hand[e, :, d][:, None, :])
            fits = more <= board.left[e][:, None, None]
            fits &= -more <= board.left[d][:, None, None]
            saved = np.where(fits, saved, 0.0).reshape(len(some), size**2)
            place = saved.argmax(axis=1)
            self.most[some] = saved[np.arange(len(some)), place]
            self.mine[some], self.theirs[some] = np.divmod(place, size)


def _cheapest(board: Board, length: Ints, lengths: int) -> tuple[Floats, Ints]:
    """Of each sheet and length the two visits that go the cheapest to each other sheet.

    Their costs and rows (2, B + 1, K, B + 1).
    """
    width = board.out + 1
    cost = np.full((2, width * lengths, width), CLOSED)
    who = np.full((2, width * lengths, width), NOBODY)
    rows = np.flatnonzero(length != NOBODY)
    group = board.at[rows] * lengths + length[rows]
    order = np.argsort(group, kind="stable")
    rows, group = rows[order], group[order]
    change = board.changes(rows)
    groups, starts = np.unique(group, return_index=True)
    sizes = np.diff(np.append(starts, len(rows)))
    number = np.arange(len(rows))[:, None]
    for rank in range(2):
        least = np.minimum.reduceat(change, starts, axis=0)
        is_least = change == np.repeat(least, sizes, axis=0)
        which = np.minimum.reduceat(np.where(is_least, number, len(rows)), starts, axis=0)
        cost[rank, groups] = least
        who[rank, groups] = np.where(least < CLOSED / 2, rows[which], NOBODY)
        change[which, np.arange(width)] = CLOSED
    shape = (2, width, lengths, width)
    return cost.reshape(shape), who.reshape(shape)


def _moves(who: np.ndarray, hands: Hands, way: tuple[int, int], hand: int) -> list[tuple[int, int]]:
    """The visits of a hand, and where they go."""
    here, there = way
    first = int(who[0, here, hands.first[hand], there])
    second = int(who[int(hands.is_same[hand]), here, hands.second[hand], there])
    return [(visit, there) for visit in (first, second) if visit != NOBODY]
