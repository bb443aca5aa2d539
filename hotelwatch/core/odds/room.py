"""One room's odds from its whole record: an exact filter over the day of introduction.

The state is "nothing there" or "there since day tau, mainly at place z". Growth is a lookup
by age, so a column for each day is all that is needed and nothing is ever shifted. A clean
look multiplies each column by the chance that it would have missed what was there; looks on
any days, in any order, give the same. A later, corrected or deleted entry rebuilds one room.

Filtering a status through imperfect tests with new introductions between them is
established (Bayesian hidden Markov models of herd status); age and place are our layers.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.odds.growth import Floats, age_when, insects_at
from hotelwatch.core.odds.record import (
    Evidence,
    Found,
    Given,
    Looked,
    RoomRecord,
    Told,
    Treated,
    Unreported,
    clock_of,
    introductions,
)
from hotelwatch.core.odds.sensitivity import chance_seen, guest_notices
from hotelwatch.core.odds.settings import Look, Setting

STEPS = 8
"""Ages are told apart to an eighth of a day."""
LONGEST = 500
"""Days of age after which nothing grows any more, on any shipped curve."""
Steps = NDArray[np.int64]


class Tables:
    """What a setting's looks miss, by age and place: worked out once for each kind of look."""

    def __init__(self, setting: Setting) -> None:
        """Work out growth and pressure by age for a setting."""
        self.setting = setting
        ages = np.arange(LONGEST * STEPS + 1) / STEPS
        self.insects = insects_at(setting.growth, ages, setting.most_insects)
        self.pressure = self.insects / (self.insects + setting.spread_half)
        """How hard an infestation of each age presses on its neighbours, 0 to 1."""
        self.unnoticed_by_guests = 1.0 - guest_notices(setting, self.insects)
        """The chance that a let night passes without a guest's report, by age (steps,)."""
        self._others: dict[tuple[object, ...], Floats] = {}
        self._missed: dict[tuple[Look, tuple[float, ...], float], Floats] = {}

    def missed(self, look: Look, shares: tuple[float, ...], times: float = 1.0) -> Floats:
        """The chance that a look misses, by age in steps and place (steps, places)."""
        key = (look, shares, times)
        if key not in self._missed:
            seen = chance_seen(self.setting, look, self.insects, shares=shares)
            self._missed[key] = np.ascontiguousarray(((1.0 - seen) ** times).T)
        return self._missed[key]

    def once(self, key: tuple[object, ...], make: Callable[[], Floats]) -> Floats:
        """An array by age in steps that is worked out once, by a key of its own."""
        if key not in self._others:
            self._others[key] = make()
        return self._others[key]


@dataclass(frozen=True, slots=True)
class RoomOdds:
    """Where a room stands, given everything recorded: weights of "since day tau" against free."""

    weights: Floats
    """Unnormalised weight of an introduction on each day, record included (days,)."""
    free: float
    """On the same scale, the weight of nothing there; 0 after a confirmed find."""
    insects: Floats
    """How many there would be by now, by day of introduction (days,)."""
    ages: Steps
    """Age by day of introduction, in steps (days,)."""
    record_chances: Floats
    """Chance of the room's record of looks, by day of introduction (days,)."""
    by_place: Floats
    """The same by main place as well, weighted by how likely each is (days, places)."""
    chances: Floats
    """Chance of an introduction on each day before any look, if none before (days,)."""
    steps: Steps
    """The growth clock at each evening, in steps (days,)."""
    since: int
    """The first column that counts: the last treatment's, else 0."""
    shares: tuple[float, ...]
    """How likely each place is the main one."""

    @property
    def chance(self) -> float:
        """The chance, 0 to 1, that something is there and was missed."""
        there = float(self.weights.sum())
        return there / (there + self.free) if there else 0.0

    @property
    def is_found(self) -> bool:
        """Whether a confirmed find stands that was not treated since."""
        return self.free == 0.0

    @property
    def since_chances(self) -> Floats:
        """If something is there: since which day it has been, summing to 1 (days,)."""
        total = self.weights.sum()
        return self.weights / total if total else self.weights

    def by_day(self, days: int) -> float:
        """The mean chance that something came in, on each of the last so many days.

        A treatment's survivors came in on none of them.
        """
        latest = np.arange(len(self.chances))[-days:]
        if self.since:
            latest = latest[latest != self.since]
        return float(self.chances[latest].mean()) if len(latest) else 0.0

    def chance_of_find(self, tables: Tables, look: Look, *, worth: Floats | None = None) -> float:
        """The chance that a look today would find something; or what such finds are worth.

        ``worth`` is that of a find by age in steps.
        """
        masses = np.divide(
            self.weights,
            self.record_chances,
            out=np.zeros_like(self.weights),
            where=self.record_chances > 0,
        )
        seen = 1.0 - tables.missed(look, self.shares).take(self.ages, axis=0, mode="clip")
        each = masses * np.einsum("tz,tz->t", self.by_place, seen)
        if worth is not None:
            each = each * worth.take(self.ages, mode="clip")
        total = float(self.weights.sum()) + self.free
        return float(each.sum()) / total if total else 0.0

    def since_window(self, low: float, high: float) -> tuple[int, int]:
        """The days between which it came in, from quantile ``low`` to ``high``, if it is there."""
        rising = np.cumsum(self.since_chances)
        last = len(rising) - 1
        first_day = int(np.searchsorted(rising, low * rising[-1], side="right"))
        last_day = int(np.searchsorted(rising, high * rising[-1], side="left"))
        return min(first_day, last), min(last_day, last)


