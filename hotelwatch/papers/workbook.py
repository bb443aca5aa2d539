"""Workbooks in our own plain style: safe text, real dates, tables that print well.

Text never turns into a formula, a room number never into a number and a moment
always shows the hotel's own clock. Formulas come only from ``Formula``, which no
one fills with text that a person typed. The same book is the same file, byte for byte:
nothing in it comes from the clock, the machine or chance.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from xlsxwriter import Workbook
from xlsxwriter.exceptions import FileCreateError
from xlsxwriter.utility import xl_range_abs, xl_rowcol_to_cell

from hotelwatch.core.progress import Progress, silent
from hotelwatch.papers.listings import (
    ROW,
    Attention,
    Book,
    Formula,
    FrontPage,
    Lines,
    Listing,
    OfMonth,
    Sheet,
    Value,
)
from hotelwatch.papers.styles import DATE_FORMAT, MOMENT_FORMAT, Look, Looks
from hotelwatch.wording.language import _, is_right_to_left

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

LONGEST_TEXT = 32_767
LONGEST_MARKED_AS_TEXT = 255
LONGEST_NAME_IN_FOOTER = 60
LONGEST_TITLE = 31
NARROWEST_COLUMN = 5
LINE_HEIGHT = 15.0
TALLEST_ROW = 405.0
A4, LETTER = 9, 1
"""Paper sizes. Source: ECMA-376 part 1, 18.3.1.63, pageSetup."""
MAY_STILL = {"autofilter": True, "sort": True, "format_columns": True, "format_rows": True}
"""What a protected sheet lets its reader do."""

_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_NOT_IN_TITLES = re.compile(r"[\\*?:/\[\]]")
_LOOKS_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_PADDING = 3


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
        self.places: dict[str, tuple[str, int]] = {}
        """Where each table stands: its sheet, and the row of its heading from 0."""
        self.filled: dict[str, int] = {}
        """How many rows of each sheet hold anything."""


class Page:
    """A sheet that is being written, from top to bottom."""

    def __init__(self, writing: Writing, sheet: Sheet) -> None:
        """With its heading, notes and print set-up."""
        self.writing = writing
        self.frame = writing.frame
        self.title = sheet_title(sheet.title)
        self.sheet: Worksheet = writing.file.add_worksheet(self.title)
        self.next_row = 0
        self.widths: dict[int, float] = {}
        self.rows: set[int] = set()
        _set_up_page(self)
        heading = f"{sheet.title} – {self.frame.subject}"
        for number, note in enumerate((heading, self.frame.hotel, *sheet.notes)):
            self.text(number, 0, note, Look.NOTE if number else Look.TITLE)
        self.next_row = len(sheet.notes) + 2

    def text(self, row: int, column: int, text: str, look: Look) -> None:
        """Write a text as a text, whatever it begins with."""
        clean = safe_text(text)
        quoted = clean.startswith(_LOOKS_LIKE_A_FORMULA)
        how = self.writing.looks.of(look, quoted=quoted) if quoted else self.writing.looks.of(look)
        if clean:
            self.sheet.write_string(row, column, clean, how)
            self.rows.add(row)
        else:
            self.sheet.write_blank(row, column, None, how)

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
        self.sheet.set_row(row, _height_of(_lines_in(text, width)))

    def set_widths(self, widths: Sequence[float]) -> None:
        """Give the first columns these widths; a table written later fits them anew."""
        for column, width in enumerate(widths):
            self.widths[column] = width
            self.sheet.set_column(column, column, width)

    def put(self, row: int, column: int, value: Value) -> None:
        """Write one value as what it is."""
        match value:
            case None:
                self.text(row, column, "", Look.TEXT)
            case str():
                is_long = len(value) > LONGEST_MARKED_AS_TEXT
                self.text(row, column, value, Look.LONG_TEXT if is_long else Look.TEXT)
            case Attention():
                self.text(row, column, value.text, Look.ATTENTION)
            case bool():
                self.text(row, column, _("yes") if value else _("no"), Look.TEXT)
            case Formula():
                look = Look.DECIMAL if value.is_decimal else Look.COUNT
                self.formula(row, column, value, look)
            case int() | float():
                look = Look.COUNT if isinstance(value, int) else Look.DECIMAL
                self.sheet.write_number(row, column, value, self.writing.looks.of(look))
                self.rows.add(row)
            case _:
                self._put_day(row, column, value)

    def _put_day(self, row: int, column: int, value: date | OfMonth) -> None:
        look, shown = Look.DAY, value
        if isinstance(value, datetime):
            look = Look.MOMENT
            shown = value.astimezone(self.frame.zone).replace(tzinfo=None, microsecond=0)
        elif isinstance(value, OfMonth):
            look, shown = Look.MONTH, value.first_on
        self.sheet.write_datetime(row, column, shown, self.writing.looks.of(look))
        self.rows.add(row)


def save_book(book: Book, path: Path, progress: Progress = silent) -> Mapping[str, int]:
    """Write a workbook; how many rows of each sheet hold anything. Errors: OSError."""
    from hotelwatch.papers.front_sheet import add_charts, write_front

    writing = Writing(book, path)
    fronts: list[tuple[Page, FrontPage, int]] = []
    for number, sheet in enumerate(book.sheets):
        progress(number / len(book.sheets), "writing_book")
        page = Page(writing, sheet)
        for part in sheet.parts:
            match part:
                case Listing():
                    write_listing(page, part)
                case Lines():
                    write_lines(page, part)
                case FrontPage():
                    fronts.append((page, part, write_front(page, part)))
        writing.filled[page.title] = len(page.rows)
        if book.is_protected:
            page.sheet.protect("", MAY_STILL)
    for page, front, row in fronts:
        add_charts(page, front, row)
    try:
        writing.file.close()
    except FileCreateError as failed:
        raise failed.args[0] from None
    progress(1.0, "writing_book")
    return writing.filled


def write_listing(page: Page, listing: Listing) -> None:
    """Write a table below what the sheet holds, its heading repeated on every page.

    A table must have a row, so an empty one gets a blank row; counting its filled
    cells still gives 0, and a line above the table says that there is nothing.
    """
    if len({heading.casefold() for heading in listing.headings}) != len(listing.headings):
        raise ValueError(listing.name, listing.headings)
    if not listing.rows:
        page.text(page.next_row, 0, _("Nothing to list here."), Look.NOTE)
        page.next_row += 1
    top = page.next_row + 1
    blank: tuple[Value, ...] = (None,) * len(listing.headings)
    rows = listing.rows or (blank,)
    _fit(page, listing, top)
    last = top + len(rows)
    _add_table(page, listing, top, last)
    for number, row in enumerate(rows, top + 1):
        for column, value in enumerate(row):
            page.put(number, column, value)
    for name, row_no, column in listing.names:
        cell = xl_rowcol_to_cell(top + 1 + row_no, column, row_abs=True, col_abs=True)
        page.writing.file.define_name(name, f"={_quoted(page.title)}!{cell}")
    page.sheet.freeze_panes(top + 1, 0)
    page.sheet.repeat_rows(top)
    page.writing.places[listing.name] = (page.title, top)
    page.next_row = last + 1


def _add_table(page: Page, listing: Listing, top: int, last: int) -> None:
    how = page.writing.looks.of(Look.HEADING)
    done = page.sheet.add_table(
        top,
        0,
        last,
        len(listing.headings) - 1,
        {
            "name": listing.name,
            "style": "Table Style Light 1",
            "banded_rows": False,
            "columns": [{"header": text, "header_format": how} for text in listing.headings],
        },
    )
    if done != 0:
        raise ValueError(listing.name, listing.headings)
    # The library remembers every cell of a table to find overlaps; ours can't overlap.
    page.sheet.table_cells.clear()
    page.rows.add(top)


def write_lines(page: Page, lines: Lines) -> None:
    """Write sentences below what the sheet holds."""
    page.set_widths(lines.widths)
    for text in lines.texts:
        page.sentence(page.next_row, text, columns=len(lines.widths))
        page.next_row += 1


def rows_range(page: Page, table: str, rows: tuple[int, int], column: int) -> str:
    """A part of a table's column as a chart names it."""
    title, top = page.writing.places[table]
    first, last = rows
    cells = xl_range_abs(top + 1 + first, column, top + 1 + last, column)
    return f"={_quoted(title)}!{cells}"


