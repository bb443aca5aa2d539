"""The card at the side of a pane: a form that scrolls where it is too high, its buttons below."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from hotelwatch.screens.theme import POINTS, TextSize

WIDER_AT_MOST = 1.25


class Card(QFrame):
    """Holds a form; as wide as the text is large, within bounds."""

    def __init__(self, width_px: int) -> None:
        """An empty card; ``body`` takes the form, ``foot`` what stays in view below it."""
        super().__init__()
        self.setProperty("role", "card")
        self._width_px = width_px
        inner = QWidget()
        inner.setProperty("role", "plain")
        self.body = QVBoxLayout(inner)
        self.body.setContentsMargins(0, 0, 4, 0)
        scroll = QScrollArea(widgetResizable=True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(inner)
        self.foot = QHBoxLayout()
        lines = QVBoxLayout(self)
        lines.setContentsMargins(16, 12, 12, 12)
        lines.addWidget(scroll, 1)
        lines.addLayout(self.foot)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "body"):
            self._fit()

    def _fit(self) -> None:
        ratio = self.font().pointSizeF() / POINTS[TextSize.NORMAL]
        self.setFixedWidth(round(self._width_px * min(WIDER_AT_MOST, max(1.0, ratio))))
