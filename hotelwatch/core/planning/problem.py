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
Way = tuple[int, int, int]
"""A day, a team and the corridor to which it goes then, all by number."""


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
    waits_since: Ints
    """From when lateness ages: the due day, or the last try in vain since (R)."""
    cycle: Ints
    """Days (R)."""
    area: Ints
    """The corridor, one floor of one wing, by number (R)."""
    needs: Ints
    """People (R)."""
    open: Claims
    """Whether the room can be entered that day, as known today (R, H)."""
    known: Claims
    """Whether it can be while somebody works, early or not, as far as stays are known: beyond
    the last day too (R, H or more)."""
    chance: Floats
    """How likely it still is when the day comes (R, H); of days on which it is open."""
    shut: Claims | None
    """For which teams it cannot, since their shift is over or not begun (R, H, K); None: none."""
    team_minutes: Ints
    """What each team has each day; 0 where it does not work (H, K)."""
    team_people: Ints
    area_minutes: int
    is_asked: Claims
    """A case, or another reason beside the cycle, wants the visit by its due day (R)."""
    weight: Floats
    """How much a day of lateness weighs beside another room's; usually 1 (R)."""
    surprise: Floats
    """Days overdue to expect, for each bed, from a stay not yet booked that begins that
    night (R, H); nothing where the room is not open, or soon looked at anyway."""
    later_on: Ints
    """When the room would best be looked at after the plan's last day, as known today: on
    the last day with an opening up to its due day, else on the first one from H on (R)."""
    was_on: Ints
    """The day as published; -1 if none (R)."""
    was_team: Ints
    pinned_on: Ints
    """The day that a supervisor chose; -1 if none (R)."""
    pinned_team: Ints
    been: frozenset[Way] = frozenset()
    """Ways that are made anyway, and take nothing of these minutes."""
    agreed: Claims | None = None
    """Where the day pinned is one to which a guest agreed (R): a case's visit goes before
    it, and if it comes to nothing another day will do. None: nowhere."""
    lags: Ints | None = None
    """Days after its visit's due day on which each bed is due itself; -1 beyond the beds
    (R, most beds). None: each bed is due with its visit."""

    @property
    def visits(self) -> int:
        """R."""
        return len(self.minutes)

    @property
    def horizon(self) -> int:
        """H."""
        return len(self.days)

    @property
    def kept_to(self) -> Ints:
        """The day that a visit cannot leave: a supervisor chose it; -1 if none (R)."""
        return np.where(self.is_agreed, NEVER, self.pinned_on)

    @property
    def is_agreed(self) -> Claims:
        """Whether the day pinned is one to which a guest agreed (R)."""
        return np.zeros(self.visits, bool) if self.agreed is None else self.agreed

    @cached_property
    def least_minutes(self) -> int:
        """The shortest visit's; 0 without visits."""
        return int(self.minutes.min()) if self.visits else 0

    @cached_property
    def late_days(self) -> Ints:
        """Days overdue within the horizon, by the day of the visit; last: never (R, H + 1)."""
        day = np.append(np.arange(self.horizon), self.horizon - 1)
        late: Ints = np.maximum(0, day[None, :] - np.maximum(self.due, NEVER)[:, None])
        return late

    def overdue_bed_days(self, choice: Choice) -> int:
        """Bed-days overdue within the horizon, for routine visits and asked ones alike."""
        return int(self.overdue_by_visit(choice).sum())

    def overdue_by_visit(self, choice: Choice) -> Ints:
        """The same for each visit (R)."""
        column = np.where(choice.on == NEVER, self.horizon, choice.on)
        return self.late_bed_days[np.arange(self.visits), column]

    @cached_property
    def late_bed_days(self) -> Ints:
        """Days overdue of all its beds, by the day of the visit; last: never (R, H + 1).

        Where beds of a visit are due on different days, each counts from its own.
        """
        if self.lags is None:
            return self.beds[:, None] * self.late_days
        day = np.append(np.arange(self.horizon), self.horizon - 1)
        total: Ints = np.zeros((self.visits, self.horizon + 1), np.int64)
        for lag in self.lags.T:
            due = np.maximum(self.due + lag, NEVER)[:, None]
            total += np.where(lag[:, None] == NEVER, 0, np.maximum(0, day[None, :] - due))
        return total

    def late_beds(self, choice: Choice, day: int) -> int:
        """Beds that are overdue as a day begins."""
        waits = (choice.on == NEVER) | (choice.on >= day)
        if self.lags is None:
            return int(self.beds[waits & (day > np.maximum(self.due, NEVER))].sum())
        is_late = day > np.maximum(self.due[:, None] + self.lags, NEVER)
        return int((is_late & (self.lags != NEVER) & waits[:, None]).sum())

    def left_by(self, choice: Choice) -> tuple[Ints, frozenset[Way]]:
        """Minutes that a choice leaves each team each day (H, K), and all ways made."""
        left, been = self.team_minutes.copy(), set(self.been)
        for row in np.flatnonzero(choice.on != NEVER).tolist():
            day, team, area = int(choice.on[row]), int(choice.team[row]), int(self.area[row])
            left[day, team] -= self.minutes[row]
            if (day, team, area) not in been:
                left[day, team] -= self.area_minutes
                been.add((day, team, area))
        return left, frozenset(been)

    @cached_property
    def unavoidable(self) -> int:
        """Overdue bed-days that openings and a supervisor's days alone bring.

        So many stay, had the teams minutes without end.
        """
        never = self.late_bed_days[:, -1]
        kept_to = self.kept_to[:, None]
        may = self.open & ((kept_to == NEVER) | (kept_to == np.arange(self.horizon)))
        of_open = np.where(may, self.late_bed_days[:, :-1], never[:, None])
        return int(np.column_stack([of_open, never]).min(axis=1).sum())

    def with_changes(self, **changes: object) -> Problem:
        """The same with some arrays replaced."""
        return replace(self, **changes)  # type: ignore[arg-type]
