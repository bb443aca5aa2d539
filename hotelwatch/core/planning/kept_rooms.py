"""Rooms that front desk keeps free, each for one day on which a team can use it.

Which rooms these are and for which days is for the program to say: those that would have no
opening in time, each on the last day that is not late, else on the next one. A day is asked for
only while its minutes last: beside the rooms kept before, and what has its last day in time then,
or is late. One more room than that would only drive out another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from hotelwatch.core.days import local_day
from hotelwatch.core.planning.problem import NEVER, Choice, Claims, Ints, Problem
from hotelwatch.core.planning.situation import Situation
from hotelwatch.core.stays.entering import reentries


def with_kept_rooms(situation: Situation, a_day: int, as_is: Choice) -> Problem:
    """The problem were up to so many rooms a day kept free, the earliest due first.

    ``as_is`` is what would be done without, perhaps by teams that are no more.
    """
    problem = situation.problem
    if not a_day:
        return problem
    days = np.arange(problem.horizon)
    in_time = problem.open & (days[None, :] <= np.maximum(problem.due, 0)[:, None])
    wanting = np.flatnonzero(~in_time.any(axis=1) & (problem.due < problem.horizon))
    order = wanting[np.argsort(problem.due[wanting], kind="stable")]
    days_kept = _DaysKept(problem, a_day, as_is)
    useful = _useful(situation, order)
    is_open = problem.open.copy()
    for row, may in zip(order.tolist(), useful, strict=True):
        day = days_kept.take(row, may)
        if day is not None:
            is_open[row, day] = True
    return replace(problem, open=is_open)


def _useful(situation: Situation, rows: Ints) -> Iterator[Claims]:
    """On which days each room, were it free, could be looked at sooner than it opens (H)."""
    problem, house, days = situation.problem, situation.house, situation.days
    numbers = np.arange(problem.horizon)
    reentry = {room: local_day(at, house.zone) for room, at in reentries(house).items()}
    done = {bed for slot in situation.done for bed in slot.beds}
    for row in rows.tolist():
        visit = situation.visits[row]
        opens = np.flatnonzero(problem.open[row])
        may = numbers < (opens[0] if opens.size else problem.horizon)
        first_on = max(visit.first_on, reentry.get(visit.room, visit.first_on))
        may &= numbers >= (first_on - days[0]).days
        may[0] &= not any(bed.bed in done for bed in visit.beds)
        if forbidden := situation.view.hand.forbidden(visit.room):
            may &= np.array([day not in forbidden for day in days])
        if problem.kept_to[row] != NEVER:
            may &= numbers == problem.kept_to[row]
        yield may


@dataclass
class _DaysKept:
    """Days being given to rooms."""

    problem: Problem
    a_day: int
    as_is: Choice
    left: Ints = field(init=False)
    """Minutes of each team on each day (H, K)."""
    kept: Ints = field(init=False)
    """Rooms on each day (H)."""

    def __post_init__(self) -> None:
        problem, on, team = self.problem, self.as_is.on, self.as_is.team
        self.left = problem.team_minutes.copy()
        self.kept = np.zeros(problem.horizon, np.int64)
        cannot_wait = (on != NEVER) & (problem.due <= on) & (team < len(problem.teams))
        rows = np.flatnonzero(cannot_wait)
        np.subtract.at(self.left, (on[rows], team[rows]), problem.minutes[rows])
        ways = {(int(on[row]), int(team[row]), int(problem.area[row])) for row in rows.tolist()}
        for day, by, _ in ways:
            self.left[day, by] -= problem.area_minutes

    def take(self, row: int, may: Claims) -> int | None:
        """The last of its days that is not late, else the first one; None if none is left."""
        problem = self.problem
        needed = int(problem.minutes[row]) + problem.area_minutes
        able = problem.team_people >= problem.needs[row]
        if problem.pinned_team[row] != NEVER:
            able &= np.arange(able.size) == problem.pinned_team[row]
        fits = (self.left >= needed) & able[None, :]
        days = np.flatnonzero(may & fits.any(axis=1) & (self.kept < self.a_day))
        if not days.size:
            return None
        in_time = days[days <= problem.due[row]]
        day = int(in_time[-1] if in_time.size else days[0])
        self.kept[day] += 1
        self.left[day, int(np.flatnonzero(fits[day])[0])] -= needed
        return day
