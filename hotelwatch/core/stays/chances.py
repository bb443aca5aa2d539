"""The chance that a room can be entered on a day to come, by today's bookings and a forecast.

What is known of a room on a day, and what follows:

- the same guests have it the night before and the night after, in a room that front
  desk gave them: it is closed;
- a stay in a given room begins or ends that day: it is open, whoever else comes, but
  for what comes without notice;
- nobody has it on either night: it closes if a stay that is still to be booked comes
  into it over that day. As many are to come as the forecast says, into the type's
  rooms that are free then or will be, since some bookings fall through;
- its stays stand in rooms that are our guess: the less likely the guess is to hold,
  the more the room is like any other of its type. Where a stay begins or ends two
  guesses must hold, for it and for the next one.

A guest who agreed to a look, and a night for which front desk keeps the room free,
make it open like a stay's begin or end in a given room.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import IntEnum

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figures
from hotelwatch.core.records import Stay
from hotelwatch.core.stays.agreed import kept_as_stays
from hotelwatch.core.stays.forecast import Forecast
from hotelwatch.core.stays.openings import ONE_DAY, Occupancy, OpeningKind


class _Known(IntEnum):
    """What the bookings say of a room on a day; the greater wins over the less."""

    FREE = 0
    EDGE_OF_GUESS = 1
    EDGE_OF_GIVEN = 2
    """Or promised: a kept night, an agreed look."""
    CLOSED_BY_GUESS = 3
    CLOSED_BY_GIVEN = 4


@dataclass(frozen=True)
class Chances:
    """Each room's chance to be open on each of some days, 0 to 1."""

    days: tuple[date, ...]
    """In their order."""
    by_room: Mapping[RoomNo, tuple[float, ...]]
    nights: int = 0
    """Of the hotel's own they were learned from so many."""

    def of(self, room: RoomNo) -> Mapping[date, float]:
        """A room's chances by day; empty for a room that the house does not have."""
        return dict(zip(self.days, self.by_room.get(room, ()), strict=False))


def chances(
    house: House, occupancy: Occupancy, forecast: Forecast, *, days: Sequence[date]
) -> Chances:
    """The chance of every room of the house to be open on each of these days, none of them past."""
    days = tuple(sorted(days))
    if not days:
        return Chances((), dict.fromkeys(house.rooms, ()))
    rows = {room: _row(occupancy, room, days[0], days[-1]) for room in house.rooms}
    _write_promises(rows, house, occupancy, days[0])
    by_type: defaultdict[str, list[RoomNo]] = defaultdict(list)
    for described in house.rooms.values():
        by_type[described.room_type].append(described.room)
    found: dict[RoomNo, tuple[float, ...]] = {}
    picked = [(day - days[0]).days for day in days]
    is_every_day = len(picked) == picked[-1] + 1
    for kind, rooms in by_type.items():
        chosen = [rows[room] for room in rooms]
        if not is_every_day:
            chosen = [bytearray(row[number] for number in picked) for row in chosen]
        tables = [
            _by_known(house.rules.figures, forecast, kind, (day, column))
            for day, column in zip(days, map(bytes, zip(*chosen, strict=True)), strict=True)
        ]
        for room, row in zip(rooms, chosen, strict=True):
            found[room] = tuple([table[known] for table, known in zip(tables, row, strict=True)])
    return Chances(days, {room: found[room] for room in house.rooms}, forecast.nights)


