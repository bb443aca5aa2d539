"""What workbooks are made of: values, tables and formulas, before anything is written.

Nothing here needs the library that writes workbooks: it takes its time to load, and the
window shows the month's lines without it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, tzinfo

WIDEST_COLUMN = 30
ROW = "{row}"
"""Stands in a formula for the number of the sheet row in which it comes to stand."""


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula of ours, without its equals sign, and what the program says it comes to.

    The result is kept in the file, so that readers which compute nothing show it;
    spreadsheet programs compute it anew on opening.
    """

    text: str
    result: int | float | str = 0
    is_decimal: bool = False
    """Whether its result is shown with decimals, as the number beside it."""


@dataclass(frozen=True, slots=True)
class Attention:
    """Words that should not be overlooked: bold on light grey, so that grey print shows it."""

    text: str


@dataclass(frozen=True, slots=True)
class OfMonth:
    """A month as a column shows it: its first day, of which year and month are seen."""

    first_on: date


Value = str | int | float | bool | date | datetime | Formula | Attention | OfMonth | None


@dataclass(frozen=True, slots=True)
class Frame:
    """What every sheet of a workbook bears: hotel, subject, paper, clock."""

    hotel: str
    subject: str
    """What the workbook is about, as "January 2026"."""
    paper: str
    """A4 or Letter."""
    zone: tzinfo
    zone_name: str
    program: str


@dataclass(frozen=True, slots=True)
class Listing:
    """A table to be written: a name unique in the file, headings and rows."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]
    widest: int = WIDEST_COLUMN
    """Characters after which a column wraps."""
    names: tuple[tuple[str, int, int], ...] = ()
    """Names that formulas may use: each with the row and the column of its cell, from 0."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Sentences, each wrapped over some columns of these widths, in characters."""

    texts: tuple[str, ...]
    widths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class BigNumber:
    """A number that one reads first, with what it counts."""

    label: str
    formula: Formula


@dataclass(frozen=True, slots=True)
class Chart:
    """Bars over rows of a table of the same file."""

    title: str
    table: str
    rows: tuple[int, int]
    """The first row and the last, from 0."""
    names: int
    """The column of the bars' names, from 0."""
    series: tuple[int, ...]
    """Columns of their lengths."""
    upright: bool = False


@dataclass(frozen=True, slots=True)
class FrontPage:
    """A page that is read in a minute."""

    sentences: tuple[str, ...]
    numbers: tuple[BigNumber, ...]
    asks_title: str
    asks: tuple[str, ...]
    """What needs a decision."""
    charts: tuple[Chart, ...]
    signatures: tuple[str, ...]
    """Whose line it is, left of the line."""


Part = Listing | Lines | FrontPage


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its title, what it says of itself, and what stands on it."""

    title: str
    parts: tuple[Part, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Book:
    """A workbook before it is written."""

    frame: Frame
    made_at: datetime
    sheets: tuple[Sheet, ...]
    is_protected: bool = False
    """Whether it is kept from being changed by accident; there is no password."""


def column_of(table: str, heading: str) -> str:
    """A table's column as a formula names it."""
    escaped = re.sub(r"(['\[\]#@])", r"'\1", heading)
    return f"{table}[{escaped}]"


def text_in_formula(text: str) -> str:
    """A text as a formula quotes it."""
    return '"' + text.replace('"', '""') + '"'


def criterion(text: str) -> str:
    """A text as COUNTIF looks for it: itself, without wildcards or comparisons."""
    escaped = re.sub(r"([~*?])", r"~\1", text)
    return text_in_formula(f"={escaped}" if text.startswith(("=", "<", ">")) else escaped)
