"""A table in a file: its headings found, its rows as a person counts them."""

from __future__ import annotations

import hashlib
import zipfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.cells import Cell, fold, shown
from hotelwatch.intake.csv_grid import csv_grid
from hotelwatch.intake.grids import MOST_UNZIPPED, FileCode, Grid, guarded
from hotelwatch.intake.ods_grid import ods_grids

HEADING_WITHIN = 60
"""Rows from the first with content among which the headings are looked for."""
LEAST_KNOWN = 2
"""Known headings that make a row the row of headings."""
_ZIP = b"PK"
_COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_LOCKED_PART = "EncryptedPackage".encode("utf-16-le")
PREVIEW_ROWS = 8
"""First rows that are shown before anything is loaded."""


@dataclass(frozen=True, slots=True)
class TablePlace:
    """Where in a file the table stands, if a person pointed to it."""

    sheet: str = ""
    heading_row: int = 0
    """0: found by its known headings."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row below the headings."""

    number: int
    """1-based, as a person counts it in the file."""
    cells: Mapping[str, Cell]
    """By heading; empty cells are left out."""

    def cell(self, heading: str) -> Cell:
        """The cell below a heading; empty text where there is none."""
        return self.cells.get(heading, "")


@dataclass(frozen=True, slots=True)
class Table:
    """A sheet's headings and the rows below them."""

    file: str
    sheet: str
    """Empty for a file without sheets."""
    sheets: tuple[str, ...]
    heading_row: int
    """0 where no row of headings was found; the headings are then column letters."""
    headings: tuple[str, ...]
    """Each once, in the order of the columns."""
    under: Mapping[str, str]
    """The lower part of a heading that stands in two rows, by the whole heading."""
    rows: tuple[Row, ...]
    sha256: str
    """Of the file, as it was read."""

    @property
    def where(self) -> str:
        """File and sheet, for a Problem."""
        return f"{self.file}: {self.sheet}" if self.sheet else self.file

    @property
    def preview(self) -> tuple[tuple[str, ...], ...]:
        """Its first rows as text, a cell for each heading."""
        return tuple(
            tuple(shown(row.cell(heading)) for heading in self.headings)
            for row in self.rows[:PREVIEW_ROWS]
        )


def read_table(
    path: Path,
    is_known: Callable[[str], bool],
    *,
    at: TablePlace | None = None,
    wants: Callable[[str], bool] = bool,
) -> Table:
    """The table of an xlsx, ods, csv (or older Excel) file.

    ``is_known`` tells whether a column may be headed so; the first row with two
    known headings is the row of headings. Columns whose heading ``wants`` rejects
    are left out of every row. Raises Refusal with a FileCode.
    """
    at = at or TablePlace()
    grids = read_grids(path, is_known)
    grid = _chosen(path.name, grids, is_known, sheet=at.sheet)
    row = at.heading_row or heading_row_of(grid, is_known)
    columns, under, first = _headings(grid, row)
    wanted = {column: heading for column, heading in columns.items() if wants(heading)}
    return Table(
        file=path.name,
        sheet=grid.sheet,
        sheets=tuple(g.sheet for g in grids if g.sheet),
        heading_row=row,
        headings=tuple(columns.values()),
        under=under,
        rows=tuple(_rows(grid, first, wanted, columns)),
        sha256=_digest(path),
    )


def read_grids(path: Path, is_known: Callable[[str], bool]) -> list[Grid]:
    """Every sheet with content; the kind of file is told by what is in it, not by its name."""
    start, is_locked = _start_of(path)
    name = path.name
    if start.startswith(_COMPOUND):
        if is_locked:
            raise Refusal(FileCode.ENCRYPTED, file=name)
        # Brought in when it is asked for: it takes its time to load.
        from hotelwatch.intake.xlsx_grid import calamine_grids

        grids = guarded(name, lambda: calamine_grids(path))
    elif start.startswith(_ZIP):
        reader = _reader_of_zip(path)
        grids = guarded(name, lambda: reader(path))
    else:
        grids = guarded(name, lambda: [csv_grid(name, path.read_bytes(), is_known)])
    grids = [grid for grid in grids if grid.rows]
    if not grids:
        raise Refusal(FileCode.EMPTY, file=name)
    return grids


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _start_of(path: Path) -> tuple[bytes, bool]:
    """The first bytes, and whether an old container holds a locked workbook."""
    try:
        if path.stat().st_size > MOST_UNZIPPED:
            raise _too_big(path.name)
        with path.open("rb") as file:
            start = file.read(len(_COMPOUND))
            is_locked = start == _COMPOUND and _LOCKED_PART in file.read()
    except FileNotFoundError as error:
        raise Refusal(FileCode.NO_SUCH_FILE, file=path.name) from error
    except OSError as error:
        raise Refusal(FileCode.NOT_READABLE, file=path.name, why=str(error.strerror)) from error
    return start, is_locked


