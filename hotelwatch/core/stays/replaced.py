"""What a new list of bookings would make forgotten: those known that it does not name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from hotelwatch.core.facts import StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay


@dataclass(frozen=True, slots=True)
class Replaced:
    """Bookings known until now, held against those of a new list."""

    known: int
    """How many of the bookings known leave after the day and take a room."""
    gone: tuple[Stay, ...] = ()
    """Those of them that the new list does not name, by arrival."""

    @property
    def is_most(self) -> bool:
        """Whether more than half of what is known would go: then the list is hardly whole."""
        return 2 * len(self.gone) > self.known


def bookings_ahead(house: House, today: date) -> int:
    """How many bookings that take a room leave after ``today``."""
    return sum(stay.counts and stay.leaves_on > today for stay in house.stays)


def is_much_shorter(house: House) -> bool:
    """Whether the list read last held fewer than half as many bookings as the one before it."""
    lists = house.all_of(StaysImported)[-2:]
    return len(lists) > 1 and 2 * lists[1].taken < lists[0].taken


def replaced_by(known: Iterable[Stay], new: Iterable[Stay], today: date) -> Replaced:
    """What of ``known`` counts no more once ``new`` is loaded ``today``.

    A booking that the list names again, in another room or cancelled, is not gone; one of
    several rooms goes by as many of them as the list has fewer. Stays that are over are kept.
    """
    counting = [stay for stay in known if stay.counts and stay.leaves_on > today]
    named = Counter(stay.booking for stay in new)
    gone: list[Stay] = []
    for stay in sorted(counting, key=lambda s: (s.arrives_on, s.room, s.booking)):
        if named[stay.booking]:
            named[stay.booking] -= 1
        else:
            gone.append(stay)
    return Replaced(len(counting), tuple(gone))
