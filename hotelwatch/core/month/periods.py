"""Months of a quarter or a year, and how a span of months is written."""

from __future__ import annotations

import re
from datetime import date

from hotelwatch.core.days import month_of
from hotelwatch.core.problems import Refusal

_MONTH = re.compile(r"(\d{4})-(\d{2})")
_QUARTER = re.compile(r"(\d{4})-Q([1-4])", re.IGNORECASE)
_YEAR = re.compile(r"(\d{4})")
MONTHS_A_QUARTER, MONTHS_A_YEAR = 3, 12


def months_of(period: str) -> tuple[str, ...]:
    """The months of a period: 2026-02, 2026-Q1 or 2026. Refusal("no_such_month")."""
    if found := _QUARTER.fullmatch(period):
        first = (int(found[2]) - 1) * MONTHS_A_QUARTER + 1
        return _from(int(found[1]), first, MONTHS_A_QUARTER)
    if found := _YEAR.fullmatch(period):
        return _from(int(found[1]), 1, MONTHS_A_YEAR)
    if (found := _MONTH.fullmatch(period)) and 1 <= int(found[2]) <= MONTHS_A_YEAR:
        return (period,)
    raise Refusal("no_such_month", month=period)


def is_span(period: str) -> bool:
    """Whether a period is a quarter or a year."""
    return len(months_of(period)) > 1


def begun(months: tuple[str, ...], today: date) -> tuple[str, ...]:
    """Those that have begun. Refusal("month_to_come") if none has."""
    found = tuple(month for month in months if month <= month_of(today))
    if not found:
        raise Refusal("month_to_come", month=months[0])
    return found


def spans_of(month: str) -> tuple[str, str]:
    """The quarter and the year that a month lies in."""
    year, number = month.split("-")
    quarter = (int(number) - 1) // MONTHS_A_QUARTER + 1
    return f"{year}-Q{quarter}", year


def _from(year: int, first: int, count: int) -> tuple[str, ...]:
    return tuple(f"{year}-{month:02}" for month in range(first, first + count))
