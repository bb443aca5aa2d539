"""The plan in the strict order, against worked examples, brute force and laws."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from hotelwatch.core.planning.bounds import fewest_overdue
from hotelwatch.core.planning.problem import NEVER
from hotelwatch.core.planning.strict import Effort, strict_plan
from hotelwatch.core.planning.strict_costs import second_tier
from hotelwatch.core.progress import Stopped
from tests.bench.instances import one_shot
from tests.core.problems import AIMS, best_by_hand, broken, planned, problem
from tests.core.test_bounds import small

SEARCH = Effort(tries=60, exact_size=0)
"""Without the exact solver, as for large hotels."""

EXHAUSTIVE = {
    # Fewest overdue bed-days of whole rooms over six days, found by exhaustive search in an
    # earlier independent program: minutes, beds, due days, days open, day minutes, answer.
    "O1": (
        [16, 34, 13, 20, 13, 26, 26, 26],
        [2, 1, 1, 1, 1, 1, 1, 1],
        [2, 4, 4, -2, 3, 1, 0, 3],
        [{0, 4}, {0, 4, 5}, {3}, {0, 3}, {3, 5}, {1, 2}, {2, 3}, {3}],
        [0, 40, 48, 0, 48, 60],
        18,
    ),
    "O3": (
        [16, 34, 34, 16, 20, 34, 26, 34],
        [1, 2, 1, 1, 1, 2, 1, 1],
        [3, 1, 2, 4, 2, 1, 1, 3],
        [{1, 5}, {0, 3, 4, 5}, {2}, {2}, {1, 3, 4, 5}, {0, 1, 2, 3}, {1, 3}, {2, 3, 5}],
        [60, 60, 48, 60, 40, 48],
        4,
    ),
    "O6": (
        [34, 13, 26, 20, 13, 13, 16, 34],
        [1, 2, 1, 1, 1, 1, 1, 1],
        [3, 4, 1, 2, 2, 3, -2, -1],
        [{0, 4, 5}, {0, 1, 2, 5}, {0, 1, 3}, {0, 1, 5}, {0, 1, 3}, {1, 3, 4, 5}, {0, 2, 4}, {4}],
        [40, 0, 48, 48, 40, 60],
        12,
    ),
    "O8": (
        [16, 20, 26, 16, 16, 13, 13, 16],
        [1, 2, 1, 1, 2, 1, 1, 1],
        [1, 1, 1, 2, -1, 4, 1, -2],
        [{0, 1, 2, 3}, {0, 2, 3, 5}, {0, 3, 5}, {0, 2, 4, 5}, {3}, {1, 4}, {4}, {3}],
        [40, 40, 60, 60, 48, 48],
        17,
    ),
}


@pytest.mark.parametrize("name", EXHAUSTIVE)
def test_whole_rooms_reach_what_exhaustive_search_reached(name):
    minutes, beds, due, days, cap, answer = EXHAUSTIVE[name]
    made = problem(minutes, due, days, cap, beds=beds)
    choice = planned(made)
    assert not broken(made, choice)
    assert made.overdue_bed_days(choice) == answer
    assert fewest_overdue(made) <= answer


@pytest.mark.parametrize(
    ("lengths", "dues", "latest"),
    [((4, 3, 7, 2, 2), (8, 14, 10, 3, 18), 3), ((20, 13, 34, 16, 26), (30, 45, 60, 90, 100), 9)],
)
def test_earliest_due_first_is_best_for_the_latest_of_jobs_in_turn(lengths, dues, latest):
    """Jackson (1955), the rule from memory: one machine, jobs in turn by due time.

    Its least latest lateness L means: with due times L later all can be in time, with
    L - 1 later not. A job is as many visits of a day each as it is long, one a day; they
    can all be in time only if the jobs can (a job may pause, which does not help).
    """
    assert edd_lateness(lengths, dues) == latest
    for more, late in ((latest, False), (latest - 1, True)):
        made = in_days(lengths, dues, more)
        choice = planned(made, effort=SEARCH)
        bound = fewest_overdue(made)
        assert (made.overdue_bed_days(choice) > 0) == late
        assert (bound > 0) == late


def edd_lateness(lengths, dues):
    clock, worst = 0, -(10**6)
    for due, length in sorted(zip(dues, lengths, strict=True)):
        clock += length
        worst = max(worst, clock - due)
    return worst


def in_days(lengths, dues, more):
    each = [due + more - 1 for due, n in zip(dues, lengths, strict=True) for _ in range(n)]
    horizon = max(max(each) + 2, sum(lengths) + 1)
    return problem([20] * len(each), each, [range(horizon)] * len(each), [20] * horizon)


PINWHEELS = [
    # Periods, rooms a day, the first day that must start overdue (None: never). Holte et al.
    # 1989 for the problem; densities up to 5/6 always go (Kawamura 2024), (2, 3, m) never does
    # (both from memory). Days: two independent exhaustive programs.
    ((2, 3), 1, None),
    ((2, 5, 7), 1, None),
    ((2, 4, 4), 1, None),
    ((3, 3, 3), 1, None),
    ((3, 4, 5, 8), 1, None),
    ((4, 5, 5, 7, 7), 1, None),
    ((2, 2, 3, 4, 4), 2, None),
    ((1, 2, 2), 2, None),
    ((2, 3, 6), 1, 8),
    ((2, 3, 7), 1, 9),
    ((2, 3, 12), 1, 14),
    ((2, 3, 30), 1, 32),
    ((3, 4, 5, 7), 1, 20),
    ((3, 3, 4, 12), 1, 14),
    ((2, 4, 7, 8), 1, 14),
]


@pytest.mark.parametrize(("periods", "a_day", "first_late"), PINWHEELS)
def test_no_plan_is_in_time_longer_than_a_pinwheel_can_be(periods, a_day, first_late):
    """The strict plan of one look a room, chained: whenever all days up to one can start
    in time at all, a search over states agrees on how long; the bound of one window never
    claims a bed overdue before that day."""
    horizon = 40
    reached = longest_in_time(periods, a_day, horizon)
    assert reached == first_late
    last_sure = horizon if first_late is None else first_late
    rooms = range(len(periods))
    made = problem(
        [20] * len(periods),
        [period - 1 for period in periods],
        [range(last_sure) for _ in rooms],
        [20 * a_day] * last_sure,
    )
    assert fewest_overdue(made) == 0
    choice = planned(made)
    assert made.overdue_bed_days(choice) == 0
    assert not broken(made, choice)


def longest_in_time(periods, a_day, horizon):
    """The first day that must start with a room overdue; all looked at on day -1."""
    states = {tuple(0 for _ in periods)}
    for day in range(horizon):
        # Days since the last look at the start of the day; overdue if more than the period.
        states = {tuple(n + 1 for n in state) for state in states}
        states = {s for s in states if all(n <= p for n, p in zip(s, periods, strict=True))}
        if not states:
            return day
        states = {
            tuple(0 if room in looked else n for room, n in enumerate(state))
            for state in states
            for looked in combinations(range(len(periods)), a_day)
        }
    return None


@settings(max_examples=60, deadline=None)
@given(small())
def test_small_plans_are_best(made):
    """Brute force over all plans of up to four visits: both tiers, corridors and teams."""
    choice = planned(made)
    assert not broken(made, choice)
    found = made.overdue_bed_days(choice), round(second_tier(made, choice, AIMS), 6)
    assert found == pytest.approx(best_by_hand(made))


@settings(max_examples=60, deadline=None)
@given(small(visits=6, days=5))
def test_searched_plans_break_nothing_and_are_not_below_the_bound(made):
    choice = planned(made, effort=SEARCH)
    assert not broken(made, choice)
    assert made.overdue_bed_days(choice) >= fewest_overdue(made)


@settings(max_examples=60, deadline=None)
@given(small(visits=8, days=4))
def test_first_answers_where_all_is_late_break_nothing(made):
    """Ways as a cost, days too full to be shared out: sheets of single teams are filled."""
    made = made.with_changes(due=np.full(made.visits, NEVER), area_minutes=0)
    aims = replace(AIMS, walks_in_day=False)
    choice = strict_plan(made, aims=aims, effort=replace(SEARCH, is_first=True))
    assert not broken(made, choice)
    assert made.overdue_bed_days(choice) >= fewest_overdue(made)


def optimum(made):
    """Fewest overdue bed-days by another solver (CP-SAT)."""
    model = cp_model.CpModel()
    x = {}
    for row in range(made.visits):
        for day, team in np.ndindex(*made.team_minutes.shape):
            if made.open[row, day] and made.needs[row] <= made.team_people[team]:
                x[row, day, team] = model.new_bool_var("")
        model.add_at_most_one(v for (r, _, _), v in x.items() if r == row)
    for day, team in np.ndindex(*made.team_minutes.shape):
        here = {r: v for (r, d, t), v in x.items() if (d, t) == (day, team)}
        gone = {int(made.area[r]): model.new_bool_var("") for r in here}
        for r, v in here.items():
            model.add_implication(v, gone[int(made.area[r])])
        ways = made.area_minutes * sum(gone.values())
        used = sum(int(made.minutes[r]) * v for r, v in here.items())
        model.add(used + ways <= int(made.team_minutes[day, team]))
    late = made.beds[:, None] * made.late_days
    saved = sum(int(late[r, -1] - late[r, d]) * v for (r, d, _), v in x.items())
    model.maximize(saved)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(late[:, -1].sum() - solver.objective_value)


@settings(max_examples=25, deadline=None)
@given(small(visits=7, days=5))
def test_another_solver_agrees_on_the_fewest_overdue(made):
    best = optimum(made)
    assert fewest_overdue(made) <= best
    assert made.overdue_bed_days(planned(made)) == best


@settings(max_examples=25, deadline=None)
@given(
    small(visits=5, days=4, teams=1), st.lists(st.sampled_from([0, 48, 60]), min_size=4, max_size=4)
)
def test_a_team_more_never_worsens_a_plan(made, minutes):
    more = replace(
        made,
        teams=(*made.teams, made.teams[0] + " more"),
        team_minutes=np.column_stack([made.team_minutes, minutes]),
        team_people=np.append(made.team_people, 2),
    )
    assert more.overdue_bed_days(planned(more)) <= made.overdue_bed_days(planned(made))
    assert fewest_overdue(more) <= fewest_overdue(made)


@settings(max_examples=25, deadline=None)
@given(small(), st.data())
def test_pinning_what_was_planned_anyway_changes_nothing(made, data):
    choice = planned(made)
    pinned = data.draw(st.lists(st.booleans(), min_size=made.visits, max_size=made.visits))
    held = replace(
        made,
        pinned_on=np.where(pinned, choice.on, NEVER),
        pinned_team=np.where(pinned, choice.team, NEVER),
    )
    again = planned(held, start=choice)
    assert again.on.tolist() == choice.on.tolist()
    assert again.team.tolist() == choice.team.tolist()


def test_the_same_input_gives_the_same_plan():
    made = one_shot(400, seed=11)
    first, second = planned(made), planned(made)
    assert first.on.tolist() == second.on.tolist()
    assert first.team.tolist() == second.team.tolist()
    assert not broken(made, first)


def test_what_a_case_asks_for_goes_before_a_room_with_more_beds():
    made = problem([20, 20], [0, 0], [{0, 1}] * 2, [20, 20], beds=[1, 4], is_asked=[True, False])
    assert planned(made).on.tolist() == [0, 1]


def test_a_pin_is_kept_though_it_makes_others_late():
    made = problem([20, 20], [0, 3], [{0, 1}] * 2, [20, 20], pinned_on=[NEVER, 0])
    assert planned(made).on.tolist() == [1, 0]
    assert planned(made, effort=SEARCH).on.tolist() == [1, 0]


def test_a_published_visit_stays_where_moving_saves_less_than_it_is_worth():
    """One day earlier wastes 20 / 60 of a minute; a move is worth 12."""
    made = problem([20], [2], [{0, 1, 2}], [60] * 3, was_on=[1], was_team=[0])
    assert planned(made).on.tolist() == [1]


def test_rooms_of_a_corridor_go_together():
    """Two ways of 8 minutes against two days early at 20 / 60 of a minute each."""
    made = problem([20, 20], [1, 3], [range(4)] * 2, [60] * 4, area_minutes=8)
    assert planned(made).on.tolist() == [1, 1]
    assert planned(made, effort=SEARCH).on.tolist() == [1, 1]


def test_a_plan_that_is_stopped_is_the_best_so_far():
    made = one_shot(400, seed=12)

    def stop(share, step):
        if share > 0:
            raise Stopped

    early = strict_plan(made, aims=AIMS, effort=SEARCH, progress=stop)
    assert not broken(made, early)
    at_once = strict_plan(made, early, aims=AIMS, effort=SEARCH, progress=stop_now)
    assert at_once.on.tolist() == early.on.tolist()
    assert made.overdue_bed_days(early) >= made.overdue_bed_days(planned(made, start=early))


def stop_now(share, step):
    raise Stopped
