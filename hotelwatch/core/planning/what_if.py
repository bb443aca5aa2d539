"""What another team, more minutes, other cycles or rooms kept free would bring.

The situation is changed and planned anew, quickly: the same choice as the plan's own,
without its walking order and its proof. Other cycles want other rooms, so the house is
read anew with them. Nothing is written down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

import numpy as np

from hotelwatch.core.facts import CycleChosen, Scope
from hotelwatch.core.house import House
from hotelwatch.core.planning.coming_again import due_once_more
from hotelwatch.core.planning.kept_rooms import with_kept_rooms
from hotelwatch.core.planning.problem import NEVER, Choice, Ints, Problem
from hotelwatch.core.planning.situation import Situation, situation_of
from hotelwatch.core.planning.within_hours import filled
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.records import Entry
from hotelwatch.core.rounds.able import teams_for_beds
from hotelwatch.core.rounds.outlook import WHOLE, Change, DayOutlook, Outlook
from hotelwatch.core.rounds.plan import Wish
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, eq=False)
class Ground:
    """What changes are tried on. It is read and planned once, and so are the last cycles tried."""

    house: House
    occupancy: Occupancy
    wish: Wish
    _read: dict[int, Situation] = field(default_factory=dict)
    _chosen: dict[int, Choice] = field(default_factory=dict)

    def has_read(self, cycle_percent: int) -> bool:
        """Whether the situation with such cycles is at hand; reading it takes its time."""
        return cycle_percent in self._read

    def situation(self, cycle_percent: int = WHOLE) -> Situation:
        """The situation if every room's cycle were so many percent of what it is."""
        known = self._read.get(cycle_percent)
        if known is not None:
            return known
        house = self.house
        if cycle_percent != WHOLE:
            house = with_cycles(house, cycle_percent, self.wish.now)
        found = situation_of(house, self.occupancy, self.wish)
        for other in list(self._read):
            if other != WHOLE:
                self._read.pop(other, None)
                self._chosen.pop(other, None)
        self._read[cycle_percent] = found
        return found

    def choice(self, cycle_percent: int = WHOLE, progress: Progress = silent) -> Choice:
        """What the plan does with those cycles."""
        known = self._chosen.get(cycle_percent)
        if known is not None:
            return known
        rolled = filled(self.situation(cycle_percent), progress)
        if not rolled.was_stopped:
            self._chosen[cycle_percent] = rolled.choice
        return rolled.choice


def with_cycles(house: House, percent: int, now: datetime) -> House:
    """The house as if so many percent of its cycle had just been chosen for every room."""
    chosen = [
        CycleChosen(Scope.ROOM, room, max(1, house.cycle_of(room) * percent // WHOLE))
        for room in house.rooms
    ]
    number = max(house.entries, default=0) + 1
    return house.add(Entry(number, now, "", "", "", None, "", ""), chosen)


def what_if(ground: Ground, change: Change, progress: Progress = silent) -> Outlook:
    """The days after a change. Refuses nothing: no minutes, no looks."""
    as_is = ground.situation(change.cycle_percent)
    stands = ground.choice(change.cycle_percent, progress)
    situation = as_is if change == _of_cycles(change) else _changed(as_is, stands, change)
    problem = situation.problem
    choice = stands if situation is as_is else filled(situation, progress).choice
    # What can be done as things are can still be done: the planner's pass does not see it all.
    if _only_helps(change):
        choice = min((choice, stands), key=problem.overdue_bed_days)
    outside = situation.late_outside
    days = tuple(_days(situation, choice, outside))
    late = [day.on for day in days if day.late_beds]
    after = [day.on for day in days if not late or day.on > late[-1]]
    return Outlook(
        days=days,
        overdue_bed_days=problem.overdue_bed_days(choice) + int(outside.sum()),
        fewest=problem.unavoidable + int(outside.sum()),
        on_time_from=after[0] if after else None,
        again=len({problem.rooms[row] for row in due_once_more(situation, choice).tolist()}),
    )


def _of_cycles(change: Change) -> Change:
    """Of a change only what it does to the cycles."""
    return Change(cycle_percent=change.cycle_percent)


def _changed(situation: Situation, stands: Choice, change: Change) -> Situation:
    """A situation with other teams, minutes and rooms kept free; its cycles are given."""
    problem = _with_teams(situation.problem, _able(situation), change.teams)
    calendar, today = situation.view.calendar, situation.days[0]
    whole = np.array([calendar.minutes(team, today) for team in problem.teams], np.int64)
    spent = whole - problem.team_minutes[0]
    minutes = problem.team_minutes * change.minutes_percent // WHOLE
    # What was done today already took its minutes, however many the day has.
    minutes[0] = np.maximum(0, whole * change.minutes_percent // WHOLE - spent)
    situation = replace(situation, problem=replace(problem, team_minutes=minutes))
    return replace(situation, problem=with_kept_rooms(situation, change.keeps_rooms, stands))


def _only_helps(change: Change) -> bool:
    """Whether a plan made without the change is possible with it, its cycles given."""
    return change.teams >= 0 and change.minutes_percent >= WHOLE


def _with_teams(problem: Problem, able: Sequence[int], more: int) -> Problem:
    """With more teams like the largest of those able to look at some bed, or without the last."""
    columns = list(range(len(problem.teams)))
    if more > 0 and able:
        columns += [max(able, key=lambda team: int(problem.team_minutes[:, team].sum()))] * more
    elif more < 0:
        columns = [team for team in columns if team not in able[more:]]
    place = np.full(len(problem.teams) + 1, NEVER)
    for number, team in reversed(list(enumerate(columns))):
        place[team] = number
    is_gone = (problem.was_team != NEVER) & (place[problem.was_team] == NEVER)
    return replace(
        problem,
        teams=tuple(problem.teams[column] for column in columns),
        team_minutes=problem.team_minutes[:, columns],
        team_people=problem.team_people[columns],
        shut=None if problem.shut is None else problem.shut[:, :, columns],
        been=frozenset(
            (day, int(place[team]), area)
            for day, team, area in problem.been
            if place[team] != NEVER
        ),
        was_on=np.where(is_gone, NEVER, problem.was_on),
        was_team=place[problem.was_team],
        pinned_team=place[problem.pinned_team],
    )


def _able(situation: Situation) -> list[int]:
    """Teams with the people for at least one bed of the house, by number."""
    names = set(teams_for_beds(situation.house))
    return [number for number, team in enumerate(situation.problem.teams) if team in names]


def _days(situation: Situation, choice: Choice, outside: Ints) -> list[DayOutlook]:
    problem, setup = situation.problem, situation.view.setup
    able = _able(situation)
    found = []
    for number, day in enumerate(problem.days):
        rows = np.flatnonzero(choice.on == number)
        # Two parts of a room on one sheet are one visit.
        visits = {(int(choice.team[row]), problem.rooms[row]) for row in rows}
        ways = {(number, int(choice.team[row]), int(problem.area[row])) for row in rows}
        found.append(
            DayOutlook(
                on=day,
                rooms=len({problem.rooms[row] for row in rows}),
                used=int(problem.minutes[rows].sum())
                - (len(rows) - len(visits)) * setup
                + len(ways - problem.been) * problem.area_minutes,
                minutes=int(problem.team_minutes[number, able].sum()),
                late_beds=problem.late_beds(choice, number) + int(outside[number]),
            )
        )
    return found
