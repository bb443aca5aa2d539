"""The days on which minutes make beds overdue, solved to proof with whole visits.

With split visits the fewest overdue bed-days are a pouring (``places``). Most days have
minutes to spare in it: a visit that can go to one of those for what it costs at least is
out of the question. What remains are a few visits and the narrow days they crowd: small
enough for whole numbers. Other visits left out and other days without limit, the answer
is a bound, at least as high as that of split visits.

The pouring's prices of minutes also say by how much the bound rises if a visit stands on
a day (its reduced cost): what would raise it by MOST_RISE is not looked at, and the bound
says no more than that (Dantzig, Fulkerson, Johnson 1954, from memory).
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
MOST_COLUMNS = 500
"""More visits times narrow days than that are left to the bound of split visits."""
MOST_RISE = 1.5
"""Bed-days."""
NODES = 40
GAP = 0.99
"""Overdue bed-days are whole numbers: a gap below one proves the fewest."""
HALF = 0.5


@dataclass(frozen=True, slots=True)
class Crowd:
    """Visits that crowd m narrow days. Infinite: what would raise the bound too much."""

    rows: Ints
    minutes: Ints
    late: Floats
    """Overdue bed-days by visit and narrow day (n, m)."""
    elsewhere: Floats
    """The fewest on any other day, or never (n)."""
    narrow: Ints
    """The places (m)."""
    have: Ints
    """Their minutes (m)."""


@dataclass(frozen=True, slots=True)
class Solved:
    """A crowd parted among narrow days and others."""

    bound: float
    """No parting costs less; infinite if none is possible at all."""
    is_found: bool
    """Otherwise none was found."""
    visit: Ints
    """Visits of the crowd on narrow days (k)."""
    place: Ints
    """On which (k)."""


@dataclass(frozen=True, slots=True)
class Narrow:
    """What the narrow days come to."""

    fewest: int
    """No plan has fewer overdue bed-days."""
    choice: Choice | None
    """A day and a team for each visit that must stand on a narrow day; None: not solved."""


def narrow_days(problem: Problem) -> Narrow:
    """The fewest overdue bed-days, and who stands where on the narrow days."""
    places = places_of(problem)
    overdue = overdue_of(problem, places)
    pouring = overdue.pouring
    fewest = max(overdue.bed_days, problem.unavoidable)
    costs = pouring.costs * pouring.minutes[:, None]
    price = np.maximum(pouring.gains(), 0.0)
    is_narrow = price > LITTLE
    is_narrow[0] = False
    elsewhere = np.where(is_narrow, np.inf, costs).min(axis=1, initial=np.inf)
    crowded = np.flatnonzero(elsewhere > costs.min(axis=1, initial=np.inf) + LITTLE)
    rows, days = overdue.rows[crowded], np.flatnonzero(is_narrow)
    dear = costs + price * pouring.minutes[:, None]
    by_prices = float(dear.min(axis=1, initial=np.inf).sum() - price[1:] @ places.minutes)
    rise = dear[crowded] - dear[crowded].min(axis=1, initial=np.inf)[:, None]
    may = rise[:, days] <= MOST_RISE
    if not 0 < may.sum() <= MOST_COLUMNS:
        return Narrow(fewest, None if len(rows) else _nobody(problem))
    elsewhere = elsewhere[crowded]
    least_rise = np.where(is_narrow, np.inf, rise).min(axis=1)
    crowd = Crowd(
        rows,
        pouring.minutes[crowded],
        np.where(may, costs[np.ix_(crowded, days)], np.inf),
        np.where(least_rise <= MOST_RISE, elsewhere, np.inf),
        days - 1,
        places.minutes[days - 1],
    )
    solved = _parted(crowd)
    rest = float(np.delete(costs.min(axis=1), crowded).sum())
    sure = min(rest + solved.bound, by_prices + MOST_RISE)
    fewest = max(fewest, ceil(sure - SLACK))
    if not solved.is_found:
        return Narrow(fewest, None)
    return Narrow(fewest, _choice(problem, places, crowd, solved))


def _parted(crowd: Crowd) -> Solved:
    """Each visit of a crowd whole on one narrow day or elsewhere: fewest overdue bed-days."""
    visit, place = np.nonzero(np.isfinite(crowd.late))
    other = np.flatnonzero(np.isfinite(crowd.elsewhere))
    costs = np.concatenate([crowd.late[visit, place], crowd.elsewhere[other]])
    programme = Programme(costs, np.ones(len(costs)))
    ones = np.ones(len(crowd.minutes))
    programme.demand(ones, ones)
    rows = np.concatenate([visit, other])
    programme.enter(rows, np.arange(len(costs)), np.ones(len(costs)))
    first = programme.demand(np.full(len(crowd.have), -EVER), crowd.have.astype(float))
    minutes = crowd.minutes[visit].astype(float)
    programme.enter(first + place, np.arange(len(visit)), minutes)
    highs = quiet()
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", GAP)
    highs.setOptionValue("mip_max_nodes", NODES)
    hand_over(programme, highs, np.ones(len(costs), bool))
    highs.run()
    info, status = highs.getInfo(), highs.getModelStatus()
    is_none = status == highspy.HighsModelStatus.kInfeasible
    bound = EVER if is_none else float(info.mip_dual_bound)
    feasible = highspy.SolutionStatus.kSolutionStatusFeasible
    if is_none or info.primal_solution_status != feasible:
        nobody = np.zeros(0, np.int64)
        return Solved(bound, is_found=False, visit=nobody, place=nobody)
    taken = np.array(highs.getSolution().col_value)[: len(visit)] > HALF
    return Solved(bound, is_found=True, visit=visit[taken], place=place[taken])


def _nobody(problem: Problem) -> Choice:
    none = np.full(problem.visits, NEVER)
    return Choice(none, none.copy())


def _choice(problem: Problem, places: Places, crowd: Crowd, solved: Solved) -> Choice:
    choice, rows = _nobody(problem), crowd.rows[solved.visit]
    place = crowd.narrow[solved.place]
    choice.on[rows], choice.team[rows] = places.day[place], places.first[place]
    return choice
