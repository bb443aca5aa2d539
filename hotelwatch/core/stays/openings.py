"""When a room can be entered, from the bookings: for days past and to come."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from enum import StrEnum
from functools import cached_property
from itertools import accumulate

from hotelwatch.core.days import days_from, local_day
from hotelwatch.core.facts import HotelDescribed, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.core.stays.agreed import ArrangedVisit, arranged_visits, kept_as_stays
from hotelwatch.core.stays.provisional import place_bookings

ONE_DAY = timedelta(days=1)
DAY_STARTS, DAY_ENDS = "00:00", "23:59"


class OpeningKind(StrEnum):
    """What makes a room free to enter on a day."""

    ALL_DAY = "all_day"
    """Nobody stays the night before or the night after."""
    AFTER_DEPARTURE = "after_departure"
    BEFORE_ARRIVAL = "before_arrival"
    TURNOVER = "turnover"
    """Between one stay's departure and the next one's arrival."""
    ARRANGED = "arranged"
    """A guest who stays agreed to a look."""
    AFTER_REENTRY = "after_reentry"
    """From the hour on from which a treated room may be entered again, that day."""


@dataclass(frozen=True, slots=True)
class Opening:
    """The hours of a day in which a room can be entered, hotel's clock, "HH:MM"."""

    day: date
    from_clock: str
    until_clock: str
    kind: OpeningKind


@dataclass(frozen=True)
class _Line:
    """One room's stays by arrival, with the latest departure among those up to each."""

    stays: tuple[Stay, ...]
    arrivals: tuple[date, ...]
    latest: tuple[date, ...]
    departures: tuple[date, ...]
    """By day, not by stay."""

    def on(self, night: date) -> list[Stay]:
        """Stays of a night, later arrivals first; more than one is front desk's mistake."""
        index = bisect_right(self.arrivals, night) - 1
        found = []
        while index >= 0 and self.latest[index] > night:
            if self.stays[index].leaves_on > night:
                found.append(self.stays[index])
            index -= 1
        return found

    def around(self, day: date) -> tuple[list[str], list[str]]:
        """Bookings of the night before a day, and of the night after it."""
        before, after = [], []
        index = bisect_right(self.arrivals, day) - 1
        while index >= 0 and self.latest[index] >= day:
            stay = self.stays[index]
            if stay.leaves_on >= day and stay.arrives_on < day:
                before.append(stay.booking)
            if stay.leaves_on > day:
                after.append(stay.booking)
            index -= 1
        return before, after

    @cached_property
    def is_double(self) -> bool:
        """Whether two stays share a night anywhere."""
        pairs = zip(self.arrivals[1:], self.latest, strict=False)
        return any(arrives_on < left_on for arrives_on, left_on in pairs)


