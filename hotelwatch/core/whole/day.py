"""A day in one picture: rooms to look at, who has what to do, what is closed, what is late."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from hotelwatch.core.cases.desk_duties import what_is_next
from hotelwatch.core.cases.duties import Duty, DutyState, Role
from hotelwatch.core.cases.quarantined import QuarantineRow, quarantine_rows
from hotelwatch.core.cases.release import Missing, missing_for_release
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.checks.slots import SheetSum, SlotRow, SlotState, sheet_sums, slot_rows
from hotelwatch.core.checks.sooner import Pull, late_pulls
from hotelwatch.core.checks.today import AskedRoom, asked_rooms
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.able import Able, teams_for_beds
from hotelwatch.core.rounds.tries import latest_look
from hotelwatch.core.stays.agreed import ArrangedVisit
from hotelwatch.core.stays.openings import Occupancy, OpeningKind

LOOKS_ASKED = frozenset({"check_room", "check_neighbours"})
"""Steps that stand among the rooms to look at, one by one."""
SHUT = frozenset({SlotState.GUEST_STAYS, SlotState.IN_QUARANTINE, SlotState.TOO_SOON})


@dataclass(frozen=True, slots=True)
class RoomToday:
    """A room to look at today: it stands on a sheet, or a case wants it by now, or both."""

    room: RoomNo
    slot: SlotRow | None
    """None where it is on no sheet of today."""
    asked: AskedRoom | None
    """None where no case wants it looked at by today, or without a sheet in time."""

    @property
    def team(self) -> TeamName | None:
        """On whose sheet of today it stands."""
        return self.slot.team if self.slot else None

    @property
    def is_done(self) -> bool:
        """Whether somebody looked at what its sheet asks for, and no case wants more."""
        return self.slot is not None and self.slot.is_done and self.asked is None


@dataclass(frozen=True, slots=True)
class TeamToday:
    """A team with its sheet of today, or with minutes and no room."""

    team: TeamName
    rows: tuple[SlotRow, ...]
    """In walking order."""
    sums: SheetSum

    @property
    def next(self) -> SlotRow | None:
        """The first room still to do that can be entered; None where none is left."""
        return next((row for row in self.rows if row.state is SlotState.TO_DO), None)

    @property
    def shut(self) -> tuple[RoomNo, ...]:
        """Rooms of the sheet that cannot be entered today after all."""
        return tuple(row.room for row in self.rows if row.state in SHUT)

    @property
    def in_vain(self) -> tuple[RoomNo, ...]:
        """Rooms of the sheet where somebody came today, and nobody could look."""
        return tuple(row.room for row in self.rows if row.state is SlotState.IN_VAIN)


@dataclass(frozen=True, slots=True)
class Part:
    """What cases want of a person, or of a role while nobody is named, beside looks at rooms."""

    role: Role
    owner: str
    """The person named; empty while nobody is."""
    duties: tuple[Duty, ...]
    """What may be done by the end of today, the late first."""

    @property
    def late(self) -> int:
        """How many have missed their deadline."""
        return sum(duty.state is DutyState.LATE for duty in self.duties)

    @property
    def by_at(self) -> datetime | None:
        """The earliest deadline; None where there is none."""
        return min((d.step.due_at for d in self.duties if d.step.due_at), default=None)


@dataclass(frozen=True, slots=True)
class ClosedRoom:
    """A room in quarantine."""

    room: RoomNo
    since: datetime
    """Since when the first of its cases has kept it closed without a break."""
    rows: tuple[QuarantineRow, ...]
    """One for each case that keeps it closed, the most pressing first."""
    missing: Missing | None
    """What it waits for first; None where it may be given back."""


class LateKind(StrEnum):
    """What is late about a room."""

    AGREED_BROKEN = "agreed_broken"
    """A guest agreed to a look of today or tomorrow at which no team can come."""

    LOOK_MISSED = "look_missed"
    """A case wanted it looked at by a moment that has passed."""
    DUTY_MISSED = "duty_missed"
    """A deadline of a case has passed."""
    NOT_PLANNED = "not_planned"
    """A case wants it looked at, and no sheet has it in time."""
    UNDERSIDE_OVERDUE = "underside_overdue"
    """An underside was last looked at more than its cycle ago."""
    SOONER_MISSED = "sooner_missed"
    """It was to be looked at before its cycle was over, and was not by the day for that."""


@dataclass(frozen=True, slots=True)
class Late:
    """Something late about a room; a room may stand there several times."""

    kind: LateKind
    room: RoomNo
    due_on: date
    """The last day in time."""
    days: int
    """Days after it; 0 where the deadline was today, or is still to come."""
    due_at: datetime | None = None
    """The deadline's moment; None for what counts in days."""
    case: CaseNo | None = None
    duty: Duty | None = None
    beds: int = 0
    """Undersides overdue."""
    sooner: Pull | None = None
    """Why it was to be looked at before its cycle was over."""
    agreed: ArrangedVisit | None = None
    """The hours to which its guest agreed."""


