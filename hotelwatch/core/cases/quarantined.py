"""Rooms in quarantine, each with the case that closed it and what is to be done next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.steps import Step, next_steps
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class QuarantineRow:
    """A room closed by a case; a room that two cases closed stands there twice."""

    room: RoomNo
    case: CaseNo
    from_at: datetime
    step: Step
    """The most pressing one that concerns the room; else of its case."""


def quarantine_rows(house: House, now: datetime) -> tuple[QuarantineRow, ...]:
    """Rooms in quarantine at a moment, the most pressing next step first."""
    steps: dict[CaseNo, tuple[Step, ...]] = {}
    rows: dict[tuple[RoomNo, CaseNo], QuarantineRow] = {}
    for placed, lifted in house.quarantines:
        if placed.from_at > now or (lifted is not None and lifted.lifted_at <= now):
            continue
        if placed.case not in house.sightings:
            continue
        if placed.case not in steps:
            steps[placed.case] = next_steps(house, case_of(house, placed.case), now=now)
        row = QuarantineRow(
            placed.room, placed.case, placed.from_at, _step_of(steps[placed.case], placed.room)
        )
        rows.setdefault((placed.room, placed.case), row)
    return tuple(sorted(rows.values(), key=lambda row: _pressing(row, now)))


def _step_of(steps: tuple[Step, ...], room: RoomNo) -> Step:
    for step in steps:
        if step.values.get("room") == room or room in step.values.get("rooms", ()):
            return step
    return steps[0]


def _pressing(row: QuarantineRow, now: datetime) -> tuple[bool, datetime, datetime, str]:
    due_at = row.step.due_at
    return due_at is None, due_at or now, row.from_at, row.room
