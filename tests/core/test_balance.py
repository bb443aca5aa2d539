"""Going on without a look, at prices that all visits make together: against all policies, and by
examples."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain, combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning import balance
from hotelwatch.core.planning.balance import Waits, passed
from hotelwatch.core.planning.prices import Prices
from hotelwatch.core.planning.rolling import roll
from tests.core.problems import problem

PRICES = Prices(minute=0.5, alone=1.0, ageing_cycles=1, moved=3, firm=2, firm_days=7)
MINUTES, WAY = 20, 8
A_LOOK = 0.5 * (MINUTES + WAY)
"""Of a visit that has its way to itself, as all have after the last day."""


def one(days, open_on, chance):
    made = problem([MINUTES], [9], [open_on], [60] * days, area_minutes=WAY)
    return replace(made, chance=np.array([chance]))


def expected(policy, days, chance, so_far, after, first):
    """What a visit costs from a day on that takes the first day of the policy that is open."""
    usable = [day for day in policy if day > first]
    total = 0.0
    for comes in product((True, False), repeat=len(usable)):
        weight, cost = 1.0, so_far[days] + A_LOOK
        for day, is_open in zip(usable, comes, strict=True):
            weight *= chance[day] if is_open else 1 - chance[day]
        for day, is_open in zip(usable, comes, strict=True):
            if is_open:
                cost = so_far[day] + after[day] + A_LOOK
                break
        total += weight * cost
    return total


# Optimal stopping by going back from the last day (Bellman 1957, Dynamic Programming, from
# memory), here held against every set of days that somebody might be ready to take.
@settings(deadline=None, max_examples=60)
@given(st.data())
def test_of_one_visit_no_choice_of_days_to_take_costs_less(data):
    days = data.draw(st.integers(1, 5))
    costs = st.floats(-3, 30)
    so_far = data.draw(st.lists(costs, min_size=days + 1, max_size=days + 1))
    after = data.draw(st.lists(st.floats(0, 9), min_size=days, max_size=days))
    chance = data.draw(st.lists(st.floats(0, 1), min_size=days, max_size=days))
    open_on = sorted(data.draw(st.sets(st.integers(0, days - 1))))
    policies = list(chain.from_iterable(combinations(open_on, n) for n in range(days + 1)))
    waits = Waits(np.array(so_far)[:, None], np.array(after)[:, None])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(balance, "STEP", 0.0)
        found = passed(one(days, open_on, chance), PRICES, waits)[:, 0]
    for day in range(days):
        best = min(expected(p, days, chance, so_far, after, day) for p in policies)
        assert found[day] == pytest.approx(best)


def waits_of(made, a_day):
    """Waiting costs so much a day (R), and looks leave nothing to come."""
    days = np.arange(made.horizon + 1)[:, None]
    return Waits(days * np.array(a_day), np.zeros((made.horizon, made.visits)))


@pytest.mark.parametrize(("area", "ways"), [([0, 1], 1), ([0, 0], 0)])
def test_a_way_is_not_paid_for_where_another_visit_brings_the_team(area, ways, monkeypatch):
    """The first visit has day 1 alone and will not miss it; the second one may join it there."""
    monkeypatch.setattr(balance, "STEP", 0.0)
    made = problem([MINUTES] * 2, [9, 9], [{1}, {0, 1}], [60] * 2, area=area, area_minutes=WAY)
    going_on = passed(made, PRICES, waits_of(made, [50, 0]))[0, 1]
    # Nobody is more than 98 in a hundred certain to come.
    assert going_on == pytest.approx(0.5 * (MINUTES + WAY * max(ways, 0.02)))


def test_a_way_that_is_made_anyway_is_free():
    made = problem([MINUTES], [9], [{1}], [MINUTES] * 2, area_minutes=WAY)
    there = replace(made, been=frozenset({(1, 0, 0)}))
    waits = waits_of(made, [0])
    alone, joined = (passed(one, PRICES, waits)[0, 0] for one in (made, there))
    assert joined == pytest.approx(0.5 * MINUTES, rel=0.1)
    assert alone > joined


def test_a_day_that_many_want_grows_dear_and_an_idle_one_cheap():
    """One that can wait for day 2, with none or six that are open on that day alone."""
    costs = []
    for others in (0, 6):
        visits = 1 + others
        made = problem([MINUTES] * visits, [2] * visits, [{0, 2}, *[{2}] * others], [60] * 3)
        costs.append(passed(made, PRICES, waits_of(made, [3, *[9] * others]))[0, 0])
    as_usual = 2 * 3 + 0.5 * MINUTES
    assert costs[0] < as_usual < costs[1]


def test_what_can_be_today_makes_room_for_what_cannot():
    """Three visits for two places on day 1; the one that is open today has to be today."""
    made = problem([30] * 3, [1] * 3, [{0, 1}, {1}, {1}], [60, 60])
    assert roll(made, PRICES).choice.on.tolist() == [0, 1, 1]


def test_without_visits_nothing_is_passed():
    made = problem([], [], [], [60] * 3)
    nothing = Waits(np.zeros((4, 0)), np.zeros((3, 0)))
    assert passed(made, PRICES, nothing).shape == (3, 0)