@dataclass(frozen=True)
class Occupancy:
    """Who is in which room on which night: as booked, and as foreseen for today and later."""

    stays_by_room: Mapping[RoomNo, tuple[Stay, ...]]
    """Stays that take each room, by arrival; a booking split over rooms is in several."""
    provisional: frozenset[str] = frozenset()
    """Bookings whose room is a guess of ours; front desk has given none."""
    unplaced: tuple[Stay, ...] = ()
    """Bookings without a room for which none is free: the hotel is overbooked."""
    other_type: frozenset[str] = frozenset()
    """Bookings placed in a room of a type they did not book; theirs is full."""
    moves: int = 0
    """Changes of room within bookings that the provisional rooms need."""
    arranged: Mapping[tuple[RoomNo, date], ArrangedVisit] = field(default_factory=dict)
    """Looks to which the guest of a room agreed, by room and day."""
    hours: HotelDescribed = field(default_factory=lambda: HotelDescribed("", ""))

    @cached_property
    def _lines(self) -> Mapping[RoomNo, _Line]:
        return {room: _line(stays) for room, stays in self.stays_by_room.items()}

    def stay_on(self, room: RoomNo, night: date) -> Stay | None:
        """The stay in a room on a night, named by the day before it; None if nobody stays."""
        line = self._lines.get(room)
        found = line.on(night) if line else []
        return found[-1] if found else None

    def is_given(self, room: RoomNo, night: date) -> bool:
        """Whether front desk gave the room to a booking on a night, named by the day before it."""
        stay = self.stay_on(room, night)
        return stay is not None and stay.booking not in self.provisional

    def opening(self, room: RoomNo, day: date) -> Opening | None:
        """When a room can be entered on a day.

        None where the night before and the night after belong to the same booking, unless
        that guest agreed to a look.
        """
        line = self._lines.get(room)
        if line is None:
            return self._open(day, OpeningKind.ALL_DAY)
        before, after = line.around(day)
        if not after:
            kind = OpeningKind.AFTER_DEPARTURE if before else OpeningKind.ALL_DAY
            return self._open(day, kind)
        if not before:
            return self._open(day, OpeningKind.BEFORE_ARRIVAL)
        if any(booking in after for booking in before):
            return self._arranged(room, day)
        return self._turnover(day)

    @cached_property
    def _known(self) -> dict[tuple[date, OpeningKind], Opening]:
        """Openings told before: rooms that open alike share one."""
        return {}

    def _open(self, day: date, kind: OpeningKind) -> Opening:
        found = self._known.get((day, kind))
        if found is None:
            leave_by, arrive_from = self.hours.leave_by, self.hours.arrive_from
            is_left = kind in (OpeningKind.AFTER_DEPARTURE, OpeningKind.TURNOVER)
            is_taken = kind in (OpeningKind.BEFORE_ARRIVAL, OpeningKind.TURNOVER)
            found = Opening(
                day,
                leave_by if is_left else DAY_STARTS,
                arrive_from if is_taken else DAY_ENDS,
                kind,
            )
            self._known[day, kind] = found
        return found

    def _arranged(self, room: RoomNo, day: date) -> Opening | None:
        """The hours agreed with the guest who stays; a later guest agreed to nothing."""
        visit = self.arranged.get((room, day))
        stay = self.stay_on(room, day) if visit is not None else None
        if visit is None or stay is None or stay.arrives_on > visit.agreed_on:
            return None
        return Opening(day, visit.from_clock, visit.until_clock, OpeningKind.ARRANGED)

    def openings(self, room: RoomNo, from_on: date, days: int) -> tuple[Opening, ...]:
        """The room's openings of so many days, ``from_on`` included."""
        found = self.by_day(room, from_on, days)
        return tuple(opening for opening in found if opening is not None)

    def by_day(self, room: RoomNo, from_on: date, days: int) -> list[Opening | None]:
        """What ``opening`` says of so many days; a span is walked once, until another is asked."""
        of_span = self._walked.get((from_on, days))
        if of_span is None:
            self._walked.clear()
            of_span = self._walked[from_on, days] = {}
        if room not in of_span:
            of_span[room] = self._walk(room, from_on, days)
        return list(of_span[room])

    @cached_property
    def _walked(self) -> dict[tuple[date, int], dict[RoomNo, list[Opening | None]]]:
        """By room, of the span that was asked for last."""
        return {}

    def _walk(self, room: RoomNo, from_on: date, days: int) -> list[Opening | None]:
        """The openings of so many days, in one walk along the room's stays."""
        line = self._lines.get(room)
        if line is not None and line.is_double:
            return [self.opening(room, day) for day in days_from(from_on, days)]
        found: list[Opening | None] = list(self._vacant_days(from_on, days))
        if line is None:
            return found
        begin = bisect_left(line.departures, from_on)
        end = bisect_left(line.arrivals, from_on + timedelta(days=days))
        for index in range(begin, end):
            stay = line.stays[index]
            first, last = (stay.arrives_on - from_on).days, (stay.leaves_on - from_on).days
            if first >= 0:
                before = line.stays[index - 1] if index else None
                found[first] = self._on_arrival(room, stay, before)
            inside = range(max(first + 1, 0), min(last, days))
            found[inside.start : inside.stop] = [None] * len(inside)
            if self.arranged:
                for number in inside:
                    found[number] = self._arranged(room, from_on + timedelta(days=number))
            if last < days:
                found[last] = self._open(stay.leaves_on, OpeningKind.AFTER_DEPARTURE)
        return found

    def _on_arrival(self, room: RoomNo, stay: Stay, before: Stay | None) -> Opening | None:
        """The opening of the day on which a stay begins, after the one before it."""
        day = stay.arrives_on
        if before is None or before.leaves_on < day:
            return self._open(day, OpeningKind.BEFORE_ARRIVAL)
        is_same = before.booking == stay.booking
        return self._arranged(room, day) if is_same else self._turnover(day)

    def _turnover(self, day: date) -> Opening | None:
        has_time = self.hours.leave_by < self.hours.arrive_from
        return self._open(day, OpeningKind.TURNOVER) if has_time else None

    def _vacant_days(self, from_on: date, days: int) -> tuple[Opening, ...]:
        key = from_on, days
        if key not in self._vacant:
            span = days_from(from_on, days)
            self._vacant[key] = tuple(self._open(day, OpeningKind.ALL_DAY) for day in span)
        return self._vacant[key]

    @cached_property
    def _vacant(self) -> dict[tuple[date, int], tuple[Opening, ...]]:
        """Spans of days of a room that nobody has."""
        return {}

    def stays_from(self, room: RoomNo, day: date) -> list[Stay]:
        """Stays of a room that leave after a day, by arrival."""
        line = self._lines.get(room)
        if line is None:
            return []
        begin = bisect_right(line.latest, day)
        return [stay for stay in line.stays[begin:] if stay.leaves_on > day]

    def next_arrival(self, room: RoomNo, day: date) -> date | None:
        """The first arrival known in a room on or after a day."""
        line = self._lines.get(room)
        if line is None:
            return None
        index = bisect_left(line.arrivals, day)
        return line.arrivals[index] if index < len(line.arrivals) else None

    def vacant_since(self, room: RoomNo, day: date) -> date | None:
        """The last departure on or before a day.

        None where somebody stays the night of that day, or no earlier stay is known.
        """
        line = self._lines.get(room)
        if line is None or line.on(day):
            return None
        index = bisect_right(line.departures, day) - 1
        return line.departures[index] if index >= 0 else None


