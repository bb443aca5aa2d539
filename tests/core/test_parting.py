"""Days filled for all their teams together and parted among them: laws, and days by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings

from hotelwatch.core.planning.bettering import better
from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.corridor_prices import mix
from hotelwatch.core.planning.parting import fill_parted
from hotelwatch.core.planning.refill import roll
from tests.bench.instances import one_shot
from tests.core.problems import AIMS, broken, problem
from tests.core.test_bounds import small

ROUNDS = 20


def filled(made):
    """The sheets, and the merged ones beside them."""
    sheets = Board(made, AIMS)
    merged, of = sheets.merged()
    mixed = mix(merged, ROUNDS)
    fill_parted(sheets, merged, of, price=mixed.price, expected=mixed.gone)
    assert np.array_equal(np.append(of, merged.out)[sheets.at], merged.at)
    assert not broken(made, sheets.choice())
    return sheets


@settings(max_examples=40, deadline=None)
@given(small(visits=8, days=4))
def test_sheets_break_nothing_and_are_those_of_the_merged_plan(made):
    board = Board(made, AIMS)
    if board.areas and board.out:
        filled(made)


def day_of(minutes, have, *, area, beds=None):
    """Visits all overdue, on one day of teams with so many minutes each."""
    visits = len(minutes)
    return problem(
        minutes,
        [-1] * visits,
        [{0}] * visits,
        [have, [0] * len(have)],
        area=area,
        area_minutes=8,
        beds=[1] * visits if beds is None else beds,
    )


def test_whole_corridors_go_to_teams():
    # Two corridors of 20 and 20 with a way of 8 each are 48: one for each team of 50, by hand.
    sheets = filled(day_of([20] * 4, [50, 50], area=[0, 1, 0, 1]))
    assert sheets.at[0] == sheets.at[2] != sheets.at[1] == sheets.at[3]
    assert sheets.left[:2].tolist() == [2, 2]


def test_what_loses_the_least_gives_way_and_what_fits_takes_its_minutes():
    # Together the teams have 104: 42 + 42 + 20 with their ways, 34 + 34 + 12. Apart they have
    # 52 each: beside 42 there are ten, too few for 12 and its way. So the room of one bed
    # waits, and a visit of ten in the corridor of the first is done instead.
    made = day_of([34, 34, 12, 10], [52, 52], area=[0, 1, 2, 0], beds=[9, 9, 3, 1])
    sheets = filled(made)
    stands = sheets.at != sheets.out
    assert stands.tolist() == [True, True, False, True]
    assert sheets.at[0] == sheets.at[3]


@pytest.mark.parametrize("seed", [51, 52])
def test_in_an_overloaded_hotel_fewer_beds_are_late_than_filled_team_by_team(seed):
    made = one_shot(900, seed=seed, backlog=True)
    assert (made.team_minutes > 0).sum(axis=1).max() > 1
    parted = filled(made)
    better(parted)
    sheets = Board(made, AIMS)
    merged, of = sheets.merged()
    mixed = mix(merged, ROUNDS)
    roll(sheets, 0, price=mixed.price[of], expected=mixed.gone[:, of])
    better(sheets)
    assert not broken(made, sheets.choice())
    late, before = (made.overdue_bed_days(board.choice()) for board in (parted, sheets))
    assert late < before
