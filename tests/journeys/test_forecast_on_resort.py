"""Chances of windows against what came, on a resort's real bookings.

The bookings, and the invented hotel around them, are those of tests/journeys/test_resort.py.
The score is Brier's (1950, Monthly Weather Review 78, from memory). The span lies after the
bookings on which the assumed figures were chosen.
"""

from __future__ import annotations

from datetime import date

import pytest

from tests.bench.bench_forecast import NAMES, judged
from tests.journeys.test_resort import BOOKINGS

pytestmark = pytest.mark.skipif(
    not BOOKINGS.is_file(),
    reason="shared/data/resort_bookings.csv.gz does not stand beside the project",
)


def test_chances_come_true_as_often_as_said_and_beat_both_simple_rules():
    outcomes = judged(date(2016, 9, 5), date(2016, 12, 12), every=14)
    ours, unsaid, mean, known = (outcomes.brier(name) for name in NAMES)
    assert ours < 0.9 * known
    assert unsaid < 0.9 * known
    assert ours < 0.6 * mean
    assert unsaid < 0.6 * mean
    for name in NAMES[:2]:
        for count, chance, came in outcomes.bins(name).values():
            # A tenth with few room-days holds few mornings, and those hang together.
            assert count < 1000 or came == pytest.approx(chance, abs=0.2)
