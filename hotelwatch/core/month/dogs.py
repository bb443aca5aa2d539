"""Dogs' visits of a month: each alert with what became of it by the month's end."""

from __future__ import annotations

from hotelwatch.core.checks.dogs import AlertRow, alert_rows
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.page_rows import DogRow


def dog_rows(house: House, span: Span) -> tuple[DogRow, ...]:
    """A line for each alert of the month's visits, and for each visit without any, by day."""
    lines = [line for line in alert_rows(house) if span.holds(line.row.on)]
    return tuple(_row(line) for line in sorted(lines, key=lambda line: (line.row.on, *line.key)))


def _row(line: AlertRow) -> DogRow:
    visit, alert = line.row.visit, line.alert
    return DogRow(
        on=line.row.on,
        firm=visit.firm,
        handler=visit.handler,
        certified=visit.certified,
        led_through=len(visit.rooms),
        room=alert.room if alert else "",
        case=alert.case if alert else "",
        fate=alert.fate if alert else None,
        fate_on=alert.on if alert else None,
        by=visit.by,
        entry=line.row.entry,
    )
