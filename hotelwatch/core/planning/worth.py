"""What it costs to look at a room on each day, in overdue bed-days, now and later.

Four things add up. A bed that is late costs a bed-day a day, and more the later it is.
Every day of waiting bears the chance that a guest not yet booked stays for weeks. A look
before the due day brings the next one forward by as much: it wastes that share of its
minutes. And minutes are worth something: what a team does not spend today prevents
overdue bed-days later. Without that price a planner chases single late rooms, its teams
walk instead of looking, and over a year more beds are late, not fewer. Where teams have
minutes to spare these are worth little: no bed is late there to save them. On days from
which on the house will be behind for long they are worth more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.parameters import Figures
from hotelwatch.core.planning.problem import NEVER, Floats, Ints, Problem

CLOSED = 1e9
"""More than any cost: a day on which the room cannot be entered."""
ASKED_LATE = 7500.0
"""For each minute of a visit that a case asks for: in time goes before late."""
ASKED_WAITS = 36.0
"""And for each day that it waits: more than any minute of a routine visit saves."""
BEHIND_ADDS = 0.04
"""Times a minute's worth for each day to come on which the house is behind: an assumption,
chosen on invented hotels. So is what follows."""
BUSY = 0.94
"""Minutes wanted of each that there is (``behind.busyness``) where a minute is worth what the
house's figure says: 85 % of them, did every look come on its last day."""
STEEP = 6
"""What nobody needs is worth nothing: so many times the share of that, multiplied by itself."""
MOST_TIMES = 2.0
"""The figure, however overloaded a house is."""
LATE_SAVES = 0.5
"""Of an overdue bed-day, at the most: what a day of lateness can save in minutes. Ours."""
PATIENT_DAYS = 6
"""A case's visit that was tried for in vain counts in full again after so many days: an
assumption, nobody measured how long a vain try should be let lie."""


@dataclass(frozen=True, slots=True)
class Prices:
    """What the planner weighs against what; each is a Figure of the house."""

    minute: float
    """Overdue bed-days that a minute of a team's day prevents in the long run, so busy as it is."""
    alone: float
    """Share of visits for which a team goes to a corridor for that room only."""
    ageing_days: float
    """After so many days late a further day counts double."""
    moved: float
    """Overdue bed-days worth of keeping a published visit where it is."""
    firm: float
    """A visit is firm if a minute spent on it saves so many overdue bed-days."""
    firm_days: int
    """Days ahead that are promised at all, today among them."""


def prices_of(figures: Figures, *, busy: float) -> Prices:
    """What a house weighs against what; ``busy``: minutes wanted of each that there is."""
    usual = figures.minute_worth.value
    minute = usual * min(MOST_TIMES, (busy / BUSY) ** STEEP)
    return Prices(
        minute=minute,
        alone=figures.alone_share.value,
        ageing_days=figures.ageing_days.value,
        moved=figures.moved_worth.value,
        # Idle teams work ahead: what can wait is not tied to its last day.
        firm=figures.firm_times.value * max(minute, usual),
        firm_days=int(figures.promised_days.value),
    )


@dataclass(frozen=True, slots=True)
class Worth:
    """Costs of every visit on every day."""

    of_day: Floats
    """Lateness and risk up to that day; CLOSED where it cannot be (R, H)."""
    of_minutes: Floats
    """What its minutes are worth that day (R, H)."""
    waited: Floats
    """What waiting until that day saves of them (R, H)."""
    later: Floats
    """All three, for a visit after the last day (R)."""

    @property
    def total(self) -> Floats:
        """All together (R, H + 1); the last column is for after the last day."""
        return np.column_stack([self.of_day + self.of_minutes - self.waited, self.later])


def worth(problem: Problem, prices: Prices) -> Worth:
    """What each visit costs on each day, and after the last one."""
    horizon = problem.horizon
    days = np.column_stack(
        [np.broadcast_to(np.arange(horizon), (problem.visits, horizon)), problem.later_on]
    )
    due = np.maximum(problem.due, NEVER)
    late = np.maximum(0, days - due[:, None]) - np.maximum(0, -due)[:, None]
    ageing = _ageing(problem, prices)
    risk = np.concatenate(
        [np.zeros((problem.visits, 1)), np.cumsum(problem.surprise, axis=1)], axis=1
    )
    beds = (problem.beds * problem.weight)[:, None]
    of_day = beds * (late * ageing[:, None] + late**2 / (2 * prices.ageing_days) + risk)
    of_day = of_day + _asked(problem, days)
    of_minutes = _of_minutes(problem, prices, days)
    waited = _waited(problem, prices, days)
    return Worth(
        of_day=np.where(problem.open, of_day[:, :horizon], CLOSED),
        of_minutes=of_minutes[:, :horizon],
        waited=waited[:, :horizon],
        later=of_day[:, horizon] + of_minutes[:, horizon] - waited[:, horizon],
    )


def _of_minutes(problem: Problem, prices: Prices, days: Ints) -> Floats:
    """What a visit's minutes are worth on each day: the more, the longer the house is behind."""
    behind = np.append(problem.behind, 0)[np.minimum(days, len(problem.behind))]
    price = prices.minute * (1.0 + BEHIND_ADDS * behind.astype(float))
    return price * _minutes(problem, prices)[:, None]


def _minutes(problem: Problem, prices: Prices) -> Floats:
    """A visit's minutes, with its share of a way (R)."""
    return problem.minutes.astype(float) + prices.alone * problem.area_minutes


def _waited(problem: Problem, prices: Prices, days: Ints) -> Floats:
    """The share of a cycle for which a visit waits, at what minutes are worth in the long run.

    However short the cycle, a day late never saves as much as its overdue beds cost.
    """
    a_day = prices.minute * _minutes(problem, prices) / problem.cycle
    a_late_day = np.minimum(a_day, LATE_SAVES * problem.beds * problem.weight)
    in_time = np.minimum(days, np.maximum(0, problem.due)[:, None])
    saved: Floats = a_day[:, None] * in_time + a_late_day[:, None] * (days - in_time)
    return saved


def _asked(problem: Problem, days: Ints) -> Floats:
    """What a case's visit adds: the nearer its deadline the more, in vain lately the less."""
    waited = np.clip(-problem.waits_since, 1, PATIENT_DAYS) / PATIENT_DAYS
    a_day = ASKED_WAITS * waited**2 * (1 + 1 / (1 + np.maximum(0, problem.due)))
    is_late = days > problem.due[:, None]
    of_minute: Floats = a_day[:, None] * days + ASKED_LATE * is_late
    return of_minute * (problem.is_asked * problem.minutes)[:, None]


def _ageing(problem: Problem, prices: Prices) -> Floats:
    """How much one further day counts for what is late already."""
    return 1 + np.maximum(0, -problem.waits_since - 1) / prices.ageing_days
