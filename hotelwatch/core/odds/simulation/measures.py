"""What a simulation tells, without arrays: measures, figures with intervals, two rules compared."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from hotelwatch.core.odds_figures import Stance


class Measure(StrEnum):
    """What is told of a hotel's year."""

    INFESTED_NIGHTS = "infested_nights"
    GUESTS_EXPOSED = "guests_exposed"
    NIGHTS_LOST = "nights_lost"
    HOURS = "hours"
    """Of one person."""
    MONEY = "money"
    FINDS = "finds"
    FOUND_BY_CHECK = "found_by_check"
    FOUND_BY_RING = "found_by_ring"
    FOUND_BY_FOLLOW_UP = "found_by_follow_up"
    FOUND_BY_BED_MAKING = "found_by_bed_making"
    FOUND_BY_TRAPS = "found_by_traps"
    FOUND_BY_GUEST = "found_by_guest"
    LOOKS = "looks"
    BROUGHT_IN = "brought_in"
    SPREAD = "spread"
    SURVIVED = "survived"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A figure with the interval in which it lies with 95 %, as far as simulating goes."""

    value: float
    low: float
    high: float


class OfFinds(StrEnum):
    """What is told of single finds."""

    MIDDLE_INSECTS = "middle_insects"
    """Half of the finds are made with so many insects at most."""
    MANY_INSECTS = "many_insects"
    """9 in 10 are."""
    NIGHTS_UNFOUND = "nights_unfound"
    """For so many nights nobody had found it, in the mean."""


@dataclass(frozen=True, slots=True)
class MeasureRow:
    """One measure under the usual rule and the one that is tried, in each stance."""

    measure: Measure | OfFinds
    usual: Mapping[Stance, Estimate | None]
    """None where nothing was found."""
    tried: Mapping[Stance, Estimate | None]
    """Empty where nothing is tried; so is ``change``, and for what is told of finds."""
    change: Mapping[Stance, Estimate]
    """Tried less usual, on the same luck."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two rules, or one alone, over the same hotel-years."""

    years: int
    rows: tuple[MeasureRow, ...]

    def row(self, measure: Measure | OfFinds) -> MeasureRow:
        """The row of a measure."""
        return next(row for row in self.rows if row.measure is measure)


@dataclass(frozen=True, slots=True)
class CalibrationRow:
    """Rooms that were told about the same odds, and how many of them were infested."""

    rooms: int
    told: float
    """The mean chance that was told."""
    seen: float
    """The share that was infested."""
    low: float
    """Where that share's true value lies with 95 %, exact."""
    high: float
    z: float
    """How many standard deviations the number infested is from what was told."""
