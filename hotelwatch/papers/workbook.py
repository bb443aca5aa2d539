"""Workbooks in our own plain style, with tables that print well.

The same book is the same file, byte for byte: nothing in it comes from the clock, the
machine or chance.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from math import ceil
from pathlib import Path
from textwrap import wrap

from xlsxwriter.exceptions import FileCreateError
from xlsxwriter.utility import xl_rowcol_to_cell

from hotelwatch.core.progress import Progress, silent
from hotelwatch.papers.front_sheet import add_charts, write_front
from hotelwatch.papers.listings import (
    Attention,
    Book,
    Formula,
    FrontPage,
    Lines,
    Listing,
    OfMonth,
    Value,
)
from hotelwatch.papers.sheets import (
    MAY_STILL,
    NARROWEST_COLUMN,
    PADDING,
    Page,
    Writing,
    height_of,
    lines_in,
    quoted_title,
)
from hotelwatch.papers.styles import DATE_FORMAT, MOMENT_FORMAT, Look
from hotelwatch.wording.language import _

MOST_ACROSS = 210
"""Characters across a page in landscape that can still be read: about seven points high."""
KEY_COLUMNS = 3
"""Columns that are printed again beside those of a further page: they tell the row."""
LOWEST_FROZEN = 12
"""A heading farther down follows sentences: held in place it would hide half a window."""


def save_book(book: Book, path: Path, progress: Progress = silent) -> Mapping[str, int]:
    """Write a workbook; how many rows of each sheet hold anything. Errors: OSError."""
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
        said = _("Nothing to list here.")
        page.text(page.next_row, 0, said, Look.NOTE)
        page.notes.append((page.next_row, said))
        page.next_row += 1
    top = page.next_row + 1
    blank: tuple[Value, ...] = (None,) * len(listing.headings)
    rows = listing.rows or (blank,)
    _fit(page, listing, top)
    last = top + len(rows)
    _add_table(page, listing, top, last)
    for number, row in enumerate(rows, top + 1):
        page.put_row(number, row)
    for name, row_no, column in listing.names:
        page.writing.take_name(name)
        cell = xl_rowcol_to_cell(top + 1 + row_no, column, row_abs=True, col_abs=True)
        page.writing.file.define_name(name, f"={quoted_title(page.title)}!{cell}")
    if top <= LOWEST_FROZEN:
        page.sheet.freeze_panes(top + 1, 0)
    page.sheet.repeat_rows(top)
    _set_up_print(page)
    page.writing.places[listing.name] = (page.title, top)
    page.next_row = last + 1


def _set_up_print(page: Page) -> None:
    """A table too wide for one page goes over several, its first columns on each of them."""
    pages = ceil(sum(page.widths.values()) / MOST_ACROSS)
    if pages > 1:
        page.sheet.fit_to_pages(pages, 0)
        page.sheet.repeat_columns(0, KEY_COLUMNS - 1)
        page.sheet.print_across()
    # Of a line that runs on, a further page across has what lies above the first columns alone.
    page.wrap_notes(KEY_COLUMNS if pages > 1 else len(page.widths))


def _add_table(page: Page, listing: Listing, top: int, last: int) -> None:
    page.writing.take_name(listing.name)
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
    # One rule draws the lines between rows, so that empty cells need not be written.
    line = {"type": "formula", "criteria": "=TRUE", "format": page.writing.looks.of(Look.LINE)}
    page.sheet.conditional_format(top + 1, 0, last, len(listing.headings) - 1, line)
    # The library remembers every cell of a table to find overlaps; ours can't overlap.
    page.sheet.table_cells.clear()
    page.rows.add(top)


def write_lines(page: Page, lines: Lines) -> None:
    """Write sentences below what the sheet holds."""
    page.set_widths(lines.widths)
    for text in lines.texts:
        page.sentence(page.next_row, text, columns=len(lines.widths))
        page.next_row += 1


def _fit(page: Page, listing: Listing, top: int) -> None:
    """Widths from what stands in the columns; heights given, as not every program finds them."""
    widths: list[float] = []
    for column, heading in enumerate(listing.headings):
        shown = [max(map(len, heading.split()), default=0), NARROWEST_COLUMN]
        shown += [_length_of(row[column]) for row in listing.rows]
        widths.append(min(max(shown), listing.widest) + PADDING)
    page.set_widths(widths)
    page.sheet.set_row(top, height_of(_lines_of_headings(listing.headings, widths)))
    for number, row in enumerate(listing.rows, top + 1):
        lines = _most_lines(row, widths)
        if lines > 1:
            page.sheet.set_row(number, height_of(lines))


def _lines_of_headings(headings: Sequence[str], widths: Sequence[float]) -> int:
    """As many as words take that stand whole on each line."""
    pairs = zip(headings, widths, strict=True)
    return max(len(wrap(text, max(1, int(width - PADDING)))) for text, width in pairs)


def _most_lines(row: Sequence[Value], widths: Sequence[float]) -> int:
    """Lines of a row's highest cell; what a column's width was taken from stands on one."""
    most = 1
    for value, width in zip(row, widths, strict=True):
        text = value.text if isinstance(value, Attention) else value
        if isinstance(text, str) and (len(text) > width - PADDING or "\n" in text):
            most = max(most, lines_in(text, width))
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
        case Formula():
            return _length_of(float(value.result) if value.is_decimal else value.result)
        case float():
            return len(f"{value:.2f}")
        case int():
            return len(str(value))
    return 0
