"""How few overdue bed-days a year can have, by whom who knows every stay, with ways walked.

Three things are let go, so no policy can fall below: chance (all stays are known), visits
that cases ask for, and rooms in one piece. Day by day the teams' minutes, and the way to
each corridor that is gone to, get a price; a way's price is shared among the corridor's
rooms. Then each room is on its own: its looks are a shortest path from opening to opening.
What all paths cost, less what all minutes are worth, is below what any year costs,
whatever the prices (weak duality; Geoffrion 1974, from memory). Prices are sought by
subgradients; only how near the figure comes depends on them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tests.bench.invented import AREA_MINUTES

UNKNOWN = np.inf


@dataclass
class Bound:
    """Fewest overdue bed-days that can be shown."""

    without_minutes: float
    """From openings alone: the longest gaps."""
    with_walking: float
    """With the minutes of each day, ways among them."""


def truly_open(world):
    """(rooms, days): whether the room can be entered and a team works that day."""
    days = world.days
    change = np.zeros((world.rooms, days + 1), int)
    first = np.clip(world.stay_from + 1, 0, days)
    last = np.maximum(first, np.clip(world.stay_until, 0, days))
    np.add.at(change, (world.stay_room, first), 1)
    np.add.at(change, (world.stay_room, last), -1)
    works = world.team_minutes[:days].sum(axis=1) > 0
    return (change.cumsum(axis=1)[:, :days] <= 0) & works[None, :]


def cheapest_looks(world, is_open, price):
    """The least that each room's overdue days and looks cost, and its looks (rooms, days)."""
    days = world.days
    least = np.full((world.rooms, days), UNKNOWN)
    ends = np.full(world.rooms, UNKNOWN)
    for cycle in np.unique(world.cycle):
        rows = np.flatnonzero(world.cycle == cycle)
        least[rows], ends[rows] = _least(world, rows, is_open[rows], price[rows])
    return ends, _looks(world, least, ends)


def _first_late(world, rows, day):
    due = np.maximum(world.last[rows] + world.cycle[rows], -1)
    return world.beds[rows] * np.maximum(0, day - due)


def _least(world, rows, is_open, price):
    """Least cost with a look on each day, and at the end; rows of one cycle."""
    days, cycle, beds = world.days, int(world.cycle[rows[0]]), world.beds[rows]
    least = np.full((len(rows), days), UNKNOWN)
    long_ago = np.full(len(rows), UNKNOWN)
    for day in range(days + 1):
        at = min(day, days - 1)
        came = _first_late(world, rows, at)
        before = at - cycle - 1
        if day < days and before >= 0:
            long_ago = np.minimum(long_ago, least[:, before] - beds * before)
        recent = least[:, max(0, at - cycle) : day]
        if recent.shape[1]:
            came = np.minimum(came, recent.min(axis=1))
        came = np.minimum(came, long_ago + beds * (at - cycle))
        if day == days:
            return least, came
        least[:, day] = np.where(is_open[:, day], came + price[:, day], UNKNOWN)
    raise AssertionError("a year has an end")


def _looks(world, least, ends):
    """One cheapest path of each room, walked back from the end."""
    days = np.arange(world.days)
    looks = np.zeros(least.shape, bool)
    rows = np.arange(world.rooms)
    at = np.full(world.rooms, world.days)
    while len(rows):
        on = np.minimum(at, world.days - 1)
        gap = on[:, None] - days[None, :] - world.cycle[rows][:, None]
        cost = least[rows] + world.beds[rows][:, None] * np.maximum(0, gap)
        cost = np.where(days[None, :] < at[:, None], cost, UNKNOWN)
        before = cost.argmin(axis=1)
        best = cost[np.arange(len(rows)), before]
        goes_on = best < _first_late_at(world, rows, on)
        rows, at = rows[goes_on], before[goes_on]
        looks[rows, at] = True
    return looks


def _first_late_at(world, rows, on):
    due = np.maximum(world.last[rows] + world.cycle[rows], -1)
    return world.beds[rows] * np.maximum(0, on - due)


def year_bound(world, *, rounds=30, first_price=0.02, step=2.0):
    """The bound, after so many rounds of seeking prices."""
    is_open = truly_open(world)
    available = world.team_minutes[: world.days].sum(axis=1).astype(float)
    price = np.where(available > 0, first_price, 0.0)
    share = _even_shares(world, is_open)
    best_price, best_share = price, share
    free, _ = cheapest_looks(world, is_open, np.zeros(is_open.shape))
    plain = float(free.sum())
    best = plain
    stuck = 0
    for _ in range(rounds):
        spent = world.minutes[:, None] + AREA_MINUTES * share
        ends, looks = cheapest_looks(world, is_open, price[None, :] * spent)
        value = float(ends.sum()) - float((price * available).sum())
        if value > best:
            best, best_price, best_share, stuck = value, price, share, 0
        else:
            stuck += 1
            if stuck % 8 == 0:
                step /= 2
                price, share = best_price, best_share
                continue
        over = (spent * looks).sum(axis=0) - available
        over = np.where((price <= 0) & (over < 0), 0, over)
        aim = max(1.0, 0.05 * abs(best)) + max(0.0, best - value)
        price = np.maximum(0, price + step * aim * over / max(1.0, float((over**2).sum())))
        share = _shares(world, share * np.exp(step * looks))
    return Bound(plain, best)


def _even_shares(world, is_open):
    return _shares(world, is_open.astype(float))


def _shares(world, weights):
    """Weights scaled so that those of a corridor make one each day."""
    sums = np.zeros((int(world.area.max()) + 1, world.days))
    np.add.at(sums, world.area, weights)
    return weights / np.maximum(sums[world.area], 1e-12)
