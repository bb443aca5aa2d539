"""Who came and which nights were let, day by day, as the odds read it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.settings import DAYS_A_YEAR
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True)
class Nights:
    """Arrivals and let nights of every room; columns are days, the last one is today."""

    first_on: date
    rooms: tuple[RoomNo, ...]
    came: NDArray[np.uint8]
    """Stays that began, where bookings are at hand (rooms, days)."""
    slept: NDArray[np.bool_]
    """Whether the night was let, where bookings are at hand (rooms, days)."""
    at_hand: tuple[int, int]
    """The days for which bookings are at hand, the second one left out; alike: for none."""
    usual_arrivals: float
    """Stays that begin on a mean day; so every other day counts."""
    usual_let: float

    @property
    def days(self) -> int:
        """How many columns there are."""
        return int(self.came.shape[1])

    @property
    def known_from(self) -> int | None:
        """The first day for which bookings are at hand; None: for none."""
        first, until = self.at_hand
        return first if until > first else None

    def arrivals_of(self, row: int) -> Floats:
        """Stays of a room that began on each day, expected ones where not at hand (days,)."""
        return self._with_usual(self.came[row].astype(np.float64), self.usual_arrivals)

    def let_of(self, row: int) -> Floats:
        """1 for a let night of a room, 0 for a vacant one, a share where not at hand (days,)."""
        return self._with_usual(self.slept[row].astype(np.float64), self.usual_let)

    def _with_usual(self, known: Floats, usual: float) -> Floats:
        first, until = self.at_hand
        known[:first] = known[until:] = usual
        return known


def nights(house: House, occupancy: Occupancy, *, first_on: date, today: date) -> Nights:
    """Arrivals and nights from ``first_on`` until today, both included.

    Days before the first booking at hand and after the last one count as the mean day; so
    does every day of a hotel without bookings.
    """
    rooms = tuple(house.rooms)
    days = (today - first_on).days + 1
    stays = [stay for of_room in occupancy.stays_by_room.values() for stay in of_room]
    begins = min((stay.arrives_on for stay in stays), default=today)
    ends = max((stay.leaves_on for stay in stays), default=begins)
    at_hand = tuple(min(max((day - first_on).days, 0), days) for day in (begins, ends))
    found = Nights(
        first_on=first_on,
        rooms=rooms,
        came=np.zeros((len(rooms), days), np.uint8),
        slept=np.zeros((len(rooms), days), np.bool_),
        at_hand=(at_hand[0], at_hand[1]),
        usual_arrivals=house.rules.odds.figures.stays_per_room_year.value / DAYS_A_YEAR,
        usual_let=house.rules.figures.usual_occupancy.value,
    )
    for row, room in enumerate(rooms):
        for stay in occupancy.stays_by_room.get(room, ()):
            first = (stay.arrives_on - first_on).days
            last = (stay.leaves_on - first_on).days
            if last > 0 and first < days and first < last:
                found.slept[row, max(first, 0) : last] = True
                if first >= 0:
                    found.came[row, first] += 1
    return found
