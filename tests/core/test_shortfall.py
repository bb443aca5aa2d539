"""Why not: sets of rooms that need more minutes than their open days have."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.graph.python import max_flow

from hotelwatch.core.planning.problem import NEVER, Choice
from hotelwatch.core.planning.shortfall import Binds, why_not
from tests.core import certificate_checker as checker
from tests.core.problems import problem

ALONE = {"no_opening", "pinned", "no_team", "outside_shifts", "too_long"}


def of_minutes(found):
    return [one for one in found if one.short]


def days_of(made, shortfall):
    return [made.days.index(day) for day in shortfall.days]


def plain(made):
    """The problem in plain lists, for the checker."""
    rows, horizon = range(made.visits), range(made.horizon)
    shut = () if made.shut is None else np.argwhere(made.shut).tolist()
    return {
        "open_on": [{d for d in horizon if made.open[r, d]} for r in rows],
        "minutes": made.minutes.tolist(),
        "beds": made.beds.tolist(),
        "needs": made.needs.tolist(),
        "due": made.due.tolist(),
        "area": made.area.tolist(),
        "pinned_on": made.pinned_on.tolist(),
        "pinned_team": made.pinned_team.tolist(),
        "team_minutes": made.team_minutes.tolist(),
        "team_people": made.team_people.tolist(),
        "shut": {tuple(cell) for cell in shut},
        "way": made.area_minutes,
        "been": set(made.been),
    }


def faults(made, one, choice=None):
    """What the checker finds wrong with a reason."""
    case = plain(made)
    if one.binds in ALONE:
        opens_on = None if one.opens_on is None else made.days.index(one.opens_on)
        return checker.alone_faults(case, one.rows[0], one.binds, opens_on, one.overdue_bed_days)
    plan = None
    if choice is not None:
        places = zip(choice.on.tolist(), choice.team.tolist(), strict=True)
        plan = [None if on == NEVER else (on, team) for on, team in places]
    late = 0 if plan is None else checker.late_days(case, one.rows, plan)
    if one.overdue_bed_days != late:
        return ["late days"]
    if one.binds in {"whole_rooms", "put_off"}:
        told = one.binds, one.needed, one.minutes
        return checker.late_faults(case, one.rows, told, plan)
    counted = [
        (made.days.index(time.on), made.teams.index(time.team), time.minutes)
        for time in one.counted
    ]
    found = checker.sum_faults(case, one.rows, counted, one.needed, one.minutes)
    if {day for day, _, _ in counted} != set(days_of(made, one)):
        found.append("days")
    return found


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
    assert faults(made, found) == []


def test_rooms_that_fit_split_but_not_whole_are_told_as_whole_rooms():
    # H4: three rooms of twenty minutes, two days of thirty.
    made = problem([20] * 3, [1] * 3, [{0, 1}] * 3, [30, 30])
    assert why_not(made) == ()
    choice = Choice(np.array([0, 1, NEVER]), np.array([0, 0, NEVER]))
    (found,) = why_not(made, choice)
    assert (found.binds, found.rows, found.short) == (Binds.WHOLE_ROOMS, (2,), 0)
    # It needs twenty minutes; ten are left on either day.
    assert (found.needed, found.minutes) == (20, 10)


def test_what_is_left_is_told_of_the_room_whose_need_is_told():
    # The room of twelve has ten left on day 0, the one of thirty 25 on days 1 and 2: "needs 12,
    # no more than 25 left" would be false by its own numbers.
    open_on = [{0, 1}, {0}, {0}, {1, 2}, {1}, {2}]
    made = problem([25, 25, 12, 30, 15, 15], [2] * 6, open_on, [60, 40, 40])
    places = np.array([0, 0, NEVER, NEVER, 1, 2])
    choice = Choice(places, np.where(places == NEVER, NEVER, 0))
    found = next(one for one in why_not(made, choice) if 2 in one.rows)
    assert (found.binds, found.rows) == (Binds.WHOLE_ROOMS, (2, 3))
    assert (found.needed, found.minutes) == (12, 10)


def test_a_room_that_would_fit_beside_the_others_is_told_as_put_off():
    made = problem([20] * 3, [1] * 3, [{0, 1}] * 3, [30, 60])
    choice = Choice(np.array([0, 1, NEVER]), np.array([0, 0, NEVER]))
    (found,) = why_not(made, choice)
    assert (found.binds, found.rows, days_of(made, found)) == (Binds.PUT_OFF, (2,), [1])
    assert (found.needed, found.minutes) == (20, 40)


def test_a_room_without_an_opening_in_time_is_told_with_the_first_after():
    made = problem([20, 20], [2, 2], [{4}, set()], [60] * 6)
    first, second = why_not(made)
    assert (first.binds, first.opens_on, first.overdue_bed_days) == (
        Binds.NO_OPENING,
        made.days[4],
        2,
    )
    assert (second.binds, second.opens_on, second.overdue_bed_days) == (Binds.NO_OPENING, None, 3)


def test_what_is_in_the_way_of_an_open_room_is_named():
    shut = np.zeros((5, 3, 2), bool)
    shut[2, :, 0] = True
    made = problem(
        [20, 20, 20, 90, 20],
        [1] * 5,
        [{0}, {0}, {0, 1}, {1}, {0, 2}],
        [[0, 60], [60, 60], [60, 60]],
        team_people=[2, 1],
        needs=[1, 2, 2, 2, 1],
        shut=shut,
        pinned_on=[-1, -1, -1, -1, 2],
    )
    told = {one.rows: (one.binds, one.opens_on) for one in why_not(made)}
    assert told == {
        (1,): (Binds.NO_TEAM, None),
        (2,): (Binds.OUTSIDE_SHIFTS, None),
        (3,): (Binds.TOO_LONG, None),
        (4,): (Binds.PINNED, made.days[2]),
    }


def test_too_few_people_bind_though_minutes_of_others_are_left():
    made = problem([20, 20, 20], [1] * 3, [{0, 1}] * 3, [[20, 100], [20, 100]], team_people=[2, 1])
    (found,) = why_not(made)
    assert (found.binds, found.needed, found.minutes) == (Binds.PEOPLE, 60, 40)


def test_rooms_of_one_and_of_two_people_can_crowd_one_another():
    # Worked by hand: 20 + 30 minutes against 20 on the first day and 20 of the pair on the
    # second; neither kind of room alone, nor all against all teams, is short of anything.
    made = problem(
        [20, 10, 10, 10],
        [1] * 4,
        [{0}, {0, 1}, {0, 1}, {0, 1}],
        [[20, 0], [20, 100]],
        team_people=[2, 1],
        needs=[1, 2, 2, 2],
    )
    (found,) = why_not(made)
    assert (found.needed, found.minutes, found.short) == (50, 40, 10)
    assert faults(made, found) == []


def test_shortfalls_that_share_no_day_are_told_apart():
    made = problem([30] * 4, [5] * 4, [{0}, {0}, {4}, {4}], [40, 90, 90, 90, 40, 90])
    found = of_minutes(why_not(made))
    assert [(one.needed, one.minutes, days_of(made, one)) for one in found] == [
        (60, 40, [0]),
        (60, 40, [4]),
    ]


@st.composite
def problems(draw):
    horizon, teams = draw(st.integers(2, 6)), draw(st.integers(1, 3))
    visits = draw(st.integers(1, 9))

    def each(values, count=visits):
        return draw(st.lists(values, min_size=count, max_size=count))

    shut = None
    if draw(st.booleans()):
        shut = np.zeros((visits, horizon, teams), bool)
        shut[tuple(np.array(each(st.integers(0, 10**6))) % n for n in shut.shape)] = True
    return problem(
        each(st.sampled_from([13, 20, 34])),
        each(st.integers(-2, horizon + 1)),
        each(st.sets(st.integers(0, horizon - 1), max_size=horizon)),
        each(st.lists(st.sampled_from([0, 20, 60]), min_size=teams, max_size=teams), horizon),
        beds=each(st.integers(1, 2)),
        needs=each(st.integers(1, 2)),
        team_people=each(st.integers(1, 2), teams),
        shut=shut,
        area_minutes=draw(st.sampled_from([0, 7])),
        pinned_on=each(st.sampled_from([-1] * 8 + [0, 1])),
        pinned_team=each(st.sampled_from([-1] * 8 + [0])),
        been=frozenset({(0, 0, 0)} if draw(st.booleans()) else ()),
    )


def wanted_places(made):
    """By visit the days and teams on which it can be made in time, from plain lists."""
    case = plain(made)
    rows = [r for r in range(made.visits) if 0 <= case["due"][r] < made.horizon]
    return {r: found for r in rows if (found := checker.in_time(case, r))}


def short_by_networkx(made):
    """Minutes that do not fit, by networkx's maximum flow over a graph of its own."""
    graph = nx.DiGraph()
    graph.add_nodes_from(["rooms", "days"])
    places = wanted_places(made)
    for row, found in places.items():
        graph.add_edge("rooms", ("room", row), capacity=int(made.minutes[row]))
        graph.add_edges_from((("room", row), place) for place in found)
    for day, team in np.argwhere(made.team_minutes > 0).tolist():
        graph.add_edge((day, team), "days", capacity=int(made.team_minutes[day, team]))
    wanted = sum(int(made.minutes[row]) for row in places)
    return wanted - nx.maximum_flow_value(graph, "rooms", "days")


