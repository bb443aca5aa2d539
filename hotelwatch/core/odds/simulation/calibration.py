"""Do the odds of rooms come true? Rooms simulated with the record that each would have.

The filter of odds says how likely something was missed, given a record of looks that found
nothing. Here rooms get their guests, their introductions and their looks by chance, in the
same model but look by look; those in which something was found are left out. Of rooms told
to be infested with 1 in 50, 1 in 50 should be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import lgamma, log, sqrt

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.odds.growth import Floats, insects_at
from hotelwatch.core.odds.record import Looked, RoomRecord, clock_of, introductions
from hotelwatch.core.odds.room import Tables, room_odds
from hotelwatch.core.odds.sensitivity import chance_seen
from hotelwatch.core.odds.settings import Look, Setting, setting_of
from hotelwatch.core.odds.simulation.hotel import Ints
from hotelwatch.core.odds.simulation.measures import CalibrationRow
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.core.progress import Progress, silent

HALVINGS = 60
EACH_SIDE = 0.025
"""What a 95 % interval leaves out on each side."""
NEVER = -1
RECORDS, ROOMS, DAYS = 300, 20_000, 540
"""So many records of so many days, each with so many rooms, show whether odds come true."""
LOOK = "deep_full"
STEP = "calibrating"


@dataclass(frozen=True, eq=False)
class Drawn:
    """What became of many rooms that all had the same guests and the same looks."""

    clean: int
    """Rooms in which no look found anything, or there was nothing."""
    infested: int
    """Of these, rooms with something in them."""
    ages: Ints
    """For how many days it has been in each of those."""


def simulated_records(
    setting: Setting, look: Look, *, rooms: int, days: int, rng: np.random.Generator
) -> tuple[RoomRecord, ...]:
    """Records of rooms with guests by chance and looks that are 20 to 120 days apart."""
    chance = setting.stays_per_day
    records = []
    for _ in range(rooms):
        arrivals = (rng.random(days) < chance).astype(np.float64)
        let = np.maximum(arrivals, rng.random(days) < chance).astype(np.float64)
        gaps = rng.integers(20, 121, max(2, days // 20))
        on = np.cumsum(gaps)
        looked = tuple(Looked(int(day), look) for day in on[on < days])
        records.append(RoomRecord(arrivals=arrivals, let=let, evidence=looked))
    return tuple(records)


def drawn_rooms(
    record: RoomRecord, setting: Setting, *, rooms: int, rng: np.random.Generator
) -> Drawn:
    """Rooms with the guests and looks of a record, each with its own luck.

    Looks are the only evidence that is drawn; the first introduction into a room counts.
    """
    came_on = _came_on(introductions(record, setting), rooms, rng)
    came_on = came_on[came_on != NEVER]
    shares = record.shares or setting.shares
    place = rng.choice(len(shares), len(came_on), p=shares)
    clock = clock_of(record, setting)
    hidden = np.ones(len(came_on), bool)
    for one in (*record.evidence, *record.extra):
        if not isinstance(one, Looked):
            raise TypeError(type(one).__name__)
        could = np.flatnonzero(hidden & (came_on <= one.day))
        ages = clock[one.day] - clock[came_on[could]]
        insects = insects_at(setting.growth, ages, setting.most_insects)
        seen = chance_seen(setting, one.look, insects, shares=shares)
        missed = (1.0 - seen[place[could], np.arange(len(could))]) ** one.times
        hidden[could] = rng.random(len(could)) < missed
    found = int(np.count_nonzero(~hidden))
    return Drawn(rooms - found, int(np.count_nonzero(hidden)), record.days - 1 - came_on[hidden])


def _came_on(chances: Floats, rooms: int, rng: np.random.Generator) -> Ints:
    """The day of each room's first introduction; NEVER where there is none."""
    reached = -np.expm1(np.cumsum(np.log1p(-chances)))
    days = np.searchsorted(reached, rng.random(rooms), side="right")
    return np.where(days < len(chances), days, NEVER)


def calibration(
    rules: OddsRules, stance: Stance, *, seed: int = 1, progress: Progress = silent
) -> tuple[CalibrationRow, ...]:
    """What the filter of odds tells of simulated rooms, and how many of them were infested.

    Deep looks with everything opened, in the figures of one stance.
    """
    setting = setting_of(rules, stance)
    rng, tables = np.random.default_rng([seed, RECORDS]), Tables(setting)
    records = simulated_records(
        setting, setting.look(rules.looks[LOOK]), rooms=RECORDS, days=DAYS, rng=rng
    )
    told, clean, infested = [], [], []
    for number, record in enumerate(records, 1):
        drawn = drawn_rooms(record, setting, rooms=ROOMS, rng=rng)
        told.append(room_odds(record, tables).chance)
        clean.append(drawn.clean)
        infested.append(drawn.infested)
        progress(number / RECORDS, STEP)
    return calibration_rows(told, infested, rooms=clean)


def calibration_rows(
    chances: Sequence[float] | Floats,
    infested: Sequence[int] | NDArray[np.bool_],
    *,
    rooms: Sequence[int] | None = None,
    bins: int = 10,
) -> tuple[CalibrationRow, ...]:
    """Rooms by the odds that were told, in bins of about equally many rooms.

    Entries are single rooms, infested or not, or ``rooms`` of the same odds together.
    """
    told = np.asarray(chances, np.float64)
    order = np.argsort(told, kind="stable")
    sizes = np.ones(len(told), np.int64) if rooms is None else np.asarray(rooms, np.int64)
    hits = np.asarray(infested, np.int64)
    middles = np.cumsum(sizes[order]) - sizes[order] / 2.0
    place = np.minimum((middles * bins / sizes.sum()).astype(np.int64), bins - 1)
    parts = [order[place == number] for number in range(bins)]
    return tuple(_row(told[part], sizes[part], hits[part]) for part in parts if len(part))


def _row(told: Floats, sizes: Ints, hits: Ints) -> CalibrationRow:
    number, infested = int(sizes.sum()), int(hits.sum())
    expected, spread = float(told @ sizes), sqrt(float((told * (1.0 - told)) @ sizes))
    low, high = exact_interval(infested, number)
    return CalibrationRow(
        rooms=number,
        told=expected / number,
        seen=infested / number,
        low=low,
        high=high,
        z=(infested - expected) / spread if spread else 0.0,
    )


def exact_interval(hits: int, number: int) -> tuple[float, float]:
    """Where a share lies with 95 %, of which so many hits in a number were seen.

    Source: C. J. Clopper, E. S. Pearson, The use of confidence or fiducial limits,
    Biometrika 26 (1934) 404-413, from memory.
    """
    low = 0.0 if hits == 0 else _share_at(hits - 1, number, 1.0 - EACH_SIDE)
    high = 1.0 if hits == number else _share_at(hits, number, EACH_SIDE)
    return low, high


def _share_at(most: int, number: int, chance: float) -> float:
    """The share at which ``most`` hits or fewer have this chance."""
    hits = np.arange(most + 1)
    ways = np.array([lgamma(number + 1) - lgamma(k + 1) - lgamma(number - k + 1) for k in hits])
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        share = (low + high) / 2.0
        terms = ways + hits * log(share) + (number - hits) * np.log1p(-share)
        if float(np.exp(terms).sum()) > chance:
            low = share
        else:
            high = share
    return (low + high) / 2.0
