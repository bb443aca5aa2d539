"""What it costs to wait with a look, and what one saves on each day, in overdue bed-days.

A bed that is late costs a bed-day a day, and a little more the later it is. Every day of
waiting bears the chance that a guest not yet booked stays for weeks. A look before the due
day brings the next one forward by as much: it wastes that share of its minutes; and where
a known stay lies across that next due day, it makes the bed late then. And minutes are
worth something: what a team does not spend today prevents overdue bed-days later. Without
that price a planner chases single late rooms, its teams walk instead of looking, and over
a year more beds are late, not fewer. What a minute of each day is worth, and what going on
without a look leads to, ``balance`` works out for all visits together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.balance import Waits, passed
from hotelwatch.core.planning.prices import Prices
from hotelwatch.core.planning.problem import NEVER, Floats, Ints, Problem

CLOSED = 1e9
"""More than any cost: a day on which the room cannot be entered."""
ASKED_LATE = 7500.0
"""For each minute of a visit that a case asks for: in time goes before late."""
ASKED_WAITS = 36.0
"""And for each day that it waits: more than any minute of a routine visit saves."""
LATE_SAVES = 0.5
"""Of an overdue bed-day, at the most: what a day of lateness can save in minutes. Ours."""
PATIENT_DAYS = 6
"""A case's visit that was tried for in vain counts in full again after so many days: an
assumption, nobody measured how long a vain try should be let lie."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What visits cost and save, in overdue bed-days."""

    of_day: Floats
    """Lateness and risk up to that day; CLOSED where it cannot be (R, H)."""
    saved: Floats
    """What a look on that day saves over going on without it, minutes of the day left aside;
    nothing where it cannot be (R, H)."""


def worth(problem: Problem, prices: Prices) -> Worth:
    """What each visit costs and saves on each day."""
    planned = np.broadcast_to(np.arange(problem.horizon), (problem.visits, problem.horizon))
    days = np.column_stack([planned, problem.later_on])
    of_day = _late(problem, prices, days) + _asked(problem, days)
    so_far, after = of_day - _waited(problem, prices, days), _after(problem, prices)
    saved = passed(problem, prices, Waits(so_far.T, after.T)).T - so_far[:, :-1] - after
    return Worth(
        of_day=np.where(problem.open, of_day[:, :-1], CLOSED),
        saved=np.where(problem.open, saved, 0),
    )


def _late(problem: Problem, prices: Prices, days: Ints) -> Floats:
    """Lateness up to each day, and the risk of waiting until then."""
    due = np.maximum(problem.due, NEVER)
    late = np.maximum(0, days - due[:, None]) - np.maximum(0, -due)[:, None]
    ageing = _ageing(problem, prices)[:, None]
    risk = np.concatenate(
        [np.zeros((problem.visits, 1)), np.cumsum(problem.surprise, axis=1)], axis=1
    )
    beds = (problem.beds * problem.weight)[:, None]
    double = _doubles_after(problem, prices)[:, None]
    found: Floats = beds * (late * ageing + late**2 / (2 * double) + risk)
    return found


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
    late = np.maximum(0, -problem.waits_since - 1)
    found: Floats = 1 + late / _doubles_after(problem, prices)
    return found


def _doubles_after(problem: Problem, prices: Prices) -> Floats:
    """Days late after which a further day counts double (R)."""
    found: Floats = prices.ageing_cycles * problem.cycle.astype(float)
    return found


def _after(problem: Problem, prices: Prices) -> Floats:
    """What stays known already cost after a look on each day (R, H).

    Where the next due day lies in such a stay the bed is late until its end, or is looked at
    once more before it, which wastes what is left of that cycle.
    """
    known = problem.known
    length, cycle = known.shape[1], problem.cycle[:, None]
    days = np.arange(length)
    next_open = np.minimum.accumulate(np.where(known, days, length)[:, ::-1], axis=1)[:, ::-1]
    last_open = np.maximum.accumulate(np.where(known, days, NEVER), axis=1)
    on = np.arange(problem.horizon)[None, :]
    due = on + cycle
    rows, at = np.arange(problem.visits)[:, None], np.minimum(due, length - 1)
    opens, before = next_open[rows, at], last_open[rows, at]
    beds = (problem.beds * problem.weight)[:, None]
    late = beds * np.maximum(0, opens - due)
    wasted = prices.minute * _minutes(problem, prices)[:, None] * (due - before) / cycle
    twice = wasted + beds * np.maximum(0, opens - before - cycle)
    costs = np.where(before > on, np.minimum(late, twice), late)
    found: Floats = np.where(due < length, costs, 0.0)
    return found