def _too_big(file: str) -> Refusal:
    return Refusal(FileCode.TOO_BIG, file=file, limit=str(MOST_UNZIPPED // 1_000_000))


def _reader_of_zip(path: Path) -> Callable[[Path], list[Grid]]:
    from hotelwatch.intake.xlsx_grid import calamine_grids, xlsx_grids

    try:
        with zipfile.ZipFile(path) as archive:
            if sum(part.file_size for part in archive.infolist()) > MOST_UNZIPPED:
                raise _too_big(path.name)
            names = set(archive.namelist())
            if archive.testzip() is not None:
                raise Refusal(FileCode.DAMAGED, file=path.name)
    except Refusal:
        raise
    except RuntimeError as error:
        raise Refusal(FileCode.ENCRYPTED, file=path.name) from error
    except Exception as error:
        raise Refusal(FileCode.DAMAGED, file=path.name) from error
    if "xl/workbook.xml" in names:
        return xlsx_grids
    if "xl/workbook.bin" in names:
        return calamine_grids
    if "content.xml" in names:
        return ods_grids
    raise Refusal(FileCode.UNKNOWN, file=path.name)


# --- headings ----------------------------------------------------------------------


def _chosen(file: str, grids: list[Grid], is_known: Callable[[str], bool], *, sheet: str) -> Grid:
    if sheet:
        named = next((grid for grid in grids if grid.sheet == sheet), None)
        if named is None:
            sheets = ", ".join(grid.sheet for grid in grids)
            raise Refusal(FileCode.NO_SUCH_SHEET, file=file, sheet=sheet, sheets=sheets)
        return named
    return next((grid for grid in grids if heading_row_of(grid, is_known)), grids[0])


def heading_row_of(grid: Grid, is_known: Callable[[str], bool]) -> int:
    """The first row with at least two different known headings; 0 if there is none."""
    for number in sorted(grid.rows)[:HEADING_WITHIN]:
        texts = {fold(cell) for cell in grid.rows[number].values() if isinstance(cell, str)}
        if sum(1 for text in texts if is_known(text)) >= LEAST_KNOWN:
            return number
    return 0


def headings_of(grid: Grid, row: int) -> tuple[str, ...]:
    """The headings of a row, and the lower parts of those that stand in two rows."""
    columns, under, _first = _headings(grid, row)
    return (*columns.values(), *under.values())


def _headings(grid: Grid, row: int) -> tuple[dict[int, str], dict[str, str], int]:
    """Headings by column, the lower parts of those in two rows, and the first row below."""
    last = max(max(cells) for cells in grid.rows.values())
    top = grid.rows.get(row, {})
    below = _second_row(grid, row)
    used = {column for number, cells in grid.rows.items() if number > row for column in cells}
    columns: dict[int, str] = {}
    under: dict[str, str] = {}
    taken: set[str] = set()
    for column in range(1, last + 1):
        upper, lower = (_one_line(cells.get(column, "")) for cells in (top, below))
        whole = f"{upper} {lower}" if upper and lower and upper != lower else upper or lower
        if not whole and column not in used:
            continue
        heading = _unlike(whole or letter(column), taken)
        columns[column] = heading
        if lower and upper != lower:
            under[heading] = lower
    return columns, under, row + (2 if below else 1)


def _second_row(grid: Grid, row: int) -> dict[int, Cell]:
    """The next row, if it holds what stands under merged headings; else nothing.

    Below a heading of its own row only, such a row is empty or merged with it.
    """
    wide = {
        column
        for top, left, bottom, right in grid.merged
        if top == row and bottom == row and right > left
        for column in range(left, right + 1)
    }
    tall = {
        column
        for top, left, bottom, right in grid.merged
        if top <= row < bottom
        for column in range(left, right + 1)
    }
    below = grid.rows.get(row + 1, {})
    lower = {column for column in below if column not in tall}
    return below if lower & wide and lower <= wide | set(_unheaded(grid, row)) else {}


def _unheaded(grid: Grid, row: int) -> Iterator[int]:
    top = grid.rows.get(row, {})
    return (column for column in grid.rows.get(row + 1, {}) if column not in top)


def _one_line(cell: Cell) -> str:
    return " ".join(shown(cell).split())


def _unlike(heading: str, taken: set[str]) -> str:
    """The heading, numbered where the same one stood before."""
    name, times = heading, 1
    while name in taken:
        times += 1
        name = f"{heading} ({times})"
    taken.add(name)
    return name


def letter(column: int) -> str:
    """A column's letters, as spreadsheets name it: 1 is A, 27 is AA."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _rows(
    grid: Grid, first: int, wanted: Mapping[int, str], columns: Mapping[int, str]
) -> Iterator[Row]:
    """Rows from ``first`` on; headings that a printed list repeats are no row."""
    for number in sorted(grid.rows):
        if number < first:
            continue
        cells = grid.rows[number]
        if all(columns.get(column) == cell for column, cell in cells.items()):
            continue
        yield Row(number, {wanted[c]: cell for c, cell in cells.items() if c in wanted})
