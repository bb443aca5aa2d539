"""What the building page shows of each room: where it stands, in words, signs and forms."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta, tzinfo

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.cases.room_stands import RoomStand, RoomStanding, stands
from hotelwatch.core.checks.coverage import Look
from hotelwatch.core.facts import BedNo, RoomNo
from hotelwatch.core.records import Stay
from hotelwatch.screens.look.theme import Tone
from hotelwatch.wording.dates import day_and_month_text, day_text, moment_text, short_day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import bed_label, label
from hotelwatch.wording.reasons import neighbour_reasons

DAYS_AROUND = 14
GLYPHS: Mapping[RoomStanding, str] = {
    RoomStanding.QUARANTINE: "Q",
    RoomStanding.FOUND: "◆",
    RoomStanding.TO_CHECK: "?",
    RoomStanding.OVERDUE: "!",
    RoomStanding.DUE_SOON: "○",
    RoomStanding.LATER: "",
    RoomStanding.NO_BED: "–",
}
FOUND_SIGN = GLYPHS[RoomStanding.FOUND]
TONES: Mapping[RoomStanding, Tone | None] = {
    RoomStanding.QUARANTINE: Tone.QUARANTINE,
    RoomStanding.FOUND: Tone.QUARANTINE,
    RoomStanding.TO_CHECK: Tone.ASKED,
    RoomStanding.OVERDUE: Tone.LATE,
    RoomStanding.DUE_SOON: Tone.DUE,
    RoomStanding.LATER: None,
    RoomStanding.NO_BED: None,
}


def state_text(state: RoomStanding) -> str:
    """The word for a state, as the legend and the table have it."""
    return {
        RoomStanding.QUARANTINE: _("in quarantine"),
        RoomStanding.FOUND: _("sign found"),
        RoomStanding.TO_CHECK: _("to check"),
        RoomStanding.OVERDUE: _("overdue"),
        RoomStanding.DUE_SOON: _("due soon"),
        RoomStanding.LATER: _("not due yet"),
        RoomStanding.NO_BED: _("no bed"),
    }[state]


def chip_text(state: RoomStanding) -> str:
    """The word for a state where there is little room."""
    short = {
        RoomStanding.QUARANTINE: _("quarantine"),
        RoomStanding.FOUND: _("found"),
        RoomStanding.LATER: _("not due"),
    }
    return short.get(state) or state_text(state)


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
    """A room in the list and on the drawings, as it stood on a day."""

    stand: RoomStand
    floor: str
    level: int
    wing: str
    room_type: str
    on: date
    zone: tzinfo

    @property
    def room(self) -> RoomNo:
        """Its label."""
        return self.stand.room

    @property
    def state(self) -> RoomStanding:
        """What one should know of it first."""
        return self.stand.state

    @property
    def last_on(self) -> date | None:
        """The day since which every bed was looked at; None if one never was."""
        return self.stand.last_on

    @property
    def due_on(self) -> date | None:
        """The first day on which one of its beds is due."""
        return self.stand.due_on

    @property
    def share(self) -> float | None:
        """How much of its cycle is used up; None without a bed or without a whole look."""
        since = self.stand.days_since
        return None if since is None else since / max(1, self.stand.cycle_days)

    @property
    def why(self) -> str:
        """The state in a sentence."""
        stand = self.stand
        told = []
        if stand.closed is not None:
            told.append(
                _("Closed since {moment} because of case {case}.").format(
                    moment=moment_text(stand.closed.from_at, self.zone), case=stand.closed.case
                )
            )
        elif stand.state is RoomStanding.TO_CHECK and stand.asked is not None:
            told.append(
                _("Case {case} wants it looked at by {moment}.").format(
                    case=stand.asked.case, moment=moment_text(stand.asked.by_at, self.zone)
                )
            )
        if stand.found_on is not None:
            told.append(_("A sign was found on {day}.").format(day=day_text(stand.found_on)))
        return " ".join(told) or _due_sentence(stand.due_on, self.on)

    @property
    def used(self) -> str:
        """Days since the underside was looked at, against the cycle: "58 of 91 days"."""
        stand = self.stand
        if stand.due_on is None:
            return ""
        if stand.days_since is None:
            return _("never looked at in full")
        return ngettext("{n} of {cycle} days", "{n} of {cycle} days", stand.days_since).format(
            n=stand.days_since, cycle=stand.cycle_days
        )

    @property
    def short(self) -> str:
        """The state in few words, with its day where it has one."""
        return self._short(short_day_text)

    @property
    def shortest(self) -> str:
        """The same without the day of the week, for a small room."""
        return self._short(day_and_month_text)

    def _short(self, day_words: Callable[[date], str]) -> str:
        stand = self.stand
        if stand.state is RoomStanding.TO_CHECK and stand.asked is not None:
            by_on = stand.asked.by_at.astimezone(self.zone).date()
            return _("check by {day}").format(day=day_words(by_on))
        if stand.state is RoomStanding.FOUND and stand.found_on is not None:
            return _("found {day}").format(day=day_words(stand.found_on))
        if stand.state in (RoomStanding.LATER, RoomStanding.DUE_SOON) and stand.due_on is not None:
            return _("due {day}").format(day=day_words(stand.due_on))
        return state_text(stand.state)


def spoken(row: RoomRow) -> str:
    """A room as it is told to whoever does not see the drawing."""
    told = _("Room {room}: {state}. {why}").format(
        room=row.room, state=state_text(row.state), why=row.why
    )
    return f"{told} {row.used}".strip()


@dataclass(frozen=True, slots=True)
class NeighbourRow:
    """A neighbour of the room in view, and why it is one."""

    room: RoomNo
    why: str
    state: RoomStanding


@dataclass(frozen=True, slots=True)
class StayRow:
    """A stay around today; nobody's name is known here."""

    booking: str
    arrives_on: date
    leaves_on: date
    status: str


