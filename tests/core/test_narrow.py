"""Narrow days, solved with whole visits, against another solver and by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from ortools.sat.python import cp_model

from hotelwatch.core.planning.bounds import fewest_overdue
from hotelwatch.core.planning.narrow import narrow_days
from hotelwatch.core.planning.problem import NEVER
from tests.bench.instances import one_shot
from tests.core.problems import best_by_hand, problem
from tests.core.test_bounds import small


def by_days(made):
    """Fewest overdue bed-days of whole visits, all teams of a day being one (CP-SAT)."""
    model = cp_model.CpModel()
    late = made.beds[:, None] * made.late_days
    longest = made.team_minutes.max(axis=1)
    used = {day: [] for day in range(made.horizon)}
    saved = []
    for row in range(made.visits):
        of_row = []
        for day in range(made.horizon):
            fits = made.minutes[row] + made.area_minutes <= longest[day]
            if made.open[row, day] and fits and late[row, day] < late[row, -1]:
                x = model.new_bool_var("")
                of_row.append(x)
                used[day].append(int(made.minutes[row]) * x)
                saved.append(int(late[row, -1] - late[row, day]) * x)
        model.add_at_most_one(of_row)
    for day, minutes in used.items():
        model.add(sum(minutes) <= int(made.team_minutes[day].sum()))
    model.maximize(sum(saved))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(late[:, -1].sum() - round(solver.objective_value))


def test_whole_visits_may_be_late_where_split_ones_are_not():
    """Three visits of 20 minutes on two days of 30: split they fit, whole only two do.

    The third is late on the last day, of three, whether it is made then or not.
    """
    made = problem([20] * 3, [1] * 3, [{0, 1}] * 3, [30, 30, 30])
    assert fewest_overdue(made) == 0
    crowded = problem([20] * 3, [0] * 3, [{0}] * 3, [50, 0])
    assert fewest_overdue(crowded) == 1
    assert narrow_days(crowded).fewest == 1


def test_visits_of_unlike_lengths_leave_minutes_that_no_visit_fits():
    """Two of 34 and one of 20 minutes on a day of 60: split, 28 of 88 minutes wait, 28/34
    of a bed-day; whole, the two of 34 do not fit together. Three beds each on the long
    ones, one on the short: 34 + 20 go, one long one with three beds waits a day."""
    made = problem([34, 34, 20], [0] * 3, [{0, 1}] * 3, [60, 60], beds=[3, 3, 1])
    narrow = narrow_days(made)
    assert fewest_overdue(made) == 2
    assert narrow.fewest == 3
    assert best_by_hand(made)[0] == 3


@settings(max_examples=80, deadline=None)
@given(small(visits=7, days=5, teams=1))
def test_no_plan_is_below_the_narrow_days_nor_they_below_split_visits(made):
    fewest = narrow_days(made).fewest
    assert fewest >= fewest_overdue(made)
    able = made.with_changes(needs=made.needs * 0 + 1)
    assert narrow_days(able).fewest <= by_days(able)


@settings(max_examples=40, deadline=None)
@given(small(visits=4, days=3))
def test_no_plan_at_all_is_below_the_narrow_days(made):
    """Brute force over all plans, teams and corridors among them."""
    assert narrow_days(made).fewest <= best_by_hand(made)[0]


@pytest.mark.parametrize("seed", [51, 52])
def test_another_solver_finds_no_fewer_on_an_invented_hotel(seed):
    """CP-SAT on all visits and days at once; here the narrow days are all there is to it."""
    made = one_shot(120, seed=seed, load=0.975)
    narrow = narrow_days(made)
    assert fewest_overdue(made) <= narrow.fewest <= by_days(made)


def test_who_stands_on_a_narrow_day_is_named():
    made = problem([20, 20, 20], [0, 0, 2], [{0, 1}, {0, 1}, {0, 1, 2}], [20, 60, 60])
    narrow = narrow_days(made)
    assert narrow.fewest == 1
    assert sorted(narrow.choice.on.tolist()) == [NEVER, NEVER, 0]
    assert narrow.choice.on[2] == NEVER
