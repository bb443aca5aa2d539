"""What going on without a look costs, where all rooms want days and company of one another.

Each visit plans for itself: from the last day back to the first, it takes a day where
that costs no more than going on without. A day costs what has been waited for until then,
its minutes at that day's price, and the way to the corridor, unless another visit brings
the team there. What the visits would take so makes the prices: days of which more is
wanted than teams have grow dearer, the others cheaper; and it tells where there will be
company. After some rounds of that few visits change their minds.

Days ahead may be booked meanwhile, so a day known to be open is taken with a chance only:
what has few openings left cannot wait for the last of them.

Source: prices for what many share, Everett 1963, Generalized Lagrange multiplier method
(from memory); each against the mean of all others as in Huang, Malhamé and Caines 2006
(from memory). What is weighed, and the figures below, is ours.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.prices import Prices
from hotelwatch.core.planning.problem import NEVER, Claims, Floats, Ints, Problem

ROUNDS = 8
"""In which visits and prices answer each other. These figures are assumptions, chosen on
invented hotels."""
STEP = 0.27
"""How much dearer a day grows in a round in which twice its minutes are wanted."""
CHEAPEST, DEAREST = 0.25, 4.0
"""Times what a minute is worth in the long run."""
UNDECIDED = 0.035
"""Of what a visit's minutes cost: choices so little apart are nearly as good as one another."""
MOST_CERTAIN = 0.98
"""No visit is sure to be made on a day."""


@dataclass(frozen=True, slots=True)
class Waits:
    """What each visit has cost by a day, and what a look then leaves to come."""

    so_far: Floats
    """Of waiting until that day; last: until it is looked at after the last day (H + 1, R)."""
    after: Floats
    """Of stays known already, after a look on that day (H, R)."""


def passed(problem: Problem, prices: Prices, waits: Waits) -> Floats:
    """The cost of each visit if it is not made on a day, but as well as may be later (H, R)."""
    may = (problem.open & _days_allowed(problem)).T
    if not problem.visits:
        return np.zeros(may.shape)
    corridors = _Corridors(problem)
    had = problem.team_minutes.sum(axis=1)
    price = np.ones(problem.horizon)
    taken = np.zeros(may.shape)
    found = np.zeros(may.shape)
    for _ in range(ROUNDS):
        company = corridors.company(taken)
        found, taken = _each(problem, prices, waits, may, price * prices.minute, company)
        wanted = taken @ problem.minutes + problem.area_minutes * corridors.ways(taken)
        price = _dearer(price, wanted, had)
    return found


def _days_allowed(problem: Problem) -> Claims:
    """All but what a supervisor's choice of another day rules out (R, H)."""
    kept_to = problem.kept_to[:, None]
    allowed: Claims = (kept_to == NEVER) | (kept_to == np.arange(problem.horizon))
    return allowed


def _each(
    problem: Problem, prices: Prices, waits: Waits, may: Claims, price: Floats, company: Floats
) -> tuple[Floats, Floats]:
    """What going on costs from each day on, and how likely each visit takes it (H, R both)."""
    minutes, way = problem.minutes, problem.area_minutes
    passed, likely = np.zeros(may.shape), np.zeros(may.shape)
    ahead = waits.so_far[-1] + prices.minute * (minutes + prices.alone * way)
    likely_open = problem.chance.T
    for day in reversed(range(problem.horizon)):
        passed[day] = ahead
        there = waits.so_far[day] + waits.after[day] + price[day] * minutes
        alone = there + price[day] * way
        width = UNDECIDED * price[day] * minutes
        chance, together = may[day] * likely_open[day], company[day]
        takes = together * _yes(ahead - there, width) + (1 - together) * _yes(ahead - alone, width)
        likely[day] = chance * takes
        best = together * np.minimum(there, ahead) + (1 - together) * np.minimum(alone, ahead)
        ahead = chance * best + (1 - chance) * ahead
    still_waits = np.ones_like(likely)
    still_waits[1:] = np.cumprod(1 - likely[:-1], axis=0)
    return passed, np.minimum(likely * still_waits, MOST_CERTAIN)


def _yes(saves: Floats, width: Floats) -> Floats:
    """How likely a choice is that saves so much: an even one where it saves nothing."""
    chance: Floats = 1 / (1 + np.exp(np.clip(-saves / np.maximum(width, 1e-9), -30, 30)))
    return chance


def _dearer(price: Floats, wanted: Floats, had: Ints) -> Floats:
    """Prices after a round; a day without teams keeps its own."""
    beyond = np.where(had > 0, wanted / np.maximum(had, 1) - 1, 0)
    dearer: Floats = np.clip(price * np.exp(STEP * np.minimum(beyond, 1)), CHEAPEST, DEAREST)
    return dearer


class _Corridors:
    """Which visits are of one corridor."""

    def __init__(self, problem: Problem) -> None:
        self.order = np.argsort(problem.area, kind="stable")
        present, self.starts = np.unique(problem.area[self.order], return_index=True)
        self.place = np.searchsorted(present, problem.area)
        self.is_gone_to = np.zeros((problem.horizon, len(present)), bool)
        for day, _, area in problem.been:
            self.is_gone_to[day, present == area] = True

    def nobody(self, taken: Floats) -> Floats:
        """The chance that no visit brings a team to each corridor (H, corridors)."""
        found = np.multiply.reduceat(1 - taken[:, self.order], self.starts, axis=1)
        return np.where(self.is_gone_to, 0, found)

    def company(self, taken: Floats) -> Floats:
        """The chance that another visit brings a team to each visit's corridor (H, R)."""
        found: Floats = 1 - self.nobody(taken)[:, self.place] / (1 - taken)
        return found

    def ways(self, taken: Floats) -> Floats:
        """How many ways each day is likely to want, beside those made anyway (H)."""
        wanted = np.where(self.is_gone_to, 0, 1 - self.nobody(taken))
        total: Floats = wanted.sum(axis=1)
        return total
