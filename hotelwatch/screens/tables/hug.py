"""A table as high as its rows: it scrolls within itself only beyond so many of them."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QObject, QTimer

from hotelwatch.screens.tables.room import EDGES_PX, GAP_PX
from hotelwatch.screens.tables.row_table import RowTable

REASONS = (QEvent.Type.FontChange, QEvent.Type.Resize, QEvent.Type.Show)


def rows_px(table: RowTable[Any], most_rows: int) -> int:
    """How high titles and rows are, of more than ``most_rows`` so many, without the filter line."""
    view, header = table.view, table.view.verticalHeader()
    rows = min(table.order.rowCount(), most_rows)
    high = view.horizontalHeader().sizeHint().height() + EDGES_PX
    high += sum(header.sectionSize(row) for row in range(rows))
    bar = view.horizontalScrollBar()
    return high + (bar.sizeHint().height() if bar.maximum() > 0 else 0)


class Hug(QObject):
    """Keeps the height of a table at what its rows take; one without rows at what it says."""

    def __init__(self, table: RowTable[Any], most_rows: int) -> None:
        """Of this table, which keeps it; of more rows than ``most_rows`` one sees so many."""
        super().__init__(table)
        self._table, self._most_rows = table, most_rows
        self._fitting = QTimer(self, singleShot=True, interval=0)
        self._fitting.timeout.connect(self.fit)
        for changed in (
            table.order.modelReset,
            table.order.layoutChanged,
            table.order.rowsInserted,
            table.order.rowsRemoved,
            table.view.verticalHeader().sectionResized,
            table.view.horizontalScrollBar().rangeChanged,
        ):
            changed.connect(self._wait)
        table.installEventFilter(self)
        self.fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Fit again at another width or size of text."""
        if event.type() in REASONS:
            self._fitting.start()
        return False

    def _wait(self, *_what: object) -> None:
        self._fitting.start()

    def fit(self) -> None:
        """Be as high as what is shown."""
        table = self._table
        high = self._said() if table.view.isHidden() else rows_px(table, self._most_rows)
        if table.filter.isVisibleTo(table):
            high += table.filter.sizeHint().height() + GAP_PX
        if (table.minimumHeight(), table.maximumHeight()) != (high, high):
            table.setFixedHeight(high)

    def _said(self) -> int:
        table = self._table
        said = table.empty_text.heightForWidth(max(1, table.width()))
        step = table.empty_step
        button = 0 if step.isHidden() else step.sizeHint().height() + GAP_PX
        return said + button + 3 * GAP_PX
