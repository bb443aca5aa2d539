"""Days more of a team for rooms that can be entered in time only while no such team works."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from hotelwatch.core.planning.more_days import MoreDays, could_come, with_days
from hotelwatch.core.planning.problem import Claims, Ints
from hotelwatch.core.planning.shortfall import ALONE, Shortfall

MOST_DAYS = 3
"""A choice of ours: more days for single rooms are no small repair."""


def on_days_off(
    asked: MoreDays, shortfalls: Sequence[Shortfall], enterable: Claims
) -> MoreDays | None:
    """Days of the team that saves rooms told alone the most late days; None if none does."""
    alone = [one for one in shortfalls if one.binds in ALONE]
    if not alone:
        return None
    rows = np.array([one.rows[0] for one in alone], np.int64)
    late = np.array([one.overdue_bed_days for one in alone], np.int64)
    problem = asked.problem
    in_time = np.arange(problem.horizon)[None, :] <= problem.due[rows][:, None]
    usual = problem.team_minutes.max(axis=0, initial=0)
    found = []
    for team in np.flatnonzero(usual).tolist():
        minutes = int(usual[team])
        could = could_come(asked, enterable, team, minutes)[rows] & in_time
        days, saved = _days(could, late, problem.minutes[rows], minutes)
        if days:
            found.append((saved, -len(days), -team, days))
    if not found:
        return None
    *_, team, days = max(found)
    return with_days(replace(asked, team=-team, minutes=int(usual[-team])), days, enterable)


def _days(could: Claims, late: Ints, minutes: Ints, of_day: int) -> tuple[list[int], int]:
    """Few days, each the one that saves the most beside those before it, and what they save."""
    waits = np.ones(late.size, bool)
    # The most late days for its minutes first: a day's minutes do not take all.
    order = np.argsort(-late / minutes, kind="stable")
    days: list[int] = []
    saved = 0
    for _ in range(MOST_DAYS):
        best: tuple[int, int, Ints] | None = None
        for day in sorted(set(range(could.shape[1])).difference(days)):
            rows = order[(could[order, day]) & waits[order]]
            rows = rows[minutes[rows].cumsum() <= of_day]
            of_rows = int(late[rows].sum())
            if of_rows and (best is None or of_rows > best[0]):
                best = of_rows, day, rows
        if best is None:
            break
        saved += best[0]
        days.append(best[1])
        waits[best[2]] = False
    return days, saved
