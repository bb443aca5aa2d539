"""Trades of up to two visits against two, against brute force over all of them."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from hypothesis import given, settings

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.strict_costs import Aims
from hotelwatch.core.planning.trading import trade
from tests.core.problems import AIMS, broken, problem
from tests.core.test_bounds import small

COST = Aims(moved_minutes=12, walks_in_day=False)


def test_one_long_visit_goes_for_two_short_ones():
    """On a day of 40: 34 minutes with one bed stand in the way of 20 and 20 with one each.

    Alone neither move saves: both short ones only fit when the long one leaves.
    """
    made = problem([34, 20, 20], [0, 0, 0], [{0, 1}] * 3, [40, 40])
    board = Board(made, COST)
    board.move(0, 0)
    board.move(1, 1)
    board.move(2, 1)
    assert trade(board)
    assert board.at.tolist() == [1, 0, 0]


def subsets(rows):
    return [*combinations(rows, 0), *combinations(rows, 1), *combinations(rows, 2)]


def best_trade(board):
    """What the best trade of all would save, by trying each; ways cost, and take no minutes."""
    most = 0.0
    stands = board.keep()
    for one, other in combinations(range(board.out + 1), 2):
        here, there = (np.flatnonzero(board.at == s).tolist() for s in (one, other))
        for mine in subsets(here):
            for theirs in subsets(there):
                moves = [*((v, other) for v in mine), *((v, one) for v in theirs)]
                if any(board.cost[v, s] >= 1e11 for v, s in moves):
                    continue
                before = board.total()
                for visit, sheet in moves:
                    board.move(visit, sheet)
                if (board.left >= 0).all():
                    most = max(most, before - board.total())
                board.put_back(stands)
    return most


@settings(max_examples=60, deadline=None)
@given(small(visits=7, days=3, teams=1))
def test_no_trade_between_corridors_apart_is_left(made):
    """Each visit in a corridor of its own, so that ways of two cannot be shared."""
    made = made.with_changes(area=np.arange(made.visits))
    board = Board(made, COST)
    trade(board)
    assert not broken(made.with_changes(area_minutes=0), board.choice())
    assert best_trade(board) <= 10 * LITTLE


@settings(max_examples=60, deadline=None)
@given(small(visits=7, days=4))
def test_trades_never_cost_and_never_break_a_day(made):
    for aims in (COST, AIMS):
        board = Board(made, aims)
        before = board.total()
        traded = trade(board)
        assert board.total() < before - LITTLE if traded else board.total() == before
        free = made if aims.walks_in_day else made.with_changes(area_minutes=0)
        assert not broken(free, board.choice())


def test_only_between_sheets_of_a_day_if_asked():
    made = problem([20], [0], [{0, 1}], [40, 40])
    board = Board(made, COST)
    board.move(0, 1)
    assert not trade(board, within_days=True)
    assert not trade(board, sheets=np.array([2]), within_days=True)
    assert trade(board)
