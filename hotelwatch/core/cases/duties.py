"""What is next in the house: every open case's steps with who sees to it, in one order.

The overdue climb: what is latest by its deadline stands first, then what is due soonest,
then what may be done now, then what must still wait.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from hotelwatch.core.case_facts import OwnerNamed
from hotelwatch.core.cases.case import case_of, is_open
from hotelwatch.core.cases.steps import NOTHING_OPEN, Step, next_steps
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House


class Role(StrEnum):
    """Who sees to a duty while nobody is named for it."""

    HOUSEKEEPER = "housekeeper"
    """The executive housekeeper."""
    TEAM = "team"
    """A team of two with its sheet."""
    COMPETENT_PERSON = "competent_person"
    FIRM = "firm"
    """The licensed firm."""
    FRONT_DESK = "front_desk"


class DutyState(StrEnum):
    """How a duty stands at a moment."""

    LATE = "late"
    DUE = "due"
    """It has a deadline to come."""
    READY = "ready"
    """It may be done now; no deadline is set."""
    WAITS = "waits"
    """Its day has not come."""


USUAL_ROLES: Mapping[str, Role] = {
    "check_room": Role.TEAM,
    "check_neighbours": Role.TEAM,
    "clean_checks": Role.TEAM,
    "clearance_checks": Role.TEAM,
    "full_check": Role.TEAM,
    "after_hatch": Role.TEAM,
    "watch_look": Role.TEAM,
    "read_monitors": Role.TEAM,
    "count_reading": Role.TEAM,
    "take_care": Role.TEAM,
    "judge_specimen": Role.COMPETENT_PERSON,
    "await_treatment": Role.FIRM,
    "wait_for_reentry": Role.FIRM,
    "answer_guest": Role.FRONT_DESK,
}
"""Common practice, no source: the executive housekeeper sees to all else."""


@dataclass(frozen=True, slots=True)
class Duty:
    """A step of a case with who sees to it."""

    case: CaseNo
    room: RoomNo
    """The step's room, else that of the case's first sign."""
    step: Step
    role: Role
    owner: str
    """The person named for it; empty while nobody is."""
    state: DutyState


def duties(house: House, now: datetime) -> tuple[Duty, ...]:
    """Every duty of every open case, what is next first."""
    found = [
        duty
        for case in house.sightings
        if is_open(house, case)
        for duty in duties_of_case(house, case, now)
    ]
    return in_order(found, now)


def in_order(found: Iterable[Duty], now: datetime) -> tuple[Duty, ...]:
    """Duties with what is next first."""
    return tuple(sorted(found, key=lambda duty: _order(duty, now)))


def duties_of_case(house: House, case: CaseNo, now: datetime) -> tuple[Duty, ...]:
    """The duties of one case, what is next first."""
    whole = case_of(house, case)
    found = [
        _duty(house, case, whole.room, step, now=now)
        for step in next_steps(house, whole, now=now)
        if step.code != NOTHING_OPEN
    ]
    return in_order(found, now)


def state_of(step: Step, now: datetime) -> DutyState:
    """How a step stands at a moment."""
    if step.is_late(now):
        return DutyState.LATE
    if step.not_before is not None and step.not_before > now:
        return DutyState.WAITS
    return DutyState.DUE if step.due_at is not None else DutyState.READY


def owner_of(house: House, case: CaseNo, step: Step) -> str:
    """The person named for a step of a case, for its room before all others; empty if nobody is."""
    rows = house.kept_of_case(OwnerNamed, case)
    owners = {(row.fact.duty, row.fact.room): row.fact.owner for row in rows}
    room = step.values.get("room", "")
    return owners.get((step.code, room), owners.get((step.code, ""), ""))


def _duty(house: House, case: CaseNo, first: RoomNo, step: Step, *, now: datetime) -> Duty:
    return Duty(
        case=case,
        room=RoomNo(step.values.get("room", "") or first),
        step=step,
        role=USUAL_ROLES.get(step.code, Role.HOUSEKEEPER),
        owner=owner_of(house, case, step),
        state=state_of(step, now),
    )


def _order(duty: Duty, now: datetime) -> tuple[int, datetime, str, str]:
    when = duty.step.due_at or duty.step.not_before or now
    return list(DutyState).index(duty.state), when, duty.case, duty.room
