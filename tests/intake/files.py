"""Small files for tests of intake: csv, xlsx by openpyxl, ods written by hand."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

import openpyxl

ODS_TYPE = "application/vnd.oasis.opendocument.spreadsheet"
_NAMES = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"'
)


def known(*headings: str):
    """A test for headings: exactly these, whatever their case."""
    folded = {heading.casefold() for heading in headings}
    return lambda text: text.casefold() in folded


def csv_file(path: Path, rows: Iterable[Sequence[object]], **dialect: str) -> Path:
    text = io.StringIO()
    csv.writer(text, **dialect).writerows(rows)
    path.write_text(text.getvalue(), encoding="utf-8", newline="")
    return path


def xlsx_file(path: Path, rows: Iterable[Sequence[object]]) -> Path:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(list(row))
    book.save(path)
    return path


def ods_cell(value: object = None, **attributes: object) -> str:
    """A cell of content.xml; ``shown`` is its text where it differs from the value."""
    shown = attributes.pop("shown", value)
    said = {f"table:{name.replace('_', '-')}": text for name, text in attributes.items()}
    if isinstance(value, int | float):
        said |= {"office:value-type": "float", "office:value": value}
    elif value is not None:
        said["office:value-type"] = "string"
    written = "".join(f" {name}={quoteattr(str(text))}" for name, text in said.items())
    inside = "" if shown is None else f"<text:p>{escape(str(shown))}</text:p>"
    return f"<table:table-cell{written}>{inside}</table:table-cell>"


def ods_row(*cells: str, repeated: int = 1) -> str:
    times = f' table:number-rows-repeated="{repeated}"' if repeated > 1 else ""
    return f"<table:table-row{times}>{''.join(cells)}</table:table-row>"


def ods_file(path: Path, *rows: str, manifest: str = "") -> Path:
    body = f'<table:table table:name="List">{"".join(rows)}</table:table>'
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {_NAMES}>'
        f"<office:body><office:spreadsheet>{body}</office:spreadsheet></office:body>"
        "</office:document-content>"
    )
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", ODS_TYPE)
        archive.writestr("content.xml", content)
        if manifest:
            archive.writestr("META-INF/manifest.xml", manifest)
    return path
