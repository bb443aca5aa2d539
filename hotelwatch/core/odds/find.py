"""At a find: since when it was there, and what that means for each neighbour.

The pair of a room with a find and one neighbour is reckoned exactly, whichever infected the
other. Pressure from the found room alone gives about half of it; a separate factor for the
way back would count it twice.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.record import Found, RoomRecord, Treated
from hotelwatch.core.odds.room import RoomOdds, Steps, Tables, room_odds

COLUMNS = 400
"""Days before a find that a pair is reckoned over; earlier introductions count as of the first."""


@dataclass(frozen=True, slots=True)
class PairOdds:
    """A neighbour's odds as a find in the next room leaves them."""

    first: int
    """The first column."""
    odds: Floats
    """Odds of "since day tau" against free, the neighbour's own record included, from ``first``
    until the day of the find."""
    found_since: Floats
    """Chance of each day of introduction of the found room, summing to 1, same columns."""

    @property
    def chance(self) -> float:
        """The neighbour's chance on the evening of the find."""
        there = float(self.odds.sum())
        return there / (1.0 + there)


def until(record: RoomRecord, day: int) -> RoomRecord:
    """A record as it stood on an earlier day, before what was done about it on that day."""
    return replace(
        record,
        arrivals=record.arrivals[: day + 1],
        let=record.let[: day + 1],
        evidence=tuple(
            one
            for one in record.evidence
            if one.day < day or (one.day == day and not isinstance(one, Treated))
        ),
        extra=tuple(one for one in record.extra if one.day <= day),
        moved_in=tuple(moved for moved in record.moved_in if moved[0] <= day),
    )


def last_find(record: RoomRecord) -> int | None:
    """The day of the last confirmed find; None without one."""
    return max((one.day for one in record.evidence if isinstance(one, Found)), default=None)


def finds_in(record: RoomRecord) -> list[int]:
    """The day of the last confirmed find before each treatment, and of the last one of all."""
    days: list[int] = []
    is_new = True
    for one in record.in_order():
        if isinstance(one, Treated):
            is_new = True
        elif isinstance(one, Found):
            days[len(days) if is_new else -1 :] = [one.day]
            is_new = False
    return days


def is_found_on(record: RoomRecord, day: int) -> bool:
    """Whether a find of a day or earlier was not treated before that day."""
    found = [one.day for one in record.evidence if isinstance(one, Found) and one.day <= day]
    treated = (one.day for one in record.evidence if isinstance(one, Treated))
    return bool(found) and not any(max(found) <= done_on < day for done_on in treated)


@dataclass(frozen=True, slots=True)
class _Side:
    """One room of a pair over the columns that count."""

    chances: Floats
    """Of an introduction by stays, each day."""
    of_record: Floats
    """Chance of the record by day of introduction."""
    steps: Steps
    born: Steps
    since: int
    """The day of the last treatment, else 0: nothing pressed on it before."""


def pair_odds(
    found: RoomRecord, other: RoomRecord, tables: Tables, *, spread: float, day: int
) -> PairOdds:
    """The other room's odds on the evening of a find on ``day`` in the first one.

    ``spread`` is the chance a day that a heavily infested room infests this neighbour.
    """
    first = max(0, day + 1 - COLUMNS)
    i, j = (_side(room_odds(until(one, day), tables), first) for one in (found, other))
    if not (i.chances * i.of_record).any():
        # It came in a way that is not reckoned with: as into a room let as usual.
        usual = tables.setting.stays_per_day * tables.setting.introductions_per_stay
        i = replace(i, chances=np.full(len(i.chances), usual))
    press = tables.pressure
    from_j, kept_i = _by_day(i, press, spread, source=j)
    from_i, kept_j = _by_day(j, press, spread, source=i)
    # Rows are days of introduction in i, columns those in j.
    weights = from_j * kept_i * (from_i * kept_j).T * np.outer(i.of_record, j.of_record)
    never = _kept_before(i.chances) * i.chances * i.of_record
    clean_j = np.prod(1.0 - from_i, axis=0)
    none_in_j = float((never * clean_j).sum())
    by_found = weights.sum(axis=1) + never * clean_j
    total = float(by_found.sum())
    return PairOdds(
        first=first,
        odds=weights.sum(axis=0) / none_in_j,
        found_since=by_found / total,
    )


def _side(odds: RoomOdds, first: int) -> _Side:
    of_record, chances = odds.record_chances.copy(), odds.chances.copy()
    of_record[: odds.since] = chances[: odds.since] = 0.0
    # What may have come in before the first column counts as of that day.
    chances[first] = 1.0 - float(np.prod(1.0 - chances[: first + 1]))
    return _Side(
        chances=chances[first:],
        of_record=of_record[first:],
        steps=odds.steps[first:],
        born=(odds.steps[-1] - odds.ages)[first:],
        since=max(0, odds.since - first),
    )


def _by_day(side: _Side, press: Floats, spread: float, *, source: _Side) -> tuple[Floats, Floats]:
    """Chance of an introduction on each day (rows), by the source's own day (columns).

    And that of none before.
    """
    days = np.arange(len(side.chances))
    ages = source.steps[:, None] - source.born[None, :]
    presses = (days[:, None] > days[None, :]) & (days[:, None] > side.since)
    pressed = np.where(presses, spread * press.take(ages, mode="clip"), 0.0)
    chance = side.chances[:, None] + pressed
    kept = np.empty_like(chance)
    kept[0] = 1.0
    np.cumprod(1.0 - chance[:-1], axis=0, out=kept[1:])
    return np.asarray(chance), kept


def _kept_before(chances: Floats) -> Floats:
    kept = np.ones(len(chances))
    np.cumprod(1.0 - chances[:-1], out=kept[1:])
    return kept
