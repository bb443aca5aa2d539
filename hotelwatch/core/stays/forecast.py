"""How full the house will be: learned from its own bookings, by weekday, month and room type.

What is learned, and how little is treated with caution: every share is drawn towards
the one above it, the type's towards the house's, the house's towards an assumed one,
as if ``learning_nights`` nights had shown just that; what a weekday or a month
multiplies it by is drawn towards 1 in the same way. So one night says little, a year
says nearly all.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate

from hotelwatch.core.days import DECEMBER, WEEKDAYS
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures
from hotelwatch.core.records import Stay

MOST_AHEAD_DAYS = 366
"""Bookings made longer ahead than this count as made this long ahead."""


@dataclass(frozen=True, slots=True)
class Shares:
    """A share, 0 to 1, by room type, with what the weekday and the month multiply it by."""

    of_house: float
    by_type: Mapping[str, float]
    by_weekday: tuple[float, ...]
    """From Monday on."""
    by_month: tuple[float, ...]
    """From January on."""

    def on(self, room_type: str, day: date) -> float:
        """The share expected on a day; the house's for a type that it does not have."""
        share = self.by_type.get(room_type, self.of_house)
        return min(1.0, share * self.by_weekday[day.weekday()] * self.by_month[day.month - 1])


@dataclass(frozen=True, slots=True)
class Forecast:
    """What the house's bookings up to a day say of the nights to come."""

    today: date
    nights: int
    """Past nights that it was learned from; 0 where all is assumed."""
    let: Shares
    """Rooms that are let on a night in the end."""
    goes_on: Shares
    """Of the rooms let the night before, those whose guests stay another night."""
    booked_ahead: tuple[float, ...]
    """Of the stays over a day in the end, those booked at least so many days ahead."""
    knows_booking_days: bool
    """Whether ``booked_ahead`` was learned; it is assumed where no file says the days."""

    def stayed_over(self, room_type: str, day: date) -> float:
        """The share of the type's rooms that the same guests will keep over a day."""
        return self.let.on(room_type, day - timedelta(days=1)) * self.goes_on.on(room_type, day)

    def still_to_come(self, room_type: str, day: date) -> float:
        """The share of the type's rooms kept over a day by stays that nobody has booked yet."""
        ahead = min(max(0, (day - self.today).days), MOST_AHEAD_DAYS)
        return self.stayed_over(room_type, day) * (1 - self.booked_ahead[ahead])


def learn(house: House, today: date) -> Forecast:
    """What the house's stays tell of nights to come; only nights before ``today`` count.

    The first night counted is that of the first departure known: of stays that were
    over before it a list of bookings tells nothing.
    """
    figures = house.rules.figures
    past = _Past(house, today)
    rooms, weight = past.rooms, figures.learning_nights.value
    usual, goes_on = figures.usual_occupancy.value, figures.usual_goes_on.value
    seen = weight * usual
    ahead, knows = past.booked_ahead(figures)
    return Forecast(
        today=today,
        nights=past.nights,
        let=_shares(past.let(), usual, {kind: weight * n for kind, n in rooms.items()}),
        goes_on=_shares(past.went_on(), goes_on, {kind: seen * n for kind, n in rooms.items()}),
        booked_ahead=ahead,
        knows_booking_days=knows,
    )


Seen = tuple[str, date, int, int]
"""A type and a day, how many there were, and of how many it was so."""


