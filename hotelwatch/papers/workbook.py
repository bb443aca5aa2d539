"""Workbooks in our own plain style: safe text, real dates, tables that print well.

Text never turns into a formula, a room number never into a number and a moment
always shows the hotel's own clock. Formulas come only from ``Formula``, which no
one fills with text that a person typed.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime
from typing import cast

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.header_footer import HeaderFooterItem, _HeaderFooterPart
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.table import Table, TableStyleInfo
from openpyxl.worksheet.worksheet import Worksheet

from hotelwatch.papers.listings import Attention, Formula, Frame, Listing, Value
from hotelwatch.papers.styles import DATE_FORMAT, MOMENT_FORMAT, Look, add_looks
from hotelwatch.wording.language import _

LONGEST_TEXT = 32_767
LONGEST_MARKED_AS_TEXT = 255
LONGEST_NAME_IN_FOOTER = 60
LONGEST_TITLE = 31
NARROWEST_COLUMN = 5
LINE_HEIGHT = 15.0
TALLEST_ROW = 405.0

_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_LOOKS_ESCAPED = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
_NOT_IN_TITLES = re.compile(r"[\\*?:/\[\]]")
_LOOKS_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_PADDING = 3


def new_book(frame: Frame, made_at: datetime) -> Workbook:
    """An empty workbook with its properties; spreadsheet programs compute it on opening."""
    book = Workbook()
    book.remove(book.worksheets[0])
    stamp = made_at.astimezone(UTC).replace(tzinfo=None, microsecond=0)
    book.properties.title = safe_text(f"{frame.hotel} – {frame.subject}")
    book.properties.creator = safe_text(frame.program)
    book.properties.created = stamp
    book.properties.modified = stamp
    book.calculation.fullCalcOnLoad = True
    add_looks(book)
    return book


def add_sheet(book: Workbook, frame: Frame, title: str, notes: Sequence[str] = ()) -> Worksheet:
    """A further sheet with its heading, notes and print set-up; rows follow with ``write_*``."""
    sheet: Worksheet = book.create_sheet(sheet_title(title))
    _set_up_page(sheet, frame)
    _put_text(cell_at(sheet, 1, 1), f"{title} – {frame.subject}", Look.TITLE)
    for number, note in enumerate((frame.hotel, *notes), 2):
        _put_text(cell_at(sheet, number, 1), note, Look.NOTE)
    return sheet


def write_listing(sheet: Worksheet, frame: Frame, listing: Listing) -> None:
    """Write a table below what the sheet holds, its heading repeated on every page.

    A table must have a row, so an empty one gets a blank row; counting its filled
    cells still gives 0, and a line above the table says that there is nothing.
    """
    if not listing.rows:
        _put_text(cell_at(sheet, sheet.max_row + 1, 1), _("Nothing to list here."), Look.NOTE)
    top = next_row(sheet)
    _write_headings(sheet, listing, top)
    blank: tuple[Value, ...] = (None,) * len(listing.headings)
    for number, row in enumerate(listing.rows or (blank,), top + 1):
        for column, value in enumerate(row, 1):
            put(cell_at(sheet, number, column), value, frame)
    right = get_column_letter(len(listing.headings))
    table = Table(displayName=listing.name, ref=f"A{top}:{right}{sheet.max_row}")
    table.tableStyleInfo = TableStyleInfo(name="TableStyleLight1", showRowStripes=False)
    sheet.add_table(table)
    _fit(sheet, listing, top)
    sheet.freeze_panes = f"A{top + 1}"
    sheet.print_title_rows = f"{top}:{top}"


def next_row(sheet: Worksheet) -> int:
    """The row in which the heading of a table that is not empty would come to stand."""
    return sheet.max_row + 2


def set_widths(sheet: Worksheet, *widths: float) -> None:
    """Give the first columns these widths; a table written later fits them anew."""
    for column, width in enumerate(widths, 1):
        sheet.column_dimensions[get_column_letter(column)].width = width


def write_lines(sheet: Worksheet, lines: Iterable[str], *, columns: int) -> None:
    """Write sentences below what the sheet holds, each wrapped over ``columns`` columns."""
    for line in lines:
        row = sheet.max_row + 1
        _put_text(cell_at(sheet, row, 1), line, Look.SENTENCE)
        sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=columns)
        width = sum(_width_of(sheet, column) for column in range(1, columns + 1))
        sheet.row_dimensions[row].height = _height_of(_lines_in(line, width))


def cell_at(sheet: Worksheet, row: int, column: int) -> Cell:
    """A cell that is no part of a merged one."""
    return cast("Cell", sheet.cell(row, column))


def put(cell: Cell, value: Value, frame: Frame) -> Cell:
    """Write one value as what it is; text stays text whatever it begins with."""
    match value:
        case None:
            cell.style = Look.TEXT.value
        case Formula():
            cell.value = f"={value.text}"
            cell.style = (Look.DECIMAL if value.is_decimal else Look.COUNT).value
        case Attention():
            _put_text(cell, value.text, Look.ATTENTION)
        case bool():
            _put_text(cell, _("yes") if value else _("no"), Look.TEXT)
        case datetime():
            cell.value = value.astimezone(frame.zone).replace(tzinfo=None, microsecond=0)
            cell.style = Look.MOMENT.value
        case date():
            cell.value = value
            cell.style = Look.DAY.value
        case str():
            is_long = len(value) > LONGEST_MARKED_AS_TEXT
            _put_text(cell, value, Look.LONG_TEXT if is_long else Look.TEXT)
        case float():
            cell.value = value
            cell.style = Look.DECIMAL.value
        case int():
            cell.value = value
            cell.style = Look.COUNT.value
    return cell


def safe_text(text: str) -> str:
    """Text as a workbook can hold it: what XML can't hold is shown as a replacement sign."""
    clean = _NOT_IN_XML.sub("\N{REPLACEMENT CHARACTER}", text)
    return _LOOKS_ESCAPED.sub("_x005F_", clean)[:LONGEST_TEXT]


