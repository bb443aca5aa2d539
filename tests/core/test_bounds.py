"""Bounds on overdue bed-days, against answers found otherwise."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.graph.python import min_cost_flow

from hotelwatch.core.planning.bounds import (
    fewest_overdue,
    fewest_with_walking,
    with_walking,
)
from hotelwatch.core.planning.strict_costs import late_costs, second_costs, strict_costs
from tests.core.problems import AIMS, best_by_hand, problem


@st.composite
def small(draw, visits=4, days=4, teams=2):
    """A few visits, days, teams and corridors, anything late, closed or asked."""
    count = draw(st.integers(1, visits))
    each = lambda values: draw(st.lists(values, min_size=count, max_size=count))  # noqa: E731
    minutes = each(st.sampled_from([13, 16, 20, 34]))
    team_minutes = draw(
        st.lists(
            st.lists(st.sampled_from([0, 30, 48, 60]), min_size=teams, max_size=teams),
            min_size=days,
            max_size=days,
        )
    )
    return problem(
        minutes,
        each(st.integers(-3, days)),
        each(st.sets(st.integers(0, days - 1))),
        team_minutes,
        beds=each(st.integers(1, 2)),
        area=each(st.integers(0, 1)),
        needs=each(st.integers(1, 2)),
        is_asked=np.zeros(count, bool),
        team_people=[1, 2][:teams],
        area_minutes=draw(st.sampled_from([0, 8])),
    )


def by_flow(made):
    """The same relaxation by a min-cost flow, minute by minute (ortools)."""
    flow = min_cost_flow.SimpleMinCostFlow()
    source, sink = 0, 1
    late = made.beds[:, None] * made.late_days
    scale = int(np.lcm.reduce(made.minutes))
    for row in range(made.visits):
        node, length = 2 + row, int(made.minutes[row])
        flow.add_arc_with_capacity_and_unit_cost(source, node, length, 0)
        a_minute = scale // length
        flow.add_arc_with_capacity_and_unit_cost(node, sink, length, int(late[row, -1]) * a_minute)
        for day in np.flatnonzero(made.open[row]):
            for team in np.flatnonzero(made.team_people >= made.needs[row]):
                place = 2 + made.visits + int(day) * len(made.teams) + int(team)
                cost = int(late[row, day]) * a_minute
                flow.add_arc_with_capacity_and_unit_cost(node, place, length, cost)
    for day, team in np.ndindex(*made.team_minutes.shape):
        place = 2 + made.visits + day * len(made.teams) + team
        minutes = int(made.team_minutes[day, team])
        flow.add_arc_with_capacity_and_unit_cost(place, sink, minutes, 0)
    total = int(made.minutes.sum())
    flow.set_node_supply(source, total)
    flow.set_node_supply(sink, -total)
    assert flow.solve() == flow.OPTIMAL
    return flow.optimal_cost() / scale


def test_nothing_to_do_has_nothing_overdue():
    assert fewest_overdue(problem([], [], [], [60])) == 0


def test_a_room_that_never_opens_in_time_is_counted_by_its_openings():
    assert fewest_overdue(problem([20], [1], [{3}], [60] * 5)) == 2


def test_minutes_bind_where_openings_do_not():
    """Twenty visits of 31 minutes by day 2, 540 minutes: 80 minutes, 2.58 visits, are late.

    Left out of five days each is late on two of them: 5.16 bed-days, so at least 6.
    """
    made = problem([31] * 20, [2] * 20, [{0, 1, 2}] * 20, [180] * 3 + [0, 0])
    assert made.unavoidable == 0
    assert fewest_overdue(made) == 6


@settings(max_examples=60, deadline=None)
@given(small())
def test_the_bound_is_a_flows_rounded_up(made):
    """Independent: network simplex of ortools; visits longer than a day may split there."""
    fits = (
        made.minutes.max() + made.area_minutes
        <= np.where(made.team_minutes > 0, made.team_minutes, 99).min()
    )
    bound = fewest_overdue(made)
    flow = int(np.ceil(by_flow(made) - 1e-6))
    assert bound >= flow
    if fits:
        assert bound == max(flow, openings_alone(made))


def openings_alone(made):
    """By hand: each visit on its best day of any able team that is long enough."""
    total = 0
    for row in range(made.visits):
        best = made.late_days[row, -1]
        for day, team in np.ndindex(*made.team_minutes.shape):
            long_enough = made.minutes[row] + made.area_minutes <= made.team_minutes[day, team]
            if made.open[row, day] and long_enough and made.needs[row] <= made.team_people[team]:
                best = min(best, made.late_days[row, day])
        total += int(made.beds[row] * best)
    return total


@settings(max_examples=40, deadline=None)
@given(small(visits=3, days=3))
def test_no_plan_is_below_any_bound(made):
    """Brute force over all plans."""
    overdue, second = best_by_hand(made)
    assert fewest_overdue(made) <= overdue
    assert fewest_with_walking(made) <= overdue
    assert with_walking(made, late_costs(made)) <= 1000 * overdue + 8 * 6 + 1e-6
    within = with_walking(made, second_costs(made, AIMS), within=overdue)
    assert within <= second + 1e-6
    assert with_walking(made, strict_costs(made, AIMS)) <= 1000 * overdue + second + 1e-6


def test_walking_is_in_its_bound():
    """One visit in each of three corridors, 8 minutes a way, a day for two of the three:
    the third is late on the last day, looked at or not; the two ways cost 16."""
    made = problem([20] * 3, [0] * 3, [{0, 1}] * 3, [56, 56], area=[0, 1, 2], area_minutes=8)
    assert fewest_overdue(made) == 1
    assert with_walking(made, late_costs(made)) == pytest.approx(1016)