class _Past:
    """The stays of each type on each past night."""

    def __init__(self, house: House, today: date) -> None:
        self.rooms: defaultdict[str, int] = defaultdict(int)
        for room in house.rooms.values():
            self.rooms[room.room_type] += 1
        type_of = {str(room.room): room.room_type for room in house.rooms.values()}
        counted = [
            (kind, stay)
            for stay in house.stays
            if stay.counts and (kind := type_of.get(stay.room, stay.room_type)) in self.rooms
        ]
        departures = (stay.leaves_on for _, stay in counted if stay.leaves_on <= today)
        self._first = min(departures, default=today).toordinal()
        self.nights = today.toordinal() - self._first
        self._spans = [
            (kind, stay.arrives_on.toordinal() - self._first, self._end(stay), stay.booked_on)
            for kind, stay in counted
            if self.nights and stay.arrives_on < today
        ]
        nights, mornings = self._changes()
        self._nights = {kind: tuple(accumulate(changes)) for kind, changes in nights.items()}
        self._mornings = {kind: tuple(accumulate(changes)) for kind, changes in mornings.items()}

    def _end(self, stay: Stay) -> int:
        return min(stay.leaves_on.toordinal() - self._first, self.nights)

    def _changes(self) -> tuple[dict[str, list[int]], dict[str, list[int]]]:
        """By type, how the number of rooms let, and of those kept over a day, changes."""
        nights = {kind: [0] * (self.nights + 1) for kind in self.rooms}
        mornings = {kind: [0] * (self.nights + 1) for kind in self.rooms}
        for kind, begins, ends, _ in self._spans:
            if ends <= 0:
                continue
            nights[kind][max(0, begins)] += 1
            nights[kind][ends] -= 1
            mornings[kind][max(0, min(begins + 1, ends))] += 1
            mornings[kind][ends] -= 1
        return nights, mornings

    def _day(self, number: int) -> date:
        return date.fromordinal(self._first + number)

    def let(self) -> Iterator[Seen]:
        """Rooms let, of the type's rooms, each night."""
        for kind, nights in self._nights.items():
            for number in range(self.nights):
                yield kind, self._day(number), nights[number], self.rooms[kind]

    def went_on(self) -> Iterator[Seen]:
        """Rooms kept another night, of those let the night before, each day."""
        for kind, mornings in self._mornings.items():
            for number in range(1, self.nights):
                yield kind, self._day(number), mornings[number], self._nights[kind][number - 1]

    def booked_ahead(self, figures: Figures) -> tuple[tuple[float, ...], bool]:
        """Of the stays over a day those booked so many days ahead, and whether that is known."""
        changes = [0] * (MOST_AHEAD_DAYS + 2)
        for _, begins, ends, booked_on in self._spans:
            first = max(1, begins + 1)
            if booked_on is None or first >= ends:
                continue
            booked = booked_on.toordinal() - self._first
            shortest = min(max(0, first - booked), MOST_AHEAD_DAYS)
            changes[shortest] += 1
            changes[min(shortest + ends - first, MOST_AHEAD_DAYS + 1)] -= 1
            changes[MOST_AHEAD_DAYS] += max(0, shortest + ends - first - MOST_AHEAD_DAYS - 1)
        return _booked_ahead(list(accumulate(changes))[: MOST_AHEAD_DAYS + 1], figures, self.rooms)


def _booked_ahead(
    by_days: Sequence[int], figures: Figures, rooms: Mapping[str, int]
) -> tuple[tuple[float, ...], bool]:
    total = sum(by_days)
    kept = 1 - figures.booked_late_a_day.value
    stays = figures.usual_occupancy.value * figures.usual_goes_on.value * sum(rooms.values())
    weight = figures.learning_nights.value * stays
    shares = []
    left = total
    for ahead, count in enumerate(by_days):
        usual: float = kept ** max(0, ahead - 1)
        shares.append((left + weight * usual) / (total + weight) if total else usual)
        left -= count
    return tuple(shares), bool(total)


def _shares(seen: Iterable[Seen], usual: float, weights: Mapping[str, float]) -> Shares:
    """Shares of what was seen, each drawn towards the one above it; ``weights`` say how much."""
    kinds = {kind: [0.0, 0.0] for kind in weights}
    weekdays = [[0.0, 0.0] for _ in WEEKDAYS]
    months = [[0.0, 0.0] for _ in range(DECEMBER)]
    for kind, day, hits, of in seen:
        for tally in (kinds[kind], weekdays[day.weekday()], months[day.month - 1]):
            tally[0] += hits
            tally[1] += of
    weight = sum(weights.values())
    house = [sum(column) for column in zip(*kinds.values(), strict=True)] or [0.0, 0.0]
    share = _drawn(house, usual, weight)
    return Shares(
        of_house=share,
        by_type={kind: _drawn(tally, share, weights[kind]) for kind, tally in kinds.items()},
        by_weekday=tuple(_drawn((h, of * share), 1.0, weight * share) for h, of in weekdays),
        by_month=tuple(_drawn((h, of * share), 1.0, weight * share) for h, of in months),
    )


def _drawn(tally: Sequence[float], towards: float, weight: float) -> float:
    """Hits of so many, as if ``weight`` more of them had shown ``towards``."""
    hits, of = tally
    return (hits + weight * towards) / (of + weight) if of + weight else towards
