"""A file's sheets as grids of cells, whatever kind of file it is; what is too big is refused."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import IO

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.cells import Cell

MOST_UNZIPPED = 400_000_000
"""Bytes a workbook may unfold to."""
MOST_ROWS = 300_000
MOST_COLUMNS = 400
MOST_CELLS = 12_000_000
PIECE_BYTES = 1_000_000
LONGEST_TAG = 100_000


class FileCode(StrEnum):
    """Why a file can't be read at all: the codes of its Refusal."""

    NO_SUCH_FILE = "no_such_table_file"
    """file"""
    NOT_READABLE = "table_file_not_readable"
    """file, why"""
    UNKNOWN = "unknown_table_file"
    """file"""
    DAMAGED = "damaged_table_file"
    """file"""
    ENCRYPTED = "encrypted_table_file"
    """file"""
    TOO_BIG = "table_file_too_big"
    """file, limit (megabytes, unzipped)"""
    TOO_MANY_ROWS = "table_too_many_rows"
    """file, sheet, limit"""
    TOO_MANY_COLUMNS = "table_too_many_columns"
    """file, sheet, limit"""
    EMPTY = "empty_table_file"
    """file"""
    NO_SUCH_SHEET = "no_such_sheet"
    """file, sheet, sheets"""
    UNCLOSED_QUOTE = "unclosed_quote"
    """file, row"""


Range = tuple[int, int, int, int]
"""First row, first column, last row, last column; 1-based, all included."""


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet. Rows and columns are counted from 1, empty ones are left out."""

    sheet: str
    """Empty for a file without sheets."""
    rows: dict[int, dict[int, Cell]]
    merged: tuple[Range, ...] = ()


def gathered(
    file: str, sheet: str, rows: Iterable[tuple[int, dict[int, Cell]]], merged: Iterable[Range] = ()
) -> Grid:
    """The grid of these rows, merged ranges filled; Refusal where there are too many."""
    kept: dict[int, dict[int, Cell]] = {}
    for number, cells in rows:
        full = {column: cell for column, cell in cells.items() if cell != ""}
        if not full:
            continue
        if max(full) > MOST_COLUMNS:
            raise too_many(FileCode.TOO_MANY_COLUMNS, file, sheet, MOST_COLUMNS)
        kept[number] = full
        if len(kept) > MOST_ROWS:
            raise too_many(FileCode.TOO_MANY_ROWS, file, sheet, MOST_ROWS)
    ranges = tuple(sorted(merged))
    _fill(kept, ranges)
    return Grid(sheet, kept, ranges)


def counted_rows(file: str, xml: IO[bytes], *, row: bytes, content: bytes) -> Iterator[bytes]:
    """A sheet's text in pieces; Refusal as soon as too many of its rows hold anything.

    ``row`` begins a row there, and ``content`` stands in none that is empty.
    """
    signs = re.compile(re.escape(row) + rb"\b|" + re.escape(content))
    rows, is_empty, left = 0, False, b""
    while piece := xml.read(PIECE_BYTES):
        whole = left + piece
        # What may be cut in two at the end is looked at with the next piece.
        cut = whole.rfind(b"<", max(0, len(whole) - LONGEST_TAG)) if len(whole) > 1 else -1
        whole, left = (whole[:cut], whole[cut:]) if cut > 0 else (whole, b"")
        for sign in signs.findall(whole):
            if sign == row:
                is_empty = True
            elif is_empty:
                rows, is_empty = rows + 1, False
        if rows > MOST_ROWS:
            raise too_many(FileCode.TOO_MANY_ROWS, file, "", MOST_ROWS)
        yield whole
    yield left


def too_many(code: FileCode, file: str, sheet: str, limit: int) -> Refusal:
    """The Refusal of a sheet with too many rows or columns."""
    return Refusal(code, file=file, sheet=sheet, limit=str(limit))


def _fill(rows: dict[int, dict[int, Cell]], ranges: tuple[Range, ...]) -> None:
    """Write a merged range's value into each of its cells that stands in a row with content."""
    last = max(rows, default=0)
    for top, left, bottom, right in ranges:
        value = rows.get(top, {}).get(left)
        if value is None:
            continue
        for number in range(top, min(bottom, last) + 1):
            if number in rows:
                columns = range(left, min(right, MOST_COLUMNS) + 1)
                rows[number] |= dict.fromkeys(columns, value)


def guarded(file: str, read: Callable[[], list[Grid]]) -> list[Grid]:
    """What a library read; whatever it stumbles over becomes "this file is damaged"."""
    try:
        return read()
    except Refusal:
        raise
    except (KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:
        # Readers of foreign files fail in any way: missing parts, bad numbers, broken
        # XML; the compiled one even with an error outside Exception.
        raise Refusal(FileCode.DAMAGED, file=file) from error
