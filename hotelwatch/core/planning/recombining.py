"""Plans of corridors put together anew: one of each corridor, within the days' minutes.

Many plans of each corridor are at hand (``corridor_plans``), made at prices near those of
the mix. Which of them go together the cheapest is a knapsack with many limits, one plan of
each corridor. It is searched by exchanging one plan for another: always the one exchange
that costs least, minutes that lack at a price that rises while they lack and falls while
none do; what was exchanged is not changed back for a while.

Source: tabu search with oscillation about feasibility (Glover 1989, 1990, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.planning.board import LITTLE, Board
from hotelwatch.core.planning.corridor_plans import Pool, plans_on
from hotelwatch.core.planning.problem import Floats, Ints
from hotelwatch.core.planning.strict_costs import CLOSED

TIMES = (0.5, 0.7, 1.0, 1.3, 1.6)
"""What the price of each sheet is taken times, so that plans differ."""
MORE, SHARE = 0.3, 0.5
"""Minutes for a minute at most, added to the prices of such a share of sheets."""
MOST_PRICE = 2.0
"""Minutes for a minute: dearer ones are of days that are full anyway."""
ROUNDS = 60
"""Times that a plan of each corridor is made."""
STEPS = 2_000
PATIENCE = 500
"""Exchanges without a better plan after which the search ends."""
LACK_TIMES, LACK_LEAST = 1.5, 0.15
"""What a lacking minute costs at first: times its price, and at least."""
DEARER, CHEAPER = 1.1, 0.9
REST_OTHERS = (2, 6)
"""Exchanges for which a corridor rests after one of its plans."""
REST_OLD = (10, 40)
"""Exchanges for which the plan given up is not taken again."""


@dataclass(frozen=True, slots=True)
class Deal:
    """Plans to choose from, sorted by corridor."""

    area: Ints
    used: Floats
    """Minutes of each sheet (P, B)."""
    cost: Floats
    first: Ints
    """The number of the first plan of each corridor, and P (A + 1)."""
    have: Floats


def recombine(board: Board, known: Pool, price: Floats, random: np.random.Generator) -> None:
    """Puts plans of corridors on the board that together cost less than those on it, if found.

    ``known``: plans found before; more are made at prices near these.
    """
    price = np.minimum(price, MOST_PRICE)
    pool = Pool(board)
    everyone, now = np.arange(pool.areas), plans_on(board, pool.corridors)
    pool.add(everyone, now)
    pool.add(np.array(known.area_of), np.array(known.plans))
    for number in range(ROUNDS):
        more = MORE * random.random(len(price)) * (random.random(len(price)) < SHARE)
        pool.find(price * random.choice(TIMES, len(price)) + more, better=number % 2)
    areas, plans = np.array(pool.area_of), np.array(pool.plans)
    cost = pool.costs(areas, plans)
    allowed = np.flatnonzero(cost < CLOSED)
    order = allowed[np.argsort(areas[allowed], kind="stable")]
    areas, plans = areas[order], plans[order]
    deal = Deal(
        areas,
        pool.used(areas, plans),
        cost[order],
        np.searchsorted(areas, np.arange(pool.areas + 1)),
        pool.have,
    )
    place = np.empty(len(cost), np.int64)
    place[order] = np.arange(len(order))
    start = place[[pool.number[a, now[a].tobytes()] for a in everyone.tolist()]]
    chosen = exchanged(deal, start, np.maximum(LACK_TIMES * price, LACK_LEAST), random)
    for area in np.flatnonzero(chosen != start).tolist():
        there = pool.corridors.visit[area] >= 0
        visits, sheets = pool.corridors.visit[area][there], plans[chosen[area]][there]
        for visit, sheet in zip(visits.tolist(), sheets.tolist(), strict=True):
            board.move(visit, sheet)


def exchanged(deal: Deal, start: Ints, lack: Floats, random: np.random.Generator) -> Ints:
    """The plans (A) that cost least among those met on the way, ``start`` if no others.

    ``lack``: what a lacking minute of each sheet costs at first (B).
    """
    now, best = start.copy(), start
    left = deal.have - deal.used[now].sum(axis=0)
    most = more = 0.0
    if (left < 0).any():
        most = np.inf
    # By how much minutes and cost change with each plan in place of its corridor's.
    takes = deal.used - deal.used[now][deal.area]
    costs = deal.cost - deal.cost[now][deal.area]
    rests = np.zeros(len(deal.area), np.int64)
    last = 0
    for step in range(STEPS):
        bad = np.maximum(takes - left, 0.0) @ lack
        bad += costs
        bad[rests > step] = np.inf
        bad[now] = np.inf
        plan = int(bad.argmin())
        if not bad[plan] < np.inf:
            break
        area = int(deal.area[plan])
        old, mine = now[area], slice(int(deal.first[area]), int(deal.first[area + 1]))
        left = left - takes[plan]
        more += float(costs[plan])
        costs[mine] -= costs[plan]
        takes[mine] -= takes[plan].copy()
        now[area] = plan
        rests[mine] = np.maximum(rests[mine], step + random.integers(*REST_OTHERS))
        rests[old] = step + random.integers(*REST_OLD)
        lacks = left < -LITTLE
        if lacks.any():
            lack[lacks] *= DEARER
        else:
            lack = lack * CHEAPER
            if more < most - LITTLE:
                most, best, last = more, now.copy(), step
        if step - last > PATIENCE:
            break
    return best
