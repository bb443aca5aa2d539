"""A plan made better by trades, exchanges and single moves, as long as any of them saves."""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.ejection import make_room
from hotelwatch.core.planning.exchange import settle, swap
from hotelwatch.core.planning.strict_costs import CLOSED
from hotelwatch.core.planning.trading import trade

SWAP_ROWS = 256
SWAP_ROUNDS = 6


def better(board: Board) -> None:
    """Trades and single moves, while they save; exchanges too where ways take minutes."""
    trade(board)
    settle(board)
    if board.way:
        swap_all(board)


def swap_all(board: Board) -> None:
    """Exchanges of the visits that could save most, and single moves, while they save."""
    for _ in range(SWAP_ROUNDS):
        stands = board.cost[np.arange(len(board.at)), board.at]
        regret = stands - board.cost.min(axis=1, initial=CLOSED)
        rows = np.argsort(-regret, kind="stable")[:SWAP_ROWS]
        found = swap(board, rows)
        found |= make_room(board)
        settle(board)
        if not found:
            break
