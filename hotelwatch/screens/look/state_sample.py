"""A small room as drawings have it in one state, for their legends."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from hotelwatch.screens.look.plans import PATTERN_STRENGTH
from hotelwatch.screens.look.theme import Colours, Tint, colours_of

SAMPLE_PX = QSize(30, 22)


class StateSample(QWidget):
    """Ground, pattern and sign of a state."""

    def __init__(
        self, glyph: str, tint: Callable[[Colours], Tint], pattern: Qt.BrushStyle | None
    ) -> None:
        """Show this sign, in the colours of the look at hand."""
        super().__init__()
        self._glyph, self._tint, self._pattern = glyph, tint, pattern
        self.setFixedSize(SAMPLE_PX)

    def changeEvent(self, event: QEvent) -> None:
        """Paint anew in another look."""
        super().changeEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, pattern and sign."""
        colours = colours_of(self.palette())
        tint = self._tint(colours)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter = QPainter(self)
        painter.setPen(QPen(QColor(colours.line), 1.2))
        painter.setBrush(QColor(tint.fill))
        painter.drawRect(box)
        if self._pattern is not None:
            ink = QColor(tint.ink)
            ink.setAlpha(PATTERN_STRENGTH)
            painter.fillRect(box, QBrush(ink, self._pattern))
        if self._glyph:
            plate = QRectF(0, 0, 14, 18)
            plate.moveCenter(box.center())
            painter.fillRect(plate, QColor(tint.fill))
            font = self.font()
            font.setBold(True)
            painter.setFont(font)
            painter.setPen(QColor(tint.ink))
            painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), self._glyph)
        painter.end()


def explained(sample: StateSample, text: str) -> QWidget:
    """A sample with its word."""
    item = QWidget()
    line = QHBoxLayout(item)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(6)
    line.addWidget(sample)
    line.addWidget(QLabel(text))
    return item
