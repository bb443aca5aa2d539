from __future__ import annotations

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.building.routes import EXACT_STOPS, length_of, shortest_order


@st.composite
def lengths(draw, most):
    """A way in to each stop and a way between any two, the same both ways; no other law."""
    stops = draw(st.integers(0, most))
    some = st.integers(0, 50)
    entry = [draw(some) for _ in range(stops)]
    between = [[0] * stops for _ in range(stops)]
    for one in range(stops):
        for other in range(one):
            between[one][other] = between[other][one] = draw(some)
    return entry, between


@given(lengths(most=6))
def test_few_stops_come_in_the_first_of_the_shortest_orders(asked):
    entry, between = asked
    best = min(
        (length_of(entry, between, order), order) for order in permutations(range(len(entry)))
    )
    order = shortest_order(entry, between)
    assert (length_of(entry, between, order), order) == best


@given(lengths(most=EXACT_STOPS + 6))
def test_no_order_is_longer_than_the_one_given(asked):
    entry, between = asked
    order = shortest_order(entry, between)
    assert sorted(order) == list(range(len(entry)))
    given_order = length_of(entry, between, range(len(entry)))
    assert length_of(entry, between, order) <= given_order


@given(st.lists(st.integers(0, 1000), min_size=EXACT_STOPS + 1, max_size=25))
def test_many_stops_on_a_line_are_passed_outwards(places):
    """On a line from its beginning, nothing is shorter than going to the farthest stop."""
    between = [[abs(one - other) for other in places] for one in places]
    order = shortest_order(places, between)
    assert length_of(places, between, order) == max(places)


@given(st.lists(st.integers(1, 1000), min_size=EXACT_STOPS + 1, max_size=25))
def test_many_dead_ends_are_walked_back_from_but_for_the_longest(legs):
    """Each leg is walked there and back but for the last, so the longest comes last."""
    between = [
        [0 if one == other else legs[one] + legs[other] for other in range(len(legs))]
        for one in range(len(legs))
    ]
    order = shortest_order(legs, between)
    assert length_of(legs, between, order) == 2 * sum(legs) - max(legs)
