"""Days more of a team, on which those would be looked at who crowd one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from hotelwatch.core.planning.places import open_at, overdue_costs
from hotelwatch.core.planning.pouring import Pouring
from hotelwatch.core.planning.problem import Claims, Ints, Problem
from hotelwatch.core.planning.shortfall import Shortfall


@dataclass(frozen=True, eq=False)
class MoreDays:
    """A problem with days more of one team, and overdue visits poured with them."""

    problem: Problem
    pouring: Pouring
    rows: Ints
    """Of the overdue visits."""
    team: int | None = None
    minutes: int = 0
    """Of each day more."""
    days: tuple[int, ...] = ()
    barred: frozenset[tuple[int, int]] = frozenset()
    """Days on which a team is not asked, by day and team: it is away."""


def more_days(asked: MoreDays, sets: Sequence[Shortfall], enterable: Claims) -> MoreDays | None:
    """Further days that mend these sets of visits as far as the team can; None if it cannot.

    Days on which it is off come first: on others it has to be a team like it.
    """
    usual = asked.problem.team_minutes.max(axis=0)
    teams = range(len(usual)) if asked.team is None else [asked.team]
    chosen = {team: _days_for(asked, sets, enterable, team) for team in teams if usual[team]}
    helped = {
        team: (sum(days.values()), -sum(not off for _, off in days), int(usual[team]))
        for team, days in chosen.items()
        if days
    }
    if not helped:
        return None
    team = max(helped, key=lambda one: (*helped[one], -one))
    minutes = asked.minutes or int(usual[team])
    days = [day for day, _ in chosen[team]]
    return with_days(replace(asked, team=team, minutes=minutes), days, enterable)


Worth = dict[tuple[int, bool], int]
"""Minutes of the visits that a day helps, by the day and whether the team is off then."""


def _days_for(asked: MoreDays, sets: Sequence[Shortfall], enterable: Claims, team: int) -> Worth:
    """The days of a team that cover what the sets lack, those that help the most first."""
    problem = asked.problem
    minutes = asked.minutes or int(problem.team_minutes[:, team].max())
    works = is_there(problem, team)
    days = np.arange(problem.horizon)
    found: Worth = {}
    could = could_come(asked, enterable, team, minutes)
    for one in sets:
        rows = np.array(one.rows, np.int64)
        in_time = could[rows] & (days[None, :] <= problem.due[rows][:, None])
        helped = np.minimum(minutes, problem.minutes[rows] @ in_time)
        order = sorted(days.tolist(), key=lambda day: (works[day], -helped[day], day))
        lacks = one.short
        for day in order:
            if lacks > 0 and helped[day] > 0 and day not in asked.days:
                found[day, not works[day]] = int(min(lacks, helped[day]))
                lacks -= int(helped[day])
    return found


def is_there(problem: Problem, team: int) -> Claims:
    """Days on which a team works; today also if all its minutes are spent already (H)."""
    there: Claims = problem.team_minutes[:, team] > 0
    there[0] |= any((on, gone) == (0, team) for on, gone, _ in problem.been)
    return there


def could_come(asked: MoreDays, enterable: Claims, team: int, minutes: int) -> Claims:
    """The same as ``could_make``, but for days on which the team is not asked (R, H)."""
    could = could_make(asked.problem, enterable, team, minutes)
    could[:, [day for day, one in asked.barred if one == team]] = False
    return could


def could_make(problem: Problem, enterable: Claims, team: int, minutes: int) -> Claims:
    """Whether a team, or one like it on days it works, could make visits on days (R, H).

    The other one has been in no corridor yet, and no visit is pinned to it.
    """
    days = np.arange(problem.horizon)
    idle = (problem.team_minutes == 0).all(axis=1)
    if_worked = replace(problem, open=problem.open | (enterable & idle[None, :]))
    teams = np.where(is_there(problem, team), len(problem.teams), team)
    return open_at(_with_another(if_worked, team), days, teams, np.full(days.size, minutes))


def with_days(asked: MoreDays, days: Sequence[int], enterable: Claims) -> MoreDays:
    """The problem with these days; on those that the team works, another one does."""
    problem, team = asked.problem, asked.team or 0
    could = could_make(problem, enterable, team, asked.minutes)
    pouring = asked.pouring.copy()
    for day in days:
        problem = with_day(problem, (day, team), asked.minutes, enterable)
        costs = overdue_costs(problem, asked.rows, np.array([day]))[:, 0]
        is_better = could[asked.rows, day] & (costs < pouring.costs[:, 0])
        pouring.add_place(np.where(is_better, costs, np.inf), asked.minutes)
    return replace(asked, problem=problem, pouring=pouring, days=(*asked.days, *days))


def with_day(problem: Problem, at: tuple[int, int], minutes: int, enterable: Claims) -> Problem:
    """A team's day more; one more team like it if it works that day."""
    day, team = at
    is_open = problem.open
    if not problem.team_minutes[day].any():
        is_open = is_open.copy()
        is_open[:, day] |= enterable[:, day]
    if is_there(problem, team)[day]:
        problem, team = _with_another(problem, team), len(problem.teams)
    table = problem.team_minutes.copy()
    table[day, team] = minutes
    return replace(problem, open=is_open, team_minutes=table)


def _with_another(problem: Problem, team: int) -> Problem:
    """One more team like this one, last, that does not work yet."""
    table, people, shut = problem.team_minutes, problem.team_people, problem.shut
    return replace(
        problem,
        shut=None if shut is None else np.concatenate([shut, shut[:, :, [team]]], axis=2),
        teams=(*problem.teams, problem.teams[team]),
        team_people=np.append(people, people[team]),
        team_minutes=np.column_stack([table, np.zeros(problem.horizon, np.int64)]),
    )
