"""What stands on the teams' sheets: each room's slot, how far it is, and each sheet in sums."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.checks.coverage import Look, looks, underside_seen
from hotelwatch.core.checks.sooner import Pull, pulls
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.checks.watching import follow_ups
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import (
    BedChecked,
    BedNo,
    CaseNo,
    RoomChecked,
    RoomNo,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.house import House
from hotelwatch.core.stays.entering import after_reentry, reentries
from hotelwatch.core.stays.openings import Occupancy, Opening


class SlotState(StrEnum):
    """How far a slot is; the earlier one of two counts."""

    LOOKED_AT = "looked_at"
    """Somebody looked at each of its beds that day, undersides and all."""
    WITH_GAPS = "with_gaps"
    """Somebody looked, but not at every underside place."""
    IN_VAIN = "in_vain"
    """Somebody came, and could look at nothing of at least one bed."""
    IN_QUARANTINE = "in_quarantine"
    """The room is closed by a case that did not ask for this look."""
    GUEST_STAYS = "guest_stays"
    """The same guests have the room before and after."""
    TOO_SOON = "too_soon"
    """It was treated, and is not to be entered yet that day."""
    TO_DO = "to_do"


@dataclass(frozen=True, slots=True)
class SlotRow:
    """A room on a team's sheet, published or drafted."""

    on: date
    team: TeamName
    position: int
    room: RoomNo
    beds: tuple[str, ...]
    minutes: int
    asked_by: str
    """The case that asked for it; empty for a routine check."""
    due_on: date | None
    """The earliest of its beds, or the deadline's day; None if nothing wants it any more."""
    opening: Opening | None
    state: SlotState
    sooner: Pull | None = None
    """Why it is due before its cycle is over; None where the cycle or a case sets the day."""
    is_again: bool = False
    """Whether its look comes after another one of the same draft, and is planned anew after it."""

    @property
    def is_done(self) -> bool:
        """Whether somebody looked, with gaps or without."""
        return self.state in (SlotState.LOOKED_AT, SlotState.WITH_GAPS)

    @property
    def is_late(self) -> bool:
        """Whether its day lies after the day by which it is due."""
        return not self.is_done and self.due_on is not None and self.due_on < self.on


@dataclass(frozen=True, slots=True)
class SheetSum:
    """A team's sheet of a day in sums."""

    on: date
    team: TeamName
    rooms: int
    done: int
    used: int
    """Minutes that its rooms and the ways to their corridors take."""
    minutes: int
    """Minutes that the team has that day; 0 where it is away, or no longer in use."""


def rooms_found_on(house: House, day: date) -> frozenset[RoomNo]:
    """Rooms in which a look of that day found something, at a bed or beside it."""
    checks: list[BedChecked | RoomChecked] = [
        *house.all_of(BedChecked),
        *house.all_of(RoomChecked),
    ]
    return frozenset(one.room for one in checks if one.checked_on == day and one.found)


def slot_rows(
    house: House,
    occupancy: Occupancy,
    slots: Iterable[SlotPublished],
    *,
    now: datetime,
    known: Iterable[Look] | None = None,
) -> tuple[SlotRow, ...]:
    """Slots as they stand now, in the order given; rooms gone from the roster are left out.

    ``known`` are the looks of now, where they are at hand already.
    """
    known = looks(house, local_day(now, house.zone)) if known is None else known
    due = {look.bed: look.due_on for look in known}
    deadlines: dict[tuple[RoomNo, str], date] = {}
    for state in open_asked(house):
        deadlines.setdefault((state.asked.room, state.asked.case), state.due_on)
    for look in follow_ups(house, local_day(now, house.zone)):
        deadlines.setdefault((look.room, look.case), look.by_on)
    closed, entering = quarantining(house, now), reentries(house)
    slots = tuple(slots)
    today = local_day(now, house.zone)
    sooner = pulls(house, occupancy, today, of={slot.room for slot in slots})
    rows = []
    for slot in slots:
        if slot.room not in house.rooms:
            continue
        opening = occupancy.opening(slot.room, slot.on)
        opening = after_reentry(opening, entering.get(slot.room), house.zone) or opening
        due_on = min((due[BedNo(bed)] for bed in slot.beds if BedNo(bed) in due), default=None)
        pull = _settled(sooner.get(slot.room), slot, due_on)
        rows.append(
            SlotRow(
                on=slot.on,
                team=slot.team,
                position=slot.position,
                room=slot.room,
                beds=slot.beds,
                minutes=slot.minutes,
                asked_by=slot.asked_by,
                due_on=deadlines.get((slot.room, slot.asked_by))
                if slot.asked_by
                else (pull.by_on if pull else due_on),
                opening=opening,
                state=slot_state(
                    house,
                    slot,
                    opening,
                    closed_by=closed.get(slot.room, frozenset()),
                    reenter_at=entering.get(slot.room),
                ),
                sooner=pull,
            )
        )
    return tuple(rows)


def published_rows(
    house: House, occupancy: Occupancy, *, from_on: date, now: datetime, until_on: date = date.max
) -> tuple[SlotRow, ...]:
    """Published slots of the days from..until, by day, team and walking order."""
    slots = (
        slot for day, of_day in house.slots.items() if from_on <= day <= until_on for slot in of_day
    )
    return slot_rows(house, occupancy, slots, now=now)


def sheet_sums(
    house: House, rows: Iterable[SlotRow], minutes_of: Callable[[TeamName, date], int]
) -> tuple[SheetSum, ...]:
    """Each sheet in sums, in the order of its first row.

    ``minutes_of`` tells what a team has on a day, as ``rounds.calendar.Calendar`` does.
    """
    sheets: defaultdict[tuple[date, TeamName], list[SlotRow]] = defaultdict(list)
    for row in rows:
        sheets[row.on, row.team].append(row)
    return tuple(
        SheetSum(
            on=on,
            team=team,
            rooms=len(sheet),
            done=sum(row.is_done for row in sheet),
            used=sheet_minutes(house, sheet),
            minutes=minutes_of(team, on),
        )
        for (on, team), sheet in sheets.items()
    )


