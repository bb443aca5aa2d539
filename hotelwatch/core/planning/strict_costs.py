"""What counts in the strict order: fewest overdue bed-days first, then minutes of the teams.

A team's day is one place for visits (a *sheet* here); a visit that a case asks for goes
before all others; a visit that a supervisor pinned stays where it was put, if it can.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.problem import NEVER, Choice, Claims, Floats, Ints, Problem

BED_DAY = 1000.0
"""Minutes that stand for one overdue bed-day: more than any exchange of visits can waste."""
ASKED = 1000.0
"""Bed-days that stand for one of a visit that a case asks for."""
PINNED = 1e8
"""Minutes that stand for a pinned visit left out."""
AGREED = 1e5
"""Minutes that stand for a look on another day than a guest agreed to: less than a day's delay
of what a case asks for."""
LEFT_OUT = 2.0
"""Times a visit and its way: what leaving it out costs, beside its lateness."""
CLOSED = 1e12
"""A sheet on which the visit cannot be."""


@dataclass(frozen=True, slots=True)
class Aims:
    """What the second tier weighs."""

    moved_minutes: float
    """Minutes of a team that one published visit moved or dropped is worth."""
    walks_in_day: bool = True
    """Whether ways to corridors come out of the day; False only to compare with plans
    whose ways merely cost."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """Each team on each day that it works, by day, then team. Arrays (B,)."""

    day: Ints
    team: Ints
    minutes: Ints


def sheets_of(problem: Problem) -> Sheets:
    """The sheets that a plan can fill."""
    day, team = np.nonzero(problem.team_minutes > 0)
    return Sheets(day, team, problem.team_minutes[day, team])


def may_stand(problem: Problem, sheets: Sheets, *, walks_in_day: bool = True) -> Claims:
    """Whether a visit may stand on a sheet: open, enough people and minutes, pins (R, B)."""
    way = problem.area_minutes if walks_in_day else 0
    fits = (problem.minutes + way)[:, None] <= sheets.minutes
    able = problem.needs[:, None] <= problem.team_people[sheets.team]
    may: Claims = fits & able & problem.open[:, sheets.day]
    if problem.shut is not None:
        may &= ~problem.shut[:, sheets.day, sheets.team]
    on, team = problem.kept_to[:, None], problem.pinned_team[:, None]
    may &= (on == NEVER) | (on == sheets.day)
    may &= (team == NEVER) | (team == sheets.team)
    return may


def late_costs(problem: Problem) -> Floats:
    """Overdue bed-days by day in minutes, asked visits first; last: never (R, H + 1)."""
    times = np.where(problem.is_asked, ASKED, 1.0)
    late: Floats = (BED_DAY * times)[:, None] * problem.late_bed_days.astype(float)
    return late


def lateness(problem: Problem, choice: Choice) -> float:
    """The first tier of a plan: its overdue bed-days in minutes, asked visits first."""
    column = np.where(choice.on == NEVER, problem.horizon, choice.on)
    return float(late_costs(problem)[np.arange(problem.visits), column].sum())


def second_costs(problem: Problem, aims: Aims) -> Floats:
    """Minutes wasted by looking early, and moves, by day; last: never (R, H + 1).

    A look that comes ``e`` days before its due day wastes e / cycle of its minutes. A day
    of a riskier room's lateness weighs as much more as its weight says, in minutes. A visit
    due within these days that is left out costs more than any early look and way would.
    """
    days = np.arange(problem.horizon)
    early = np.maximum(0, problem.due[:, None] - days)
    costs = np.zeros((problem.visits, problem.horizon + 1))
    costs[:, :-1] = early * (problem.minutes / problem.cycle)[:, None]
    is_due = problem.due < problem.horizon
    costs[:, -1] = is_due * LEFT_OUT * (problem.minutes + problem.area_minutes)
    costs += (problem.weight - 1.0)[:, None] * problem.late_bed_days
    published = problem.was_on != NEVER
    moved = np.ones(costs.shape, bool)
    moved[published, problem.was_on[published]] = False
    costs += aims.moved_minutes * (moved & published[:, None])
    return costs


def strict_costs(problem: Problem, aims: Aims) -> Floats:
    """Both tiers in one number of minutes, by day; last: never (R, H + 1)."""
    costs: Floats = late_costs(problem) + second_costs(problem, aims)
    pinned = (problem.pinned_on != NEVER) | (problem.pinned_team != NEVER)
    pinned &= ~problem.is_agreed
    costs[pinned, -1] += PINNED
    agreed = np.flatnonzero(problem.is_agreed & (problem.pinned_on != NEVER))
    costs[agreed] += AGREED
    costs[agreed, problem.pinned_on[agreed]] -= AGREED
    return costs


def ways(problem: Problem, choice: Choice) -> int:
    """How often a team goes to a corridor."""
    there = choice.on != NEVER
    trips = np.column_stack([choice.on[there], choice.team[there], problem.area[there]])
    return len(np.unique(trips, axis=0))


def second_tier(problem: Problem, choice: Choice, aims: Aims) -> float:
    """Minutes wasted early, walked and moved by a plan."""
    column = np.where(choice.on == NEVER, problem.horizon, choice.on)
    wasted = second_costs(problem, aims)[np.arange(problem.visits), column].sum()
    stayed = (problem.was_on != NEVER) & (problem.was_on == choice.on)
    teams = stayed & (problem.was_team != NEVER) & (problem.was_team != choice.team)
    moved = aims.moved_minutes * int(teams.sum())
    return float(wasted + moved + problem.area_minutes * ways(problem, choice))
