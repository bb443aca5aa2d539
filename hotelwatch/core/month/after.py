"""What comes after a treatment: follow-up visits, the watch over rooms given back, its end."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from hotelwatch.core.case_facts import CaseClosed
from hotelwatch.core.checks.asked import SERVING
from hotelwatch.core.checks.coverage import underside_seen
from hotelwatch.core.checks.follow_ups import visit_days
from hotelwatch.core.checks.watching import is_watched, watch_of
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.page_rows import VisitRow, WatchRow
from hotelwatch.core.treatment_facts import TreatmentRecorded


def visit_rows(house: House, span: Span) -> tuple[VisitRow, ...]:
    """Usual visits after treatments that were due by the month's end and not met before it.

    A further treatment of the same room ends the visits after the one before it.
    """
    rows = [row for told in house.all_of(TreatmentRecorded) for row in _visits(house, told, span)]
    return tuple(sorted(rows, key=lambda row: (row.due_on, row.case, row.room, row.number)))


def _visits(house: House, treated: TreatmentRecorded, span: Span) -> Iterator[VisitRow]:
    again = _treated_again(house, treated)
    looks = [look for look in _looks(house, treated.room) if look.checked_on > treated.treated_on]
    for number, visit in enumerate(visit_days(house, treated), 1):
        if again is not None and visit.on > again:
            return
        met = next((look for look in looks if look.checked_on >= visit.on), None)
        is_past = met is not None and met.checked_on < span.first_on
        if visit.on > span.until_on or is_past:
            continue
        yield VisitRow(
            case=treated.case,
            room=treated.room,
            treated_on=treated.treated_on,
            number=number,
            due_on=visit.on,
            is_before_hatch=visit.is_before_hatch,
            done_on=met.checked_on if met else None,
            by=", ".join(met.by) if met else "",
            has_found=bool(met and met.found),
        )


def _treated_again(house: House, treated: TreatmentRecorded) -> date | None:
    later = (
        row.fact.treated_on
        for row in house.kept_of_case(TreatmentRecorded, treated.case)
        if row.fact.room == treated.room and row.fact.treated_on > treated.treated_on
    )
    return min(later, default=None)


def _looks(house: House, room: RoomNo) -> list[BedChecked]:
    """Looks at a room's undersides that serve a case, by day."""
    found = [
        row.fact
        for bed in house.beds_of(room)
        for row in house.checks_by_bed.get(bed.bed, ())
        if row.fact.kind in SERVING and underside_seen(house, row.fact)
    ]
    return sorted(found, key=lambda look: (look.checked_on, look.bed))


def watch_rows(house: House, span: Span) -> tuple[WatchRow, ...]:
    """Watches that run at the month's end, and those that somebody ended in the month."""
    rows = (row for case in house.sightings for row in _watch(house, case, span))
    return tuple(sorted(rows, key=lambda row: row.case))


def _watch(house: House, case: CaseNo, span: Span) -> Iterator[WatchRow]:
    closed = next((row.fact for row in reversed(house.kept_of_case(CaseClosed, case))), None)
    closed_on = local_day(closed.closed_at, house.zone) if closed else None
    runs = is_watched(house, case)
    if not runs and (closed_on is None or not span.holds(closed_on)):
        return
    ended = None if runs else closed
    end = span.until_on if runs or closed_on is None else closed_on
    watch = watch_of(house, case, end)
    yield WatchRow(
        case=case,
        watch=watch,
        looks=tuple(
            sorted(
                {
                    look.checked_on
                    for room in watch.rooms
                    for look in _looks(house, room)
                    if watch.since_on < look.checked_on <= end
                }
            )
        ),
        closed_at=ended.closed_at if ended else None,
        closed_by=ended.by if ended else "",
        is_over=ended.conditions_met if ended else None,
        reason=ended.reason if ended else "",
    )
