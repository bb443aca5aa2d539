"""Which kind of check a room wants now, and for which case: what a form begins with."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.steps import next_steps
from hotelwatch.core.checks.asked import open_asked
from hotelwatch.core.checks.slots import quarantining
from hotelwatch.core.checks.watching import watch_follow_ups
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, CheckKind, RoomNo
from hotelwatch.core.house import House

COUNTED = ("clearance_checks", "full_check", "after_hatch", "clean_checks")
"""Steps that are checks which count towards a release."""


@dataclass(frozen=True, slots=True)
class WantedLook:
    """The look that a room wants now."""

    kind: CheckKind
    case: str = ""
    """The case that wants it; empty for the cycle's."""
    source: str = ""
    """The room in which the case's first sign was."""
    reasons: tuple[str, ...] = ()
    """Kinds of neighbourhood to that room."""
    by_at: datetime | None = None
    counts_from: date | None = None
    """The first day on which a clean check counts towards release."""
    keep_out_until: datetime | None = None
    """The firm's time of re-entry, while it has not come."""


def wanted_look(house: House, room: RoomNo, now: datetime) -> WantedLook:
    """The look that a room wants: its case's clearance, a case's asked one, else the cycle's.

    A clearance check also answers cases that merely asked. Before a judgement the case
    that closed the room wants clean checks, which are asked ones.
    """
    found = [_towards_release(house, case, room, now) for case in _closed_by(house, room, now)]
    waiting = [one for one in found if one is not None]
    clearance = [one for one in waiting if one.kind is CheckKind.CLEARANCE]
    for wanted in (*clearance, *_asked(house, room), *waiting, *_watched(house, room, now)):
        return wanted
    return WantedLook(CheckKind.DEEP)


def _closed_by(house: House, room: RoomNo, now: datetime) -> list[CaseNo]:
    cases = quarantining(house, now).get(room, frozenset())
    return sorted(case for case in cases if case in house.sightings)


def _asked(house: House, room: RoomNo) -> list[WantedLook]:
    return [
        WantedLook(
            CheckKind.ASKED,
            state.asked.case,
            source=RoomNo(state.asked.source) or _source(house, state.asked.case),
            reasons=state.asked.reasons,
            by_at=state.asked.by_at,
        )
        for state in open_asked(house)
        if state.asked.room == room
    ]


def _watched(house: House, room: RoomNo, now: datetime) -> list[WantedLook]:
    """Looks that keep a room under watch covered, once their days have begun."""
    today = local_day(now, house.zone)
    return [
        WantedLook(look.kind, look.case, source=_source(house, look.case), counts_from=look.from_on)
        for look in watch_follow_ups(house, today)
        if look.room == room and look.from_on <= today
    ]


def _towards_release(house: House, case: CaseNo, room: RoomNo, now: datetime) -> WantedLook | None:
    of_room = [
        step
        for step in next_steps(house, case_of(house, case), now=now)
        if step.values.get("room") == room
    ]
    until = [step.values["until"] for step in of_room if step.code == "wait_for_reentry"]
    looks = [s for s in of_room if s.code in COUNTED]
    if not looks:
        return None
    is_clearance = looks[0].code != "clean_checks"
    return WantedLook(
        CheckKind.CLEARANCE if is_clearance else CheckKind.ASKED,
        case,
        source=_source(house, case),
        counts_from=min(step.values["next_from"] for step in looks),
        keep_out_until=max(until, default=None),
    )


def _source(house: House, case: CaseNo) -> RoomNo:
    return house.sightings[case][0].fact.room