def short_by_ortools(made):
    """The same by OR-Tools' maximum flow."""
    flow = max_flow.SimpleMaxFlow()
    places = wanted_places(made)
    teams = len(made.teams)
    source, sink = made.visits, made.visits + 1
    for row, found in places.items():
        flow.add_arc_with_capacity(source, row, int(made.minutes[row]))
        for day, team in found:
            node = made.visits + 2 + day * teams + team
            flow.add_arc_with_capacity(row, node, int(made.minutes[row]))
    for day, team in np.argwhere(made.team_minutes > 0).tolist():
        node = made.visits + 2 + day * teams + team
        flow.add_arc_with_capacity(node, sink, int(made.team_minutes[day, team]))
    assert flow.solve(source, sink) == flow.OPTIMAL
    return sum(int(made.minutes[row]) for row in places) - flow.optimal_flow()


@settings(deadline=None, max_examples=150)
@given(problems())
def test_a_certificate_is_found_exactly_if_the_flow_falls_short_and_every_one_verifies(made):
    found = of_minutes(why_not(made))
    short = short_by_networkx(made)
    assert short == short_by_ortools(made)
    assert bool(found) == (short > 0)
    assert [faults(made, one) for one in found] == [[]] * len(found)
    # Sets that share no day of a team add up to what the flow falls short by.
    assert sum(one.short for one in found) == short


