"""How few overdue bed-days any plan could have, whatever it does: proofs, not plans."""

from __future__ import annotations

from math import ceil

import numpy as np

from hotelwatch.core.planning.linear import EVER, Programme, least
from hotelwatch.core.planning.places import overdue_of, places_of
from hotelwatch.core.planning.problem import Claims, Floats, Ints, Problem
from hotelwatch.core.planning.strict_costs import BED_DAY, Aims, may_stand, sheets_of

SLACK = 1e-6
"""Of the solver; a bound is rounded up only above it."""


def fewest_overdue(problem: Problem, reached: int | None = None) -> int:
    """No plan has fewer overdue bed-days within its days, by openings and minutes.

    As if visits could be split and corridors were next door. Where a plan has ``reached``
    what openings alone bring, minutes are not looked at.
    """
    openings = problem.unavoidable
    if openings == reached or not problem.visits:
        return openings
    return max(openings, overdue_of(problem, places_of(problem)).bed_days)


def fewest_with_walking(problem: Problem, aims: Aims | None = None) -> int:
    """The same with ways counted in, as if ways could be split; takes seconds in large hotels."""
    late = problem.late_bed_days.astype(float)
    least_of_all = with_walking(problem, late, aims, walks_cost=False)
    return ceil(least_of_all - SLACK * max(1.0, least_of_all))


def _may_on(problem: Problem, aims: Aims | None = None) -> Claims:
    """Whether some sheet of a day can have the visit (R, H)."""
    sheets = sheets_of(problem)
    walks = aims is None or aims.walks_in_day
    may = may_stand(problem, sheets, walks_in_day=walks)
    days = np.zeros((problem.visits, problem.horizon), bool)
    room, sheet = np.nonzero(may)
    days[room, sheets.day[sheet]] = True
    return days


def _day_rows(
    programme: Programme, problem: Problem, arcs: tuple[Ints, Ints]
) -> list[tuple[int, int]]:
    """Minutes of the days as rows, one set for each number of people that visits need.

    Visits that need more people have fewer teams; sets are nested, so these rows say
    all that can be said with split visits. Returns (people, first row) of each set.
    """
    room, day = arcs
    found = []
    for people in sorted(set(problem.needs[np.unique(room)].tolist())):
        able = problem.team_people >= people
        have = problem.team_minutes[:, able].sum(axis=1).astype(float)
        first = programme.demand(np.full(problem.horizon, -EVER), have)
        of_set = np.flatnonzero(problem.needs[room] >= people)
        minutes = problem.minutes[room[of_set]].astype(float)
        programme.enter(first + day[of_set], of_set, minutes)
        found.append((people, first))
    return found


def with_walking(
    problem: Problem,
    costs: Floats,
    aims: Aims | None = None,
    *,
    walks_cost: bool = True,
    within: int | None = None,
) -> float:
    """A bound on ``costs`` (R, H + 1; last: never) plus the walking, with split visits.

    Each way to a corridor on a day costs ``area_minutes``, unless ``walks_cost`` is False,
    and takes as much of the day, unless ``aims`` say that it does not; no part of a visit
    without the same part of a way. ``within`` so many overdue bed-days, if given: only
    plans that keep it are bounded. Takes seconds: meant for the background. Raises
    ArithmeticError if nothing keeps ``within``.
    """
    late = problem.late_bed_days.astype(float)
    counted = costs + BED_DAY * late if within is not None else costs
    may = _may_on(problem, aims) & (counted[:, :-1] < counted[:, -1:])
    wanted = np.flatnonzero(may.any(axis=1))
    rest = np.delete(np.arange(problem.visits), wanted)
    if not len(wanted):
        return float(costs[rest, -1].sum())
    room, day = np.nonzero(may[wanted])
    room = np.concatenate([wanted[room], wanted])
    day = np.concatenate([day, np.full(len(wanted), problem.horizon)])
    programme = _visits_and_ways(problem, costs, (room, day), aims, walks_cost=walks_cost)
    if within is not None:
        most = np.array([within - late[rest, -1].sum()])
        first = programme.demand(np.array([-EVER]), most)
        programme.enter(np.full(len(room), first), np.arange(len(room)), late[room, day])
    return float(costs[rest, -1].sum()) + least(programme, presolve=True)


def _visits_and_ways(
    problem: Problem,
    costs: Floats,
    arcs: tuple[Ints, Ints],
    aims: Aims | None,
    *,
    walks_cost: bool,
) -> Programme:
    """A column for each visit and day, never too, then one for each corridor and day."""
    room, day = arcs
    on = np.flatnonzero(day < problem.horizon)
    keys = problem.area[room[on]] * problem.horizon + day[on]
    ways, way = np.unique(keys, return_inverse=True)
    of_way = len(room) + np.arange(len(ways))
    walked = np.full(len(ways), float(problem.area_minutes))
    programme = Programme(
        np.concatenate([costs[room, day], walks_cost * walked]),
        np.concatenate([np.full(len(room), EVER), np.ones(len(ways))]),
    )
    visits, visit = np.unique(room, return_inverse=True)
    ones = np.ones(len(visits))
    programme.demand(ones, ones)
    programme.enter(visit, np.arange(len(room)), np.ones(len(room)))
    sets = _day_rows(programme, problem, (room[on], day[on]))
    if aims is None or aims.walks_in_day:
        programme.enter(sets[0][1] + ways % problem.horizon, of_way, walked)
    first = programme.demand(np.full(len(on), -EVER), np.zeros(len(on)))
    programme.enter(first + np.arange(len(on)), on, np.ones(len(on)))
    programme.enter(first + np.arange(len(on)), of_way[way], -np.ones(len(on)))
    return programme
