"""How small a table may become before nobody can use it."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtCore import QSize
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QTableView

from hotelwatch.screens.look.theme import POINTS, TextSize

LEAST_ROWS, ROWS_OF_LARGE, LEAST_DIGITS = 2, 4, 26
"""Where text is large a page scrolls anyway: its lists show more then."""
LARGE = 1.2
GAP_PX, EDGES_PX = 6, 6


class Table(Protocol):
    """What is asked of a table here."""

    view: QTableView
    filter: QLineEdit
    empty_text: QLabel
    empty_step: QPushButton

    def font(self) -> QFont:
        """The font that it is written in."""

    def width(self) -> int:
        """Its width now, in pixels."""


def least_room(table: Table, *, is_filtered: bool) -> QSize:
    """Room for filter line, titles and some rows; where it has none, for what it says then."""
    digit = QFontMetrics(table.font()).horizontalAdvance("0")
    wide = LEAST_DIGITS * digit
    above = table.filter.sizeHint().height() + GAP_PX if is_filtered else 0
    if table.view.isHidden():
        said = table.empty_text.heightForWidth(max(wide, table.width()))
        step = table.empty_step
        button = 0 if step.isHidden() else step.sizeHint().height() + GAP_PX
        return QSize(wide, above + said + button + 3 * GAP_PX)
    is_large = table.font().pointSizeF() > LARGE * POINTS[TextSize.NORMAL]
    row = table.view.verticalHeader().defaultSectionSize()
    title = table.view.horizontalHeader().sizeHint().height()
    rows = ROWS_OF_LARGE if is_large else LEAST_ROWS
    return QSize(wide, above + title + rows * row + EDGES_PX)
