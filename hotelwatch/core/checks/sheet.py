"""A team's sheet for a day: rooms in walking order, places of each bed in looking order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from hotelwatch.core.beds import Place
from hotelwatch.core.building.walking import ways_of
from hotelwatch.core.case_facts import CheckAsked
from hotelwatch.core.checks.slots import SlotState, quarantining, slot_state
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.checks.watching import follow_ups
from hotelwatch.core.days import moment_of
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    CaseNo,
    RoomNo,
    SlotPublished,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.entering import after_reentry, reentries
from hotelwatch.core.stays.openings import Occupancy, Opening

FOLLOW_UP = "follow_up"
"""Why a case wants a room of its own looked at again."""
FOLLOW_UP_WHOLE = "follow_up_whole"
"""The same, and this time at every place: dust cover and corner caps too."""


@dataclass(frozen=True, slots=True)
class SheetBed:
    """A bed on a sheet."""

    bed: BedNo
    kind: str
    encased: bool
    places: tuple[Place, ...]
    """In looking order; optional ones among them."""
    minutes: int


@dataclass(frozen=True, slots=True)
class SheetRoom:
    """A room on a sheet."""

    room: RoomNo
    floor: str
    wing: str
    position: int
    """Place in walking order, from 1."""
    beds: tuple[SheetBed, ...]
    places: tuple[Place, ...]
    """Of the room beside its beds."""
    minutes: int
    asked_by: str
    """The case that asked for it; empty for a routine check."""
    reasons: tuple[str, ...]
    """Why the case asks: codes of core.cases.ring_rule, or of a follow-up."""
    opening: Opening | None
    """When it can be entered; None if, since publishing, somebody stays over that day."""
    neighbours_note: str
    """The room with the sign because of which it was last asked for; else that of the case's
    first sign; empty for a routine check."""
    by_at: datetime | None = None
    """By when it must be looked at, on a case's sheet."""


@dataclass(frozen=True, slots=True)
class PassedRoom:
    """A room of a sheet at which its team has nothing to do, or no longer."""

    room: RoomNo
    position: int
    beds: int
    state: SlotState
    """Looked at, with gaps or without, or in quarantine because of a case that did not ask."""
    is_closed: bool
    """Whether it is in quarantine when the day ends, as known now."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a team does on a day."""

    on: date
    team: TeamDescribed
    rooms: tuple[SheetRoom, ...]
    """Those to look at."""
    minutes: int
    """Rooms to look at, and ways to their corridors."""
    passed: tuple[PassedRoom, ...] = ()


STILL_THERE = (SlotState.TO_DO, SlotState.GUEST_STAYS, SlotState.IN_VAIN)
"""What a sheet tells in full: what may keep a team out stands beside it, or did before."""


def closed_on(house: House, day: date) -> Mapping[RoomNo, frozenset[CaseNo]]:
    """Rooms in quarantine when a day ends, as known now, with the cases that keep them there."""
    return quarantining(house, moment_of(day, "23:59", house.zone))


def team_sheet(house: House, occupancy: Occupancy, *, on: date, team: TeamName) -> Sheet:
    """A team's sheet as last published; no rooms if it has none that day.

    Rooms and beds that left the roster since are left out. Refusal("unknown_team").
    """
    described = team_of(house, team)
    slots = [s for s in house.slots.get(on, ()) if s.team == team and s.room in house.rooms]
    followed = {(look.room, look.case): look.is_full for look in follow_ups(house, on)}
    closed, entering = closed_on(house, on), reentries(house)
    rooms: list[SheetRoom] = []
    passed: list[PassedRoom] = []
    for slot in slots:
        room = _room(house, occupancy, slot, followed, entering.get(slot.room))
        cases = closed.get(slot.room, frozenset())
        state = slot_state(
            house, slot, room.opening, closed_by=cases, reenter_at=entering.get(slot.room)
        )
        if state in STILL_THERE:
            rooms.append(room)
        else:
            passed.append(
                PassedRoom(slot.room, slot.position, len(room.beds), state, is_closed=bool(cases))
            )
    return Sheet(on, described, tuple(rooms), sheet_minutes(house, rooms), tuple(passed))


