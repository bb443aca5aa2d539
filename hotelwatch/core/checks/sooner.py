"""Rooms wanted earlier than their cycle: vacant for weeks, or furniture came or went."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from hotelwatch.core.checks.coverage import last_look
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedNo, RoomNo, StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.stays.openings import Occupancy


class PullReason(StrEnum):
    """Why a room is wanted earlier than its cycle."""

    VACANT_LONG = "vacant_long"
    """Nobody will have stayed for weeks when the next guest arrives."""
    FURNITURE_MOVED = "furniture_moved"


@dataclass(frozen=True, slots=True)
class Pull:
    """A room to be looked at by a day, and why."""

    room: RoomNo
    by_on: date
    """The last day that is not late."""
    why: PullReason
    beds: tuple[BedNo, ...]
    """Those not looked at yet."""
    from_on: date
    """A look on an earlier day does not settle it."""
    values: Mapping[str, str]
    """What its sentence names; days as ISO 8601.

    VACANT_LONG: "since", or "from_on" for a day to come, and "arrival"; FURNITURE_MOVED:
    "moved_on", "what", "other" (room).
    """


def pulls(
    house: House, occupancy: Occupancy, today: date, *, of: Collection[RoomNo] | None = None
) -> Mapping[RoomNo, Pull]:
    """The most pressing reason of each room that has one, in the house's order.

    Of all rooms, or of some.

    A room that nobody will have had for so many nights when its next guest arrives is
    wanted by that arrival; a look within as many days before it will do. A room that
    furniture left or came to is wanted soon after the move; a look on a later day
    than the move will do.
    """
    found: dict[RoomNo, Pull] = {}
    vacant = _vacant(house, occupancy, today, house.beds_by_room if of is None else of)
    for pull in (*_moved(house, today), *vacant):
        known = found.get(pull.room)
        if known is None or pull.by_on < known.by_on:
            found[pull.room] = pull
    return {
        room: found[room] for room in house.rooms if room in found and (of is None or room in of)
    }


def late_pulls(house: House, today: date) -> Mapping[RoomNo, Pull]:
    """Rooms whose day is over, the earliest of each.

    Only furniture brings that: what was vacant for weeks is wanted by an arrival to come.
    """
    found: dict[RoomNo, Pull] = {}
    for pull in sorted(_moved(house, today), key=lambda one: one.by_on):
        if pull.by_on < today:
            found.setdefault(pull.room, pull)
    return found


def _vacant(
    house: House, occupancy: Occupancy, today: date, rooms: Collection[RoomNo]
) -> Iterator[Pull]:
    alarm = timedelta(days=int(house.rules.figures.vacant_alarm_days.value))
    known_from = _bookings_known_from(house)
    for room in rooms:
        arrival = occupancy.next_arrival(room, today)
        if arrival is None:
            continue
        since = _vacant_since(occupancy, room, arrival, known_from)
        if since is None or arrival - since < alarm:
            continue
        from_on = arrival - alarm
        if beds := _not_looked_at(house, room, from_on, today):
            key = "since" if since <= today else "from_on"
            said = {key: since.isoformat(), "arrival": arrival.isoformat()}
            yield Pull(room, arrival, PullReason.VACANT_LONG, beds, from_on, said)


def _vacant_since(
    occupancy: Occupancy, room: RoomNo, arrival: date, known_from: date | None
) -> date | None:
    """Since when nobody will have had the room on that arrival; None for not known."""
    eve = arrival - timedelta(days=1)
    departed = occupancy.vacant_since(room, eve)
    if departed is not None or occupancy.stay_on(room, eve) is not None:
        return departed
    return known_from


def _bookings_known_from(house: House) -> date | None:
    """The first day whose bookings are at hand: a room without any since was vacant."""
    imported = [told.replaces_from for told in house.all_of(StaysImported)]
    first = min(imported, default=None)
    if first is None or house.complete_from is None:
        return first
    return max(first, house.complete_from)


def _moved(house: House, today: date) -> Iterator[Pull]:
    within = timedelta(days=int(house.rules.figures.furniture_check_days.value))
    for row in house.kept_of(FurnitureMoved):
        moved = row.fact
        known_on = local_day(house.entry_of(row).recorded_at, house.zone)
        if moved.moved_on > today:
            continue
        from_on = moved.moved_on + timedelta(days=1)
        # What is written down late is not late at once.
        by_on = max(moved.moved_on, known_on) + within
        for room, other in ((moved.from_room, moved.to_room), (moved.to_room, moved.from_room)):
            if beds := _not_looked_at(house, room, from_on, today):
                said = {
                    "moved_on": moved.moved_on.isoformat(),
                    "what": moved.what,
                    "other": other,
                }
                yield Pull(room, by_on, PullReason.FURNITURE_MOVED, beds, from_on, said)


def _not_looked_at(house: House, room: RoomNo, since: date, today: date) -> tuple[BedNo, ...]:
    """Beds whose underside was not looked at from that day on."""
    found = ((bed.bed, last_look(house, bed.bed, today)) for bed in house.beds_of(room))
    return tuple(bed for bed, last_on in found if last_on is None or last_on < since)
