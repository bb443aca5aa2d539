"""Excel workbooks as grids: formats and merged cells where the file is small enough."""

from __future__ import annotations

import re
import warnings
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import openpyxl
from openpyxl.cell.cell import Cell as SheetCell
from openpyxl.utils import column_index_from_string
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet
from python_calamine import CalamineWorkbook, SheetVisibleEnum

from hotelwatch.intake.cells import Cell, Mark, cell_of
from hotelwatch.intake.grids import (
    MOST_CELLS,
    MOST_COLUMNS,
    FileCode,
    Grid,
    counted_rows,
    gathered,
    too_many,
)

FULL_LOAD_BYTES = 4_000_000
"""Unzipped size of a sheet up to which a workbook is loaded with formats and merged cells."""
_LETTERS = re.compile(rb'<c r="([A-Z]{1,3})\d')
_ROW_NUMBER = re.compile(rb'<c r="[A-Z]{1,3}(\d{1,7})"')


def xlsx_grids(path: Path) -> list[Grid]:
    """Every visible sheet of an .xlsx file.

    Big ones are read by a faster reader that knows no number formats: there, 101
    formatted 0000 comes as "101".
    """
    with zipfile.ZipFile(path) as archive:
        sheets = [i for i in archive.infolist() if i.filename.startswith("xl/worksheets/")]
        if max((i.file_size for i in sheets), default=0) > FULL_LOAD_BYTES:
            for part in sheets:
                with archive.open(part) as xml:
                    check_extent(path.name, xml)
            return calamine_grids(path)
    return _full_grids(path)


def check_extent(file: str, xml: IO[bytes]) -> None:
    """Refuse a sheet before it is read, that would fill the memory.

    One with too many rows, or with far-off cells: the fast reader holds all of it, and
    reserves what lies between.
    """
    columns, rows = 1, 0
    for piece in counted_rows(file, xml, row=b"<row", content=b"</c>"):
        for letters in set(_LETTERS.findall(piece)):
            columns = max(columns, column_index_from_string(letters.decode()))
        rows = max(rows, max(map(int, _ROW_NUMBER.findall(piece)), default=0))
        if columns * rows > MOST_CELLS:
            raise too_many(FileCode.TOO_MANY_COLUMNS, file, "", MOST_COLUMNS)


def _full_grids(path: Path) -> list[Grid]:
    formulas = _loaded(path, data_only=False)
    grids: list[Grid] = []
    values: Workbook | None = None
    for sheet in formulas.worksheets:
        if sheet.sheet_state != "visible":
            continue
        cells = _cells_of(sheet)
        if values is None and any(cell.data_type == "f" for cell in cells):
            values = _loaded(path, data_only=True)
        computed = values[sheet.title] if values else sheet
        rows = _by_row(cells, computed)
        ranges = [(r.min_row, r.min_col, r.max_row, r.max_col) for r in sheet.merged_cells.ranges]
        grids.append(gathered(path.name, sheet.title, rows, ranges))
    return grids


def _loaded(path: Path, *, data_only: bool) -> Workbook:
    # Opened here: openpyxl leaves the file of a broken workbook open.
    with path.open("rb") as file, warnings.catch_warnings():
        # Parts that openpyxl does not keep (drawings, validations) don't matter here.
        warnings.simplefilter("ignore")
        return openpyxl.load_workbook(file, data_only=data_only)


def _cells_of(sheet: Worksheet) -> list[SheetCell]:
    # Going through rows would make every empty cell up to the farthest one.
    held = sheet._cells  # noqa: SLF001
    return [cell for _, cell in sorted(held.items()) if isinstance(cell, SheetCell)]


def _by_row(cells: list[SheetCell], computed: Worksheet) -> Iterator[tuple[int, dict[int, Cell]]]:
    rows: dict[int, dict[int, Cell]] = {}
    for cell in cells:
        rows.setdefault(cell.row, {})[cell.column] = _value(cell, computed)
    return iter(rows.items())


def _value(cell: SheetCell, computed: Worksheet) -> Cell:
    if cell.data_type == "e":
        return Mark.ERROR
    if cell.data_type != "f":
        return cell_of(cell.value, cell.number_format)
    result = computed.cell(cell.row, cell.column)
    if result.data_type == "e":
        return Mark.ERROR
    return Mark.NO_VALUE if result.value is None else cell_of(result.value, cell.number_format)


def calamine_grids(path: Path) -> list[Grid]:
    """Every visible sheet of a workbook of any age, by the compiled reader."""
    grids: list[Grid] = []
    with CalamineWorkbook.from_path(path) as book:
        for described in book.sheets_metadata:
            if described.visible != SheetVisibleEnum.Visible:
                continue
            sheet = book.get_sheet_by_name(described.name)
            rows = sheet.to_python(skip_empty_area=False)
            ranges = [
                (top + 1, left + 1, bottom + 1, right + 1)
                for (top, left), (bottom, right) in sheet.merged_cell_ranges or ()
            ]
            numbered = (
                (number, {column: cell_of(value) for column, value in enumerate(row, 1)})
                for number, row in enumerate(rows, 1)
            )
            grids.append(gathered(path.name, described.name, numbered, ranges))
    return grids