def sheet_title(title: str) -> str:
    """A title as a sheet may bear it: at most 31 characters, none that the format forbids."""
    return _NOT_IN_TITLES.sub(" ", safe_text(title))[:LONGEST_TITLE].strip(" '")


def _put_text(cell: Cell, text: str, look: Look) -> None:
    cell.style = look.value
    clean = safe_text(text)
    if not clean:
        return
    cell.value = clean
    cell.data_type = "s"
    if clean.startswith(_LOOKS_LIKE_A_FORMULA):
        cell.quotePrefix = True


def _write_headings(sheet: Worksheet, listing: Listing, top: int) -> None:
    if len(set(listing.headings)) != len(listing.headings):
        raise ValueError(listing.name, listing.headings)
    for column, heading in enumerate(listing.headings, 1):
        _put_text(cell_at(sheet, top, column), heading, Look.HEADING)


def _fit(sheet: Worksheet, listing: Listing, top: int) -> None:
    """Widths from what stands in the columns; heights given, as not every program finds them."""
    widths: list[float] = []
    for column, heading in enumerate(listing.headings):
        shown = [max(map(len, heading.split()), default=0), NARROWEST_COLUMN]
        shown += [len(_shown(row[column])) for row in listing.rows]
        widths.append(min(max(shown), listing.widest) + _PADDING)
    set_widths(sheet, *widths)
    for number, row in enumerate((listing.headings, *listing.rows), top):
        lines = max(_lines_in(_shown(value), w) for value, w in zip(row, widths, strict=True))
        sheet.row_dimensions[number].height = _height_of(lines)


def _shown(value: Value) -> str:
    match value:
        case datetime():
            return MOMENT_FORMAT
        case date():
            return DATE_FORMAT
        case str():
            return value
        case Attention():
            return value.text
    return ""


def _lines_in(text: str, width: float) -> int:
    """Lines that a text takes in a column of that width."""
    usable = max(1, int(width - _PADDING))
    if len(text) <= usable and "\n" not in text:
        return 1
    return sum(len(textwrap.wrap(part, usable)) or 1 for part in text.split("\n"))


def _height_of(lines: int) -> float:
    return min(TALLEST_ROW, LINE_HEIGHT * lines + 1)


def _width_of(sheet: Worksheet, column: int) -> float:
    return float(sheet.column_dimensions[get_column_letter(column)].width)


def _set_up_page(sheet: Worksheet, frame: Frame) -> None:
    sheet.page_setup.orientation = "landscape"
    is_letter = frame.paper == "Letter"
    sheet.page_setup.paperSize = int(sheet.PAPERSIZE_LETTER if is_letter else sheet.PAPERSIZE_A4)
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_margins = PageMargins(
        left=0.5, right=0.5, top=0.6, bottom=0.7, header=0.3, footer=0.3
    )
    sheet.sheet_view.showGridLines = False
    hotel = safe_text(frame.hotel)[:LONGEST_NAME_IN_FOOTER]
    page = _("Page {page} of {pages}")
    sheet.oddFooter = HeaderFooterItem(
        left=_HeaderFooterPart(_for_footer(f"{hotel} – {frame.subject}")),
        center=_HeaderFooterPart(_for_footer(sheet.title)),
        right=_HeaderFooterPart(page.format(page="&P", pages="&N")),
    )


def _for_footer(text: str) -> str:
    return text.replace("&", "&&")
