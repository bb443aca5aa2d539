"""How busy the teams are in the long run: what looks at all rooms want of each of their minutes.

It says whether minutes are worth anything at all. Openings are left aside here; they stand
in each visit's own costs.
"""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.problem import Ints

LOOKED_AHEAD = 75
"""Days, the first one of the plan among them: as far as looks and leave are mostly known."""
SOONER = 0.9
"""Of its cycle, after which a bed is looked at again: teams come a little early. This and
what follows are assumptions, chosen on invented hotels."""
WAY_SHARE = 0.45
"""Of a way to a corridor, for each visit: rather more than two visits a way."""
WEEK = 7


def busyness(minutes: Ints, cycle: Ints, *, way: int, had: Ints) -> float:
    """What looks want of each minute that the teams have, in the long run; 0 without teams.

    Each visit takes ``minutes`` and a share of a ``way`` in each ``cycle`` (R). ``had``:
    minutes of all teams on each day (L); of its whole weeks the middle one counts, so that a
    leave changes nothing.
    """
    weeks = had[: len(had) // WEEK * WEEK].reshape(-1, WEEK).sum(axis=1)
    usual = float(np.median(weeks)) / WEEK if len(weeks) else 0.0
    a_day = float(((minutes + WAY_SHARE * way) / (SOONER * cycle)).sum())
    return a_day / usual if usual else 0.0
