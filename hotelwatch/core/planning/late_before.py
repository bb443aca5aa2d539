"""What is late already before the first day, and how soon the minutes there could do it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.problem import Choice, Problem


@dataclass(frozen=True, slots=True)
class LateBefore:
    """Visits that are late before a plan's first day."""

    rooms: int
    beds: int
    minutes: int
    """Set-up and beds, ways to corridors left out."""
    since_on: date
    """The first day on which one of them was late."""
    enough_on: date | None
    """The day by which teams that could do some of it have had so many minutes; None if none
    of these days."""
    had_minutes: int
    """What they have had by then, or on all of these days."""
    open_on: date | None
    """The day by which a team could have been in each of their rooms once; None if it never
    could in one."""
    shut: tuple[RoomNo, ...]
    """Those in which no team could be on any of these days."""
    overdue_bed_days: int = 0
    """Late days on these days of these beds, as a plan places them."""

    @property
    def done_on(self) -> date | None:
        """No plan does all of it before this day; None if none of these days will do."""
        if self.enough_on is None or self.open_on is None:
            return None
        return max(self.enough_on, self.open_on)

    @property
    def is_minutes(self) -> bool:
        """Whether minutes bind rather than openings."""
        if self.enough_on is None or self.open_on is None:
            return self.enough_on is None
        return self.enough_on >= self.open_on


@dataclass(frozen=True, slots=True)
class LateSum:
    """Where a plan's late days on its days come from."""

    total: int
    """As the plan is told by."""
    already: int
    """Of beds that are late before the first day."""
    told: int
    """Of visits that reasons tell of, as they count them."""
    outside: int
    """Of rooms that no plan can look at: told too, and no part of the total."""

    @property
    def others(self) -> int:
        """What is left: rooms of which no reason tells, or that wait longer than it asks for.

        Below 0 where sheets as published go into a room before it opens as known today.
        """
        return self.total - self.already - self.told


def late_before_of(problem: Problem, choice: Choice) -> LateBefore | None:
    """The backlog of a problem's first day in a plan, or None if nothing is late."""
    rows = np.flatnonzero(problem.due < 0)
    if not rows.size:
        return None
    minutes = int(problem.minutes[rows].sum())
    able = problem.team_people >= problem.needs[rows].min()
    had = problem.team_minutes[:, able].sum(axis=1).cumsum()
    enough = np.flatnonzero(had >= minutes)
    opens = problem.open[rows].any(axis=1)
    first = problem.open[rows].argmax(axis=1)
    by = int(enough[0]) if enough.size else problem.horizon - 1
    return LateBefore(
        rooms=len({problem.rooms[row] for row in rows.tolist()}),
        beds=int(problem.beds[rows].sum()),
        minutes=minutes,
        since_on=problem.days[0] + timedelta(days=int(problem.due[rows].min()) + 1),
        enough_on=problem.days[by] if enough.size else None,
        had_minutes=int(had[by]),
        open_on=problem.days[int(first.max())] if opens.all() else None,
        shut=tuple(dict.fromkeys(problem.rooms[row] for row in rows[~opens].tolist())),
        overdue_bed_days=int(problem.overdue_by_visit(choice)[rows].sum()),
    )