@dataclass(slots=True)
class Run:
    """A room's filter as it goes through the record."""

    record: RoomRecord
    tables: Tables
    steps: Steps
    """The growth clock at each evening, in steps."""
    born: Steps
    """The clock at each column's introduction."""
    chances: Floats
    """Chance of introduction on each day."""
    by_place: Floats
    """Chance of the record by column and place (days, places)."""
    masses: Floats
    """Prior weight of each column, from the last treatment on."""
    free: Floats
    """Prior weight of nothing there at each evening."""
    since: int = 0
    is_found: bool = False

    @property
    def shares(self) -> tuple[float, ...]:
        """How likely each place is the main one."""
        return self.record.shares or self.tables.setting.shares

    def missed(self, look: Look, day: int, times: float) -> Floats:
        """The chance that a look on a day misses, by column and place."""
        table = self.tables.missed(look, self.shares, times)
        return table.take(self._ages(day), axis=0, mode="clip")

    def _ages(self, day: int) -> Steps:
        ages: Steps = self.steps[day] - self.born[self.since : day + 1]
        return ages

    def take(self, one: Evidence) -> None:
        """Put one piece of evidence on every column up to its day."""
        columns = slice(self.since, one.day + 1)
        if isinstance(one, Looked):
            self.by_place[columns] *= self.missed(one.look, one.day, one.times)
        elif isinstance(one, Unreported):
            quiet = self.tables.unnoticed_by_guests.take(self._ages(one.day), mode="clip")
            self.by_place[columns] *= (quiet**one.nights)[:, None]
        elif isinstance(one, Told):
            self.by_place[columns] *= one.ratio
        elif isinstance(one, Found):
            self._find(one)
        elif isinstance(one, Treated):
            self._treat(one.day)
        else:
            self._start_from(one)

    def there(self, day: int) -> float:
        """The weight of something there at an evening."""
        columns = slice(self.since, day + 1)
        return float(self.masses[columns] @ (self.by_place[columns] @ np.asarray(self.shares)))

    def _find(self, one: Found) -> None:
        """Something is there since a day up to this one; what came later was not found."""
        columns = slice(self.since, one.day + 1)
        self.by_place[columns] *= 1.0 - self.missed(one.look, one.day, 1.0)
        self.by_place[one.day + 1 :] = 0.0
        self.is_found = True
        # A find stands even if it came in, or was seen, in no way that is reckoned with.
        if not self.masses[columns].any():
            self.masses[columns] = 1.0
        if not self.there(one.day):
            self.by_place[columns] = 1.0

    def _treat(self, day: int) -> None:
        """Clear what was there but for survivors, in one column aged as they are many."""
        setting = self.tables.setting
        there = self.there(day)
        before = 1.0 if self.is_found else there / (there + self.free[day])
        left = before * (1.0 - setting.treatment_success)
        age = age_when(setting.growth, setting.survivors)
        self.since, self.is_found = day, False
        self.by_place[day:] = 1.0
        self.born[day] = self.steps[day] - round(age * STEPS)
        self.chances[day] = self.masses[day] = left
        self._go_on(day, 1.0 - left)

    def _start_from(self, given: Given) -> None:
        """Take the odds that a find next door left."""
        columns = slice(max(given.first, self.since), given.day + 1)
        record = self.by_place[columns] @ np.asarray(self.shares)
        odds = given.odds[columns.start - given.first :]
        self.masses[: given.day + 1] = 0.0
        self.masses[columns] = np.divide(odds, record, out=np.zeros_like(odds), where=record > 0)
        self._go_on(given.day, 1.0)

    def _go_on(self, day: int, free: float) -> None:
        """Prior weights after a day, on whose evening nothing there has the weight ``free``."""
        later = self.chances[day + 1 :]
        self.free[day] = free
        self.free[day + 1 :] = free * np.cumprod(1.0 - later)
        self.masses[day + 1 :] = later * self.free[day:-1]

    def result(self) -> RoomOdds:
        """The odds of the last evening."""
        last = self.record.days - 1
        ages: Steps = self.steps[last] - self.born
        of_record = self.by_place @ np.asarray(self.shares)
        weights = self.masses * of_record
        weights[: self.since] = 0.0
        return RoomOdds(
            weights=weights,
            free=0.0 if self.is_found else float(self.free[last]),
            insects=self.tables.insects.take(ages, mode="clip"),
            ages=ages,
            record_chances=of_record,
            by_place=self.by_place * np.asarray(self.shares),
            chances=self.chances,
            steps=self.steps,
            since=self.since,
            shares=self.shares,
        )


