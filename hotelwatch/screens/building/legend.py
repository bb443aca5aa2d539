"""What signs and patterns on the drawing mean."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QWidget

from hotelwatch.screens.building.floor_view import PATTERNS
from hotelwatch.screens.building.rows import GLYPHS, TONES, RoomState, state_text
from hotelwatch.screens.plans import PATTERN_STRENGTH
from hotelwatch.screens.theme import Tint, colours_of

GAP_PX = 10


class Sample(QWidget):
    """A small room as the drawing has it in one state."""

    def __init__(self, state: RoomState) -> None:
        """Show this state."""
        super().__init__()
        self._state = state
        self.setFixedSize(QSize(30, 22))

    def changeEvent(self, event: QEvent) -> None:
        """Paint anew in another look."""
        super().changeEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, pattern and sign."""
        colours = colours_of(self.palette())
        tone = TONES[self._state]
        tint = colours.tones[tone] if tone else Tint(colours.base, colours.text)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter = QPainter(self)
        painter.setPen(QPen(QColor(colours.line), 1.2))
        painter.setBrush(QColor(tint.fill))
        painter.drawRect(box)
        if self._state in PATTERNS:
            ink = QColor(tint.ink)
            ink.setAlpha(PATTERN_STRENGTH)
            painter.fillRect(box, QBrush(ink, PATTERNS[self._state]))
        plate = QRectF(0, 0, 12, 18)
        plate.moveCenter(box.center())
        if GLYPHS[self._state]:
            painter.fillRect(plate, QColor(tint.fill))
            font = self.font()
            font.setBold(True)
            painter.setFont(font)
            painter.setPen(QColor(tint.ink))
            painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), GLYPHS[self._state])
        painter.end()


class Legend(QWidget):
    """Every state with its sample and its word."""

    def __init__(self) -> None:
        """Show all states in a row."""
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._items = [_item(state) for state in RoomState]
        self._lines = QGridLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setHorizontalSpacing(GAP_PX)
        self._lines.setVerticalSpacing(2)
        self._columns = 0
        self._fill(len(self._items))

    def resizeEvent(self, event: QEvent) -> None:
        """Use two lines where one is too narrow."""
        needed = sum(item.sizeHint().width() + GAP_PX for item in self._items)
        self._fill(len(self._items) if needed <= self.width() else (len(self._items) + 1) // 2)

    def minimumSizeHint(self) -> QSize:
        """Wide enough for two lines."""
        widths = [item.sizeHint().width() + GAP_PX for item in self._items]
        return QSize(sum(widths) // 2 + max(widths) // 2, self._items[0].sizeHint().height())

    def _fill(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._lines.setColumnStretch(self._columns, 0)
        self._columns = columns
        for place, item in enumerate(self._items):
            self._lines.addWidget(item, place // columns, place % columns)
        self._lines.setColumnStretch(columns, 1)


def _item(state: RoomState) -> QWidget:
    item = QWidget()
    line = QHBoxLayout(item)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(6)
    line.addWidget(Sample(state))
    line.addWidget(QLabel(state_text(state)))
    return item
