"""Plans of corridors put together anew, and days made shareable: brute force and laws."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.corridor_plans import Pool
from hotelwatch.core.planning.recombining import Deal, exchanged, recombine
from hotelwatch.core.planning.shareable import Sharing
from hotelwatch.core.planning.strict_costs import Aims
from tests.core.problems import broken, problem
from tests.core.test_bounds import small

COST = Aims(moved_minutes=12, walks_in_day=False)


@st.composite
def deals(draw):
    """Three corridors with four plans each over three days; the first of each fit together."""
    plans = 12
    used = np.array(draw(st.lists(st.integers(0, 4), min_size=36, max_size=36)), float)
    used = used.reshape(plans, 3)
    cost = np.array(draw(st.lists(st.integers(0, 20), min_size=plans, max_size=plans)), float)
    have = used[[0, 4, 8]].sum(axis=0) + draw(st.integers(0, 2))
    return Deal(np.repeat(np.arange(3), 4), used, cost, np.arange(0, 13, 4), have)


@settings(max_examples=60, deadline=None)
@given(deals())
def test_exchanged_plans_fit_and_lie_between_the_start_and_the_best_by_brute_force(deal):
    start = np.array([0, 4, 8])
    found = exchanged(deal, start, np.ones(3), np.random.default_rng(0))
    choices = [list(one) for one in product(range(4), range(4, 8), range(8, 12))]
    fit = [one for one in choices if (deal.used[one].sum(axis=0) <= deal.have).all()]
    assert found.tolist() in fit
    least = min(deal.cost[one].sum() for one in fit)
    assert least <= deal.cost[found].sum() <= deal.cost[start].sum()


@settings(max_examples=40, deadline=None)
@given(small(visits=7, days=4))
def test_put_together_anew_a_plan_never_costs_more_and_breaks_nothing(made):
    board = Board(made, COST)
    if not board.areas or not board.out:
        return
    for _ in range(2):
        before = board.total()
        recombine(board, Pool(board), np.zeros(board.out), np.random.default_rng(0))
        assert board.total() <= before + LITTLE
        assert not broken(made.with_changes(area_minutes=0), board.choice())


def two_teams(open_on):
    """Four visits of 20 and one of 10 in two corridors, for two teams of 50 on the first day."""
    made = problem(
        [20, 20, 20, 20, 10],
        [0, 0, 0, 0, 9],
        [{0}, {0}, {0}, {0}, open_on],
        [[50, 50], [50, 50]],
        area=[0, 0, 0, 1, 1],
        area_minutes=8,
    )
    sheets = Board(made, COST)
    board, of = sheets.merged()
    for visit in range(len(board.visit)):
        board.move(visit, 0)
    return Sharing(sheets, of), board


def test_a_corridor_longer_than_a_team_takes_one_way_more():
    """60 minutes of one corridor, teams of 50: one way of 8 more, whatever is moved."""
    sharing, board = two_teams({0})
    assert sharing.total(board) == 8
    sharing.mend(board)
    assert sharing.total(board) == 8


def test_a_visit_that_fits_no_team_beside_whole_corridors_goes_to_another_day():
    """Corridors of 50, 50 and 20 minutes for two teams of 60: one of them would be parted.

    With the visit of 10 on the next day it is 40, 50 and 20, and 40 goes with 20.
    """
    made = problem(
        [20, 20, 10, 25, 25, 20],
        [0, 0, 1, 0, 0, 0],
        [{0}, {0}, {0, 1}, {0}, {0}, {0}],
        [[60, 60], [60, 60]],
        area=[0, 0, 0, 1, 1, 2],
        area_minutes=8,
        cycle=[60, 60, 5, 60, 60, 60],
    )
    sheets = Board(made, COST)
    board, of = sheets.merged()
    sharing = Sharing(sheets, of)
    for visit in range(len(board.visit)):
        board.move(visit, 0)
    assert sharing.total(board) == 8
    before = board.total() + sharing.total(board)
    sharing.mend(board)
    assert board.total() + sharing.total(board) <= before
    assert (board.left >= 0).all()


@settings(max_examples=40, deadline=None)
@given(small(visits=7, days=3))
def test_days_made_shareable_never_cost_more_with_their_ways(made):
    sheets = Board(made, COST)
    board, of = sheets.merged()
    sharing = Sharing(sheets, of)
    for visit in range(len(board.visit)):
        gains = [board.gain(visit, sheet) for sheet in range(board.out)]
        if gains and max(gains) > 0:
            board.move(visit, int(np.argmax(gains)))
    before = board.total() + sharing.total(board)
    sharing.mend(board)
    assert board.total() + sharing.total(board) <= before + LITTLE
    assert (board.left >= 0).all()
