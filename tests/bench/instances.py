"""One-shot problems of invented hotels: what is known on the first morning."""

from __future__ import annotations

import numpy as np

from tests.bench.invented import Year, world
from tests.bench.rounds_by_plan import problem_of

HORIZON = 28
LATE_SHARE = 0.10
"""Of rooms that are late at a first roll-out or after months of too few minutes."""
LATE_BY = 0.40
"""Of their cycle, at most."""


def one_shot(rooms, *, seed, backlog=False, load=0.85, occupancy=0.75):
    """The first 28 days of an invented hotel; with ``backlog`` a tenth of rooms is late."""
    made = world(rooms, seed=seed, load=load, occupancy=occupancy, days=HORIZON)
    if backlog:
        rng = np.random.default_rng([seed, rooms, 1])
        late = rng.random(rooms) < LATE_SHARE
        by = np.ceil(rng.random(rooms) * LATE_BY * made.cycle).astype(int)
        made.last = np.where(late, -made.cycle - by, made.last)
    seen = Year(made).seen(0, HORIZON + 90)
    return problem_of(made, seen, horizon=HORIZON)
