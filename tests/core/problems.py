"""Small problems in one call: visits as columns, one corridor and one team unless said."""

from __future__ import annotations

from datetime import timedelta
from itertools import product

import numpy as np

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.problem import NEVER, Choice, Problem
from hotelwatch.core.planning.strict import Effort, strict_plan
from hotelwatch.core.planning.strict_costs import Aims, second_tier
from tests.build import FIRST

AIMS = Aims(moved_minutes=12)
EFFORT = Effort(tries=60)


def problem(minutes, due, open_on, team_minutes, **more):
    """``open_on`` days of each visit; ``team_minutes`` by day, each a number or one a team."""
    table = np.array([np.atleast_1d(row) for row in team_minutes], int)
    visits, horizon = len(minutes), len(table)
    is_open = np.zeros((visits, horizon), bool)
    for row, days in enumerate(open_on):
        is_open[row, sorted(days)] = True
    none = np.full(visits, NEVER)
    given = {
        "days": tuple(FIRST + timedelta(days=n) for n in range(horizon)),
        "rooms": tuple(RoomNo(str(n)) for n in range(visits)),
        "teams": tuple(TeamName(f"team {n}") for n in range(table.shape[1])),
        "minutes": np.array(minutes, int),
        "beds": np.ones(visits, int),
        "due": np.array(due, int),
        "waits_since": np.array(due, int),
        "cycle": np.full(visits, 60),
        "area": np.zeros(visits, int),
        "needs": np.full(visits, 2),
        "open": is_open,
        "known": np.ones((visits, horizon), bool),
        "chance": np.ones((visits, horizon)),
        "shut": None,
        "team_minutes": table,
        "team_people": np.full(table.shape[1], 2),
        "area_minutes": 0,
        "is_asked": np.zeros(visits, bool),
        "weight": np.ones(visits),
        "surprise": np.zeros((visits, horizon)),
        "later_on": np.maximum(np.array(due, int), horizon),
        "was_on": none,
        "was_team": none,
        "pinned_on": none,
        "pinned_team": none,
    }
    given.update(
        {key: np.array(value) if isinstance(value, list) else value for key, value in more.items()}
    )
    return Problem(**given)


def planned(made, start=None, effort=EFFORT):
    return strict_plan(made, start, aims=AIMS, effort=effort)


def broken(made, choice):
    """What a plan breaks, re-added from the problem alone; nothing if it keeps all."""
    found = []
    used = {}
    for row, (day, team) in enumerate(zip(choice.on, choice.team, strict=True)):
        if (day == NEVER) != (team == NEVER):
            found.append(("half", row))
        if day == NEVER:
            continue
        if not made.open[row, day] or (made.shut is not None and made.shut[row, day, team]):
            found.append(("closed", row))
        if made.needs[row] > made.team_people[team]:
            found.append(("people", row))
        if made.pinned_on[row] not in (NEVER, day) or made.pinned_team[row] not in (NEVER, team):
            found.append(("pin", row))
        used.setdefault((day, team), []).append(row)
    for (day, team), rows in used.items():
        ways = len({int(made.area[row]) for row in rows})
        minutes = sum(int(made.minutes[row]) for row in rows) + made.area_minutes * ways
        if minutes > made.team_minutes[day, team]:
            found.append(("minutes", day, team))
    return found


def every_choice(made):
    """All plans that break nothing: for a handful of visits only."""
    sheets = [(d, t) for d, t in np.ndindex(*made.team_minutes.shape) if made.team_minutes[d, t]]
    for places in product([(NEVER, NEVER), *sheets], repeat=made.visits):
        on, team = np.array(places, int).reshape(-1, 2).T
        choice = Choice(on, team)
        if not broken(made, choice):
            yield choice


def best_by_hand(made):
    """(overdue bed-days, second tier) of the best of all plans."""
    return min(
        (made.overdue_bed_days(choice), round(second_tier(made, choice, AIMS), 6))
        for choice in every_choice(made)
    )
