"""Parts of one long room on one sheet fit its opening together, or stand on sheets apart.

Each part fits the hours that its team can be in the room; one after the other they may not.
Only where teams have shifts are minutes held against an opening's hours.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.problem import NEVER, Choice, Ints
from hotelwatch.core.planning.situation import Situation

Key = tuple[int, int]
"""A day and a team, by number."""


def kept_apart(situation: Situation, choice: Choice) -> Choice:
    """The choice without parts of a room that don't fit its opening together.

    What has to leave a sheet goes to the first other one with minutes left, or to none.
    """
    problem = situation.problem
    if problem.shut is None or len(set(problem.rooms)) == len(problem.rooms):
        return choice
    sheets = _Sheets(situation, choice.on.copy(), choice.team.copy())
    for row in sheets.too_many():
        sheets.move(row)
    return Choice(sheets.on, sheets.team)


@dataclass
class _Sheets:
    """Sheets being mended."""

    situation: Situation
    on: Ints
    team: Ints
    left: Ints = field(init=False)
    been: set[tuple[int, int, int]] = field(init=False)
    parts: defaultdict[RoomNo, list[int]] = field(init=False)

    def __post_init__(self) -> None:
        problem = self.situation.problem
        self.left = problem.team_minutes.copy()
        self.been = {(0, team, area) for team, area in problem.been}
        self.parts = defaultdict(list)
        for row, room in enumerate(problem.rooms):
            self.parts[room].append(row)
            if self.on[row] != NEVER:
                key = int(self.on[row]), int(self.team[row])
                self.left[key] -= problem.minutes[row] + self._way(row, key)
                self.been.add((*key, int(problem.area[row])))

    def too_many(self) -> list[int]:
        """Parts that don't fit with those before them on their sheet, in the rows' order."""
        found: list[int] = []
        for rows in self.parts.values():
            kept: defaultdict[Key, list[int]] = defaultdict(list)
            for row in rows if len(rows) > 1 else ():
                key = int(self.on[row]), int(self.team[row])
                if key[0] == NEVER:
                    continue
                if kept[key] and not self._fit([*kept[key], row], key):
                    found.append(row)
                else:
                    kept[key].append(row)
        return found

    def move(self, row: int) -> None:
        """Off its sheet, and onto the first other one on which it may and can be."""
        problem = self.situation.problem
        self.left[self.on[row], self.team[row]] += problem.minutes[row]
        self.on[row] = self.team[row] = NEVER
        for day in np.flatnonzero(problem.open[row]).tolist():
            for team in range(len(problem.teams)):
                key = day, team
                if self._may(row, key) and self._fit([*self._there(row, key), row], key):
                    self.left[key] -= problem.minutes[row] + self._way(row, key)
                    self.been.add((*key, int(problem.area[row])))
                    self.on[row], self.team[row] = key
                    return

    def _may(self, row: int, key: Key) -> bool:
        problem, (day, team) = self.situation.problem, key
        return (
            int(problem.minutes[row]) + self._way(row, key) <= self.left[key]
            and problem.needs[row] <= problem.team_people[team]
            and problem.pinned_on[row] in (NEVER, day)
            and problem.pinned_team[row] in (NEVER, team)
            and not (problem.shut is not None and problem.shut[row, day, team])
        )

    def _there(self, row: int, key: Key) -> list[int]:
        """Other parts of the room on a sheet."""
        others = self.parts[self.situation.problem.rooms[row]]
        return [one for one in others if (int(self.on[one]), int(self.team[one])) == key]

    def _fit(self, rows: list[int], key: Key) -> bool:
        """Whether parts, set up for once, lie within what their team can be in the room."""
        view, problem = self.situation.view, self.situation.problem
        opening = view.opening(self.situation.visits[rows[0]], problem.days[key[0]])
        joined = int(problem.minutes[rows].sum()) - view.setup * (len(rows) - 1)
        return view.calendar.meets(problem.teams[key[1]], opening, joined)

    def _way(self, row: int, key: Key) -> int:
        problem = self.situation.problem
        return 0 if (*key, int(problem.area[row])) in self.been else problem.area_minutes
