"""Who gets which, against scipy's assignment and against the greedy way."""

from __future__ import annotations

from itertools import count

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from hotelwatch.core.cases.matching import assign

NO = None


def edges(row):
    return sorted((cost, column) for column, cost in enumerate(row) if cost is not NO)


def by_scipy(table, top):
    """The cheapest assignment where leaving out an earlier row costs more than all later ones."""
    rows, columns = len(table), len(table[0])
    more = rows * top + 1
    costs = np.full((rows, columns + rows), float(more * 4**rows))
    for number, row in enumerate(table):
        for column, cost in enumerate(row):
            if cost is not NO:
                costs[number, column] = cost
        costs[number, columns + number] = more * 2 ** (rows - number)
    chosen = linear_sum_assignment(costs)
    placed = {int(r) for r, c in zip(*chosen, strict=True) if c < columns}
    total = sum(costs[r, c] for r, c in zip(*chosen, strict=True) if c < columns)
    return placed, total


def greedy(table):
    taken, got = set(), []
    for row in table:
        choice = next((column for _, column in edges(row) if column not in taken), None)
        taken.add(choice)
        got.append(choice)
    return got


TABLES = st.tuples(st.integers(1, 8), st.integers(1, 8), st.sampled_from([1, 3, 40])).flatmap(
    lambda size: st.tuples(
        st.lists(
            st.lists(
                st.one_of(st.none(), st.integers(0, size[2])), min_size=size[1], max_size=size[1]
            ),
            min_size=size[0],
            max_size=size[0],
        ),
        st.just(size[2]),
    )
)


# scipy.optimize.linear_sum_assignment; its sums stay below 2**53, so that floats are exact.
@settings(max_examples=200, deadline=None)
@given(TABLES)
def test_the_same_rows_are_served_at_the_same_cost_as_by_scipy(drawn):
    table, top = drawn
    got = assign([edges(row) for row in table])
    placed, total = by_scipy(table, top)
    used = [column for column in got if column is not None]
    assert len(used) == len(set(used))
    assert {row for row, column in enumerate(got) if column is not None} == placed
    assert sum(table[row][column] for row, column in enumerate(got) if column is not None) == total


def test_large_dense_tables_cost_what_scipy_says():
    rng = np.random.default_rng(7)
    table = rng.integers(0, 1000, (60, 90))
    got = assign([edges(row.tolist()) for row in table])
    rows, columns = linear_sum_assignment(table)
    mine = sum(int(table[row, column]) for row, column in enumerate(got))
    assert mine == int(table[rows, columns].sum())


def test_one_by_one_leaves_a_guest_without_a_room_and_together_does_not():
    table = [[1, 2], [1, NO]]
    assert greedy(table) == [0, None]
    assert assign([edges(row) for row in table]) == [1, 0]


def test_one_by_one_pays_more_than_together():
    table = [[1, 2, NO], [1, 9, 9], [NO, 2, 3]]
    got = assign([edges(row) for row in table])
    cost = sum(table[row][column] for row, column in enumerate(got))
    one_by_one = sum(table[row][column] for row, column in enumerate(greedy(table)))
    assert (cost, one_by_one) == (2 + 1 + 3, 1 + 9 + 3)


def test_the_most_urgent_are_served_where_not_all_can_be():
    assert assign([[(5, 0)], [(0, 0)], [(0, 1)], [(0, 1)]]) == [0, None, 1, None]


def test_edges_are_drawn_only_as_far_as_they_are_needed():
    def nearby(first):
        for column in count(first):
            assert column < 10
            yield column, column

    assert sorted(assign([nearby(0) for _ in range(5)])) == [0, 1, 2, 3, 4]


@pytest.mark.parametrize("rows", [[], [[]], [[], []]])
def test_nothing_to_choose_from(rows):
    assert assign(rows) == [None] * len(rows)
