"""Laws of a plan made day by day."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning.bounds import fewest_overdue
from hotelwatch.core.planning.busyness import busyness
from hotelwatch.core.planning.prices import Prices, prices_of
from hotelwatch.core.planning.problem import NEVER
from hotelwatch.core.planning.rolling import roll
from hotelwatch.core.progress import Stopped
from tests.bench.instances import one_shot
from tests.build import rules
from tests.core.problems import broken, planned, problem

PRICES = Prices(minute=0.35, alone=0.3, ageing_cycles=14 / 60, moved=3, firm=0.7, firm_days=7)
MINUTES_OF = {13: 1, 20: 1, 34: 2, 62: 4}
"""Minutes of a visit and how many beds it is of."""


def claims(draw, rows, columns):
    row = st.lists(st.booleans(), min_size=columns, max_size=columns)
    return draw(st.lists(row, min_size=rows, max_size=rows))


@st.composite
def problems(draw, *, has_pins=True, way=None):
    """Up to seven visits, six days, two teams; shifts, promises, cases and pins among them."""
    count, horizon, teams = (
        draw(st.integers(1, 7)),
        draw(st.integers(1, 6)),
        draw(st.integers(1, 2)),
    )

    def each(values):
        return np.array(draw(st.lists(values, min_size=count, max_size=count)))

    minutes = each(st.sampled_from(sorted(MINUTES_OF)))
    by_day = st.lists(st.sampled_from([0, 40, 75]), min_size=teams, max_size=teams)
    was = each(st.integers(NEVER, horizon - 1))
    to_team = each(st.integers(0, teams - 1))
    more = {}
    if draw(st.booleans()):
        more["shut"] = np.array([claims(draw, horizon, teams) for _ in range(count)])
    if has_pins:
        more["pinned_on"] = each(st.sampled_from([NEVER, NEVER, NEVER, horizon - 1]))
        more["pinned_team"] = each(st.sampled_from([NEVER, NEVER, NEVER, teams - 1]))
    return problem(
        minutes,
        draw(st.lists(st.integers(-20, 9), min_size=count, max_size=count)),
        [[]] * count,
        draw(st.lists(by_day, min_size=horizon, max_size=horizon)),
        beds=np.array([MINUTES_OF[int(m)] for m in minutes]),
        open=np.array(claims(draw, count, horizon)),
        area=each(st.integers(0, 1)),
        area_minutes=draw(st.sampled_from([0, 8])) if way is None else way,
        is_asked=each(st.sampled_from([False, False, True])),
        cycle=each(st.sampled_from([7, 30, 90])),
        needs=each(st.sampled_from([1, 2])),
        team_people=np.array([2, 1][:teams]),
        was_on=was,
        was_team=np.where(was == NEVER, NEVER, to_team),
        **more,
    )


def on(made, **more):
    choice = roll(made, PRICES, **more).choice
    return choice.on.tolist(), choice.team.tolist()


@settings(deadline=None, max_examples=150)
@given(problems())
def test_no_rule_is_broken(made):
    assert broken(made, roll(made, PRICES).choice) == []


@settings(deadline=None)
@given(problems())
def test_the_same_problem_gives_the_same_plan(made):
    assert on(made) == on(replace(made))


@settings(deadline=None)
@given(problems())
def test_only_what_stands_somewhere_is_firm_and_all_of_the_first_day(made):
    rolled = roll(made, PRICES)
    assert not (rolled.firm & (rolled.choice.on == NEVER)).any()
    assert rolled.firm[rolled.choice.on == 0].all()
    assert not rolled.was_stopped


@settings(deadline=None, max_examples=100)
@given(problems(has_pins=False))
def test_to_pin_what_was_planned_anyway_moves_none_of_it(made):
    choice = roll(made, PRICES).choice
    again = roll(replace(made, pinned_on=choice.on, pinned_team=choice.team), PRICES).choice
    stood = choice.on != NEVER
    assert again.on[stood].tolist() == choice.on[stood].tolist()
    assert again.team[stood].tolist() == choice.team[stood].tolist()


@settings(deadline=None, max_examples=100)
@given(problems(has_pins=False), st.data())
def test_a_pinned_visit_stands_where_it_was_pinned_if_it_can_be_entered(made, data):
    row = data.draw(st.integers(0, made.visits - 1))
    day = data.draw(st.integers(0, made.horizon - 1))
    team = data.draw(st.integers(0, len(made.teams) - 1))
    names = data.draw(st.sampled_from(["pinned_on", "pinned_team"]), "both, or the day alone")
    where = {"pinned_on": day, **({"pinned_team": team} if names == "pinned_team" else {})}
    arrays = {}
    for name, value in where.items():
        arrays[name] = np.full(made.visits, NEVER)
        arrays[name][row] = value
    pinned = replace(made, **arrays)
    teams = [team] if "pinned_team" in where else range(len(made.teams))
    way = made.area_minutes
    can = made.open[row, day] and any(
        made.needs[row] <= made.team_people[t]
        and made.minutes[row] + way <= made.team_minutes[day, t]
        and (made.shut is None or not made.shut[row, day, t])
        for t in teams
    )
    choice = roll(pinned, PRICES).choice
    assert choice.on[row] == (day if can else NEVER)


def test_what_a_supervisor_pinned_stays_though_what_a_case_asks_for_then_waits():
    made = problem([20, 20], [0, 3], [{0, 1}, {0, 1}], [20, 20], is_asked=[True, False])
    assert roll(made, PRICES).choice.on.tolist() == [0, 1]
    pinned = replace(made, pinned_on=np.array([NEVER, 0]))
    assert roll(pinned, PRICES).choice.on.tolist() == [1, 0]


@settings(deadline=None)
@given(problems(has_pins=False))
def test_a_forbidden_day_is_kept(made):
    day, _ = on(made)
    if max(day) == NEVER:
        return
    row = int(np.argmax(np.array(day) != NEVER))
    is_open = made.open.copy()
    is_open[row, day[row]] = False
    assert on(replace(made, open=is_open))[0][row] != day[row]


@settings(deadline=None, max_examples=100)
@given(problems(has_pins=False, way=0))
def test_no_routine_visit_stands_today_where_one_that_a_case_asks_for_could(made):
    none = np.full(made.visits, NEVER)
    made = replace(made, was_on=none, was_team=none, waits_since=np.full(made.visits, -9))
    choice = roll(made, PRICES).choice
    asked = np.flatnonzero(made.is_asked)
    for team in range(len(made.teams)):
        routine = (choice.on == 0) & (choice.team == team) & ~made.is_asked
        of_cases = (choice.on == 0) & (choice.team == team) & made.is_asked
        left = int(made.team_minutes[0, team]) - int(made.minutes[of_cases].sum())
        for row in asked if routine.any() else ():
            waits = choice.on[row] != 0
            may = made.open[row, 0] and made.needs[row] <= made.team_people[team]
            may = may and (made.shut is None or not made.shut[row, 0, team])
            assert not (waits and may and made.minutes[row] <= left)


@settings(deadline=None, max_examples=100)
@given(problems(has_pins=False))
def test_with_minutes_without_end_nothing_is_late_that_has_an_opening_in_time(made):
    endless = np.full_like(made.team_minutes, 10_000)
    none = np.full(made.visits, NEVER)
    made = replace(
        made,
        team_minutes=endless,
        shut=None,
        needs=np.ones(made.visits, int),
        was_on=none,
        was_team=none,
    )
    choice = roll(made, PRICES).choice
    for row in range(made.visits):
        due = int(made.due[row])
        if 0 <= due < made.horizon and made.open[row, : due + 1].any():
            assert NEVER < choice.on[row] <= due


# Jackson's rule: earliest due first has no late job if any order has none (Jackson 1955).
# Jobs of one length here, the same cycle, so many a day.
@settings(deadline=None, max_examples=100)
@given(
    st.lists(st.integers(0, 8), min_size=1, max_size=14),
    st.integers(1, 3),
    st.sampled_from([9, 30, 90]),
    st.booleans(),
)
def test_where_earliest_due_first_has_no_late_job_neither_has_a_strict_plan_from_this_one(
    due, a_day, cycle, is_asked
):
    horizon = 9
    made = problem(
        [20] * len(due),
        due,
        [range(horizon)] * len(due),
        [20 * a_day] * horizon,
        cycle=np.full(len(due), cycle),
        is_asked=np.full(len(due), is_asked),
        waits_since=np.full(len(due), -9) if is_asked else np.array(due),
    )
    by_rule = [place // a_day for place in range(len(due))]
    if all(day <= last for day, last in zip(by_rule, sorted(due), strict=True)):
        assert made.overdue_bed_days(planned(made, roll(made, PRICES).choice)) == 0


def shares():
    told = []
    return told, lambda share, _: told.append(share)


@settings(deadline=None)
@given(problems(), st.integers(0, 12))
def test_stopped_at_any_step_it_breaks_no_rule_and_says_so(made, steps):
    told, note = shares()
    roll(made, PRICES, note)

    def stop(share, step):
        if share >= told[min(steps, len(told) - 1)]:
            raise Stopped

    stopped = roll(made, PRICES, stop)
    assert stopped.was_stopped
    assert broken(made, stopped.choice) == []


def test_of_equals_each_stays_where_it_was_promised():
    made = problem([20, 20], [5, 5], [range(4)] * 2, [20] * 4)
    for was in ([0, 1], [1, 0]):
        assert on(replace(made, was_on=np.array(was), was_team=np.array([0, 0])))[0] == was


def test_a_promised_visit_makes_way_for_what_saves_more():
    made = problem(
        [20, 60], [5, -9], [range(4), [1]], [60] * 4,
        beds=[1, 6], was_on=[1, NEVER], was_team=[0, NEVER],
    )  # fmt: skip
    days, _ = on(made)
    assert days[1] == 1
    assert days[0] not in (1, NEVER)


@pytest.mark.parametrize("ahead", range(4))
def test_today_is_promised_whole_and_of_later_days_only_what_cannot_wait(ahead):
    # Ten visits that can be on that day only; the last one would be late on any other.
    made = problem(
        [9] * 10, [30] * 9 + [ahead], [[ahead]] * 10, [100] * 4, later_on=[20] * 10
    )  # fmt: skip
    rolled = roll(made, PRICES)
    assert (rolled.choice.on == ahead).sum() == 10
    assert np.flatnonzero(rolled.firm).tolist() == (list(range(10)) if ahead == 0 else [9])


@pytest.mark.parametrize(("rooms", "seed"), [(180, 22), (180, 23), (400, 21), (400, 22)])
def test_with_minutes_to_spare_no_bed_is_late_that_need_not_be(rooms, seed):
    """Teams of whose minutes two fifths are wanted: what the bound of split visits allows, which
    ``test_bounds`` holds against another solver."""
    made = one_shot(rooms, seed=seed, load=0.4)
    had = made.team_minutes.sum(axis=1)
    busy = busyness(made.minutes, made.cycle, way=made.area_minutes, had=had)
    choice = roll(made, prices_of(rules().figures, busy=busy)).choice
    assert not broken(made, choice)
    assert made.overdue_bed_days(choice) == fewest_overdue(made)


def published(minutes, was_team, teams, **more):
    """Visits of one corridor a visit each, open today and on day 5, on today's sheets."""
    rows = len(minutes)
    return problem(
        minutes,
        [-5] * rows,
        [{0, 5}] * rows,
        [teams, *[[0] * len(teams)] * 4, teams],
        was_on=np.zeros(rows, int),
        was_team=np.array(was_team),
        team_people=np.full(len(teams), 2),
        **more,
    )


def test_what_a_case_asks_for_outweighs_any_number_of_agreed_days_of_another_team():
    """Blue's sheet is full of a pinned visit; red holds a guest's day, and the case's takes it."""
    made = published(
        [40, 40, 40],
        [0, 0, 1],
        [40, 40],
        is_asked=np.array([False, True, False]),
        pinned_on=np.array([0, NEVER, 0]),
        agreed=np.array([False, False, True]),
    )
    choice = roll(made, PRICES).choice
    assert (choice.on.tolist(), choice.team.tolist()[:2]) == ([0, 0, 5], [0, 1])


def test_sheets_stand_as_they_were_where_another_way_saves_no_more():
    """Three equal visits, two places: whose team has no minutes left takes nobody's."""
    made = published([40, 40, 40], [0, 0, 1], [40, 40])
    choice = roll(made, PRICES).choice
    assert (choice.on.tolist(), choice.team.tolist()) == ([0, 5, 0], [0, 0, 1])