def room_odds(record: RoomRecord, tables: Tables, *, pressure: Floats | None = None) -> RoomOdds:
    """A room's odds today.

    ``pressure`` is the chance of an introduction by neighbours on each day (days,).
    """
    run = begin(record, tables, pressure)
    for one in record.in_order():
        run.take(one)
    return run.result()


@dataclass(frozen=True, slots=True)
class RoomPast:
    """A room's odds on some earlier days, as its record then stood; (days asked,) each."""

    chances: Floats
    pressures: Floats
    """How hard the room pressed on its neighbours, 0 to 1, expected."""


def room_past(
    record: RoomRecord, tables: Tables, on_days: Sequence[int], *, pressure: Floats | None = None
) -> tuple[RoomOdds, RoomPast]:
    """A room's odds today and on these earlier evenings, in rising order."""
    run = begin(record, tables, pressure)
    into = np.zeros(len(on_days)), np.zeros(len(on_days))
    waiting = deque(record.in_order())
    for place, day in enumerate(on_days):
        while waiting and waiting[0].day <= day:
            run.take(waiting.popleft())
        _look_back(run, day, into, place)
    for one in waiting:
        run.take(one)
    return run.result(), RoomPast(*into)


def _look_back(run: Run, day: int, into: tuple[Floats, Floats], place: int) -> None:
    columns = slice(run.since, day + 1)
    weights = run.masses[columns] * (run.by_place[columns] @ np.asarray(run.shares))
    there = float(weights.sum())
    total = there + (0.0 if run.is_found else run.free[day])
    if total:
        ages = run.steps[day] - run.born[columns]
        into[0][place] = there / total
        into[1][place] = weights @ run.tables.pressure.take(ages, mode="clip") / total


def begin(record: RoomRecord, tables: Tables, pressure: Floats | None) -> Run:
    """A room's filter before any evidence."""
    setting = tables.setting
    chances = introductions(record, setting)
    if pressure is not None:
        chances = 1.0 - (1.0 - chances) * (1.0 - pressure)
    steps = np.rint(clock_of(record, setting) * STEPS).astype(np.int64)
    free = np.asarray(np.cumprod(1.0 - chances), dtype=np.float64)
    masses = chances.copy()
    masses[1:] *= free[:-1]
    return Run(
        record=record,
        tables=tables,
        steps=steps,
        born=steps.copy(),
        chances=chances,
        by_place=np.ones((record.days, len(setting.shares))),
        masses=masses,
        free=free,
    )
