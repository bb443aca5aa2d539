"""All visits put anew on few sheets: another solver, brute force and laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.corridor_prices import mix
from hotelwatch.core.planning.exact import go_on
from hotelwatch.core.planning.few_days import (
    ENOUGH,
    IN_A_ROW,
    as_it_stands,
    choose,
    choose_within,
    eased,
    stretches,
)
from hotelwatch.core.planning.strict_costs import BED_DAY, CLOSED, Aims, second_tier
from tests.bench.general_solvers import by_cp_sat
from tests.core.problems import AIMS, best_by_hand, broken, problem
from tests.core.test_bounds import small

COST = Aims(moved_minutes=12, walks_in_day=False)
ROUNDS = 20
ROUNDED = 1e-5
"""What is best by hand is rounded to six digits."""


@settings(max_examples=60, deadline=None)
@given(small(visits=4, days=3))
def test_gone_on_with_nothing_but_the_best_by_brute_force_is_left(made):
    """Ways in the day, teams apart: the best of all plans, within the gap that is let go."""
    board = Board(made, AIMS)
    go_on(board, nodes=1_000, gap=ENOUGH)
    choice = board.choice()
    assert not broken(made, choice)
    overdue, second = best_by_hand(made)
    assert made.overdue_bed_days(choice) == overdue
    assert second - ROUNDED <= second_tier(made, choice, AIMS) <= second + ENOUGH


@settings(max_examples=40, deadline=None)
@given(small(visits=7, days=4))
def test_put_anew_a_plan_never_costs_more_breaks_nothing_and_keeps_to_likely_days(made):
    board = Board(made, COST)
    if not board.areas or not board.out:
        return
    for bed_day in (30.0, 1000.0):
        before, stood = board.total(), as_it_stands(board)
        likely = mix(eased(board, bed_day), ROUNDS).stands
        choose(board, likely)
        assert board.total() <= before + LITTLE
        assert not broken(made.with_changes(area_minutes=0), board.choice())
        assert not (as_it_stands(board) & ~(likely | stood)).any()


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_of_few_days_it_takes_what_another_solver_takes(seed):
    """CP-SAT, in a model of its own, on twelve visits with the same few days each."""
    rng = np.random.default_rng(seed)
    days = [set(rng.choice(5, 2, replace=False).tolist()) for _ in range(12)]
    made = problem(
        rng.choice([13, 16, 20, 34], 12).tolist(),
        rng.integers(0, 5, 12).tolist(),
        [range(5)] * 12,
        [60] * 5,
        area=rng.integers(0, 3, 12),
        area_minutes=8,
    )
    likely = np.array([[day in of for day in range(5)] for of in days])
    board = Board(made, COST)
    choose(board, likely[board.visit])
    other = by_cp_sat(made.with_changes(open=likely), COST, 10.0)
    ours = board.choice()
    assert made.overdue_bed_days(ours) == made.overdue_bed_days(other)
    assert second_tier(made, ours, COST) <= second_tier(made, other, COST) + ENOUGH


def test_a_bed_day_stands_for_less_and_closed_sheets_stay_closed():
    made = problem([20], [0], [{0, 2}], [40, 40, 40], beds=[2])
    board = Board(made, COST)
    easier = eased(board, 10.0)
    assert (board.cost - easier.cost)[0].tolist() == [0.0, 0.0, 3960.0, 3960.0]
    assert easier.cost[0, 1] == CLOSED
    assert board.cost[0, 2] - board.cost[0, 0] == 4 * BED_DAY


@settings(max_examples=40, deadline=None)
@given(small(visits=7, days=4))
def test_put_anew_on_some_sheets_nothing_else_moves_and_nothing_costs_more(made):
    board = Board(made, COST)
    if not board.areas or not board.out:
        return
    choose(board, board.cost[:, :-1] < CLOSED)
    before, at = board.total(), board.at.copy()
    sheets = board.sheets.day <= 1
    choose_within(board, sheets)
    assert board.total() <= before + LITTLE
    elsewhere = ~np.append(sheets, True)[at]
    assert board.at[elsewhere].tolist() == at[elsewhere].tolist()
    assert board.left.min() >= 0


def test_a_way_is_saved_by_putting_two_days_anew_together():
    """Two corridors, each with a visit on both days: four ways where two are enough."""
    made = problem([20] * 4, [1] * 4, [{0, 1}] * 4, [40, 40], area=[0, 0, 1, 1], area_minutes=8)
    board = Board(made, COST)
    for visit, sheet in enumerate((0, 1, 0, 1)):
        board.move(visit, sheet)
    (sheets,) = stretches(board)
    choose_within(board, sheets)
    choice = board.choice()
    assert choice.on[0] == choice.on[1] != choice.on[2] == choice.on[3]


@pytest.mark.parametrize("days", [1, IN_A_ROW, 28, 29])
def test_every_day_is_among_some_days_in_a_row(days):
    made = problem([20], [9], [range(days)], [40] * days)
    found = list(stretches(Board(made, COST)))
    assert all(sheets.sum() <= IN_A_ROW for sheets in found)
    assert np.logical_or.reduce(found).all()
