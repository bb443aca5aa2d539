"""A text on one line, cut short where it does not fit; the pointer resting on it shows it whole."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QLabel

LEAST_DIGITS = 8


class OneLine(QLabel):
    """Plain text that ends in dots rather than push aside what stands beside it."""

    def __init__(self) -> None:
        """No text yet."""
        self._whole = ""
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)

    def setText(self, text: str) -> None:
        """Show this text, or as much of it as there is room for."""
        self._whole = text
        self.setToolTip(text)
        self.setAccessibleName(text)
        self._fit()
        self.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as much as there is room for now."""
        super().resizeEvent(event)
        self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Show as much as there is room for, in its own font."""
        super().showEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._fit()

    def sizeHint(self) -> QSize:
        """Room for the whole text."""
        wide = self.fontMetrics().horizontalAdvance(self._whole)
        return QSize(wide + 2, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Room for its beginning."""
        wide = LEAST_DIGITS * self.fontMetrics().horizontalAdvance("0")
        return QSize(min(wide, self.sizeHint().width()), super().sizeHint().height())

    def _fit(self) -> None:
        room = self.contentsRect().width() if self.isVisible() else 0
        dots = Qt.TextElideMode.ElideRight
        shown = self.fontMetrics().elidedText(self._whole, dots, room) if room else self._whole
        if shown != self.text():
            super().setText(shown)