def _by_known(
    figures: Figures, forecast: Forecast, kind: str, on: tuple[date, bytes]
) -> tuple[float, ...]:
    """The chance for each kind of knowledge, given a day and what is known of the type's rooms."""
    day, known = on
    ahead = max(0, (day - forecast.today).days - 1)
    rooms = len(known)
    guessed = known.count(_Known.CLOSED_BY_GUESS)
    closed = known.count(_Known.CLOSED_BY_GIVEN) + guessed
    stays = (1 - figures.bookings_lost_a_day.value) ** ahead
    holds = (1 - figures.guesses_moved_a_day.value) ** ahead
    to_come = forecast.still_to_come(kind, day) * rooms
    is_free = known.count(_Known.FREE)
    places = is_free + (1 - stays) * (rooms - is_free)
    any_room = 1 - min(1.0, (stays * closed + to_come) / rooms)
    free = 1 - (min(1.0, to_come / places) if places else 1.0)
    has_guesses = guessed or known.count(_Known.EDGE_OF_GUESS)
    at_most = 1 - figures.closed_without_notice.value
    free_holds = holds if has_guesses else 1.0
    table = {
        _Known.FREE: free_holds * free + (1 - free_holds) * any_room,
        _Known.EDGE_OF_GUESS: holds**2 + (1 - holds**2) * any_room,
        _Known.EDGE_OF_GIVEN: 1.0,
        _Known.CLOSED_BY_GUESS: (1 - holds) * any_room,
        _Known.CLOSED_BY_GIVEN: 0.0,
    }
    return tuple(at_most * table[state] for state in _Known)


def _row(occupancy: Occupancy, room: RoomNo, first: date, last: date) -> bytearray:
    """What is known of a room on each day from first to last."""
    length = (last - first).days + 1
    row = bytearray(length)
    from_day = first.toordinal()
    reaching = [
        stay
        for stay in occupancy.stays_by_room.get(room, ())
        if stay.leaves_on >= first and stay.arrives_on <= last
    ]
    guesses = occupancy.provisional
    # What front desk gave is written last, over what we guessed.
    for stay in sorted(reaching, key=lambda one: one.booking not in guesses):
        begins = stay.arrives_on.toordinal() - from_day
        ends = stay.leaves_on.toordinal() - from_day
        is_guess = stay.booking in guesses
        closed = _Known.CLOSED_BY_GUESS if is_guess else _Known.CLOSED_BY_GIVEN
        edge = _Known.EDGE_OF_GUESS if is_guess else _Known.EDGE_OF_GIVEN
        inside = range(max(0, begins + 1), min(ends, length))
        row[inside.start : inside.stop] = bytes([closed]) * len(inside)
        for day in (begins, ends):
            if 0 <= day < length:
                row[day] = max(row[day], edge)
    _join(row, reaching, occupancy, first)
    return row


def _write_promises(
    rows: Mapping[RoomNo, bytearray], house: House, occupancy: Occupancy, first: date
) -> None:
    """Write over what bookings say: looks that guests agreed to, nights kept free."""
    for (room, day), _ in occupancy.arranged.items():
        number = (day - first).days
        if room not in rows or not 0 <= number < len(rows[room]):
            continue
        opening = occupancy.opening(room, day)
        if opening is not None and opening.kind is OpeningKind.ARRANGED:
            rows[room][number] = _Known.EDGE_OF_GIVEN
    for kept in kept_as_stays(house, first - ONE_DAY):
        row = rows.get(RoomNo(kept.room), bytearray())
        for day in (kept.arrives_on, kept.leaves_on):
            number = (day - first).days
            if 0 <= number < len(row) and row[number] < _Known.CLOSED_BY_GUESS:
                row[number] = _Known.EDGE_OF_GIVEN


def _join(row: bytearray, stays: Sequence[Stay], occupancy: Occupancy, first: date) -> None:
    """Close the days on which one row of a booking follows another in the same room."""
    if len({stay.booking for stay in stays}) == len(stays):
        return
    for stay in stays:
        day = (stay.arrives_on - first).days
        if 0 <= day < len(row) and occupancy.opening(RoomNo(stay.room), stay.arrives_on) is None:
            is_guess = stay.booking in occupancy.provisional
            row[day] = _Known.CLOSED_BY_GUESS if is_guess else _Known.CLOSED_BY_GIVEN
