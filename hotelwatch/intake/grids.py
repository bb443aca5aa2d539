"""A file's sheets as grids of cells, whatever kind of file it is; what is too big is refused."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.cells import Cell

MOST_UNZIPPED = 400_000_000
"""Bytes a workbook may unfold to."""
MOST_ROWS = 300_000
MOST_COLUMNS = 400
MOST_CELLS = 12_000_000


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