def room_rows(hotel: OpenHotel) -> tuple[RoomRow, ...]:
    """Every room as it stands now, in the order of the roster."""
    return rows_of(hotel, stands(hotel.house, hotel.now(), hotel.today()), hotel.today())


def rows_of(hotel: OpenHotel, found: Mapping[RoomNo, RoomStand], on: date) -> tuple[RoomRow, ...]:
    """Rooms as they stood on a day, as far as they are on today's roster."""
    house, floors, zone = hotel.house, hotel.building.floors, hotel.zone
    return tuple(
        RoomRow(
            stand=found[room.room],
            floor=room.floor,
            level=floors.get(room.floor, 0),
            wing=room.wing,
            room_type=room.room_type,
            on=on,
            zone=zone,
        )
        for room in house.rooms.values()
        if room.room in found
    )


def bed_rows(hotel: OpenHotel, row: RoomRow) -> tuple[BedRow, ...]:
    """The beds of a room as they stood on the row's day."""
    return tuple(_bed_row(hotel, look, row.on) for look in row.stand.looks)


def neighbour_rows(
    hotel: OpenHotel, room: RoomNo, states: Mapping[RoomNo, RoomStanding]
) -> tuple[NeighbourRow, ...]:
    """The neighbours of a room, each with every reason in words."""
    return tuple(
        NeighbourRow(
            one.room,
            neighbour_reasons(one.kinds, source=room),
            states.get(one.room, RoomStanding.NO_BED),
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


def _bed_row(hotel: OpenHotel, look: Look, on: date) -> BedRow:
    bed = hotel.house.builds_by_bed[look.bed][-1].fact
    return BedRow(
        bed=look.bed,
        kind=bed_label(bed.kind),
        encased=bed.encased,
        last_on=look.last_on,
        due_on=look.due_on,
        is_late=look.is_overdue(on),
    )


def _status(stay: Stay, is_guess: bool) -> str:
    said = label(stay.status)
    return _("{status}; room foreseen by us").format(status=said) if is_guess else said


def _due_sentence(due: date | None, on: date) -> str:
    if due is None:
        return _("The roster has no bed in this room.")
    if due < on:
        return _("A look under its beds was due on {day}.").format(day=day_text(due))
    return _("A look under its beds is due by {day}.").format(day=day_text(due))
