"""The planner as a policy: plans the weeks ahead each morning, does the first day of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.busyness import LOOKED_AHEAD, busyness
from hotelwatch.core.planning.prices import BUSY, prices_of
from hotelwatch.core.planning.problem import NEVER, Problem
from hotelwatch.core.planning.rolling import roll
from hotelwatch.core.planning.still_open import still_open
from hotelwatch.core.planning.surprise import expected_late
from tests.bench.invented import AREA_MINUTES
from tests.bench.policies import NOBODY
from tests.build import FIRST, rules

FIGURES = rules().figures
BEYOND = 75
"""Days after the plan's last one for which known stays are looked at."""
PRICES = prices_of(FIGURES, busy=BUSY)
"""Of a hotel at 85 % load."""
EARLY = FIGURES.early_share.value
"""Prices, early looks and surprises as shipped: what is measured is what a hotel gets."""


def last_chance(seen):
    """The last known day up to the due one on which the room is open and a team works."""
    works = seen.team_minutes.sum(axis=1) > 0
    known = seen.open.shape[1]
    days = np.arange(known)
    in_time = seen.open & works[None, :] & (days[None, :] <= seen.due[:, None])
    last = np.where(in_time, days[None, :], NEVER).max(axis=1)
    return np.where((seen.due >= known) | (last == NEVER), seen.due, last)


def best_later(is_open, due, horizon):
    """The last known opening from the horizon on up to the due day, else the first one."""
    known = is_open.shape[1]
    days = np.arange(horizon, known)
    after = is_open[:, horizon:]
    first = np.where(after.any(axis=1), horizon + after.argmax(axis=1), known)
    in_time = after & (days[None, :] <= due[:, None])
    last = np.where(in_time, days[None, :], -1).max(axis=1)
    return np.where(due >= known, due, np.where(last >= 0, last, first))


def problem_of(world, seen, *, horizon, was_on=None, was_team=None, early=EARLY):
    """What is known on a morning, as a Problem of so many days."""
    later_on = best_later(seen.open, seen.due, horizon)
    latest = last_chance(seen)
    works = seen.team_minutes.sum(axis=1) > 0
    known = seen.open & works[None, :]
    seen = replace(
        seen,
        open=seen.open[:, :horizon],
        edge=seen.edge[:, :horizon],
        team_minutes=seen.team_minutes[:horizon],
    )
    is_asked = seen.asked_by < NOBODY
    due = np.where(is_asked, np.minimum(seen.asked_by, seen.due), seen.due)
    days = np.arange(horizon)
    first = latest - np.ceil(early * world.cycle).astype(int)
    is_open = known[:, :horizon] & (is_asked[:, None] | (days[None, :] >= first[:, None]))
    none = np.full(world.rooms, NEVER)
    teams = seen.team_minutes.shape[1]
    return Problem(
        days=tuple(FIRST + timedelta(days=seen.today + n) for n in range(horizon)),
        rooms=tuple(RoomNo(str(n)) for n in range(world.rooms)),
        teams=tuple(TeamName(str(n)) for n in range(teams)),
        minutes=world.minutes,
        beds=world.beds,
        due=due,
        waits_since=due,
        cycle=world.cycle,
        area=world.area,
        needs=np.full(world.rooms, 2),
        open=is_open,
        known=known,
        chance=still_open(seen.edge, world.letting.usually_open),
        shut=None,
        team_minutes=seen.team_minutes,
        team_people=np.full(teams, 2),
        area_minutes=AREA_MINUTES,
        is_asked=is_asked,
        weight=np.ones(world.rooms),
        surprise=expected_late(
            world.letting.lengths, seen.open, seen.due, share=FIGURES.surprise_share.value
        ),
        later_on=later_on,
        was_on=none if was_on is None else was_on,
        was_team=none if was_team is None else was_team,
        pinned_on=none,
        pinned_team=none,
    )


def prices_on(world, seen):
    """As the program has them on a morning, by how busy the teams are."""
    had = seen.team_minutes[:LOOKED_AHEAD].sum(axis=1)
    busy = busyness(world.minutes, world.cycle, way=AREA_MINUTES, had=had)
    return prices_of(FIGURES, busy=busy)


def planner(world, horizon=28, prices=None, early=EARLY, count=None):
    """Replans every morning; ``count`` gets how many published visits were moved.

    ``prices``: others than those of the morning.
    """
    state = {"on": np.full(world.rooms, NEVER), "team": np.full(world.rooms, NEVER)}
    count = {} if count is None else count
    count.update(still=0, moved=0, lost=0)

    def policy(seen):
        was_on = np.where(state["on"] >= seen.today, state["on"] - seen.today, NEVER)
        closed = ~seen.open[np.arange(world.rooms), was_on] & (was_on != NEVER)
        count["lost"] += int(closed.sum())
        was_on = np.where(closed, NEVER, was_on)
        count["still"] += int((was_on != NEVER).sum())
        problem = problem_of(
            world, seen, horizon=horizon, was_on=was_on, was_team=state["team"], early=early
        )
        rolled = roll(problem, prices or prices_on(world, seen))
        on = np.where(rolled.firm, rolled.choice.on, NEVER)
        count["moved"] += int(((was_on != NEVER) & (on != was_on)).sum())
        state["on"] = np.where(on == NEVER, NEVER, on + seen.today)
        state["team"] = rolled.choice.team
        teams = np.flatnonzero(seen.team_minutes[0]).tolist()
        today = rolled.choice.on == 0
        return {k: np.flatnonzero(today & (rolled.choice.team == k)).tolist() for k in teams}

    return policy, horizon + BEYOND
