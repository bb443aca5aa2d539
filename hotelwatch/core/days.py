"""Days, weekdays, months and moments. No clock is read here: the day is an argument."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta, tzinfo

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DECEMBER = 12
MINUTES_OF_AN_HOUR = 60


def weekday(day: date) -> str:
    """The weekday's code: "mon" to "sun"."""
    return WEEKDAYS[day.weekday()]


def days_from(first: date, count: int) -> Iterator[date]:
    """``count`` days, ``first`` included."""
    return (first + timedelta(days=n) for n in range(count))


def month_of(day: date) -> str:
    """The month as YYYY-MM (ISO 8601)."""
    return f"{day:%Y-%m}"


def month_bounds(month: str) -> tuple[date, date]:
    """First and last day of a month given as YYYY-MM; ValueError if it is none."""
    first = date.fromisoformat(f"{month}-01")
    following = (
        date(first.year + 1, 1, 1)
        if first.month == DECEMBER
        else date(first.year, first.month + 1, 1)
    )
    return first, following - timedelta(days=1)


def add_hours(moment: datetime, hours: float) -> datetime:
    """A moment so many real hours later, in UTC, whatever the clocks do between."""
    return moment.astimezone(UTC) + timedelta(hours=hours)


def local_day(moment: datetime, zone: tzinfo) -> date:
    """The hotel's date at a moment."""
    return moment.astimezone(zone).date()


def moment_of(day: date, clock: str, zone: tzinfo) -> datetime:
    """The UTC moment of a local day and an "HH:MM" clock time."""
    local = datetime.combine(day, time.fromisoformat(clock), tzinfo=zone)
    return local.astimezone(UTC)


def minute_of(clock: str) -> int:
    """Minutes from midnight to an "HH:MM" clock time."""
    told = time.fromisoformat(clock)
    return told.hour * MINUTES_OF_AN_HOUR + told.minute


def local_moment(local: datetime, zone: tzinfo) -> datetime:
    """The UTC moment of a local time; a time that already bears a zone keeps it."""
    return (local if local.tzinfo else local.replace(tzinfo=zone)).astimezone(UTC)