def occupancy(house: House, today: date, *, keeps_nights: bool = True) -> Occupancy:
    """Who is in which room: bookings with a room as given, the others placed provisionally.

    Bookings without a room are placed for the nights from ``today`` on. Nobody is
    placed in a room in quarantine within the days that a plan looks ahead, nor for a
    night that front desk keeps free, unless ``keeps_nights`` is False.
    """
    kept = kept_as_stays(house, today) if keeps_nights else ()
    known = [stay for row in house.stays if (stay := _in_effect(row, today)) is not None]
    given = [stay for stay in known if stay.room]
    placement = place_bookings(
        _rooms_by_type(house),
        [*given, *_kept_empty(house, today), *kept],
        unplaced=[stay for stay in known if not stay.room and stay.leaves_on > today],
        today=today,
    )
    groups: defaultdict[RoomNo, list[Stay]] = defaultdict(list)
    for stay in (*given, *placement.placed):
        groups[RoomNo(stay.room)].append(stay)
    return Occupancy(
        stays_by_room={
            room: tuple(sorted(stays, key=lambda s: (s.arrives_on, s.leaves_on, s.booking)))
            for room, stays in groups.items()
        },
        provisional=frozenset(stay.booking for stay in placement.placed),
        unplaced=placement.unplaced,
        other_type=placement.other_type,
        moves=placement.moves,
        arranged=arranged_visits(house),
        hours=house.hotel or HotelDescribed("", ""),
    )


def _line(stays: tuple[Stay, ...]) -> _Line:
    return _Line(
        stays=stays,
        arrivals=tuple(stay.arrives_on for stay in stays),
        latest=tuple(accumulate((stay.leaves_on for stay in stays), max)),
        departures=tuple(sorted(stay.leaves_on for stay in stays)),
    )


def _in_effect(stay: Stay, today: date) -> Stay | None:
    """The stay as it takes a room; None if it takes none (cancelled, no night)."""
    if not stay.counts:
        return None
    if stay.status is StayStatus.LEFT and stay.leaves_on > today:
        stay = replace(stay, leaves_on=today)
    return stay if stay.arrives_on < stay.leaves_on else None


def _rooms_by_type(house: House) -> Mapping[str, tuple[RoomNo, ...]]:
    groups: defaultdict[str, list[RoomNo]] = defaultdict(list)
    for room in house.rooms.values():
        groups[room.room_type].append(room.room)
    return {room_type: tuple(rooms) for room_type, rooms in groups.items()}


def _kept_empty(house: House, today: date) -> Iterable[Stay]:
    """Quarantines as stays of nobody, so that no booking is foreseen there."""
    until = today + timedelta(days=int(house.rules.figures.plan_days.value))
    for placed, lifted in house.quarantines:
        first = local_day(placed.from_at, house.zone)
        last = local_day(lifted.lifted_at, house.zone) if lifted else until
        if max(first, today) < last:
            yield Stay("", placed.room, "", max(first, today), last)
