"""Days more of a team after which what was late before the plan is looked at within a week."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import numpy as np

from hotelwatch.core.planning.more_days import MoreDays, could_come, with_days
from hotelwatch.core.planning.problem import Claims, Problem

WITHIN_DAYS = 7
"""An assumption: nobody measured how long a backlog may last."""


def catching_up(asked: MoreDays, enterable: Claims) -> MoreDays | None:
    """Days more of the team that has the most minutes; None where minutes are not what lacks.

    Days on which it is off come first, then the earliest; not today, whose teams are here,
    nor one on which nothing that is late could be looked at.
    """
    problem = asked.problem
    short, team = _short(problem), int(problem.team_minutes.max(axis=0, initial=0).argmax())
    minutes = int(problem.team_minutes[:, team].max(initial=0))
    if short <= 0 or not minutes:
        return None
    works = problem.team_minutes[:, team] > 0
    could = could_come(asked, enterable, team, minutes)[problem.due < 0, :WITHIN_DAYS]
    days = [day for day in np.unique(np.nonzero(could)[1]).tolist() if day]
    chosen = sorted(days, key=lambda day: (works[day], day))[: ceil(short / minutes)]
    if not chosen:
        return None
    return with_days(replace(asked, team=team, minutes=minutes), chosen, enterable)


def _short(problem: Problem) -> int:
    """Minutes that what is late already wants beyond those of the first days."""
    had = problem.team_minutes[:WITHIN_DAYS].sum()
    return int(problem.minutes[problem.due < 0].sum() - had)
