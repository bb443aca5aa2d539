"""Loads shared among teams, days made shareable: brute force, published bin packings, laws."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.shareable import Sharing
from hotelwatch.core.planning.sharing import share, share_out
from hotelwatch.core.planning.strict_costs import Aims
from tests.bench.instances import one_shot
from tests.core.bin_packings import BIN, U120_00, U120_02, U120_10
from tests.core.problems import AIMS, broken, problem
from tests.core.test_bounds import small

COST = Aims(moved_minutes=12, walks_in_day=False)


def fits(loads, have, shares):
    """Each load once, each team within its minutes."""
    given_out = sorted(number for of_team in shares for number in of_team)
    within = all(
        sum(loads[n] for n in of_team) <= minutes
        for of_team, minutes in zip(shares, have, strict=True)
    )
    return given_out == list(range(len(loads))) and within


def can_be_shared(loads, have):
    """Brute force over who gets what."""
    for who in product(range(len(have)), repeat=len(loads)):
        used = [0] * len(have)
        for load, team in zip(loads, who, strict=True):
            used[team] += load
        if all(u <= minutes for u, minutes in zip(used, have, strict=True)):
            return True
    return False


LOADS = st.lists(st.sampled_from([13, 16, 20, 26, 34, 47, 60]), max_size=7)


@settings(max_examples=100, deadline=None)
@given(LOADS, st.lists(st.integers(10, 120), min_size=1, max_size=3))
def test_up_to_three_teams_share_whenever_they_can(loads, have):
    shares = share(loads, have)
    assert (shares is not None) == can_be_shared(loads, have)
    if shares is not None:
        assert fits(loads, have, shares)


@settings(max_examples=50, deadline=None)
@given(LOADS, st.lists(st.integers(40, 120), min_size=4, max_size=6))
def test_more_teams_share_within_their_minutes_if_at_all(loads, have):
    shares = share(loads, have)
    assert shares is None or fits(loads, have, shares)


def test_every_bin_of_a_perfect_packing_is_found():
    """Triples that fill bins of 100 to the last unit, as in the bin packing files of the
    OR-Library (Beasley 1990; the idea from memory): four teams, nothing to spare."""
    loads = [49, 27, 24, 45, 30, 25, 38, 36, 26, 41, 33, 26]
    assert sum(loads) == 400
    shares = share(loads, [100] * 4)
    assert shares is not None
    assert fits(loads, [100] * 4, shares)


@pytest.mark.parametrize(
    ("packing", "more"), [(U120_00, 1), (U120_02, 0), (U120_10, 0)], ids=["00", "02", "10"]
)
def test_published_packings_need_no_more_bins_than_the_best_known_or_one(packing, more):
    best, items = packing
    loads = [int(item) for item in items.split()]
    assert len(loads) == 120
    have = [BIN] * (best + more)
    shares = share(loads, have)
    assert shares is not None
    assert fits(loads, have, shares)
    # No packing has fewer bins than the items fill.
    assert share(loads, [BIN] * (sum(loads) // BIN)) is None


def test_a_corridor_goes_to_one_team_where_that_is_possible():
    made = problem([20] * 4, [0] * 4, [{0}] * 4, [[40, 40]], area=[0, 1, 0, 1], area_minutes=0)
    board = Board(made, AIMS)
    merged, of = board.merged()
    for visit in range(4):
        merged.move(visit, 0)
    assert share_out(board, merged, of) == []
    assert board.at[0] == board.at[2] != board.at[1] == board.at[3]


def test_a_day_that_cannot_be_shared_is_named_and_what_fits_stands():
    """Two of 34 minutes and one of 20 fill 88 minutes, but no two teams of 44."""
    made = problem([34, 34, 20], [0] * 3, [{0}] * 3, [[44, 44]], area=[0, 1, 2])
    board = Board(made, AIMS)
    merged, of = board.merged()
    for visit in range(3):
        merged.move(visit, 0)
    assert share_out(board, merged, of) == [0]
    assert (board.at != board.out).sum() == 2
    assert not broken(made, board.choice())


def test_teams_that_are_alike_become_one_and_others_do_not():
    made = problem(
        [20] * 2, [1] * 2, [{0, 1}] * 2, [[60, 60, 60]] * 2, needs=[1, 2], team_people=[1, 2, 2]
    )
    merged, of = Board(made, AIMS).merged()
    assert merged.out == 4
    assert sorted(merged.sheets.minutes.tolist()) == [60, 60, 120, 120]
    assert of.tolist() == [0, 1, 1, 2, 3, 3]


def test_a_published_visit_keeps_its_team_apart():
    made = problem([20], [1], [{0}], [[60, 60]] * 2, was_on=[0], was_team=[1])
    merged, _ = Board(made, AIMS).merged()
    assert merged.out == 3


def test_minutes_of_an_invented_hotel_are_all_shared():
    made = one_shot(400, seed=53)
    board = Board(made, AIMS)
    merged, of = board.merged()
    for visit in range(len(board.visit)):
        sheet = int(merged.cost[visit].argmin())
        if merged.gain(visit, sheet) > 0 and merged.left[sheet] > 60:
            merged.move(visit, sheet)
    share_out(board, merged, of)
    assert not broken(made, board.choice())


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
