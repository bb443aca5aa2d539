"""Many hotel-years simulated under several rules and stances, on the same guests and luck."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product

import numpy as np

from hotelwatch.core.odds.settings import Setting, setting_of
from hotelwatch.core.odds.simulation.checking import checking
from hotelwatch.core.odds.simulation.draws import Keys, mixed, year_key
from hotelwatch.core.odds.simulation.hotel import SimulatedHotel
from hotelwatch.core.odds.simulation.infestations import Hazards
from hotelwatch.core.odds.simulation.lets import (
    LetPattern,
    Nights,
    introductions_of,
    nights_of,
)
from hotelwatch.core.odds.simulation.policies import HouseRule
from hotelwatch.core.odds.simulation.response import House
from hotelwatch.core.odds.simulation.results import Outcome, outcome_of
from hotelwatch.core.odds.simulation.tally import Tally
from hotelwatch.core.odds.simulation.years import Brought, Years
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.core.progress import Progress, silent

YEAR_DAYS = 365
SETTLING_DAYS = 364
"""Days, whole weeks, that run before anything is counted: nothing is infested at first."""
ROOMS_AT_ONCE = 50_000
"""Rooms of hotel-years that run together; more use more memory and gain little."""
DAYS_BROUGHT = 16
"""From this number on a room's key tells what guests bring on each day."""
STEP = "simulating"


@dataclass(frozen=True, eq=False)
class Simulation:
    """What is simulated: the hotel, its guests, rules to compare, and how many hotel-years."""

    hotel: SimulatedHotel
    lets: LetPattern
    odds: OddsRules
    rules: tuple[HouseRule, ...]
    years: int
    """Hotel-years, each of 365 days after a time to settle."""
    seed: int
    stances: tuple[Stance, ...] = tuple(Stance)
    settling_days: int = SETTLING_DAYS

    @property
    def days(self) -> int:
        """Days of a run, settling included."""
        return self.settling_days + YEAR_DAYS

    def setting(self, stance: Stance) -> Setting:
        """The numbers of a stance."""
        return setting_of(self.odds, stance)


@dataclass(frozen=True, eq=False)
class Simulated:
    """Outcomes by number of the rule and by stance."""

    outcomes: Mapping[tuple[int, Stance], Outcome]
    years: int

    def of(self, rule: int, stance: Stance) -> Outcome:
        """The outcome of a rule, by its number in the simulation, in a stance."""
        return self.outcomes[rule, stance]


def simulate(plan: Simulation, progress: Progress = silent) -> Simulated:
    """Run every rule in every stance over the same hotel-years.

    The same seed gives the same figures, in whatever order or company rules are run.
    """
    kinds = tuple(product(range(len(plan.rules)), plan.stances))
    tallies: dict[tuple[int, Stance], list[Tally]] = {kind: [] for kind in kinds}
    steps = _Steps(plan, progress)
    for years in batches(plan):
        guests = _guests(plan, years, steps)
        for stance in plan.stances:
            brought = _brought(plan, years, stance, guests=guests, steps=steps)
            for number in range(len(plan.rules)):
                tally = _run(plan, (number, stance), guests=guests, brought=brought, steps=steps)
                tallies[number, stance].append(tally)
    outcomes = {
        (number, stance): outcome_of(
            some, plan.odds, rule=plan.rules[number], stance=stance, hotel=plan.hotel
        )
        for (number, stance), some in tallies.items()
    }
    return Simulated(outcomes, plan.years)


def batches(plan: Simulation) -> Iterator[range]:
    """Numbers of the hotel-years that run together."""
    at_once = max(1, ROOMS_AT_ONCE // max(1, plan.hotel.size))
    for first in range(0, plan.years, at_once):
        yield range(first, min(plan.years, first + at_once))


class _Steps:
    """Tells progress: a day of a batch is a step, so is a year's guests, or what they bring."""

    def __init__(self, plan: Simulation, progress: Progress) -> None:
        self._progress = progress
        runs = len(plan.rules) * len(plan.stances)
        drawn = plan.years * (1 + len(plan.stances))
        whole = len(list(batches(plan))) * runs * plan.days + drawn
        self._done, self._whole = 0, max(1, whole)

    def one(self) -> None:
        self._done += 1
        self._progress(self._done / self._whole, STEP)


@dataclass(frozen=True, slots=True)
class _Guests:
    """What all rules and stances meet alike."""

    nights: Nights
    """Every night of some hotel-years (days, rooms of all)."""
    keys: Keys
    """Of every room of every hotel-year."""


def _guests(plan: Simulation, years: range, steps: _Steps) -> _Guests:
    rooms = plan.hotel.size
    table = np.empty((plan.days, len(years) * rooms), np.uint8)
    for number, year in enumerate(years):
        own = nights_of(plan.lets, rooms, plan.days, seed=plan.seed, year=year)
        table[:, number * rooms : (number + 1) * rooms] = own.T
        steps.one()
    keys = [mixed(year_key(plan.seed, year), np.arange(rooms)) for year in years]
    return _Guests(table, np.concatenate(keys))


def _brought(
    plan: Simulation, years: range, stance: Stance, *, guests: _Guests, steps: _Steps
) -> Brought:
    rooms, chance = plan.hotel.size, plan.setting(stance).introductions_per_stay
    days, where = [], []
    for number, year in enumerate(years):
        own = guests.nights[:, number * rooms : (number + 1) * rooms]
        on, room = introductions_of(own, chance, seed=plan.seed, year=year)
        days.append(on)
        where.append(room + number * rooms)
        steps.one()
    day, room = np.concatenate(days), np.concatenate(where)
    order = np.argsort(day, kind="stable")
    day, room = day[order], room[order]
    return Brought(day, room, mixed(guests.keys[room], day + DAYS_BROUGHT))


def _run(
    plan: Simulation,
    kind: tuple[int, Stance],
    *,
    guests: _Guests,
    brought: Brought,
    steps: _Steps,
) -> Tally:
    """One rule in one stance over some hotel-years."""
    rule, setting, rooms = plan.rules[kind[0]], plan.setting(kind[1]), plan.hotel.size
    tally = Tally(guests.nights.shape[1] // rooms, rooms, plan.settling_days)
    looks = checking(plan.odds, setting, rule, plan.hotel)
    hazards = Hazards(plan.odds, setting, rule, looks)
    house = House(plan.hotel, rule, setting, guests.nights)
    years = Years(house, looks, hazards, brought=brought, tally=tally)
    years.begin(guests.keys)
    for day in range(plan.days):
        years.day(day)
        steps.one()
    return tally
