"""Days overdue to expect from stays not yet booked."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.planning.surprise import expected_late

SHARE = 0.4


def by_hand(lengths, is_open, due, share):
    """Night by night, and for each length of stay the days overdue that it brings."""
    total = sum(lengths.values())
    mean = sum(nights * count for nights, count in lengths.items()) / total
    rows = []
    for opens, last_in_time in zip(is_open, due, strict=True):
        row = []
        for night, is_free in enumerate(opens):
            next_known = next((d for d in range(night + 1, len(opens)) if not opens[d]), len(opens))
            expected = 0.0
            for nights, count in lengths.items():
                leaves = min(night + nights, next_known)
                expected += count / total * max(0, leaves - max(last_in_time, night, 0))
            row.append(share / mean * expected if is_free else 0.0)
        rows.append(row)
    return np.array(rows)


@settings(deadline=None)
@given(
    st.dictionaries(st.integers(1, 60), st.integers(1, 20), min_size=1, max_size=5),
    st.lists(st.lists(st.booleans(), min_size=9, max_size=9), min_size=1, max_size=4),
    st.data(),
)
def test_it_is_the_mean_of_what_exceeds_the_days_until_due(lengths, is_open, data):
    due = data.draw(st.lists(st.integers(-5, 40), min_size=len(is_open), max_size=len(is_open)))
    found = expected_late(Counter(lengths), np.array(is_open), np.array(due), share=SHARE)
    assert found == pytest.approx(by_hand(lengths, is_open, due, SHARE))


def test_one_bed_by_hand():
    # Half of the stays are of 1 night, half of 9: a stay begins every 5 days. The bed is due
    # on day 2; a long stay that begins on day 0 ends on day 9, or where the house is let again.
    found = expected_late(
        Counter({1: 1, 9: 1}), np.array([[True] * 12]), np.array([2]), share=SHARE
    )
    assert found[0, 0] == pytest.approx(0.4 / 5 * (9 - 2) / 2)
    assert found[0, 2] == pytest.approx(0.4 / 5 * ((1 - 0) + (9 - 0)) / 2)
    let = np.array([[True] * 5 + [False] * 7])
    found = expected_late(Counter({1: 1, 9: 1}), let, np.array([2]), share=SHARE)
    assert found[0, 0] == pytest.approx(0.4 / 5 * (5 - 2) / 2)
    assert found[0, 5:].tolist() == [0] * 7


def test_a_hotel_without_stays_expects_none():
    nothing = expected_late(Counter(), np.ones((2, 3), bool), np.array([0, 1]), share=SHARE)
    assert nothing.tolist() == [[0, 0, 0], [0, 0, 0]]
