"""A room's record as the odds read it: who came, which nights were let, what was looked at.

Days are columns from 0; the last one is today. A day's introductions come before its looks.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from hotelwatch.core.odds.growth import Floats, ageing
from hotelwatch.core.odds.settings import Look, Setting


@dataclass(frozen=True, slots=True)
class Looked:
    """Somebody looked and found nothing."""

    day: int
    look: Look
    times: float = 1.0
    """As a power: below 1 where silence counts only in part."""


@dataclass(frozen=True, slots=True)
class Told:
    """A sign that nobody has judged: so many times as likely in an infested room."""

    day: int
    ratio: float


@dataclass(frozen=True, slots=True)
class Found:
    """A sign judged to be of bed bugs, met by a look of this kind."""

    day: int
    look: Look


@dataclass(frozen=True, slots=True)
class Treated:
    """Licensed work in the room."""

    day: int


@dataclass(frozen=True, slots=True)
class Given:
    """Odds as a find next door left them, in place of those from stays until that evening."""

    day: int
    first: int
    """The first column that has any."""
    odds: Floats
    """Against nothing there, the room's own record included, from ``first`` until the day."""


@dataclass(frozen=True, slots=True)
class Unreported:
    """Nights on which guests reported nothing."""

    day: int
    nights: float
    """How many; fewer where silence counts only in part."""


Evidence = Looked | Unreported | Told | Found | Treated | Given
_ORDER = {Looked: 0, Unreported: 1, Told: 2, Found: 3, Given: 4, Treated: 5}


@dataclass(frozen=True, slots=True)
class RoomRecord:
    """One room's record; arrays have one column for each day, today's last."""

    arrivals: Floats
    """Stays that began, expected ones where bookings are not known (days,)."""
    let: Floats
    """1 for a night with guests, 0 for a vacant one, a share where not known (days,)."""
    began: int = 0
    """The day on which the record begins; introductions before it count as the stance says."""
    evidence: tuple[Evidence, ...] = ()
    """In any order."""
    moved_in: tuple[tuple[int, float], ...] = ()
    """Furniture or guests from elsewhere: day, chance that where they came from was infested."""
    shares: tuple[float, ...] = ()
    """Of the room's beds; none: the usual ones."""
    extra: tuple[Looked | Unreported, ...] = field(default=())
    """Silence of bed-making and of guests, in any order."""

    @property
    def days(self) -> int:
        """How many columns there are."""
        return len(self.arrivals)

    def in_order(self) -> list[Evidence]:
        """Evidence by day; on one day clean looks, words, finds, odds given, treatments."""
        return sorted((*self.evidence, *self.extra), key=lambda one: (one.day, _ORDER[type(one)]))


def introductions(record: RoomRecord, setting: Setting) -> Floats:
    """The chance of an introduction by stays and by what was moved in, each day (days,)."""
    chance: Floats = -np.expm1(record.arrivals * np.log1p(-setting.introductions_per_stay))
    first = max(0, record.began - setting.days_before_record)
    chance[:first] = 0.0
    for day, source in record.moved_in:
        chance[day] = 1.0 - (1.0 - chance[day]) * (1.0 - source * setting.moved_in)
    return chance


def clock_of(record: RoomRecord, setting: Setting) -> Floats:
    """How far an infestation that was always there would have aged by each evening (days,).

    A night ages it after its evening: one that came in today has its first night before it.
    """
    aged = ageing(setting, record.let)
    clock: Floats = np.cumsum(aged) - aged
    return clock
