"""What the building page shows of each room, made from the house in one go."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import QuarantinePlaced
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.facts import BedNo, CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.records import Stay
from hotelwatch.screens.theme import Tone
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label, label
from hotelwatch.wording.reasons import neighbour_reasons

DAYS_AROUND = 14


class RoomState(StrEnum):
    """What one should know of a room first; the earlier one of two counts."""

    QUARANTINE = "quarantine"
    TO_CHECK = "to_check"
    OVERDUE = "overdue"
    DUE_SOON = "due_soon"
    LATER = "later"
    NO_BED = "no_bed"


GLYPHS: Mapping[RoomState, str] = {
    RoomState.QUARANTINE: "Q",
    RoomState.TO_CHECK: "?",
    RoomState.OVERDUE: "!",
    RoomState.DUE_SOON: "○",
    RoomState.LATER: "",
    RoomState.NO_BED: "–",
}
TONES: Mapping[RoomState, Tone | None] = {
    RoomState.QUARANTINE: Tone.QUARANTINE,
    RoomState.TO_CHECK: Tone.ASKED,
    RoomState.OVERDUE: Tone.LATE,
    RoomState.DUE_SOON: Tone.DUE,
    RoomState.LATER: None,
    RoomState.NO_BED: None,
}


def state_text(state: RoomState) -> str:
    """The word for a state, as the legend and the table have it."""
    return {
        RoomState.QUARANTINE: _("in quarantine"),
        RoomState.TO_CHECK: _("to check for a case"),
        RoomState.OVERDUE: _("overdue"),
        RoomState.DUE_SOON: _("due soon"),
        RoomState.LATER: _("not due yet"),
        RoomState.NO_BED: _("no bed"),
    }[state]


@dataclass(frozen=True, slots=True)
class BedRow:
    """A bed of the room in view."""

    bed: BedNo
    kind: str
    encased: bool
    last_on: date | None
    due_on: date
    is_late: bool


@dataclass(frozen=True, slots=True)
class RoomRow:
    """A room in the list and on the drawing."""

    room: RoomNo
    floor: str
    level: int
    wing: str
    room_type: str
    beds: tuple[BedRow, ...]
    state: RoomState
    why: str
    """The state in a sentence."""
    last_on: date | None
    """The day since which every bed was looked at; None if one never was."""
    due_on: date | None


@dataclass(frozen=True, slots=True)
class NeighbourRow:
    """A neighbour of the room in view, and why it is one."""

    room: RoomNo
    why: str
    state: RoomState


@dataclass(frozen=True, slots=True)
class StayRow:
    """A stay around today; nobody's name is known here."""

    booking: str
    arrives_on: date
    leaves_on: date
    status: str


def room_rows(hotel: OpenHotel) -> tuple[RoomRow, ...]:
    """Every room, in the order of the roster."""
    house, today = hotel.house, hotel.today()
    by_room: defaultdict[RoomNo, list[Look]] = defaultdict(list)
    for look in looks(house, today):
        by_room[look.room].append(look)
    closed = _closed(hotel)
    asked = _asked(hotel)
    soon = today + timedelta(days=int(house.rules.figures.plan_days.value))
    floors = hotel.building.floors
    rows = []
    for room in house.rooms.values():
        found = by_room[room.room]
        due = min((look.due_on for look in found), default=None)
        days = [look.last_on for look in found if look.last_on is not None]
        last = min(days) if found and len(days) == len(found) else None
        state = _state(room.room in closed, room.room in asked, due, today=today, soon=soon)
        why = closed.get(room.room) or asked.get(room.room) or _due_sentence(due, today)
        rows.append(
            RoomRow(
                room=room.room,
                floor=room.floor,
                level=floors.get(room.floor, 0),
                wing=room.wing,
                room_type=room.room_type,
                beds=tuple(_bed_row(house, look, today) for look in found),
                state=state,
                why=why,
                last_on=last,
                due_on=due,
            )
        )
    return tuple(rows)


def neighbour_rows(
    hotel: OpenHotel, room: RoomNo, states: Mapping[RoomNo, RoomState]
) -> tuple[NeighbourRow, ...]:
    """The neighbours of a room, each with every reason in words."""
    return tuple(
        NeighbourRow(
            one.room,
            neighbour_reasons(one.kinds, source=room),
            states.get(one.room, RoomState.NO_BED),
        )
        for one in hotel.neighbours().get(room, ())
    )


def stay_rows(hotel: OpenHotel, room: RoomNo) -> tuple[StayRow, ...]:
    """Stays that touch the days around today."""
    today, around = hotel.today(), timedelta(days=DAYS_AROUND)
    stays = hotel.occupancy().stays_by_room.get(room, ())
    near = [s for s in stays if s.leaves_on >= today - around and s.arrives_on <= today + around]
    guessed = hotel.occupancy().provisional
    return tuple(
        StayRow(s.booking, s.arrives_on, s.leaves_on, _status(s, s.booking in guessed))
        for s in near
    )


def _bed_row(house: House, look: Look, today: date) -> BedRow:
    bed = house.beds[look.bed]
    return BedRow(
        bed=look.bed,
        kind=bed_label(bed.kind),
        encased=bed.encased,
        last_on=look.last_on,
        due_on=look.due_on,
        is_late=look.is_overdue(today),
    )


def _status(stay: Stay, is_guess: bool) -> str:
    said = label(stay.status)
    return _("{status}; room foreseen by us").format(status=said) if is_guess else said


def _state(
    is_closed: bool, is_asked: bool, due: date | None, *, today: date, soon: date
) -> RoomState:
    if is_closed:
        return RoomState.QUARANTINE
    if is_asked:
        return RoomState.TO_CHECK
    if due is None:
        return RoomState.NO_BED
    if due < today:
        return RoomState.OVERDUE
    return RoomState.DUE_SOON if due <= soon else RoomState.LATER


def _due_sentence(due: date | None, today: date) -> str:
    if due is None:
        return _("The roster has no bed in this room.")
    if due < today:
        return _("A look under its beds was due on {day}.").format(day=day_text(due))
    return _("A look under its beds is due by {day}.").format(day=day_text(due))


def _closed(hotel: OpenHotel) -> Mapping[RoomNo, str]:
    """Why each room in quarantine is so."""
    return {
        placed.room: _("Closed since {moment} because of case {case}.").format(
            moment=moment_text(placed.from_at, hotel.zone), case=placed.case
        )
        for placed in _placed_now(hotel.house, hotel)
    }


def _placed_now(house: House, hotel: OpenHotel) -> list[QuarantinePlaced]:
    now = hotel.now()
    return [
        placed
        for placed, lifted in house.quarantines
        if placed.from_at <= now and (lifted is None or now < lifted.lifted_at)
    ]


def _asked(hotel: OpenHotel) -> Mapping[RoomNo, str]:
    """Why each room is wanted by a case; the earliest deadline counts."""
    wanted: dict[RoomNo, str] = {}
    for state in open_asked(hotel.house):
        case: CaseNo = state.asked.case
        wanted.setdefault(
            state.asked.room,
            _("Case {case} wants it looked at by {moment}.").format(
                case=case, moment=moment_text(state.asked.by_at, hotel.zone)
            ),
        )
    return wanted
