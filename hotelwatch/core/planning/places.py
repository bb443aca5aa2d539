"""Where visits can go if they may be split: each day of teams that are alike is one place.

Teams are alike on a day if they have the same people, are shut out of the same rooms and
can do the same visits whole. What fits no whole team's day, its way included, cannot go
there; otherwise ways to corridors are left out, so that all sums are bounds.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable
from dataclasses import dataclass
from math import ceil

import numpy as np

from hotelwatch.core.planning.pouring import Pouring
from hotelwatch.core.planning.problem import NEVER, Claims, Floats, Ints, Problem

SLACK = 1e-6
"""Of sums of fractions; a bound is rounded up only above it."""


@dataclass(frozen=True, eq=False)
class Places:
    """B places by day."""

    day: Ints
    teams: tuple[tuple[int, ...], ...]
    minutes: Ints
    """Of all teams there."""
    open: Claims
    """Whether a visit can be made there: open, within the shift, by teams that are able (R, B)."""

    @property
    def first(self) -> Ints:
        """A team of each place; the others are like it."""
        return np.array([teams[0] for teams in self.teams], np.int64)


def places_of(problem: Problem) -> Places:
    """The places of a problem's days."""
    alike: defaultdict[Hashable, list[int]] = defaultdict(list)
    days: dict[Hashable, int] = {}
    for day, team in np.argwhere(problem.team_minutes > 0).tolist():
        kind = _kind(problem, day, team)
        alike[kind].append(team)
        days[kind] = day
    day_of = np.array(list(days.values()), np.int64)
    teams = tuple(tuple(found) for found in alike.values())
    minutes = np.array(
        [
            problem.team_minutes[day, list(found)].sum()
            for day, found in zip(days.values(), teams, strict=True)
        ],
        np.int64,
    )
    first = np.array([found[0] for found in teams], np.int64)
    return Places(day_of, teams, minutes, open_at(problem, day_of, first))


def open_at(problem: Problem, days: Ints, teams: Ints, minutes: Ints | None = None) -> Claims:
    """Whether these teams could make each visit on these days, with such minutes (R, n)."""
    most = problem.team_minutes[days, teams] if minutes is None else minutes
    found: Claims = able_at(problem, days, teams, most) & problem.open[:, days]
    if problem.shut is not None:
        found &= ~problem.shut[:, days, teams]
    return found


def able_at(problem: Problem, days: Ints, teams: Ints, minutes: Ints) -> Claims:
    """Whether teams with such minutes could do visits on days, pins kept (R, n)."""
    way = np.where(_has_been(problem, days, teams), 0, problem.area_minutes)
    able: Claims = problem.minutes[:, None] + way[None, :] <= minutes[None, :]
    able &= problem.needs[:, None] <= problem.team_people[teams][None, :]
    on, team = problem.kept_to[:, None], problem.pinned_team[:, None]
    able &= (on == NEVER) | (on == days[None, :])
    able &= (team == NEVER) | (team == teams[None, :])
    return able


def _has_been(problem: Problem, days: Ints, teams: Ints) -> Claims:
    """Teams that may find themselves in the room's corridor already."""
    there = {team for day, team, _ in problem.been if not day}
    claims: Claims = (days == 0) & np.isin(teams, sorted(there))
    return claims


def _kind(problem: Problem, day: int, team: int) -> Hashable:
    """What tells teams apart on a day."""
    most = int(problem.minutes.max(initial=0)) + problem.area_minutes
    shut = b"" if problem.shut is None else np.packbits(problem.shut[:, day, team]).tobytes()
    return (
        day,
        int(problem.team_people[team]),
        min(int(problem.team_minutes[day, team]), most),
        shut,
        team if (problem.pinned_team == team).any() else NEVER,
        day == 0 and any((on, gone) == (0, team) for on, gone, _ in problem.been),
    )


# --- in time or not -------------------------------------------------------------------------


def pressing(problem: Problem) -> Claims:
    """Visits that are due within the days and not late yet (R)."""
    claims: Claims = (problem.due >= 0) & (problem.due < problem.horizon)
    return claims


def in_time(problem: Problem, places: Places) -> Claims:
    """Where each pressing visit can be made in time (R, B)."""
    claims: Claims = places.open & (places.day[None, :] <= problem.due[:, None])
    claims &= pressing(problem)[:, None]
    return claims


@dataclass(frozen=True, eq=False)
class Crowd:
    """Visits that have a place in time, poured into such places as far as they go."""

    rows: Ints
    pouring: Pouring

    @property
    def short(self) -> int:
        """Minutes that cannot be made in time, though visits may be split."""
        return int(self.pouring.left_out.sum())


def crowd_of(problem: Problem, places: Places) -> Crowd:
    """A minute in time costs nothing, one left out costs one."""
    claims = in_time(problem, places)
    rows = np.flatnonzero(claims.any(axis=1))
    costs = np.column_stack([np.ones(rows.size), np.where(claims[rows], 0.0, np.inf)])
    return Crowd(rows, Pouring(problem.minutes[rows], costs, places.minutes))


# --- overdue --------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Overdue:
    """Visits that get overdue if never made, poured so that bed-days are as few as can be."""

    rows: Ints
    pouring: Pouring

    @property
    def bed_days(self) -> int:
        """No plan has fewer overdue bed-days within its days."""
        return ceil(self.pouring.total - SLACK)


def overdue_of(problem: Problem, places: Places) -> Overdue:
    """A minute costs its share of the overdue bed-days that its visit comes to there."""
    rows = np.flatnonzero(problem.late_days[:, -1] > 0)
    never = overdue_costs(problem, rows, np.array([problem.horizon]))
    costs = overdue_costs(problem, rows, places.day)
    costs = np.where(places.open[rows] & (costs < never), costs, np.inf)
    return Overdue(
        rows, Pouring(problem.minutes[rows], np.column_stack([never, costs]), places.minutes)
    )


def overdue_costs(problem: Problem, rows: Ints, days: Ints) -> Floats:
    """Overdue bed-days for each minute, by visit and day; the day H stands for never (n, m)."""
    late = problem.late_bed_days[np.ix_(rows, days)]
    costs: Floats = late / problem.minutes[rows][:, None]
    return costs
