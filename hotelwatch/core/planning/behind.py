"""How long the house will be behind: days on which more has fallen due than minutes sufficed for.

While it is behind, a minute more on one day shortens the wait on every such day that follows.
So minutes are worth the more the longer that will last: before a team's leave, after it, and
with a backlog. Openings are left aside here; they stand in each visit's own costs. How busy
teams are in the long run says whether minutes are worth anything at all.
"""

from __future__ import annotations

import numpy as np

from hotelwatch.core.planning.problem import Floats, Ints

LOOKED_AHEAD = 75
"""Days, the first one of the plan among them: as far as looks and leave are mostly known."""
SOONER = 0.9
"""Of its cycle, after which a bed is looked at again: teams come a little early. This and
what follows are assumptions, chosen on invented hotels."""
WAY_SHARE = 0.45
"""Of a way to a corridor, for each visit: rather more than two visits a way."""
WEEK = 7
SLACK_DAYS = 2
"""Days of a whole house's minutes that are lost, since rooms are closed when they are due."""


def busyness(minutes: Ints, cycle: Ints, *, way: int, had: Ints) -> float:
    """What looks want of each minute that the teams have, in the long run; 0 without teams.

    Each visit takes ``minutes`` and a share of a ``way`` in each ``cycle`` (R). ``had``: as
    below; of its whole weeks the middle one counts, so that a leave changes nothing.
    """
    weeks = had[: len(had) // WEEK * WEEK].reshape(-1, WEEK).sum(axis=1)
    usual = float(np.median(weeks)) / WEEK if len(weeks) else 0.0
    a_day = float(((minutes + WAY_SHARE * way) / (SOONER * cycle)).sum())
    return a_day / usual if usual else 0.0


def behind_days(minutes: Ints, due: Ints, cycle: Ints, *, way: int, had: Ints) -> Ints:
    """From each day on, on how many days to come the house is behind (L).

    Each visit takes ``minutes`` and a share of a ``way``, first on the day ``due``, by
    number, then each ``cycle`` (R). ``had``: minutes of all teams on each day (L).
    """
    days = len(had)
    needed: Floats = np.zeros(days)
    spent, on = minutes + WAY_SHARE * way, np.maximum(due, 0).astype(float)
    while (soon := on < days).any():
        np.add.at(needed, on[soon].astype(int), spent[soon])
        on = on + np.maximum(1, SOONER * cycle)
    usual = had.sum() / max(1, int((had > 0).sum()))
    is_behind = needed.cumsum() > had.cumsum() - SLACK_DAYS * usual
    to_come: Ints = is_behind[::-1].cumsum()[::-1]
    return to_come
