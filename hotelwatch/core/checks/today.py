"""What a day asks for: rooms that cases want, and what is not set up yet."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.checks.asked import AskedState, open_asked
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import (
    BedNo,
    CaseNo,
    RoomNo,
    RoundPublished,
    SlotPublished,
    StaysImported,
)
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class CaseWish:
    """One case's wish to have a room looked at."""

    case: CaseNo
    source: RoomNo
    """Where the case's first sign was."""
    reasons: tuple[str, ...]
    """Kinds of neighbourhood to that room."""


@dataclass(frozen=True, slots=True)
class AskedRoom:
    """A room that cases want looked at, every case's wish with it."""

    room: RoomNo
    by_at: datetime
    """The earliest deadline."""
    is_late: bool
    is_due_today: bool
    wishes: tuple[CaseWish, ...]
    """The earliest deadline first."""
    planned: SlotPublished | None
    """The next slot from today on that is still to be done; None if it is on no sheet."""
    is_planned_today: bool
    is_planned_late: bool
    """Whether that slot lies after the deadline's day."""
    beds_too_late: tuple[BedNo, ...]
    """Beds still wanted that stand on no sheet up to that day, though others of the room may."""

    @property
    def is_at_risk(self) -> bool:
        """Whether, not late yet, it stands on no sheet in time."""
        return not self.is_late and not self.is_planned_in_time

    @property
    def is_planned_in_time(self) -> bool:
        """Whether it stands, with every bed still wanted, on sheets up to the deadline's day."""
        return self.planned is not None and not self.is_planned_late and not self.beds_too_late


class Lack(StrEnum):
    """What a hotel lacks before a day has sheets; the earlier one comes first."""

    NO_ROSTER = "no_roster"
    NO_BOOKINGS = "no_bookings"
    NO_TEAM = "no_team"
    HOUSE_CLOSED = "house_closed"
    """Nobody looks at beds on the day."""
    NOT_PUBLISHED = "not_published"
    """No published round covers the day."""
    NOTHING_ON_SHEETS = "nothing_on_sheets"
    """The day was planned, and no team has a room on it."""


def asked_rooms(house: House, now: datetime) -> tuple[AskedRoom, ...]:
    """Rooms that cases want looked at, the earliest deadline first: late ones lead."""
    today = local_day(now, house.zone)
    by_room: defaultdict[RoomNo, list[AskedState]] = defaultdict(list)
    for state in open_asked(house):
        if state.asked.room in house.rooms:
            by_room[state.asked.room].append(state)
    rows = []
    for room, states in by_room.items():
        ahead = _slots_ahead(house, room, today)
        planned = ahead[0] if ahead else None
        in_time = {bed for slot in ahead if slot.on <= states[0].due_on for bed in slot.beds}
        rows.append(
            AskedRoom(
                room=room,
                by_at=states[0].asked.by_at,
                is_late=states[0].is_late(now),
                is_due_today=states[0].due_on == today,
                wishes=tuple(_wish(house, state) for state in states),
                planned=planned,
                is_planned_today=planned is not None and planned.on == today,
                is_planned_late=planned is not None and planned.on > states[0].due_on,
                beds_too_late=tuple(bed for bed in states[0].beds_left if bed not in in_time),
            )
        )
    return tuple(rows)


def what_lacks(house: House, today: date) -> Lack | None:
    """The first thing that keeps a day without sheets; None if it has one."""
    if not house.rooms:
        return Lack.NO_ROSTER
    if any(slot.room in house.rooms for slot in house.slots.get(today, ())):
        return None
    if not house.stays and not house.all_of(StaysImported):
        return Lack.NO_BOOKINGS
    if not house.teams:
        return Lack.NO_TEAM
    if Calendar(house).closed_reason(today) is not None:
        return Lack.HOUSE_CLOSED
    rounds = house.all_of(RoundPublished)
    if any(one.from_on <= today <= one.until_on for one in rounds):
        return Lack.NOTHING_ON_SHEETS
    return Lack.NOT_PUBLISHED


def keeps_from_planning(house: House) -> Lack | None:
    """What must be set up before a round can be drafted; bookings may come later."""
    if not house.rooms:
        return Lack.NO_ROSTER
    return None if house.teams else Lack.NO_TEAM


def _wish(house: House, state: AskedState) -> CaseWish:
    case = state.asked.case
    return CaseWish(case, house.sightings[case][0].fact.room, state.asked.reasons)


def _slots_ahead(house: House, room: RoomNo, today: date) -> list[SlotPublished]:
    """A room's slots from today on that are still to be done, by day."""
    ahead = (slot for day, slots in house.slots.items() if day >= today for slot in slots)
    return [slot for slot in ahead if slot.room == room and not is_looked_at(house, slot)]
