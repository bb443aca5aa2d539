"""The looks of our workbooks: formats in grey, readable in print."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook

DATE_FORMAT = "yyyy-mm-dd"
MOMENT_FORMAT = "yyyy-mm-dd hh:mm"
MONTH_FORMAT = "yyyy-mm"
TEXT_FORMAT = "@"
COUNT_FORMAT, DECIMAL_FORMAT = "0_0", "0.00_0"
"""Numbers with the room of a digit behind them: text may follow in the next column, and not every
program keeps an indent there. Source: ECMA-376 part 1, 18.8.31, "_" in number formats.
"""

_GREY, _LIGHT, _LIGHTEST = "#808080", "#D9D9D9", "#F2F2F2"
_FONT = {"font_name": "Calibri", "font_size": 11}
_LEFT = {"align": "left", "valign": "top"}
_WRAPPED = {"text_wrap": True, "valign": "top"}
_BELOW = {"bottom": 1, "bottom_color": _GREY}
_ABOVE = {"top": 1, "top_color": _GREY}


class Look(StrEnum):
    """How a cell looks."""

    TITLE = "title"
    LONG_TITLE = "long_title"
    NOTE = "note"
    SENTENCE = "sentence"
    HEADING = "heading"
    TEXT = "text"
    LONG_TEXT = "long_text"
    ATTENTION = "attention"
    DAY = "day"
    MOMENT = "moment"
    MONTH = "month"
    COUNT = "count"
    DECIMAL = "decimal"
    BIG = "big"
    BIG_DECIMAL = "big_decimal"
    UNDER_BIG = "under_big"
    SECTION = "section"
    SIGNATURE = "signature"
    LINE = "line"
    """The line below each row of a table, put there by a rule and not by its cells."""


LOOKS: Mapping[Look, Mapping[str, object]] = {
    Look.TITLE: {**_LEFT, "bold": True, "font_size": 14},
    Look.LONG_TITLE: {**_LEFT, "bold": True, "font_size": 14, "text_wrap": True},
    Look.NOTE: _LEFT,
    Look.SENTENCE: _WRAPPED,
    Look.HEADING: {**_WRAPPED, **_ABOVE, **_BELOW, "bold": True, "bg_color": _LIGHT},
    Look.TEXT: {**_WRAPPED, "num_format": TEXT_FORMAT},
    Look.LONG_TEXT: _WRAPPED,
    Look.ATTENTION: {**_WRAPPED, "bold": True, "bg_color": _LIGHTEST},
    Look.DAY: {**_LEFT, "num_format": DATE_FORMAT},
    Look.MOMENT: {**_LEFT, "num_format": MOMENT_FORMAT},
    Look.MONTH: {**_LEFT, "num_format": MONTH_FORMAT},
    Look.COUNT: {"align": "right", "valign": "top", "num_format": COUNT_FORMAT},
    Look.DECIMAL: {"align": "right", "valign": "top", "num_format": DECIMAL_FORMAT},
    Look.BIG: {"align": "center", "valign": "vcenter", "bold": True, "font_size": 24, **_ABOVE},
    Look.BIG_DECIMAL: {
        **{"align": "center", "valign": "vcenter", "bold": True, "font_size": 24},
        **_ABOVE,
        "num_format": "0",
    },
    Look.UNDER_BIG: {"align": "center", "valign": "top", "text_wrap": True, **_BELOW},
    Look.SECTION: {**_LEFT, "bold": True, "font_size": 12, **_BELOW},
    Look.LINE: _BELOW,
    Look.SIGNATURE: {"bottom": 1, "locked": False, "valign": "bottom"},
}


class Looks:
    """The formats of one workbook, each made when it is first wanted."""

    def __init__(self, book: Workbook) -> None:
        """None yet."""
        self._book = book
        self.of = cache(self._make)

    def _make(self, look: Look, *, quoted: bool = False) -> Format:
        """A look; ``quoted`` for text that begins like a formula."""
        font = {} if look is Look.LINE else _FONT
        return self._book.add_format({**font, **LOOKS[look], "quote_prefix": quoted})
