"""What a new list of bookings changes in those known, and which it would make forgotten."""

from __future__ import annotations

from collections import Counter, defaultdict
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
    changed: tuple[tuple[Stay, Stay], ...] = ()
    """Bookings of which the new list says something else: as known, as it says."""
    added: tuple[Stay, ...] = ()
    """Bookings that were not known, by arrival."""
    unchanged: int = 0
    """How many the new list names as they are known."""

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


def replaced_by(
    known: Iterable[Stay], new: Iterable[Stay], today: date, *, since: date | None = None
) -> Replaced:
    """What of ``known`` counts no more, or otherwise, once ``new`` is loaded ``today``.

    A booking that the list names again, in another room or cancelled, is not gone; one of
    several rooms goes by as many of them as the list has fewer. Stays that are over are kept.
    Of what was over before ``since`` nothing is at hand, and nothing is said.
    """
    known, new = sorted(known, key=_by_arrival), sorted(new, key=_by_arrival)
    as_known = Counter(known) & Counter(new)
    now = _left_over(new, as_known)
    told_again = {_told_by(stay) for stay in now}
    before = [
        stay
        for stay in _left_over(known, as_known)
        if stay.leaves_on > today or _told_by(stay) in told_again
    ]
    named: defaultdict[str, list[Stay]] = defaultdict(list)
    for stay in now:
        named[stay.booking].append(stay)
    gone, changed = [], []
    # What takes a room ahead is paired first: what is over, or takes none, is no loss. Of a
    # booking's rooms those that are in both lists are the same.
    rooms = {(stay.booking, stay.room) for stay in now}
    for stay in sorted(
        before,
        key=lambda one: (not _is_ahead(one, today), (one.booking, one.room) not in rooms),
    ):
        others = named[stay.booking]
        same = next((one for one in others if one.room == stay.room), None)
        if others:
            changed.append((stay, same or others[0]))
            others.remove(changed[-1][1])
        elif _is_ahead(stay, today):
            gone.append(stay)
    added = [stay for stays in named.values() for stay in stays]
    return Replaced(
        known=sum(_is_ahead(stay, today) for stay in known),
        gone=tuple(gone),
        changed=tuple(sorted(changed, key=lambda pair: _by_arrival(pair[1]))),
        added=tuple(
            stay
            for stay in sorted(added, key=_by_arrival)
            if since is None or stay.leaves_on >= since
        ),
        unchanged=as_known.total(),
    )


def _is_ahead(stay: Stay, today: date) -> bool:
    return stay.counts and stay.leaves_on > today


def _told_by(stay: Stay) -> tuple[str, str, date]:
    """What a later list replaces even where the stay is over."""
    return stay.booking, stay.room, stay.arrives_on


def _by_arrival(stay: Stay) -> tuple[date, str, str]:
    return stay.arrives_on, stay.room, stay.booking


def _left_over(stays: Iterable[Stay], taken: Counter[Stay]) -> list[Stay]:
    """Those beyond as many of each as were taken."""
    left, over = Counter(taken), []
    for stay in stays:
        if left[stay]:
            left[stay] -= 1
        else:
            over.append(stay)
    return over