@dataclass(frozen=True, slots=True)
class DayPicture:
    """The day."""

    rooms: tuple[RoomToday, ...]
    """To look at: what is late first, then by team in walking order; those done last."""
    teams: tuple[TeamToday, ...]
    """Teams with a sheet or with minutes, by name."""
    parts: tuple[Part, ...]
    """The most pressing first."""
    closed: tuple[ClosedRoom, ...]
    """The most pressing first."""
    late: tuple[Late, ...]
    """By kind, each the longest first."""

    @property
    def left(self) -> int:
        """Rooms still to look at, each once; those where somebody came and could not look too."""
        return len({row.room for row in self.rooms if not row.is_done})

    @property
    def done(self) -> int:
        """Rooms looked at, of which nothing more is wanted today."""
        left = {row.room for row in self.rooms if not row.is_done}
        return len({row.room for row in self.rooms} - left)

    @property
    def in_vain(self) -> int:
        """How many rooms still to look at somebody came to today, and could not look."""
        slots = (row.slot for row in self.rooms if row.slot is not None)
        return len({slot.room for slot in slots if slot.state is SlotState.IN_VAIN})

    def late_of(self, kind: LateKind) -> tuple[Late, ...]:
        """What is late in one way."""
        return tuple(one for one in self.late if one.kind is kind)


def day_picture(house: House, occupancy: Occupancy, now: datetime) -> DayPicture:
    """The day at a moment."""
    today = local_day(now, house.zone)
    known = looks(house, today)
    slots = slot_rows(house, occupancy, house.slots.get(today, ()), now=now, known=known)
    asked = tuple(row for row in asked_rooms(house, now) if _presses(row))
    wanted = what_is_next(house, occupancy, now)
    now_or_today = [duty for duty in wanted if _is_for(duty, today, house)]
    return DayPicture(
        rooms=_rooms(slots, asked),
        teams=_teams(house, slots, today),
        parts=_parts(duty for duty in now_or_today if duty.step.code not in LOOKS_ASKED),
        closed=_closed(house, quarantine_rows(house, now), now),
        late=(
            *_broken(house, occupancy, today),
            *_late(house, asked, now_or_today, known, now=now),
        ),
    )


def _presses(row: AskedRoom) -> bool:
    return row.is_late or row.is_due_today or row.is_at_risk


def _is_for(duty: Duty, today: date, house: House) -> bool:
    """Whether a duty can be done by the end of today."""
    before = duty.step.not_before
    is_ahead = duty.state is DutyState.WAITS and before is not None
    return not (is_ahead and before is not None and local_day(before, house.zone) > today)


def _rooms(slots: Sequence[SlotRow], asked: Sequence[AskedRoom]) -> tuple[RoomToday, ...]:
    wishes = {row.room: row for row in asked}
    rows = [RoomToday(slot.room, slot, wishes.get(slot.room)) for slot in slots]
    on_sheets = {slot.room for slot in slots}
    rows += [RoomToday(row.room, None, row) for row in asked if row.room not in on_sheets]
    return tuple(sorted(rows, key=_pressing))


def _pressing(row: RoomToday) -> tuple[bool, bool, bool, str, int]:
    is_late = row.asked is not None and row.asked.is_late
    team, position = (row.slot.team, row.slot.position) if row.slot else ("", 0)
    return row.is_done, not is_late, row.slot is not None, team, position


def _teams(house: House, slots: Sequence[SlotRow], today: date) -> tuple[TeamToday, ...]:
    calendar = Calendar(house)
    rows: defaultdict[TeamName, list[SlotRow]] = defaultdict(list)
    for slot in slots:
        rows[slot.team].append(slot)
    sums = {one.team: one for one in sheet_sums(house, slots, calendar.minutes)}
    able = teams_for_beds(house)
    for team in calendar.working(today):
        if team.team not in able:
            continue
        free = SheetSum(today, team.team, 0, 0, 0, calendar.minutes(team.team, today))
        sums.setdefault(team.team, free)
    return tuple(TeamToday(team, tuple(rows[team]), sums[team]) for team in sorted(sums))


