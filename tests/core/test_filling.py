"""A team's day filled: against every choice of rooms."""

from __future__ import annotations

from itertools import chain, combinations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning.filling import fill
from tests.core.problems import problem

WAY = 8


def a_day(minutes, area, *, way=WAY):
    """Visits open on one day."""
    return problem(minutes, [0] * len(minutes), [[0]] * len(minutes), [0],
                   area=np.array(area, int), area_minutes=way)  # fmt: skip


def spent(made, visits, been=()):
    ways = {int(made.area[v]) for v in visits} - set(been)
    return sum(int(made.minutes[v]) for v in visits) + made.area_minutes * len(ways)


def best_by_hand(made, saved, minutes, been=()):
    """The most that any visits save within the minutes."""
    rows = range(made.visits)
    choices = chain.from_iterable(combinations(rows, n) for n in range(made.visits + 1))
    return max(sum(saved[v] for v in of) for of in choices if spent(made, of, been) <= minutes)


@st.composite
def days(draw):
    """Up to eight visits of three corridors, what they save, minutes, corridors been to."""
    count = draw(st.integers(1, 8))

    def several(values):
        return draw(st.lists(values, min_size=count, max_size=count))

    made = a_day(several(st.integers(5, 40)), several(st.integers(0, 2)))
    saved = np.array(several(st.integers(-5, 30)), float)
    been = draw(st.sets(st.integers(0, 2)))
    return made, saved, draw(st.integers(0, 120)), been


@settings(deadline=None, max_examples=150)
@given(days())
def test_no_choice_of_rooms_saves_more(drawn):
    made, saved, minutes, been = drawn
    found = fill(made, saved, minutes, been=been)
    assert len(set(found)) == len(found)
    assert all(saved[v] > 0 for v in found)
    assert spent(made, found, been) <= minutes
    assert sum(saved[v] for v in found) >= best_by_hand(made, saved, minutes, been) - 1e-9


@settings(deadline=None, max_examples=150)
@given(days())
def test_nothing_that_saves_something_and_still_fits_is_left_lying(drawn):
    made, saved, minutes, been = drawn
    found = fill(made, saved, minutes, been=been)
    for visit in set(range(made.visits)) - set(found):
        assert saved[visit] <= 0 or spent(made, [*found, visit], been) > minutes


@settings(deadline=None)
@given(days(), st.integers(0, 40))
def test_more_minutes_or_a_corridor_been_to_never_save_less(drawn, more):
    made, saved, minutes, been = drawn
    worth = sum(saved[fill(made, saved, minutes, been=been)])
    assert sum(saved[fill(made, saved, minutes + more, been=been)]) >= worth - 1e-9
    assert sum(saved[fill(made, saved, minutes, been={0, 1, 2})]) >= worth - 1e-9


def test_the_way_is_paid_once_for_a_corridor():
    made = a_day([20, 20, 20], [0, 0, 1])
    saved = np.array([3.0, 3.0, 5.0])
    # Two of one corridor take 48 minutes with the way; the single one 28.
    assert sorted(fill(made, saved, 48)) == [0, 1]
    assert sorted(fill(made, saved, 47)) == [2]
    assert sorted(fill(made, saved, 76)) == [0, 1, 2]


def test_a_visit_longer_than_the_day_hides_no_shorter_one_of_its_corridor():
    made = a_day([90, 20], [0, 0])
    assert fill(made, np.array([900.0, 1.0]), 60) == [1]


def test_among_very_many_corridors_the_best_are_filled():
    count = 100
    made = a_day([10] * count, list(range(count)))
    saved = np.arange(1.0, count + 1)
    assert sorted(fill(made, saved, 5 * (10 + WAY))) == [95, 96, 97, 98, 99]
