"""Who came and which nights were let, day by day, as the odds read it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.odds.growth import Floats
from hotelwatch.core.odds.settings import DAYS_A_YEAR
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True)
class Nights:
    """Arrivals and let nights of every room, (rooms, days); the last column is today."""

    first_on: date
    rooms: tuple[RoomNo, ...]
    arrivals: Floats
    let: Floats
    known_from: int | None
    """The first day for which bookings are at hand; None: for none."""


def nights(house: House, occupancy: Occupancy, *, first_on: date, today: date) -> Nights:
    """Arrivals and nights from ``first_on`` until today, both included.

    Days for which no bookings are at hand count as the mean day; so does every day of a
    hotel without bookings.
    """
    rooms = tuple(house.rooms)
    days = (today - first_on).days + 1
    figures = house.rules.odds.figures
    arrivals = np.full((len(rooms), days), figures.stays_per_room_year.value / DAYS_A_YEAR)
    let = np.full((len(rooms), days), house.rules.figures.usual_occupancy.value)
    begins = min(
        (stays[0].arrives_on for stays in occupancy.stays_by_room.values() if stays), default=None
    )
    if begins is None or begins > today:
        return Nights(first_on, rooms, arrivals, let, None)
    known = max(0, (begins - first_on).days)
    arrivals[:, known:] = 0.0
    let[:, known:] = 0.0
    for number, room in enumerate(rooms):
        for stay in occupancy.stays_by_room.get(room, ()):
            first = (stay.arrives_on - first_on).days
            last = (stay.leaves_on - first_on).days
            if last > 0 and first < days and first < last:
                let[number, max(first, 0) : last] = 1.0
                if first >= 0:
                    arrivals[number, first] += 1.0
    return Nights(first_on, rooms, arrivals, let, known)