def _parts(found: Iterable[Duty]) -> tuple[Part, ...]:
    by_who: defaultdict[tuple[Role, str], list[Duty]] = defaultdict(list)
    for duty in found:
        # Who is named does it, whatever the role that usually would.
        who = next((key for key in by_who if duty.owner and key[1] == duty.owner), None)
        by_who[who or (duty.role, duty.owner)].append(duty)
    return tuple(Part(role, owner, tuple(of)) for (role, owner), of in by_who.items())


def _closed(house: House, rows: Iterable[QuarantineRow], now: datetime) -> tuple[ClosedRoom, ...]:
    by_room: defaultdict[RoomNo, list[QuarantineRow]] = defaultdict(list)
    for row in rows:
        by_room[row.room].append(row)
    return tuple(
        ClosedRoom(room, min(row.from_at for row in of), tuple(of), _missing(house, of, now))
        for room, of in by_room.items()
    )


def _missing(house: House, rows: Iterable[QuarantineRow], now: datetime) -> Missing | None:
    found = (missing_for_release(house, row.case, row.room, now=now) for row in rows)
    return next((one for of_case in found for one in of_case), None)


def _broken(house: House, occupancy: Occupancy, today: date) -> Iterator[Late]:
    """Agreed looks of today and tomorrow that no team can keep, and that nobody tried for."""
    able = Able(house, Calendar(house))
    soon = (today, today + timedelta(days=1))
    for (room, on), agreed in sorted(occupancy.arranged.items(), key=lambda one: one[0][::-1]):
        if on not in soon or room not in house.rooms:
            continue
        opening = occupancy.opening(room, on)
        is_tried = any(latest_look(house, bed.bed, on) == on for bed in house.beds_of(room))
        is_his = opening is not None and opening.kind is OpeningKind.ARRANGED
        if is_his and not is_tried and not able.can_look(room, opening):
            yield Late(LateKind.AGREED_BROKEN, room, on, 0, agreed=agreed)


def _late(
    house: House,
    asked: Iterable[AskedRoom],
    wanted: Iterable[Duty],
    known: Iterable[Look],
    *,
    now: datetime,
) -> Iterator[Late]:
    today = local_day(now, house.zone)

    def missed(kind: LateKind, room: RoomNo, at: datetime, case: CaseNo, duty: Duty | None) -> Late:
        due_on = local_day(at, house.zone)
        days = max(0, (today - due_on).days)
        return Late(kind, room, due_on, days, due_at=at, case=case, duty=duty)

    found = [
        missed(
            LateKind.LOOK_MISSED if row.is_late else LateKind.NOT_PLANNED,
            row.room,
            row.by_at,
            row.wishes[0].case,
            None,
        )
        for row in asked
        if row.is_late or row.is_at_risk
    ]
    found += [
        missed(LateKind.DUTY_MISSED, duty.room, duty.step.due_at, duty.case, duty)
        for duty in wanted
        if duty.state is DutyState.LATE and duty.step.due_at is not None
        if duty.step.code not in LOOKS_ASKED
    ]
    overdue = list(_undersides(known, today))
    found += overdue
    by_cycle = {one.room for one in overdue}
    found += [
        Late(LateKind.SOONER_MISSED, room, pull.by_on, (today - pull.by_on).days, sooner=pull)
        for room, pull in late_pulls(house, today).items()
        if room not in by_cycle
    ]
    order = list(LateKind)
    yield from sorted(found, key=lambda one: (order.index(one.kind), one.due_on, one.room))


def _undersides(known: Iterable[Look], today: date) -> Iterator[Late]:
    """Rooms with undersides overdue, each once, by the one that has been so the longest."""
    by_room: defaultdict[RoomNo, list[Look]] = defaultdict(list)
    for look in known:
        if look.is_overdue(today):
            by_room[look.room].append(look)
    for room, of in by_room.items():
        due_on = min(look.due_on for look in of)
        yield Late(LateKind.UNDERSIDE_OVERDUE, room, due_on, (today - due_on).days, beds=len(of))
