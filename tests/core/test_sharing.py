"""Sharing loads among teams, against brute force and published bin packings."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.sharing import share, share_out
from tests.bench.instances import one_shot
from tests.core.problems import AIMS, broken, problem


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


@settings(max_examples=200, deadline=None)
@given(LOADS, st.lists(st.integers(10, 120), min_size=1, max_size=3))
def test_up_to_three_teams_share_whenever_they_can(loads, have):
    shares = share(loads, have)
    assert (shares is not None) == can_be_shared(loads, have)
    if shares is not None:
        assert fits(loads, have, shares)


@settings(max_examples=100, deadline=None)
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
