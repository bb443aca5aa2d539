"""What is counted while hotel-years are simulated: one number for each hotel-year."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.simulation.hotel import Ints


class Count(StrEnum):
    """What is counted as it happens."""

    INFESTED_NIGHTS = "infested_nights"
    """Nights on which insects were in a room and nobody had found them."""
    GUESTS_EXPOSED = "guests_exposed"
    """Stays of guests who slept in such a room and had not brought them along."""
    NIGHTS_LOST = "nights_lost"
    """Nights on which rooms were closed after finds."""
    MINUTES = "minutes"
    """Of a team, for deep looks and the ways to them."""
    LOOKS = "looks"
    BROUGHT_IN = "brought_in"
    """By guests' stays."""
    SPREAD = "spread"
    """From room to room, by themselves or with a guest who was moved."""
    SURVIVED = "survived"
    """Treatments that left some alive."""
    FOUND_BY_CHECK = "found_by_check"
    FOUND_BY_RING = "found_by_ring"
    """When neighbours of a find were looked at."""
    FOUND_BY_FOLLOW_UP = "found_by_follow_up"
    FOUND_BY_BED_MAKING = "found_by_bed_making"
    FOUND_BY_TRAPS = "found_by_traps"
    FOUND_BY_GUEST = "found_by_guest"


FINDS = tuple(count for count in Count if count.startswith("found_by_"))


@dataclass(eq=False)
class Tally:
    """Counts of some hotel-years from a first day on, and what was found in each find."""

    years: int
    rooms: int
    from_day: int
    counts: dict[Count, Floats] = field(init=False)
    insects: list[float] = field(default_factory=list)
    """At each find, in the order in which they happened."""
    nights: list[int] = field(default_factory=list)
    """For which each had gone unfound."""
    found_in: list[int] = field(default_factory=list)
    """The hotel-year of each find."""

    def __post_init__(self) -> None:
        """Nothing has happened yet."""
        self.counts = {count: np.zeros(self.years) for count in Count}

    def add(self, count: Count, day: int, rooms: Ints) -> None:
        """Count one for each of these rooms' hotels."""
        if day >= self.from_day and len(rooms):
            self.counts[count] += np.bincount(rooms // self.rooms, minlength=self.years)

    def add_amounts(self, count: Count, day: int, amounts: Floats) -> None:
        """Count an amount for each hotel."""
        if day >= self.from_day:
            self.counts[count] += amounts

    def add_find(self, count: Count, day: int, year: int, *, insects: float, nights: int) -> None:
        """Count a find, with how many insects there were and since how many nights."""
        if day >= self.from_day:
            self.counts[count][year] += 1.0
            self.insects.append(insects)
            self.nights.append(nights)
            self.found_in.append(year)
