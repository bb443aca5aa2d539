"""A case's sheet for a team: every room that the case wants looked at, in walking order.

Rooms of its ring that nobody has looked at, with the beds that are left, and rooms whose
follow-up is due. Each has its deadline; a look in walking order passes late ones too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.cases.ring import Ring
from hotelwatch.core.checks.asked import asked_states
from hotelwatch.core.checks.sheet import (
    FOLLOW_UP,
    FOLLOW_UP_WHOLE,
    Sheet,
    SheetRoom,
    sheet_bed,
    team_of,
    visit_minutes,
    walking_order,
)
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.checks.watching import follow_ups
from hotelwatch.core.facts import BedDescribed, CaseNo, RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, slots=True)
class _Wish:
    """Why a room is on the sheet."""

    reasons: tuple[str, ...]
    source: str
    by_at: datetime | None


@dataclass(frozen=True, slots=True)
class Going:
    """Who goes, and when."""

    team: TeamName
    on: date


def case_walk(house: House, occupancy: Occupancy, ring: Ring, going: Going) -> Sheet:
    """What a team looks at on a day because of a case.

    Refusal("unknown_team"), and ("nothing_to_look_at") where the case wants nothing now.
    """
    team = team_of(house, going.team)
    wishes = _wishes(house, ring, going.on)
    if not wishes:
        raise Refusal("nothing_to_look_at", case=ring.case)
    left = _beds_left(house, ring.case)
    rooms = tuple(
        _room(house, occupancy, no, position, _On(ring.case, going.on, wishes[no], left))
        for position, no in enumerate(walking_order(house, wishes), 1)
    )
    return Sheet(going.on, team, rooms, sheet_minutes(house, rooms))


@dataclass(frozen=True, slots=True)
class _On:
    """What a room's block on the sheet is made of, beside the room."""

    case: CaseNo
    day: date
    wish: _Wish
    left: Mapping[RoomNo, frozenset[str]]


def _wishes(house: House, ring: Ring, on: date) -> dict[RoomNo, _Wish]:
    wishes: dict[RoomNo, _Wish] = {}
    for row in ring.rooms:
        if row.is_open and row.room in house.rooms:
            source = row.reasons[0].source if row.reasons else ""
            codes = tuple(reason.code for reason in row.reasons if reason.source == source)
            wishes[row.room] = _Wish(codes, source, row.by_at)
    for look in follow_ups(house, on):
        if look.case == ring.case and look.room in house.rooms:
            code = FOLLOW_UP_WHOLE if look.is_full else FOLLOW_UP
            known = wishes.get(look.room)
            wishes[look.room] = _Wish((code,), look.room, known.by_at if known else None)
    return wishes


def _beds_left(house: House, case: CaseNo) -> dict[RoomNo, frozenset[str]]:
    """Beds that are still to be looked at in rooms where others were."""
    left: dict[RoomNo, frozenset[str]] = {}
    for state in asked_states(house, case):
        if state.is_open:
            room = state.asked.room
            left[room] = left.get(room, frozenset()) | frozenset(state.beds_left)
    return left


def _room(house: House, occupancy: Occupancy, no: RoomNo, position: int, made_of: _On) -> SheetRoom:
    room, wish = house.rooms[no], made_of.wish
    is_followed = bool(set(wish.reasons) & {FOLLOW_UP, FOLLOW_UP_WHOLE})
    wanted = frozenset() if is_followed else made_of.left.get(no, frozenset())
    beds: list[BedDescribed] = [bed for bed in house.beds_of(no) if not wanted or bed.bed in wanted]
    return SheetRoom(
        room=no,
        floor=room.floor,
        wing=room.wing,
        position=position,
        beds=tuple(sheet_bed(house, bed) for bed in beds),
        places=house.rules.room_places,
        minutes=visit_minutes(house, beds),
        asked_by=made_of.case,
        reasons=wish.reasons,
        opening=occupancy.opening(no, made_of.day),
        neighbours_note=wish.source,
        by_at=wish.by_at,
    )
