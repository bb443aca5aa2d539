"""Floors in the order in which they lie, to move up and down."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.screens.look.theme import TARGET_PX
from hotelwatch.screens.tables.row_table import ROW_AIR_PX
from hotelwatch.wording.language import _

MOST_SHOWN = 5
LABEL = Qt.ItemDataRole.UserRole


class FloorOrder(QWidget):
    """The floors, the top one first, as a building stands."""

    moved = Signal()
    """A floor changed its place."""

    def __init__(self) -> None:
        """No floor yet."""
        super().__init__()
        self.list = QListWidget()
        self.list.setAccessibleName(_("Floors, the top one first"))
        self.list.setToolTip(_("Alt+Up and Alt+Down move the floor."))
        self.list.setTabKeyNavigation(False)
        self.up, self.down = QPushButton(_("Move &up")), QPushButton(_("Move &down"))
        self.up.clicked.connect(self.move_up)
        self.down.clicked.connect(self.move_down)
        self.list.currentRowChanged.connect(self._allow)
        self._add_key(_("Move the floor up"), "Alt+Up").triggered.connect(self.move_up)
        self._add_key(_("Move the floor down"), "Alt+Down").triggered.connect(self.move_down)
        buttons = QVBoxLayout()
        buttons.addWidget(self.up)
        buttons.addWidget(self.down)
        buttons.addStretch()
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.list, 1)
        line.addLayout(buttons)

    def show_floors(self, labels: Sequence[str]) -> None:
        """Show floors given from bottom to top."""
        self.list.clear()
        for floor in reversed(labels):
            item = QListWidgetItem(_("Floor {floor}").format(floor=floor), self.list)
            item.setData(LABEL, floor)
        self.list.setCurrentRow(0)
        self._fit()
        self._allow(self.list.currentRow())

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        tall = max(TARGET_PX, self.fontMetrics().height() + ROW_AIR_PX)
        for row in range(self.list.count()):
            self.list.item(row).setSizeHint(QSize(0, tall))
        shown = max(2, min(MOST_SHOWN, self.list.count()))
        self.list.setFixedHeight(tall * shown + 2 * self.list.frameWidth() + 4)

    def floors(self) -> tuple[str, ...]:
        """Labels from bottom to top."""
        labels = [str(self.list.item(row).data(LABEL)) for row in range(self.list.count())]
        return tuple(reversed(labels))

    def move_up(self) -> None:
        """Put the floor in view above the one over it."""
        self._move(-1)

    def move_down(self) -> None:
        """Put the floor in view below the one under it."""
        self._move(1)

    def _move(self, by: int) -> None:
        row = self.list.currentRow()
        if row < 0 or not 0 <= row + by < self.list.count():
            return
        item = self.list.takeItem(row)
        self.list.insertItem(row + by, item)
        self.list.setCurrentRow(row + by)
        self.moved.emit()

    def _allow(self, row: int) -> None:
        self.up.setEnabled(row > 0)
        self.down.setEnabled(0 <= row < self.list.count() - 1)

    def _add_key(self, text: str, keys: str) -> QAction:
        action = QAction(text, self.list)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.list.addAction(action)
        return action
