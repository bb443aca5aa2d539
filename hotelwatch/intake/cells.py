"""Cells as they come: text tidied, numbers as text, dates as dates, marks for what is no value."""

from __future__ import annotations

import math
import re
import unicodedata
from datetime import date, datetime, time, timedelta
from enum import StrEnum

_PADDED = re.compile(r'((?:"[^"]*"|\\.)*)(0+)((?:"[^"]*"|\\.)*)')
_INVISIBLE = "Cf"


class Mark(StrEnum):
    """Why a cell that holds something has no value."""

    NO_VALUE = "no_value"
    """A formula whose result was never computed."""
    ERROR = "error"
    """A formula whose result is an error."""


Cell = str | date | Mark
"""Text, a date, or a mark; an empty cell is an empty text."""


def tidy(text: str) -> str:
    """The text in one spelling (Unicode NFKC), without spaces around or invisible signs.

    Line breaks stay, since they part things; other runs of spaces become one.
    """
    if not text.isascii():
        text = unicodedata.normalize("NFKC", text)
        text = "".join(sign for sign in text if unicodedata.category(sign) != _INVISIBLE)
    if not any(sign in text for sign in "\n\r\t\v\f") and "  " not in text:
        return text.strip()
    lines = (" ".join(line.split()) for line in text.splitlines())
    return "\n".join(line for line in lines if line)


def number_text(value: float, number_format: str = "") -> str:
    """A number as its cell shows it: 103.0 is "103", and 101 formatted 0000 is "0101"."""
    if not math.isfinite(value):
        return str(value)
    if value != int(value):
        return f"{value:.12g}"
    whole = int(value)
    padded = _PADDED.fullmatch(number_format.split(";")[0])
    if padded is None or whole < 0:
        return str(whole)
    before, zeros, after = padded.groups()
    return _literal(before) + str(whole).zfill(len(zeros)) + _literal(after)


def _literal(part: str) -> str:
    return re.sub(r'"([^"]*)"|\\(.)', lambda m: m.group(1) or m.group(2) or "", part)


def cell_of(value: object, number_format: str = "") -> Cell:
    """A value from a workbook reader as a Cell; a moment becomes its day."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return number_text(value, number_format)
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, time):
        return value.isoformat("minutes")
    if isinstance(value, timedelta):
        return str(value)
    return tidy(str(value))


def shown(cell: Cell) -> str:
    """A cell as text for a preview or a message."""
    if isinstance(cell, Mark):
        return ""
    return cell if isinstance(cell, str) else cell.isoformat()


def fold(text: str) -> str:
    """The text as words compare it: case, dots, brackets and line breaks make no difference."""
    text = unicodedata.normalize("NFKC", text).casefold().replace("(s)", "s")
    return " ".join(re.sub(r"[\W_]+", " ", text).split())


def as_number(text: str) -> float | None:
    """The number a text says, with a decimal point or a decimal comma; None if it says none."""
    if re.fullmatch(r"[+-]?\d+(?:[.,]\d+)?", text, re.ASCII) is None:
        return None
    return float(text.replace(",", "."))
