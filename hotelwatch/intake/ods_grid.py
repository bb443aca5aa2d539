"""OpenDocument spreadsheets (ISO/IEC 26300) as grids, with numbers as they are shown."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import IO, TYPE_CHECKING

from defusedxml.ElementTree import iterparse

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.cells import Cell, Mark, number_text, tidy
from hotelwatch.intake.grids import (
    MOST_COLUMNS,
    MOST_ROWS,
    FileCode,
    Grid,
    Range,
    counted_rows,
    gathered,
    too_many,
)

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_SHOWN_TYPE = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}value-type"
_CELLS = (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell")
_ISO_DAY = len("2026-01-01")


def ods_grids(path: Path) -> list[Grid]:
    """Every sheet of an .ods file, from its content.xml."""
    with zipfile.ZipFile(path) as archive:
        manifest = "META-INF/manifest.xml"
        if manifest in archive.namelist() and b"encryption-data" in archive.read(manifest):
            raise Refusal(FileCode.ENCRYPTED, file=path.name)
        with archive.open("content.xml") as content:
            for _ in counted_rows(path.name, content, row=b"<table:table-row", content=b"<text:p"):
                pass
        with archive.open("content.xml") as content:
            return list(_sheets(path.name, content))


def _sheets(file: str, content: IO[bytes]) -> Iterator[Grid]:
    sheet = ""
    number = 1
    rows: list[tuple[int, dict[int, Cell]]] = []
    merged: list[Range] = []
    for event, element in iterparse(content, events=("start", "end")):
        if event == "start":
            if element.tag == f"{_TABLE}table":
                sheet, number, rows, merged = element.get(f"{_TABLE}name", ""), 1, [], []
        elif element.tag == f"{_TABLE}table-row":
            times = _times(element, "number-rows-repeated")
            cells = _cells(file, sheet, element, (number, merged))
            if cells and len(rows) + times > MOST_ROWS:
                raise too_many(FileCode.TOO_MANY_ROWS, file, sheet, MOST_ROWS)
            if cells:
                rows.extend((number + n, dict(cells)) for n in range(times))
            number += times
            element.clear()
        elif element.tag == f"{_TABLE}table":
            yield gathered(file, sheet, rows, merged)
            element.clear()


def _cells(file: str, sheet: str, row: Element, place: tuple[int, list[Range]]) -> dict[int, Cell]:
    """A row's cells by column; merged ranges that start here are added to the place's list."""
    number, merged = place
    cells: dict[int, Cell] = {}
    column = 1
    for element in row:
        if element.tag not in _CELLS:
            continue
        times = _times(element, "number-columns-repeated")
        value = _value(element)
        if value != "" and column + times - 1 > MOST_COLUMNS:
            raise too_many(FileCode.TOO_MANY_COLUMNS, file, sheet, MOST_COLUMNS)
        if value != "":
            cells.update((column + n, value) for n in range(times))
            down = _times(element, "number-rows-spanned")
            across = _times(element, "number-columns-spanned")
            if down > 1 or across > 1:
                merged.append((number, column, number + down - 1, column + across - 1))
        column += times
    return cells


def _times(element: Element, name: str) -> int:
    return max(1, int(element.get(_TABLE + name, "1")))


def _value(element: Element) -> Cell:
    if element.get(_SHOWN_TYPE) == "error":
        return Mark.ERROR
    kind = element.get(f"{_OFFICE}value-type", "")
    text = tidy("\n".join(_text_of(p) for p in element if p.tag == f"{_TEXT}p"))
    if kind == "date":
        return date.fromisoformat(element.get(f"{_OFFICE}date-value", "")[:_ISO_DAY])
    if kind == "boolean":
        return "yes" if element.get(f"{_OFFICE}boolean-value") == "true" else "no"
    if kind in ("float", "percentage", "currency"):
        return _number(float(element.get(f"{_OFFICE}value", "nan")), text)
    if kind == "string" and not text:
        return tidy(element.get(f"{_OFFICE}string-value", ""))
    if not kind and not text and element.get(f"{_TABLE}formula"):
        return Mark.NO_VALUE
    return text


def _number(value: float, text: str) -> str:
    """The number as shown where it is shown whole ("0101", "G03"), else its value."""
    plain = number_text(value)
    digits = "".join(sign for sign in text if sign.isdecimal())
    is_whole_shown = not any(sign in text for sign in ".,-/: ") and digits.lstrip("0") == (
        plain.lstrip("0")
    )
    return text if is_whole_shown and digits else plain


def _text_of(element: Element) -> str:
    """A paragraph's text with the spaces, tabs and line breaks that have their own elements."""
    parts = [element.text or ""]
    for child in element:
        if child.tag == f"{_TEXT}s":
            parts.append(" " * min(int(child.get(f"{_TEXT}c", "1")), MOST_COLUMNS))
        elif child.tag in (f"{_TEXT}tab", f"{_TEXT}line-break"):
            parts.append("\n" if child.tag.endswith("line-break") else "\t")
        elif child.tag != f"{_OFFICE}annotation":
            parts.append(_text_of(child))
        parts.append(child.tail or "")
    return "".join(parts)
