"""How a hotel is let, by its own stays: how long they are, and how often rooms are open."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.house import House

LONGEST = 400
"""Nights beyond which a stay counts as so long."""
LOOKED_BACK = timedelta(days=365)
LEAST_DAYS = 28
"""Of record, to say from it how often rooms are open."""
ASSUMED_OPEN = 0.55
"""Where the record is shorter: an assumption, about three rooms of four let, for two nights
or three."""


@dataclass(frozen=True, slots=True)
class Letting:
    """What a record of stays tells."""

    lengths: Counter[int]
    """Stays by their nights."""
    usually_open: float
    """Of all rooms and days, the share on which no guest stayed on."""


def letting_of(house: House, today: date) -> Letting:
    """By all stays known, and by the year before today."""
    lengths: Counter[int] = Counter()
    begins, first, stayed_on = today - LOOKED_BACK, today, 0
    for stay in house.stays:
        nights = (stay.leaves_on - stay.arrives_on).days
        if nights <= 0 or not stay.counts:
            continue
        lengths[min(nights, LONGEST)] += 1
        if begins <= stay.arrives_on < today:
            first = min(first, stay.arrives_on)
            stayed_on += (min(stay.leaves_on, today) - stay.arrives_on).days - 1
    days = (today - first).days
    if days < LEAST_DAYS or not house.rooms:
        return Letting(lengths, ASSUMED_OPEN)
    return Letting(lengths, max(0.0, 1 - stayed_on / (days * len(house.rooms))))
