"""Why not: sets of rooms that need more minutes than their open days have."""

from __future__ import annotations

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning.problem import NEVER, Choice
from hotelwatch.core.planning.shortfall import Binds, why_not
from tests.core.certificate_checker import is_proven
from tests.core.problems import problem


def of_minutes(found):
    return [one for one in found if one.short]


def days_of(made, shortfall):
    return [made.days.index(day) for day in shortfall.days]


# Worked out by hand and by two programs apart from this one: minutes, days on which each
# visit is open, minutes of each day; what is short, and on which days.
HALL = {
    "H1": ([1] * 6, [{0, 1}] * 5 + [{0, 1, 2}], [2, 2, 2], 1, [0, 1], 5),
    "H2": ([31] * 20, [{0, 1, 2}] * 20, [180, 180, 180], 80, [0, 1, 2], 20),
    "H3": ([1] * 5, [{0, 2}] * 5, [2, 5, 2], 1, [0, 2], 5),
}


@pytest.mark.parametrize("case", HALL.values(), ids=HALL)
def test_halls_condition_fails_where_it_must_and_says_by_how_much(case):
    minutes, open_on, by_day, short, days, rooms = case
    made = problem(minutes, [len(by_day) - 1] * len(minutes), open_on, by_day)
    (found,) = why_not(made)
    assert found.binds is Binds.MINUTES
    assert (found.short, days_of(made, found), len(found.rooms)) == (short, days, rooms)


def test_rooms_that_fit_split_but_not_whole_are_told_as_whole_rooms():
    # H4: three rooms of twenty minutes, two days of thirty.
    made = problem([20] * 3, [1] * 3, [{0, 1}] * 3, [30, 30])
    assert why_not(made) == ()
    choice = Choice(np.array([0, 1, NEVER]), np.array([0, 0, NEVER]))
    (found,) = why_not(made, choice)
    assert (found.binds, found.rows, found.short) == (Binds.WHOLE_ROOMS, (2,), 0)


def test_a_room_without_an_opening_in_time_is_told_with_the_first_after():
    made = problem([20, 20], [2, 2], [{4}, set()], [60] * 6)
    first, second = why_not(made)
    assert (first.binds, first.opens_on, first.overdue_bed_days) == (
        Binds.NO_OPENING,
        made.days[4],
        2,
    )
    assert (second.binds, second.opens_on, second.overdue_bed_days) == (Binds.NO_OPENING, None, 3)


def test_too_few_people_bind_though_minutes_of_others_are_left():
    made = problem([20, 20, 20], [1] * 3, [{0, 1}] * 3, [[20, 100], [20, 100]], team_people=[2, 1])
    (found,) = why_not(made)
    assert (found.binds, found.needed, found.minutes) == (Binds.PEOPLE, 60, 40)


def test_shortfalls_that_share_no_day_are_told_apart():
    made = problem([30] * 4, [5] * 4, [{0}, {0}, {4}, {4}], [40, 90, 90, 90, 40, 90])
    found = of_minutes(why_not(made))
    assert [(one.needed, one.minutes, days_of(made, one)) for one in found] == [
        (60, 40, [0]),
        (60, 40, [4]),
    ]


def is_right(made, one):
    rows, horizon = range(made.visits), range(made.horizon)
    return is_proven(
        one.rows,
        days_of(made, one),
        open_on=[[d for d in horizon if made.open[r, d]] for r in rows],
        due=made.due.tolist(),
        minutes=made.minutes.tolist(),
        day_minutes=[int(made.team_minutes[d].sum()) for d in horizon],
        needed=one.needed,
        had=one.minutes,
    )


@st.composite
def problems(draw):
    horizon = draw(st.integers(2, 7))
    by_day = draw(st.lists(st.sampled_from([0, 30, 60, 90]), min_size=horizon, max_size=horizon))
    visits = draw(st.integers(1, 9))
    days = st.sets(st.integers(0, horizon - 1), max_size=horizon)
    return problem(
        draw(st.lists(st.sampled_from([13, 20, 34]), min_size=visits, max_size=visits)),
        draw(st.lists(st.integers(-2, horizon + 1), min_size=visits, max_size=visits)),
        draw(st.lists(days, min_size=visits, max_size=visits)),
        by_day,
    )


def short_by_networkx(made):
    """Minutes that do not fit, by networkx's maximum flow over a graph of its own."""
    graph = nx.DiGraph()
    graph.add_nodes_from(["rooms", "days"])
    wanted = 0
    for row in range(made.visits):
        due = int(made.due[row])
        could = [d for d in range(made.horizon) if made.open[row, d] and d <= due]
        could = [d for d in could if made.team_minutes[d].sum() > 0]
        if not 0 <= due < made.horizon or not could:
            continue
        wanted += int(made.minutes[row])
        graph.add_edge("rooms", ("room", row), capacity=int(made.minutes[row]))
        for day in could:
            graph.add_edge(("room", row), ("day", day))
    for day in range(made.horizon):
        graph.add_edge(("day", day), "days", capacity=int(made.team_minutes[day].sum()))
    return wanted - nx.maximum_flow_value(graph, "rooms", "days")


@settings(deadline=None, max_examples=150)
@given(problems())
def test_a_certificate_is_found_exactly_if_the_flow_falls_short_and_every_one_verifies(made):
    found = of_minutes(why_not(made))
    short = short_by_networkx(made)
    assert bool(found) == (short > 0)
    assert all(is_right(made, one) for one in found)
    # Sets that share no day add up to what the flow falls short by.
    assert sum(one.short for one in found) == max(0, short)


@settings(deadline=None, max_examples=100)
@given(problems())
def test_rooms_told_as_unopened_are_those_without_a_day_in_time(made):
    told = {one.rows[0] for one in why_not(made) if one.binds is Binds.NO_OPENING}
    for row in range(made.visits):
        due = int(made.due[row])
        days = [d for d in range(made.horizon) if made.open[row, d] and d <= due]
        days = [d for d in days if made.team_minutes[d].sum() > 0]
        assert (row in told) == (0 <= due < made.horizon and not days)
