"""The looks of our workbooks: named styles in grey, readable in print."""

from __future__ import annotations

from enum import StrEnum

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

DATE_FORMAT = "yyyy-mm-dd"
MOMENT_FORMAT = "yyyy-mm-dd hh:mm"
TEXT_FORMAT = "@"
DECIMAL_FORMAT = "0.00"

_THIN = Side(style="thin", color="FF808080")
_FONT, _SIZE, _TITLE_SIZE = "Calibri", 11, 14


class Look(StrEnum):
    """How a cell looks; each is one named style of the workbook."""

    TITLE = "Title of sheet"
    NOTE = "Note"
    SENTENCE = "Sentence"
    HEADING = "Heading of column"
    TEXT = "Text"
    LONG_TEXT = "Long text"
    ATTENTION = "Text not to overlook"
    DAY = "Day"
    MOMENT = "Moment"
    COUNT = "Count"
    DECIMAL = "Decimal"


def add_looks(book: Workbook) -> None:
    """Give a workbook every look; cells then only name theirs, which is quick."""
    left = Alignment(horizontal="left", vertical="top")
    right = Alignment(horizontal="right", vertical="top", indent=1)
    wrapped = Alignment(wrap_text=True, vertical="top")
    below = Border(bottom=_THIN)
    bold = Font(name=_FONT, size=_SIZE, bold=True)
    for style in (
        _style(Look.TITLE, left, font=Font(name=_FONT, size=_TITLE_SIZE, bold=True)),
        _style(Look.NOTE, left),
        _style(Look.SENTENCE, wrapped),
        _style(
            Look.HEADING,
            wrapped,
            font=bold,
            fill="FFD9D9D9",
            border=Border(top=_THIN, bottom=_THIN),
        ),
        _style(Look.TEXT, wrapped, border=below, number_format=TEXT_FORMAT),
        _style(Look.LONG_TEXT, wrapped, border=below),
        _style(Look.ATTENTION, wrapped, font=bold, fill="FFF2F2F2", border=below),
        _style(Look.DAY, left, border=below, number_format=DATE_FORMAT),
        _style(Look.MOMENT, left, border=below, number_format=MOMENT_FORMAT),
        _style(Look.COUNT, right, border=below),
        _style(Look.DECIMAL, right, border=below, number_format=DECIMAL_FORMAT),
    ):
        book.add_named_style(style)


def _style(
    look: Look,
    alignment: Alignment,
    *,
    font: Font | None = None,
    fill: str = "",
    border: Border | None = None,
    number_format: str = "General",
) -> NamedStyle:
    return NamedStyle(
        name=look.value,
        alignment=alignment,
        font=font or Font(name=_FONT, size=_SIZE),
        fill=PatternFill("solid", fgColor=fill) if fill else PatternFill(),
        border=border or Border(),
        number_format=number_format,
    )
