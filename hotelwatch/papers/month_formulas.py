"""Formulas that count over the tables of a book, for a whole table or one month of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any

from hotelwatch.core.month.page_rows import PageRows
from hotelwatch.core.month.rows import MonthFigures, MonthRows
from hotelwatch.papers.listings import Listing, OfMonth, column_of, criterion
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class Line:
    """One number of the summary and the formula that counts it again."""

    key: str
    """How formulas of the file name it."""
    name: str
    value: int | float
    formula: str
    short: str = ""
    """Its name on a chart."""


@dataclass(frozen=True, slots=True)
class Counting:
    """Formulas over a table's columns; a heading it does not have is a bug that shows."""

    table: str
    headings: tuple[str, ...]
    month: date | None = None
    """Of a table of several months, the first day of the one that counts; None: all rows."""

    def column(self, heading: str) -> str:
        """A column as a formula names it."""
        if heading not in self.headings:
            raise KeyError(self.table, heading)
        return column_of(self.table, heading)

    def filled(self, heading: str) -> str:
        """How many cells of a column hold anything."""
        if self.month is None:
            return f"COUNTA({self.column(heading)})"
        return self._counted(f'{self.column(heading)},"<>"')

    def equal(self, heading: str, text: str) -> str:
        """How many cells of a column hold this text."""
        return self._counted(f"{self.column(heading)},{criterion(text)}")

    def all_equal(self, *wanted: tuple[str, str]) -> str:
        """How many rows hold each of these texts in its column."""
        parts = (f"{self.column(heading)},{criterion(text)}" for heading, text in wanted)
        return self._counted(",".join(parts))

    def between(self, heading: str, low: int | None, high: int | None) -> str:
        """How many cells of a column hold a number from ``low`` to ``high``, both included."""
        bounds = ((">=", low), ("<=", high))
        parts = (
            f'{self.column(heading)},"{sign}{bound}"' for sign, bound in bounds if bound is not None
        )
        return self._counted(",".join(parts))

    def summed(self, heading: str) -> str:
        """The sum of a column."""
        if self.month is None:
            return f"SUM({self.column(heading)})"
        return f"SUMIFS({self.column(heading)},{self._of_month()})"

    def summed_where(self, heading: str, where: str, text: str) -> str:
        """The sum of a column over rows that hold a text in another."""
        of_month = f",{self._of_month()}" if self.month else ""
        wanted = f"{self.column(where)},{criterion(text)}"
        return f"SUMIFS({self.column(heading)},{wanted}{of_month})"

    def highest(self, heading: str) -> str:
        """The highest number of a column; 0 without any."""
        if self.month is None:
            return f"MAX({self.column(heading)})"
        is_of_month = f"({self.column(_('Month'))}={_day(self.month)})"
        return f"SUMPRODUCT(MAX({is_of_month}*{self.column(heading)}))"

    def _counted(self, conditions: str) -> str:
        of_month = f"{self._of_month()}," if self.month else ""
        return f"COUNTIFS({of_month}{conditions})"

    def _of_month(self) -> str:
        assert self.month is not None
        return f"{self.column(_('Month'))},{_day(self.month)}"


def _day(day: date) -> str:
    return f"DATE({day.year},{day.month},{day.day})"


# --- tables of one month and of several -----------------------------------------------------------

Make = Callable[[MonthFigures], Listing]


class Over:
    """Formulas over the tables that some functions make; with a month, over stacked ones."""

    def __init__(self, figures: MonthFigures, month: date | None = None) -> None:
        """For the tables of a month, or for its part of the tables of several."""
        self._bare = without_rows(figures)
        self._month = month

    def __call__(self, make: Make) -> Counting:
        """Formulas over a table."""
        listing = make(self._bare)
        more = (_("Month"),) if self._month else ()
        return Counting(listing.name, (*more, *listing.headings), self._month)


def stacked(make: Make, months: tuple[MonthFigures, ...]) -> Listing:
    """The same table of several months under one another, each row with its month."""
    listings = [make(figures) for figures in months]
    rows = tuple(
        (OfMonth(figures.account.first_on), *row)
        for figures, listing in zip(months, listings, strict=True)
        for row in listing.rows
    )
    first = listings[0]
    return Listing(first.name, (_("Month"), *first.headings), rows, first.widest)


def without_rows(figures: MonthFigures) -> MonthFigures:
    """A month without what its tables list: their headings are soon made."""
    no_rows = MonthRows(**{field.name: () for field in fields(MonthRows)})
    kept = {"in_force", "prices"}
    none: dict[str, Any] = {f.name: () for f in fields(PageRows) if f.name not in kept}
    pages = replace(figures.pages, **none)
    return replace(figures, rows=no_rows, pages=pages, place_lists=())
