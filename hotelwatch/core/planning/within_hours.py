"""Sheets that can be done within the hours of their rooms and the shift of their team.

A visit is held against its own hours when it is planned; all of a sheet together only here:
a team may have minutes for more rooms than can be entered while it works. Ways to corridors
are left out, and visits may be split: what does not fit even so cannot be walked.

Source: whatever fits at all fits with the earliest end first (Horn 1974, Some simple
scheduling algorithms, from memory), so sums over stretches of the day tell.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from hotelwatch.core.days import minute_of
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.problem import NEVER, Choice, Ints
from hotelwatch.core.planning.rolling import Rolled, roll
from hotelwatch.core.planning.situation import Situation
from hotelwatch.core.progress import Progress, silent

Key = tuple[int, int]
"""A day and a team, by number."""
Job = tuple[int, int, int]
"""From when, until when, how long; in minutes of the day."""
SheetJobs = Mapping[Key, Mapping[RoomNo, Job]]
"""The visits of each sheet."""


def filled(situation: Situation, progress: Progress = silent) -> Rolled:
    """The days of a situation filled, every sheet within its hours: what a plan stands on."""
    rolled, prices = roll(situation.problem, situation.prices, progress), situation.prices
    choice = within_hours(situation, rolled.choice)
    # What had to leave its sheet is promised no farther ahead than anything else.
    firm = rolled.firm & ((choice.on == rolled.choice.on) | (choice.on < prices.firm_days))
    return replace(rolled, choice=choice, firm=firm)


def within_hours(situation: Situation, choice: Choice, beside: SheetJobs | None = None) -> Choice:
    """The choice without visits that don't fit the hours of their sheet.

    What has to leave a sheet goes to the first other one that has minutes and hours left,
    or to none. ``beside``: what stands on sheets already and stays there.
    """
    sheets = _Sheets(situation, choice.on.copy(), choice.team.copy(), beside or {})
    for row in sheets.too_many():
        sheets.move(row)
    return Choice(sheets.on, sheets.team)


def sheet_jobs(situation: Situation, choice: Choice, beside: SheetJobs | None = None) -> SheetJobs:
    """What stands on each sheet of a choice, with what stood there already."""
    sheets = _Sheets(situation, choice.on, choice.team, beside or {})
    found = {key: sheets.jobs(rows, key) for key, rows in sheets.rows.items()}
    return {**(beside or {}), **found}


def fits(jobs: Sequence[Job]) -> bool:
    """Whether jobs can be done one after the other in their hours, split where need be."""
    ends = {end for _, end, _ in jobs}
    for begin in {begin for begin, _, _ in jobs}:
        inside = [(end, minutes) for start, end, minutes in jobs if start >= begin]
        for until in ends:
            if sum(minutes for end, minutes in inside if end <= until) > max(0, until - begin):
                return False
    return True


@dataclass
class _Sheets:
    """Sheets being mended."""

    situation: Situation
    on: Ints
    team: Ints
    beside: SheetJobs
    left: Ints = field(init=False)
    been: set[tuple[int, int, int]] = field(init=False)
    rows: defaultdict[Key, list[int]] = field(init=False)

    def __post_init__(self) -> None:
        problem = self.situation.problem
        self.left = problem.team_minutes.copy()
        self.been = set(problem.been)
        self.rows = defaultdict(list)
        for row in np.flatnonzero(self.on != NEVER).tolist():
            key = int(self.on[row]), int(self.team[row])
            self.left[key] -= problem.minutes[row] + self._way(row, key)
            self.been.add((*key, int(problem.area[row])))
            self.rows[key].append(row)

    def too_many(self) -> list[int]:
        """Visits that don't fit with those that go before them on their sheet."""
        found: list[int] = []
        for key, rows in self.rows.items():
            if self._fit(rows, key):
                continue
            kept: list[int] = []
            for row in sorted(rows, key=self._rank):
                if self._fit([*kept, row], key):
                    kept.append(row)
                else:
                    found.append(row)
        return found

    def _rank(self, row: int) -> tuple[bool, bool, bool, int, int]:
        """What a supervisor chose goes first, then cases, then guests' days, then what is due."""
        problem = self.situation.problem
        is_pinned = problem.pinned_on[row] != NEVER
        by_hand = bool(is_pinned and not problem.is_agreed[row])
        is_asked, due = bool(problem.is_asked[row]), int(problem.due[row])
        return not by_hand, not is_asked, not is_pinned, due, row

    def move(self, row: int) -> None:
        """Off its sheet, and onto the first other one on which it may and can be."""
        problem = self.situation.problem
        gone = int(self.on[row]), int(self.team[row])
        self.left[gone] += problem.minutes[row]
        self.rows[gone].remove(row)
        self.on[row] = self.team[row] = NEVER
        for day in np.flatnonzero(problem.open[row]).tolist():
            for team in range(len(problem.teams)):
                key = day, team
                if self._may(row, key) and self._fit([*self.rows[key], row], key):
                    self.left[key] -= problem.minutes[row] + self._way(row, key)
                    self.been.add((*key, int(problem.area[row])))
                    self.rows[key].append(row)
                    self.on[row], self.team[row] = key
                    return

    def _may(self, row: int, key: Key) -> bool:
        problem, (day, team) = self.situation.problem, key
        return (
            int(problem.minutes[row]) + self._way(row, key) <= self.left[key]
            and problem.needs[row] <= problem.team_people[team]
            and problem.kept_to[row] in (NEVER, day)
            and problem.pinned_team[row] in (NEVER, team)
            and not (problem.shut is not None and problem.shut[row, day, team])
        )

    def _fit(self, rows: Sequence[int], key: Key) -> bool:
        """Whether visits lie within the hours of their team and rooms."""
        return fits(list(self.jobs(rows, key).values()))

    def jobs(self, rows: Sequence[int], key: Key) -> dict[RoomNo, Job]:
        """Visits of a sheet with what stood there already; each room is set up once."""
        view, problem = self.situation.view, self.situation.problem
        begins, ends = map(minute_of, view.calendar.shift(problem.teams[key[1]]))
        jobs = dict(self.beside.get(key, {}))
        for row in rows:
            opening = view.opening(self.situation.visits[row], problem.days[key[0]])
            room, minutes = problem.rooms[row], int(problem.minutes[row])
            if room in jobs:
                minutes += jobs[room][2] - view.setup
            start, end = begins, ends
            # What is open without an opening is kept free, in what is tried out: all day.
            if opening is not None:
                start = max(start, minute_of(opening.from_clock))
                end = min(end, minute_of(opening.until_clock))
            jobs[room] = start, end, minutes
        return jobs

    def _way(self, row: int, key: Key) -> int:
        problem = self.situation.problem
        return 0 if (*key, int(problem.area[row])) in self.been else problem.area_minutes
