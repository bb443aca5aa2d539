"""Rows of a table for the clipboard: as text for a note, as a table for a sheet or a mail."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import TypeVar

from PySide6.QtCore import QMimeData

from hotelwatch.screens.tables.model import Column

R = TypeVar("R")
OURS = "application/x-hotelwatch-table"
"""Marks what was copied from a table of this program; pasted it says nothing."""


def cells_of(columns: Sequence[Column[R]], rows: Iterable[R]) -> list[list[str]]:
    """The titles, then what each row says, each cell in one line."""
    lines = [[column.title for column in columns]]
    lines += [[column.text(row) for column in columns] for row in rows]
    return [[" ".join(cell.split()) for cell in line] for line in lines]


def as_text(cells: Sequence[Sequence[str]]) -> str:
    """Lines of cells with tabs between, as spreadsheets paste them."""
    return "\n".join("\t".join(line) for line in cells)


def as_html(cells: Sequence[Sequence[str]]) -> str:
    """A table whose first line is its heading; every cell is text, so that 0104 stays 0104."""
    head, *body = cells
    rows = [_row("th", head), *(_row("td", line) for line in body)]
    # Spreadsheets read mso-number-format; it keeps the noughts before a room's number.
    return (
        '<meta charset="utf-8"><style>td { mso-number-format: "\\@"; }</style>'
        f'<table border="1">{"".join(rows)}</table>'
    )


def for_clipboard(cells: Sequence[Sequence[str]]) -> QMimeData:
    """Both at once; whoever pastes takes what it can use."""
    made = QMimeData()
    made.setText(as_text(cells))
    made.setHtml(as_html(cells))
    made.setData(OURS, b"")
    return made


def _row(tag: str, cells: Sequence[str]) -> str:
    return f"<tr>{''.join(f'<{tag}>{escape(cell)}</{tag}>' for cell in cells)}</tr>"