def safe_text(text: str) -> str:
    """Text as a workbook can hold it: what XML can't hold is shown as a replacement sign."""
    return _NOT_IN_XML.sub("\N{REPLACEMENT CHARACTER}", text)[:LONGEST_TEXT]


def sheet_title(title: str) -> str:
    """A title as a sheet may bear it: at most 31 characters, none that the format forbids."""
    return _NOT_IN_TITLES.sub(" ", safe_text(title))[:LONGEST_TITLE].strip(" '")


def _quoted(title: str) -> str:
    return "'" + title.replace("'", "''") + "'"


def _fit(page: Page, listing: Listing, top: int) -> None:
    """Widths from what stands in the columns; heights given, as not every program finds them."""
    widths: list[float] = []
    for column, heading in enumerate(listing.headings):
        shown = [max(map(len, heading.split()), default=0), NARROWEST_COLUMN]
        shown += [_length_of(row[column]) for row in listing.rows]
        widths.append(min(max(shown), listing.widest) + _PADDING)
    page.set_widths(widths)
    page.sheet.set_row(top, _height_of(_most_lines(listing.headings, widths)))
    for number, row in enumerate(listing.rows, top + 1):
        lines = _most_lines(row, widths)
        if lines > 1:
            page.sheet.set_row(number, _height_of(lines))


def _most_lines(row: Sequence[Value], widths: Sequence[float]) -> int:
    most = 1
    for value, width in zip(row, widths, strict=True):
        text = value.text if isinstance(value, Attention) else value
        if isinstance(text, str) and (len(text) > width - _PADDING or "\n" in text):
            most = max(most, _lines_in(text, width))
    return most


def _length_of(value: Value) -> int:
    match value:
        case str():
            return len(value)
        case Attention():
            return len(value.text)
        case datetime():
            return len(MOMENT_FORMAT)
        case date():
            return len(DATE_FORMAT)
        case OfMonth():
            return len("yyyy-mm")
    return 0


def _lines_in(text: str, width: float) -> int:
    """Lines that a text takes in a column of that width."""
    usable = max(1, int(width - _PADDING))
    if len(text) <= usable and "\n" not in text:
        return 1
    return sum(len(textwrap.wrap(part, usable)) or 1 for part in text.split("\n"))


def _height_of(lines: int) -> float:
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
