"""A sheet of a workbook as it is written: safe text, real dates, print set-up.

Text never turns into a formula, a room number never into a number and a moment
always shows the hotel's own clock. Formulas come only from ``Formula``, which no
one fills with text that a person typed.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from pathlib import Path

from xlsxwriter import Workbook
from xlsxwriter.utility import xl_range_abs

from hotelwatch.papers.listings import (
    ROW,
    Attention,
    Book,
    Formula,
    OfMonth,
    Sheet,
    Value,
)
from hotelwatch.papers.styles import Look, Looks
from hotelwatch.wording.language import _, is_right_to_left

LONGEST_TEXT = 32_767
LONGEST_MARKED_AS_TEXT = 255
LONGEST_NAME_IN_FOOTER = 60
LONGEST_TITLE = 31
NARROWEST_COLUMN = 5
LINE_HEIGHT = 15.0
TITLE_HEIGHT, TITLE_IS_WIDER = 21.0, 1.4
"""Bold letters of 14 points beside those of 11 that widths are counted in."""
TALLEST_ROW = 405.0
A4, LETTER = 9, 1
"""Paper sizes. Source: ECMA-376 part 1, 18.3.1.63, pageSetup."""
FIRST_MOMENT, ONE_DAY = datetime(1899, 12, 30), timedelta(days=1)
FIRST_DAY = FIRST_MOMENT.date()
"""Day 0 of a workbook's days, from March 1900 on. Source: ECMA-376 part 1, 18.17.4.1."""
MAY_STILL = {"autofilter": True, "sort": True, "format_columns": True, "format_rows": True}
"""What a protected sheet lets its reader do."""

_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_NOT_IN_TITLES = re.compile(r"[\\*?:/\[\]]")
_LOOKS_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
PADDING = 3
ROOM_FOR_OTHER_LETTERS = 0.88
"""Share of a column's width that is counted on: where a font is missing another is wider."""


class Writing:
    """A workbook that is being written."""

    def __init__(self, book: Book, path: Path) -> None:
        """With its properties; spreadsheet programs compute it on opening."""
        self.frame = book.frame
        self.is_protected = book.is_protected
        self.file = Workbook(str(path))
        stamp = book.made_at.astimezone(UTC).replace(tzinfo=None, microsecond=0)
        self.file.set_properties(
            {
                "title": safe_text(f"{book.frame.hotel} – {book.frame.subject}"),
                "author": safe_text(book.frame.program),
                "created": stamp,
            }
        )
        self.looks = Looks(self.file)
        self.yes_no = (_("no"), _("yes"))
        self.places: dict[str, tuple[str, int]] = {}
        """Where each table stands: its sheet, and the row of its heading from 0."""
        self.filled: dict[str, int] = {}
        """How many rows of each sheet hold anything."""
        self._names: set[str] = set()

    def take_name(self, name: str) -> None:
        """Take a name for a table or a cell; ValueError where the file has it already."""
        if name.casefold() in self._names:
            raise ValueError(name)
        self._names.add(name.casefold())


