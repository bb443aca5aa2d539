"""Ending a watch, and the case that a sign during or after it belongs to.

How far a watch has come is counted in core.checks.watching.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from hotelwatch.core.case_facts import CaseClosed
from hotelwatch.core.cases.case import Stage, open_case_in, stage_of
from hotelwatch.core.checks.watching import closing_of, is_watched, watch_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal

ONE_DAY = timedelta(days=1)


def check_closing(house: House, closed: CaseClosed, now: datetime) -> None:
    """Raise Refusal where a case may not be closed so.

    Codes: "unknown_case", "ending_needs_name", "moment_to_come", "rooms_in_quarantine",
    "case_not_watched" (never released, or closed already), "watch_not_over" (said to be
    and is not), "ending_needs_reason" (not said to be over, and no reason given).
    """
    named = {"case": str(closed.case)}
    if closed.case not in house.sightings:
        raise Refusal("unknown_case", **named)
    if not closed.by.strip():
        raise Refusal("ending_needs_name", **named)
    if closed.closed_at > now:
        raise Refusal("moment_to_come", moment=closed.closed_at.astimezone(house.zone).isoformat())
    if any(lifted is None for _, lifted in house.quarantines_by_case.get(closed.case, ())):
        raise Refusal("rooms_in_quarantine", **named)
    if not is_watched(house, closed.case):
        raise Refusal("case_not_watched", **named)
    watch = watch_of(house, closed.case, local_day(closed.closed_at, house.zone))
    if closed.conditions_met and not watch.is_over:
        counts = {"counted": str(watch.counted), "need": str(watch.need)}
        raise Refusal("watch_not_over", **named, **counts)
    if not closed.conditions_met and not closed.reason.strip():
        raise Refusal("ending_needs_reason", **named)


def case_for_sign(house: House, room: RoomNo, seen_at: datetime) -> CaseNo | None:
    """The case that a sign belongs to; None where it opens a new one.

    A sign during the watch belongs to the same case, and so does one that was seen before
    the case was closed and is written down only now. Once enough clean covered days have
    gone by, or a named person closed the case, a later sign opens a new one.
    """
    day = local_day(seen_at, house.zone)
    for case, rows in house.sightings.items():
        in_room = any(row.fact.room == room for row in rows)
        closed = closing_of(house, case) if in_room else None
        is_before = closed is not None and seen_at < closed.closed_at
        if is_before and stage_of(house, case) is Stage.CLOSED:
            return case
    case_no = open_case_in(house, room)
    if case_no is None or not is_watched(house, case_no):
        return case_no
    return None if watch_of(house, case_no, day - ONE_DAY).is_over else case_no