def visit_minutes(house: House, beds: Iterable[BedDescribed]) -> int:
    """Minutes to look at these beds in one visit of their room, set-up counted once."""
    setup = int(house.rules.figures.room_setup_minutes.value)
    return setup + sum(bed_minutes(house, bed) for bed in beds)


def of_beds(house: House, slot: SlotPublished, beds: Iterable[str]) -> SlotPublished:
    """A slot with only these of its beds, and the minutes that they take."""
    kept = tuple(bed for bed in slot.beds if bed in set(beds))
    if kept == slot.beds:
        return slot
    known = (house.beds[BedNo(bed)] for bed in kept if BedNo(bed) in house.beds)
    return replace(slot, beds=kept, minutes=visit_minutes(house, known))


def joined(house: House, one: SlotPublished, other: SlotPublished) -> SlotPublished:
    """Two parts of a room on one sheet as one visit: it is set up once."""
    order = {bed.bed: place for place, bed in enumerate(house.beds_of(one.room))}
    beds = sorted({*one.beds, *other.beds}, key=lambda bed: order.get(BedNo(bed), len(order)))
    setup = int(house.rules.figures.room_setup_minutes.value)
    minutes, asked_by = one.minutes + other.minutes - setup, one.asked_by or other.asked_by
    return replace(one, beds=tuple(beds), minutes=minutes, asked_by=asked_by)


def bed_minutes(house: House, bed: BedDescribed) -> int:
    """Minutes for one bed as it is built."""
    return house.rules.bed_kinds[bed.kind].minutes_of(encased=bed.encased)


def walking_order(house: House, rooms: Iterable[RoomNo]) -> tuple[RoomNo, ...]:
    """Rooms as one passes them on a short way through corridors, stairs and lifts."""
    return ways_of(house).route(rooms)


def team_of(house: House, team: TeamName) -> TeamDescribed:
    """The team as last described, in use or not: an old sheet can be printed again.

    Refusal("unknown_team").
    """
    described = [fact for fact in house.all_of(TeamDescribed) if fact.team == team]
    if not described:
        raise Refusal("unknown_team", team=team)
    return described[-1]


def _room(
    house: House,
    occupancy: Occupancy,
    slot: SlotPublished,
    followed: Mapping[tuple[RoomNo, CaseNo], bool],
    reenter_at: datetime | None,
) -> SheetRoom:
    room, opening = house.rooms[slot.room], occupancy.opening(slot.room, slot.on)
    asked = [fact for fact in _asked(house, slot) if fact.room == slot.room]
    source = asked[-1].source if asked else ""
    from_it = (fact for fact in asked if fact.source == source)
    reasons = tuple(dict.fromkeys(reason for fact in from_it for reason in fact.reasons))
    is_full = followed.get((slot.room, CaseNo(slot.asked_by)))
    if is_full is not None:
        reasons = (FOLLOW_UP_WHOLE,) if is_full else (FOLLOW_UP,)
    return SheetRoom(
        room=slot.room,
        floor=room.floor,
        wing=room.wing,
        position=slot.position,
        beds=tuple(
            sheet_bed(house, bed) for bed in house.beds_of(room.room) if bed.bed in slot.beds
        ),
        places=house.rules.room_places,
        minutes=slot.minutes,
        asked_by=slot.asked_by,
        reasons=reasons,
        opening=after_reentry(opening, reenter_at, house.zone) or opening,
        neighbours_note=source or _first_room(house, slot.asked_by),
    )


def sheet_bed(house: House, bed: BedDescribed) -> SheetBed:
    """A bed as it stands on a sheet."""
    places = house.rules.bed_kinds[bed.kind].places_of(encased=bed.encased)
    return SheetBed(bed.bed, bed.kind, bed.encased, places, bed_minutes(house, bed))


def _asked(house: House, slot: SlotPublished) -> Iterable[CheckAsked]:
    """What the slot's case asked for."""
    for case, rows in house.asked.items():
        if case == slot.asked_by:
            yield from (row.fact for row in rows)


def _first_room(house: House, asked_by: str) -> str:
    for case, rows in house.sightings.items():
        if case == asked_by:
            return rows[0].fact.room
    return ""
