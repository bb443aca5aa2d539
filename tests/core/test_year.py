"""Half a year planned every morning, against what people do without a planner.

Policies and hotels are those of ``tests.bench.bench_year``, which does whole years; all know the
same each morning. That the planner has at most 0.85 of the late days of a sweep of the most
urgent corridor is what a published trial program set itself and did not reach.
"""

from __future__ import annotations

import pytest

from tests.bench import policies
from tests.bench.bench_year import run
from tests.bench.invented import told_and_pooled, world
from tests.bench.rounds_by_plan import planner

ROOMS, DAYS = 200, 180
SEEDS = (71, 72)
"""Nothing was chosen on them."""


@pytest.fixture(scope="module")
def overdue():
    """Overdue bed-days under each policy, both hotels together, and moves of the planner."""
    found = {"moved": 0, "still": 0}
    for seed in SEEDS:
        made = told_and_pooled(world(ROOMS, seed=seed, days=DAYS))
        counts = {}
        for name, policy in {
            "planner": planner(made, count=counts),
            "sweep": policies.wing_sweep(made, share=0.10),
            "wider sweep": policies.wing_sweep(made, share=0.15),
            "earliest due first": policies.earliest_due_first(made),
        }.items():
            found[name] = found.get(name, 0) + run(made, *policy)[0].overdue
        found["moved"] += counts["moved"]
        found["still"] += counts["still"]
    return found


def test_fewer_beds_are_late_than_by_sweeping_or_by_due_day(overdue):
    sweep = min(overdue["sweep"], overdue["wider sweep"])
    assert overdue["planner"] <= 0.85 * sweep
    assert overdue["planner"] <= 0.5 * overdue["earliest due first"]


def test_few_published_visits_are_moved(overdue):
    assert overdue["still"] > 0
    assert overdue["moved"] <= 0.03 * overdue["still"]