class Page:
    """A sheet that is being written, from top to bottom."""

    def __init__(self, writing: Writing, sheet: Sheet) -> None:
        """With its heading, notes and print set-up."""
        self.writing = writing
        self.frame = writing.frame
        self.title = sheet_title(sheet.title)
        self.sheet = writing.file.add_worksheet(self.title)
        self.next_row = 0
        self.widths: dict[int, float] = {}
        self.rows: set[int] = set()
        _set_up_page(self)
        self.heading = f"{sheet.title} – {self.frame.subject}"
        self.notes = list(enumerate((self.frame.hotel, *sheet.notes), 1))
        """Lines above what the sheet holds, by their rows."""
        self.text(0, 0, self.heading, Look.TITLE)
        for row, note in self.notes:
            self.text(row, 0, note, Look.NOTE)
        self.sheet.set_row(0, TITLE_HEIGHT)
        self.next_row = len(sheet.notes) + 2

    def text(self, row: int, column: int, text: str, look: Look) -> None:
        """Write a text as a text, whatever it begins with."""
        clean, quoted = _prepared(text)
        how = self.writing.looks.of(look, quoted=True) if quoted else self.writing.looks.of(look)
        if clean:
            self.sheet.write_string(row, column, clean, how)
            self.rows.add(row)

    def formula(self, row: int, column: int, formula: Formula, look: Look) -> None:
        """Write a formula with what the program says it comes to."""
        text = "=" + formula.text.replace(ROW, str(row + 1))
        self.sheet.write_formula(row, column, text, self.writing.looks.of(look), formula.result)
        self.rows.add(row)

    def sentence(self, row: int, text: str, *, columns: int, look: Look = Look.SENTENCE) -> None:
        """Write a text over the first columns, as high as it needs."""
        self.text(row, 0, text, look)
        if columns > 1 and text:
            how = self.writing.looks.of(look)
            self.sheet.merge_range(row, 0, row, columns - 1, "", how)
            self.text(row, 0, text, look)
        width = sum(self.widths.get(column, 8.0) for column in range(columns))
        self.sheet.set_row(row, height_of(lines_in(text, width)))

    def wrap_notes(self, columns: int) -> None:
        """Break the lines above that would run out over what is printed of these columns."""
        width = sum(self.widths[column] for column in range(columns))
        lines = lines_in(self.heading, width / TITLE_IS_WIDER)
        if lines > 1:
            self.sentence(0, self.heading, columns=columns, look=Look.LONG_TITLE)
            self.sheet.set_row(0, lines * TITLE_HEIGHT)
        for row, note in self.notes:
            if lines_in(note, width) > 1:
                self.sentence(row, note, columns=columns)

    def set_widths(self, widths: Sequence[float]) -> None:
        """Give the first columns these widths; a table written later fits them anew."""
        for column, width in enumerate(widths):
            self.widths[column] = width
            self.sheet.set_column(column, column, width)

    def put_row(self, row: int, values: Sequence[Value]) -> None:
        """Write a row's values; plain texts, which most are, by a shorter way."""
        how, write = self.writing.looks.of(Look.TEXT), self.sheet.write_string
        is_filled = False
        for column, value in enumerate(values):
            if type(value) is str and len(value) <= LONGEST_MARKED_AS_TEXT:
                clean, quoted = _prepared(value)
                if quoted:
                    self.put(row, column, value)
                elif clean:
                    write(row, column, clean, how)
                    is_filled = True
            elif value is not None:
                self.put(row, column, value)
        if is_filled:
            self.rows.add(row)

    def put(self, row: int, column: int, value: Value) -> None:
        """Write one value as what it is."""
        match value:
            case None:
                pass
            case str():
                is_long = len(value) > LONGEST_MARKED_AS_TEXT
                self.text(row, column, value, Look.LONG_TEXT if is_long else Look.TEXT)
            case Attention():
                self.text(row, column, value.text, Look.ATTENTION)
            case bool():
                self.text(row, column, self.writing.yes_no[value], Look.TEXT)
            case Formula():
                look = Look.LONG_TEXT if isinstance(value.result, str) else Look.COUNT
                self.formula(row, column, value, Look.DECIMAL if value.is_decimal else look)
            case int() | float():
                look = Look.COUNT if isinstance(value, int) else Look.DECIMAL
                self.sheet.write_number(row, column, value, self.writing.looks.of(look))
                self.rows.add(row)
            case _:
                self._put_day(row, column, value)

    def _put_day(self, row: int, column: int, value: date | OfMonth) -> None:
        look = Look.DAY
        shown: date = value.first_on if isinstance(value, OfMonth) else value
        if isinstance(shown, datetime):
            look = Look.MOMENT
            shown = shown.astimezone(self.frame.zone).replace(tzinfo=None, microsecond=0)
        elif isinstance(value, OfMonth):
            look = Look.MONTH
        serial = (shown - (FIRST_MOMENT if isinstance(shown, datetime) else FIRST_DAY)) / ONE_DAY
        self.sheet.write_number(row, column, serial, self.writing.looks.of(look))
        self.rows.add(row)


def rows_range(page: Page, table: str, rows: tuple[int, int], column: int) -> str:
    """A part of a table's column as a chart names it."""
    title, top = page.writing.places[table]
    first, last = rows
    cells = xl_range_abs(top + 1 + first, column, top + 1 + last, column)
    return f"={quoted_title(title)}!{cells}"


def safe_text(text: str) -> str:
    """Text as a workbook can hold it: what XML can't hold is shown as a replacement sign."""
    return _NOT_IN_XML.sub("\N{REPLACEMENT CHARACTER}", text)[:LONGEST_TEXT]


@lru_cache(maxsize=50_000)
def _prepared(text: str) -> tuple[str, bool]:
    """A text as it is written, and whether it begins like a formula. Most come many times."""
    clean = safe_text(text)
    return clean, clean.startswith(_LOOKS_LIKE_A_FORMULA)


def sheet_title(title: str) -> str:
    """A title as a sheet may bear it: at most 31 characters, none that the format forbids."""
    return _NOT_IN_TITLES.sub(" ", safe_text(title))[:LONGEST_TITLE].strip(" '")


def quoted_title(title: str) -> str:
    """A sheet's title as a formula names it."""
    return "'" + title.replace("'", "''") + "'"


@lru_cache(maxsize=50_000)
def lines_in(text: str, width: float) -> int:
    """Lines that a text takes in a column of that width."""
    usable = most_in(width)
    if len(text) <= usable and "\n" not in text:
        return 1
    return sum(len(textwrap.wrap(part, usable)) or 1 for part in text.split("\n"))


def most_in(width: float) -> int:
    """How many letters a line of a column of that width takes."""
    return max(1, int((width - PADDING) * ROOM_FOR_OTHER_LETTERS))


def height_of(lines: int) -> float:
    """How high a row of so many lines is, in points."""
    return min(TALLEST_ROW, LINE_HEIGHT * lines + 1)


def _set_up_page(page: Page) -> None:
    sheet, frame = page.sheet, page.frame
    sheet.set_landscape()
    sheet.set_paper(LETTER if frame.paper == "Letter" else A4)
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
    sheet.hide_gridlines(2)
    if is_right_to_left():
        sheet.right_to_left()
    hotel = safe_text(frame.hotel)[:LONGEST_NAME_IN_FOOTER]
    told = _("Page {page} of {pages}").format(page="&P", pages="&N")
    left = _for_footer(f"{hotel} – {frame.subject}")
    sheet.set_footer(f"&L{left}&C{_for_footer(page.title)}&R{told}", {"margin": 0.3})


def _for_footer(text: str) -> str:
    return text.replace("&", "&&")
