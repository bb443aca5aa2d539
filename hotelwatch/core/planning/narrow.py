"""The days on which minutes make beds overdue, solved to proof with whole visits.

With split visits the fewest overdue bed-days are a pouring (``places``). Most days have
minutes to spare in it: a visit that can go to one of those for what it costs at least is
out of the question. What remains are a few visits and the narrow days they crowd: small
enough for whole numbers. Other visits left out and other days without limit, the answer
is a bound, at least as high as that of split visits.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import highspy
import numpy as np

from hotelwatch.core.planning.linear import EVER, Programme, hand_over, quiet
from hotelwatch.core.planning.places import SLACK, Places, overdue_of, places_of
from hotelwatch.core.planning.problem import NEVER, Choice, Floats, Ints, Problem

LITTLE = 1e-9
MOST_COLUMNS = 1_200
"""More visits times narrow days than that are left to the bound of split visits."""
NODES = 40
GAP = 0.99
"""Overdue bed-days are whole numbers: a gap below one proves the fewest."""
HALF = 0.5


@dataclass(frozen=True, slots=True)
class Narrow:
    """What the narrow days come to."""

    fewest: int
    """No plan has fewer overdue bed-days."""
    choice: Choice | None
    """A day and a team for each visit that must stand on a narrow day; None: not solved."""
    rows: Ints
    """The visits that crowd them."""


def narrow_days(problem: Problem) -> Narrow:
    """The fewest overdue bed-days, and who stands where on the narrow days."""
    places = places_of(problem)
    overdue = overdue_of(problem, places)
    pouring = overdue.pouring
    fewest = max(overdue.bed_days, problem.unavoidable)
    costs = pouring.costs * pouring.minutes[:, None]
    is_narrow = pouring.gains() > LITTLE
    is_narrow[0] = False
    elsewhere = np.where(is_narrow, np.inf, costs).min(axis=1, initial=np.inf)
    crowd = np.flatnonzero(elsewhere > costs.min(axis=1, initial=np.inf) + LITTLE)
    rows, days = overdue.rows[crowd], np.flatnonzero(is_narrow)
    saved = elsewhere[crowd, None] - costs[np.ix_(crowd, days)]
    if not 0 < (saved > LITTLE).sum() <= MOST_COLUMNS:
        return Narrow(fewest, None if len(rows) else _nobody(problem), rows)
    rest = float(np.delete(costs.min(axis=1), crowd).sum() + elsewhere[crowd].sum())
    most, visit, place = _most_saved(problem.minutes[rows], saved, places.minutes[days - 1])
    fewest = max(fewest, ceil(rest - most - SLACK))
    return Narrow(fewest, _choice(problem, places, rows[visit], days[place] - 1), rows)


def _most_saved(minutes: Ints, saved: Floats, have: Ints) -> tuple[float, Ints, Ints]:
    """A bound on what visits on narrow days can save, and which of them the best plan has."""
    visit, place = np.nonzero(saved > LITTLE)
    columns = np.arange(len(visit))
    programme = Programme(-saved[visit, place], np.ones(len(visit)))
    programme.demand(np.zeros(len(minutes)), np.ones(len(minutes)))
    programme.enter(visit, columns, np.ones(len(visit)))
    first = programme.demand(np.full(len(have), -EVER), have.astype(float))
    programme.enter(first + place, columns, minutes[visit].astype(float))
    highs = quiet()
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", GAP)
    highs.setOptionValue("mip_max_nodes", NODES)
    hand_over(programme, highs, np.ones(len(visit), bool))
    highs.run()
    info = highs.getInfo()
    taken = np.zeros(len(visit), bool)
    if info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible:
        taken = np.array(highs.getSolution().col_value) > HALF
    return -float(info.mip_dual_bound), visit[taken], place[taken]


def _nobody(problem: Problem) -> Choice:
    none = np.full(problem.visits, NEVER)
    return Choice(none, none.copy())


def _choice(problem: Problem, places: Places, rows: Ints, place: Ints) -> Choice:
    choice = _nobody(problem)
    choice.on[rows], choice.team[rows] = places.day[place], places.first[place]
    return choice
