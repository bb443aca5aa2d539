"""Cases and the checks they asked for as rows: the most pressing first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.case_facts import CheckAsked, Sighted
from hotelwatch.core.cases.case import Case, Stage, cases, is_open
from hotelwatch.core.cases.desk_duties import guest_duties
from hotelwatch.core.cases.steps import Step, next_step
from hotelwatch.core.checks.asked import AskedState, asked_states
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Evidence
from hotelwatch.core.records import Kept
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, slots=True)
class CaseRow:
    """A case in a row, with the most pressing of what is to be done."""

    no: CaseNo
    rooms: tuple[RoomNo, ...]
    since_on: date
    stage: Stage
    evidence: Evidence
    step: Step
    is_late: bool
    is_open: bool


@dataclass(frozen=True, slots=True)
class AskedRow:
    """A check that a case asked for, and how it stands."""

    case: CaseNo
    room: RoomNo
    source: RoomNo
    """The room with the sign because of which it was asked for."""
    reasons: tuple[str, ...]
    by_at: datetime
    done_on: date | None
    is_open: bool
    is_late: bool
    entry: int


def case_rows(
    house: House, occupancy: Occupancy, *, now: datetime, with_closed: bool = False
) -> tuple[CaseRow, ...]:
    """Open cases, the late ones first, then by deadline; closed ones after them, newest first."""
    of_guests: defaultdict[CaseNo, list[Step]] = defaultdict(list)
    for duty in guest_duties(house, occupancy, now):
        of_guests[duty.case].append(duty.step)
    rows = [
        _case_row(house, case, of_guests.get(case.no, ()), now=now)
        for case in cases(house)
        if case.is_open or with_closed
    ]
    still_open = [row for row in rows if row.is_open]
    still_open.sort(key=lambda row: (not row.is_late, *_by_deadline(row.step, now), row.no))
    closed = [row for row in rows if not row.is_open]
    closed.sort(key=lambda row: row.no, reverse=True)
    return (*still_open, *closed)


def asked_rows(house: House, *, now: datetime) -> tuple[AskedRow, ...]:
    """Checks asked for by open cases: those to be done first, by deadline, then those done."""
    rows = [
        row
        for no in house.sightings
        if is_open(house, no)
        for row in asked_of_case(house, no, now=now)
    ]
    rows.sort(key=lambda row: (not row.is_open, row.by_at, row.case, row.entry))
    return tuple(rows)


def asked_of_case(house: House, no: CaseNo, *, now: datetime) -> tuple[AskedRow, ...]:
    """Checks that a case asked for, in the order asked."""
    kept = house.kept_of_case(CheckAsked, no)
    return tuple(
        _asked_row(house, row, state, now)
        for row, state in zip(kept, asked_states(house, no), strict=True)
    )


def case_for_room(house: House, room: RoomNo) -> CaseNo | None:
    """The case to show for a room: its open one, else its latest; None if it has none."""
    of_room = [case for case in cases(house) if room in case.rooms]
    still_open = [case for case in of_room if case.is_open]
    latest = (still_open or of_room)[-1:]
    return latest[0].no if latest else None


def _case_row(house: House, case: Case, of_guests: Iterable[Step], *, now: datetime) -> CaseRow:
    steps = (*of_guests, next_step(house, case, now=now))
    step = min(steps, key=lambda one: _by_deadline(one, now))
    return CaseRow(
        no=case.no,
        rooms=case.rooms,
        since_on=local_day(min(s.seen_at for s in case.sightings), house.zone),
        stage=case.stage,
        evidence=case.evidence,
        step=step,
        is_late=step.is_late(now),
        is_open=case.is_open,
    )


def _by_deadline(step: Step, now: datetime) -> tuple[bool, datetime]:
    return (step.due_at is None, step.due_at or now)


def _asked_row(house: House, row: Kept[CheckAsked], state: AskedState, now: datetime) -> AskedRow:
    asked = row.fact
    signs = house.kept_of_case(Sighted, asked.case)
    beside = [sign.fact.room for sign in signs if sign.entry == row.entry]
    # Several signs of one case in one entry: the room itself names its own row's source.
    by_entry = asked.room if asked.room in beside else (beside or [signs[0].fact.room])[0]
    return AskedRow(
        case=asked.case,
        room=asked.room,
        source=RoomNo(asked.source) or by_entry,
        reasons=asked.reasons,
        by_at=asked.by_at,
        done_on=state.done_on,
        is_open=state.is_open,
        is_late=state.is_late(now),
        entry=row.entry,
    )
