"""How old the last looks at undersides are, held against each bed's own cycle."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House

TENTHS = 10


@dataclass(frozen=True, slots=True)
class Age:
    """Beds whose last look has used up so much of their cycle."""

    from_tenth: int | None
    """From so many tenths of the cycle on, below the next tenth; 10 and more are overdue, but for
    the last day in time itself, which counts to the ninth. None: nobody has looked yet."""
    is_open: bool
    """The last one of all: that many tenths and more."""
    beds: int
    rooms: frozenset[RoomNo]

    @property
    def is_overdue(self) -> bool:
        """Whether its beds are past their cycle."""
        return self.from_tenth is not None and self.from_tenth >= TENTHS


def ages(house: House, today: date, *, tenths: int) -> tuple[Age, ...]:
    """Every bed in use once: by tenths up to so many, then the rest, then those never looked at.

    Those never looked at are left out where there are none.
    """
    beds: defaultdict[int | None, int] = defaultdict(int)
    rooms: defaultdict[int | None, set[RoomNo]] = defaultdict(set)
    for look in looks(house, today):
        place: int | None = None
        if look.last_on is not None:
            place = min(tenths, _tenth(look.last_on, look.due_on, today))
        beds[place] += 1
        rooms[place].add(look.room)
    places: list[int | None] = [*range(tenths + 1), *([None] if beds[None] else [])]
    return tuple(
        Age(place, place == tenths, beds[place], frozenset(rooms[place])) for place in places
    )


def _tenth(last_on: date, due_on: date, today: date) -> int:
    """How many whole tenths of the days from a look to its due date have gone by."""
    span = max(1, (due_on - last_on).days)
    if today <= due_on:
        return min(TENTHS - 1, (today - last_on).days * TENTHS // span)
    return (today - last_on).days * TENTHS // span
