"""What workbooks are made of: values, tables and formulas, before anything is written.

Nothing here needs the library that writes workbooks: it takes its time to load, and the
window shows the month's lines without it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, tzinfo

WIDEST_COLUMN = 30


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula of ours, without its equals sign."""

    text: str
    is_decimal: bool = False
    """Whether its result is shown with decimals, as the number beside it."""


@dataclass(frozen=True, slots=True)
class Attention:
    """Words that should not be overlooked: bold on light grey, so that grey print shows it."""

    text: str


Value = str | int | float | bool | date | datetime | Formula | Attention | None


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
