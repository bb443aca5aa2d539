"""What the planner solves: visits, days and teams as arrays, with nothing else of the house.

A visit is one look at all wanted beds of a room. It takes minutes out of one team's
day; the first visit of a team to a corridor on a day takes ``area_minutes`` more, for
getting there with the light, the tools and the cart.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.facts import RoomNo, TeamName

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Claims = NDArray[np.bool_]

NEVER = -1


@dataclass(frozen=True, slots=True)
class Choice:
    """Which day and which team each visit has; -1 for none. Arrays (R,)."""

    on: Ints
    team: Ints


@dataclass(frozen=True, eq=False)
class Problem:
    """R visits, H days from ``days[0]``, K teams."""

    days: tuple[date, ...]
    rooms: tuple[RoomNo, ...]
    """The room of each visit (R); a room too long for any sheet stands in several parts."""
    teams: tuple[TeamName, ...]
    minutes: Ints
    """Set-up and beds (R)."""
    beds: Ints
    due: Ints
    """The number of the last day that is not late (R); below 0 if late already."""
    cycle: Ints
    """Days (R)."""
    area: Ints
    """The corridor, one floor of one wing, by number (R)."""
    needs: Ints
    """People (R)."""
    open: Claims
    """Whether the room can be entered that day, as known today (R, H)."""
    chance: Floats
    """The chance that it still can when the day comes, 0 to 1 (R, H)."""
    team_minutes: Ints
    """What each team has each day; 0 where it does not work (H, K)."""
    team_people: Ints
    area_minutes: int
    is_asked: Claims
    """A case, or another reason beside the cycle, wants the visit by its due day (R)."""
    weight: Floats
    """How much a day of lateness weighs beside another room's; usually 1 (R)."""
    was_on: Ints
    """The day as published; -1 if none (R)."""
    was_team: Ints
    pinned_on: Ints
    """The day that a supervisor chose; -1 if none (R)."""
    pinned_team: Ints

    @property
    def visits(self) -> int:
        """R."""
        return len(self.minutes)

    @property
    def horizon(self) -> int:
        """H."""
        return len(self.days)

    @cached_property
    def late_days(self) -> Ints:
        """Days overdue within the horizon for a visit on each day; last column: never (R, H + 1)."""
        day = np.append(np.arange(self.horizon), self.horizon - 1)
        return np.maximum(0, day[None, :] - np.maximum(self.due, NEVER)[:, None])

    def overdue_bed_days(self, choice: Choice) -> int:
        """Bed-days overdue within the horizon, for routine visits and asked ones alike."""
        column = np.where(choice.on == NEVER, self.horizon, choice.on)
        return int((self.beds * self.late_days[np.arange(self.visits), column]).sum())

    def with_changes(self, **changes: object) -> Problem:
        """The same with some arrays replaced."""
        return replace(self, **changes)  # type: ignore[arg-type]