@settings(deadline=None, max_examples=100)
@given(problems())
def test_rooms_told_alone_are_those_without_a_place_in_time_with_what_is_in_the_way(made):
    told = [one for one in why_not(made) if one.binds in ALONE]
    assert [faults(made, one) for one in told] == [[]] * len(told)
    places = wanted_places(made)
    alone = {r for r in range(made.visits) if 0 <= made.due[r] < made.horizon and r not in places}
    assert {one.rows[0] for one in told} == alone


@settings(deadline=None, max_examples=50)
@given(problems(), st.randoms(use_true_random=False))
def test_what_is_late_in_a_plan_is_told_with_what_the_plan_leaves(made, random):
    """Any plan: visits are put where they fit, in any order, or nowhere."""
    made = replace(made, been=frozenset(), shut=None)
    case = plain(made)
    left, gone = [list(row) for row in case["team_minutes"]], set()
    on, team = np.full(made.visits, NEVER), np.full(made.visits, NEVER)
    for row in random.sample(range(made.visits), made.visits):
        for d, t in random.sample(checker.cells(case), made.team_minutes.size):
            spent = case["minutes"][row] + checker.way_of(case, row, d, t, gone)
            if checker.could(case, row, d, t) and left[d][t] >= spent and random.random() < 0.5:
                left[d][t] -= spent
                gone.add((d, t, case["area"][row]))
                on[row], team[row] = d, t
                break
    choice = Choice(on, team)
    told = [one for one in why_not(made, choice) if one.binds not in ALONE]
    assert [faults(made, one, choice) for one in told] == [[]] * len(told)
    late = {r for r in wanted_places(made) if on[r] == NEVER or on[r] > made.due[r]}
    if not of_minutes(told):
        assert {row for one in told for row in one.rows} == late
