"""A workbook of ours read back: what its cells hold and which of them compute.

It comes from outside, so nothing in it is trusted: what would fill the memory is refused.
"""

from __future__ import annotations

import html
import re
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path, PurePosixPath

import python_calamine
from defusedxml.ElementTree import fromstring

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.grids import MOST_UNZIPPED, FileCode

BookCell = str | int | float | bool | date | datetime | time | timedelta
MOST_SHEETS = 100
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_LINK = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_FORMULA_CELL = re.compile(rb'<c r="([A-Z]{1,3}\d{1,7})"[^>]*><f(?: [^>]*)?(?:/>|>([^<]*)</f>)')


@dataclass(frozen=True, slots=True)
class BookFile:
    """A workbook as it was read."""

    sheets: Mapping[str, list[list[BookCell]]]
    """Rows of cells from A1 on, by the sheet's name, in the order of the file."""
    formulas: Mapping[str, Mapping[str, str]]
    """What cells compute, by the sheet's name and the cell, as "B7"."""
    names: Mapping[str, str]
    """What formulas mean by a name: a cell, or the cells of a table."""


def read_book(path: Path) -> BookFile:
    """Read a workbook. Refusal: the codes of ``FileCode``; "not_a_book" for another kind of file.

    An empty cell is an empty text.
    """
    try:
        if not path.is_file():
            raise Refusal(FileCode.NO_SUCH_FILE, file=path.name)
        return _read(path)
    except (Refusal, KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:
        # Readers of foreign files fail in any way, the compiled one even outside Exception.
        raise Refusal("not_a_book", file=path.name) from error


def _read(path: Path) -> BookFile:
    with zipfile.ZipFile(path) as archive:
        _refuse_too_big(path.name, archive)
        formulas = {
            name: _formulas(archive.read(part)) for name, part in _sheet_parts(archive).items()
        }
        names = {**_cells_named(archive), **_tables(archive)}
    book = python_calamine.CalamineWorkbook.from_path(str(path))
    try:
        sheets = {
            name: book.get_sheet_by_name(name).to_python(skip_empty_area=False)
            for name in book.sheet_names
        }
    finally:
        book.close()
    return BookFile(sheets, formulas, names)


def _refuse_too_big(file: str, archive: zipfile.ZipFile) -> None:
    # Brought in when it is asked for: it takes its time to load.
    from hotelwatch.intake.xlsx_grid import check_extent

    parts = archive.infolist()
    sheets = [part for part in parts if part.filename.startswith("xl/worksheets/sheet")]
    if sum(part.file_size for part in parts) > MOST_UNZIPPED or len(sheets) > MOST_SHEETS:
        limit = str(MOST_UNZIPPED // 1_000_000)
        raise Refusal(FileCode.TOO_BIG, file=file, limit=limit)
    for part in sheets:
        with archive.open(part) as xml:
            check_extent(file, xml)


def _sheet_parts(archive: zipfile.ZipFile) -> dict[str, str]:
    """The part of the file in which each sheet stands, by the sheet's name."""
    links = fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    targets = {link.get("Id"): link.get("Target", "") for link in links}
    book = fromstring(archive.read("xl/workbook.xml"))
    found: dict[str, str] = {}
    for sheet in book.iter(f"{_MAIN}sheet"):
        target = targets.get(sheet.get(_LINK), "")
        whole = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
        found[sheet.get("name", "")] = str(PurePosixPath(whole))
    return found


def _formulas(xml: bytes) -> dict[str, str]:
    found = _FORMULA_CELL.findall(xml)
    return {cell.decode(): html.unescape(text.decode("utf-8")) for cell, text in found}


def _cells_named(archive: zipfile.ZipFile) -> dict[str, str]:
    """Names of cells; those that programs make for printing and filters are left out."""
    book = fromstring(archive.read("xl/workbook.xml"))
    return {
        one.get("name", ""): (one.text or "").replace("'", "")
        for one in book.iter(f"{_MAIN}definedName")
        if not one.get("name", "").startswith("_xlnm")
    }


def _tables(archive: zipfile.ZipFile) -> dict[str, str]:
    parts = (name for name in archive.namelist() if name.startswith("xl/tables/table"))
    roots = (fromstring(archive.read(part)) for part in parts)
    return {root.get("displayName", ""): root.get("ref", "") for root in roots}
