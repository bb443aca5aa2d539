"""Which months a hotel has a record of."""

from __future__ import annotations

from datetime import date, timedelta

from hotelwatch.core.days import local_day, month_of
from hotelwatch.core.house import House


def months_on_record(house: House, today: date) -> tuple[str, ...]:
    """Months from the first entry's to today's, as YYYY-MM, the latest first."""
    recorded = [entry.recorded_at for entry in house.entries.values()]
    first = local_day(min(recorded), house.zone) if recorded else today
    months = []
    day = today
    while month_of(day) >= month_of(first):
        months.append(month_of(day))
        day = day.replace(day=1) - timedelta(days=1)
    return tuple(months)