def next_to_do(rows: Sequence[SlotRow], after: RoomNo) -> SlotRow | None:
    """The next slot to do behind a room's, round to the front; of its own team first."""
    place = next((n for n, row in enumerate(rows) if row.room == after), -1)
    team = rows[place].team if place >= 0 else None
    ahead = [
        row for row in (*rows[place + 1 :], *rows[: place + 1]) if row.state is SlotState.TO_DO
    ]
    return next((row for row in ahead if row.team == team), ahead[0] if ahead else None)


def beds_to_do(
    house: House, room: RoomNo, *, on: date, team: TeamName | None = None
) -> tuple[BedNo, ...]:
    """The beds with which a check of a room begins: those of its first slot still to do that day.

    All of the room's beds where it stands on no sheet, or none is left to do. A room
    too long for one visit has only a part of its beds on a sheet; ``team`` tells whose.
    """
    known = tuple(bed.bed for bed in house.beds_of(room))
    for slot in house.slots.get(on, ()):
        is_meant = slot.room == room and team in (None, slot.team)
        if is_meant and not is_looked_at(house, slot):
            return tuple(bed for bed in known if bed in slot.beds)
    return known


def team_of(house: House, room: RoomNo, on: date) -> TeamName | None:
    """Whose sheet a room stands on that day: of several the first on which it is to do.

    None where it stands on none.
    """
    slots = [slot for slot in house.slots.get(on, ()) if slot.room == room]
    to_do = [slot for slot in slots if not is_looked_at(house, slot)]
    return next((slot.team for slot in (*to_do, *slots)), None)


def is_looked_at(house: House, slot: SlotPublished) -> bool:
    """Whether each of a slot's beds in use was looked at on its day, with gaps or without.

    Where all that is written down of a bed is why nobody could look, nobody looked.
    """
    beds = _beds_in_use(house, slot)
    if not beds:
        return any(check.seen for check in _room_checks_that_day(house, slot))
    return all(any(check.seen for check in _checks_that_day(house, slot, bed)) for bed in beds)


def was_tried(house: House, slot: SlotPublished) -> bool:
    """Whether somebody came for each of its beds on its day, even if nothing could be seen."""
    beds = _beds_in_use(house, slot)
    if not beds:
        return bool(_room_checks_that_day(house, slot))
    return all(_checks_that_day(house, slot, bed) for bed in beds)


def tried_beds(house: House, slot: SlotPublished) -> tuple[BedNo, ...]:
    """Its beds in use for which somebody came on its day."""
    return tuple(bed for bed in _beds_in_use(house, slot) if _checks_that_day(house, slot, bed))


def beds_to_come(house: House, slot: SlotPublished) -> tuple[str, ...]:
    """Its beds for which nobody came on its day."""
    tried = tried_beds(house, slot)
    return tuple(bed for bed in slot.beds if BedNo(bed) not in tried)


def quarantining(house: House, now: datetime) -> Mapping[RoomNo, frozenset[CaseNo]]:
    """Rooms in quarantine at a moment, with the cases that keep them there."""
    cases: defaultdict[RoomNo, set[CaseNo]] = defaultdict(set)
    for placed, lifted in house.quarantines:
        if placed.from_at <= now and (lifted is None or now < lifted.lifted_at):
            cases[placed.room].add(placed.case)
    return {room: frozenset(found) for room, found in cases.items()}


def _settled(pull: Pull | None, slot: SlotPublished, due_on: date | None) -> Pull | None:
    """A room's pull, where this look would settle it and its cycle is not over sooner."""
    if pull is None or slot.asked_by or slot.on < pull.from_on:
        return None
    if not set(slot.beds) & set(pull.beds) or (due_on is not None and due_on <= pull.by_on):
        return None
    return pull


def slot_state(
    house: House,
    slot: SlotPublished,
    opening: Opening | None,
    *,
    closed_by: frozenset[CaseNo],
    reenter_at: datetime | None,
) -> SlotState:
    """How far a slot is.

    ``closed_by`` are the cases that keep its room in quarantine; ``reenter_at`` is from when
    it may be entered again if it was treated.
    """
    if is_looked_at(house, slot):
        complete = all(
            any(underside_seen(house, check) for check in _checks_that_day(house, slot, bed))
            for bed in _beds_in_use(house, slot)
        )
        return SlotState.LOOKED_AT if complete else SlotState.WITH_GAPS
    if was_tried(house, slot):
        return SlotState.IN_VAIN
    if closed_by and slot.asked_by not in closed_by:
        return SlotState.IN_QUARANTINE
    if opening is None:
        return SlotState.GUEST_STAYS
    is_too_soon = after_reentry(opening, reenter_at, house.zone) is None
    return SlotState.TOO_SOON if is_too_soon else SlotState.TO_DO


def _beds_in_use(house: House, slot: SlotPublished) -> list[BedNo]:
    there = {bed.bed for bed in house.beds_of(slot.room)}
    return [BedNo(bed) for bed in slot.beds if BedNo(bed) in there]


def _checks_that_day(house: House, slot: SlotPublished, bed: BedNo) -> list[BedChecked]:
    return [check for check in house.checks_of(bed) if check.checked_on == slot.on]


def _room_checks_that_day(house: House, slot: SlotPublished) -> list[RoomChecked]:
    checks = house.room_checks.get(slot.room, ())
    return [check for check in checks if check.checked_on == slot.on]
