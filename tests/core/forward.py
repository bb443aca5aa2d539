"""A textbook forward algorithm for one room, written from the model's definition alone.

States: nothing there; or an infestation that mainly sits at place z and came in on day tau.
Every day there is a step (something may come in, what is there grows older), then the day's
evidence as a likelihood, then the chances are made to sum to 1 again: Rabiner 1989,
Proceedings of the IEEE 77:257-286, scaled forward variables (from memory). It shares no line
with the program's filter: growth, ageing, introductions and what a look sees are formulas of
its own, and it has no notion of priors kept apart from records.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hotelwatch.core.odds.record import Found, Looked, RoomRecord, Told, Treated
from hotelwatch.core.odds.settings import Setting

EIGHTHS = 8
"""The program tells ages apart to an eighth of a day, so the clock is read to that."""


@dataclass
class Forward:
    """Chances that sum to 1: of nothing there, and of each place and day of introduction."""

    free: float
    by_place: np.ndarray
    """(places, days)."""

    @property
    def chance(self) -> float:
        return float(self.by_place.sum())

    @property
    def by_day(self) -> np.ndarray:
        return self.by_place.sum(axis=0)


def forward(record: RoomRecord, setting: Setting, *, pressure=None) -> Forward:
    """The last evening's chances, day after day from the first one."""
    return list(evenings(record, setting, pressure=pressure))[-1]


def evenings(record: RoomRecord, setting: Setting, *, pressure=None):
    """The chances of every evening."""
    days = len(record.arrivals)
    shares = np.array(record.shares or setting.shares)
    comes = comes_in(record, setting)
    if pressure is not None:
        comes = 1 - (1 - comes) * (1 - np.asarray(pressure))
    clock = clock_at(record, setting)
    came_at = np.full(days, np.nan)
    free, there = 1.0, np.zeros((len(shares), days))
    for day in range(days):
        came_at[day] = clock[day]
        there[:, day] = shares * free * comes[day]
        free *= 1 - comes[day]
        insects = grown(setting, clock[day] - came_at[: day + 1])
        todays = [one for one in (*record.evidence, *record.extra) if one.day == day]
        for kind in (Looked, Told, Found):
            for one in (one for one in todays if isinstance(one, kind)):
                likely, likely_free = likelihood(one, setting, insects, shares)
                there[:, : day + 1] *= likely
                free *= likely_free
        for _one in (one for one in todays if isinstance(one, Treated)):
            survived = there.sum() / (there.sum() + free) * (1 - setting.treatment_success)
            there[:] = 0.0
            there[:, day] = shares * survived
            free = 1 - survived
            came_at[day] = clock[day] - np.rint(age_of(setting, setting.survivors) * EIGHTHS)
        total = free + there.sum()
        free, there = free / total, there / total
        yield Forward(free, there.copy())


def comes_in(record: RoomRecord, setting: Setting) -> np.ndarray:
    """The chance that something comes in, each day: none of the day's arrivals may bring it."""
    comes = -np.expm1(record.arrivals * np.log1p(-setting.introductions_per_stay))
    comes[: max(0, record.began - setting.days_before_record)] = 0
    for day, source in record.moved_in:
        comes[day] = 1 - (1 - comes[day]) * (1 - source * setting.moved_in)
    return comes


def clock_at(record: RoomRecord, setting: Setting) -> np.ndarray:
    """Eighths of a day of growth by each evening; the curve's own share of let nights counts 1."""
    vacant, share = setting.vacant_night, setting.growth.let_share
    usual = share + (1 - share) * vacant
    # Divided night by night: nights of 1/.64 lie on ties of rounding.
    nightly = [(let + (1 - let) * vacant) / usual for let in record.let]
    # An evening comes before its own night: what came in today is of age 0.
    return np.rint((np.cumsum(nightly) - nightly) * EIGHTHS)


def grown(setting: Setting, eighths) -> np.ndarray:
    """Insects by age: straight lines through the knots on a logarithmic scale."""
    curve = setting.growth
    found = []
    for age in np.atleast_1d(eighths) / EIGHTHS:
        if age >= curve.days[-1]:
            number = curve.insects[-1] * np.exp(curve.rate * (age - curve.days[-1]))
        else:
            after = next(n for n, knot in enumerate(curve.days) if knot > age)
            before, later = curve.insects[after - 1], curve.insects[after]
            part = (age - curve.days[after - 1]) / (curve.days[after] - curve.days[after - 1])
            number = before * (later / before) ** part
        found.append(min(number, setting.most_insects))
    return np.array(found)


def age_of(setting: Setting, insects: float) -> float:
    """The age at which there are so many, by bisection."""
    low, high = 0.0, 1000.0
    for _halving in range(80):
        middle = (low + high) / 2
        if grown(setting, middle * EIGHTHS)[0] < insects:
            low = middle
        else:
            high = middle
    return high


def sees(setting: Setting, look, insects, shares) -> np.ndarray:
    """The chance that a look sees something, (places, columns): the handbook's formula, plain."""
    seen, delta = np.array(look.seen), setting.away_share
    overall = float((shares * seen).sum())
    k = setting.clumping
    rows = [
        setting.highest_chance
        * (1 - (1 + insects * look.notice * ((1 - delta) * x + delta * overall) / k) ** -k)
        for x in seen
    ]
    return np.array(rows)


def likelihood(one, setting: Setting, insects, shares):
    """Of a piece of evidence: if something is there (places, columns), and if nothing is."""
    if isinstance(one, Looked):
        return (1 - sees(setting, one.look, insects, shares)) ** one.times, 1.0
    if isinstance(one, Told):
        return one.ratio, 1.0
    return sees(setting, one.look, insects, shares), 0.0
