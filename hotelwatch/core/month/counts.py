"""The month in numbers, counted from its rows."""

from __future__ import annotations

from collections import Counter
from datetime import date

from hotelwatch.core.month.due import Span
from hotelwatch.core.month.due_rows import DueState
from hotelwatch.core.month.rows import CaseRow, Counts, MonthRows, QuarantineRow


def count(rows: MonthRows, span: Span, *, room_nights: int) -> Counts:
    """Every count of the month; the states of the due rows add up to all of them."""
    states = Counter(row.state for row in rows.due)
    bed_checks = [row for row in rows.checks if row.bed]
    lifted = [row for row in rows.quarantines if row.lifted_at is not None]
    return Counts(
        due=len(rows.due),
        in_time=states[DueState.IN_TIME],
        late=states[DueState.LATE],
        not_done=states[DueState.NOT_DONE],
        ahead=states[DueState.AHEAD],
        no_longer_due=states[DueState.NO_LONGER_DUE],
        worst_late_days=max((row.late_days for row in rows.due), default=0),
        beds=len(rows.looks),
        beds_looked_at=sum(_in(row.last_on, span) for row in rows.looks),
        beds_overdue=sum(row.is_overdue for row in rows.looks),
        beds_never_looked_at=sum(row.last_on is None for row in rows.looks),
        bed_checks=len(bed_checks),
        bed_checks_complete=sum(row.is_underside_seen is True for row in bed_checks),
        sightings=len(rows.sightings),
        cases_open_at_start=sum(row.was_open_at_start for row in rows.cases),
        cases_new=sum(row.is_new for row in rows.cases),
        cases_reopened=sum(_is_reopened(row) for row in rows.cases),
        cases_closed=sum(_is_closed(row) for row in rows.cases),
        cases_open_at_end=sum(row.is_open for row in rows.cases),
        asked=len(rows.asked),
        asked_late=sum(row.is_late for row in rows.asked),
        quarantines=len(rows.quarantines),
        quarantine_nights=room_nights,
        lifted_on_conditions=_lifted(lifted, conditions_met=True),
        lifted_on_reason=_lifted(lifted, conditions_met=False),
        lets_against=len(rows.lets),
        minutes=sum(row.minutes for row in rows.team_days),
        people_minutes=sum(row.people_minutes for row in rows.team_days),
        changes=len(rows.changes),
    )


def _in(day: date | None, span: Span) -> bool:
    return day is not None and day >= span.first_on


def _is_reopened(row: CaseRow) -> bool:
    return row.is_open and not row.is_new and not row.was_open_at_start


def _is_closed(row: CaseRow) -> bool:
    return not row.is_open and (row.is_new or row.was_open_at_start)


def _lifted(rows: list[QuarantineRow], *, conditions_met: bool) -> int:
    return sum(row.conditions_met is conditions_met for row in rows)
