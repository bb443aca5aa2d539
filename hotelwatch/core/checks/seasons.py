"""Seasons that use a cycle up faster, and when a bed is due on their account.

That a cycle should run faster in them is an assumption of whoever notes a season.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from hotelwatch.core.house import House
from hotelwatch.core.round_facts import SeasonNoted

WHOLE_DAY = 100
"""A usual day, in hundredths of a day of the cycle."""


@dataclass(frozen=True, slots=True)
class Season:
    """Days that count more than usual."""

    from_on: date
    until_on: date
    """Its last day."""
    day_counts: int
    """Hundredths of a day of the cycle; more than WHOLE_DAY."""


class Pace:
    """How fast cycles run; keeps the due dates that it worked out."""

    def __init__(self, seasons: Iterable[Season]) -> None:
        """``seasons`` one after the other; no two may share a day."""
        self.seasons = tuple(seasons)
        self._due: dict[tuple[date, int], date] = {}

    def due_on(self, last_on: date, cycle_days: int) -> date:
        """The last day that is not late: by it the days after ``last_on`` count up to the cycle.

        A usual day counts as one. Without seasons it is ``last_on`` + ``cycle_days``.
        """
        if not self.seasons:
            return last_on + timedelta(days=cycle_days)
        key = last_on, cycle_days
        if key not in self._due:
            self._due[key] = self._counted(last_on, cycle_days)
        return self._due[key]

    def counts_on(self, day: date) -> int:
        """Hundredths of a day of the cycle that a day counts."""
        within = (one for one in self.seasons if one.from_on <= day <= one.until_on)
        return next((one.day_counts for one in within), WHOLE_DAY)

    def _counted(self, last_on: date, cycle_days: int) -> date:
        left = cycle_days * WHOLE_DAY
        reached = last_on
        for season in self.seasons:
            if season.until_on <= reached:
                continue
            before = max(0, (season.from_on - reached).days - 1)
            if before * WHOLE_DAY >= left:
                break
            left -= before * WHOLE_DAY
            reached += timedelta(days=before)
            within = (season.until_on - reached).days
            counted = min(within, left // season.day_counts)
            left -= counted * season.day_counts
            reached += timedelta(days=counted)
            if counted < within:
                return reached
        return reached + timedelta(days=left // WHOLE_DAY)


def pace(house: House) -> Pace:
    """How fast the house's cycles run, by the seasons noted."""
    return Pace(_apart(seasons_noted(house)))


def seasons_noted(house: House) -> tuple[SeasonNoted, ...]:
    """Seasons that hold, the latest word on each name, by their first day."""
    latest = {told.name: told for told in house.all_of(SeasonNoted)}
    held = [told for told in latest.values() if told.holds and told.from_on <= told.until_on]
    return tuple(sorted(held, key=lambda told: (told.from_on, told.until_on, told.name)))


def _apart(noted: Iterable[SeasonNoted]) -> Iterator[Season]:
    """Seasons cut where others begin or end; where some share days, what they add adds up."""
    told = [one for one in noted if one.faster_percent > 0]
    one_day = timedelta(days=1)
    cuts = sorted({one.from_on for one in told} | {one.until_on + one_day for one in told})
    for first, following in pairwise(cuts):
        more = sum(one.faster_percent for one in told if one.from_on <= first <= one.until_on)
        if more:
            yield Season(first, following - one_day, WHOLE_DAY + more)
