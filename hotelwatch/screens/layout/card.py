"""The card at the side of a pane: a form that scrolls where it is too high, its buttons below."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.look.theme import POINTS, TextSize

WIDER_AT_MOST = 1.25
LEAST_LINES = 7
WIDEST_PX = 16_777_215
"""Qt's own, for no bound."""


class _Scroll(UprightScroll):
    """Asks for no more height than it needs: it scrolls."""

    def sizeHint(self) -> QSize:
        """As wide as what it holds."""
        return QSize(super().sizeHint().width(), self.minimumHeight())


class Card(QFrame):
    """Holds a form; as wide as the text is large, within bounds, and as what it holds needs."""

    def __init__(self, width_px: int) -> None:
        """An empty card; ``body`` takes the form, ``foot`` what stays in view below it."""
        super().__init__()
        self.setProperty("role", "card")
        self._width_px = width_px
        self._is_alone = False
        inner = QWidget()
        inner.setProperty("role", "plain")
        self.body = QVBoxLayout(inner)
        self.body.setContentsMargins(0, 0, 4, 0)
        self._scroll = _Scroll()
        self._scroll.setWidget(inner)
        self.foot = QHBoxLayout()
        self._lines = lines = QVBoxLayout(self)
        lines.setContentsMargins(16, 12, 12, 12)
        lines.addWidget(self._scroll, 1)
        lines.addLayout(self.foot)
        self._fit()

    def fill(self, *, is_alone: bool) -> None:
        """Be as wide as there is room, or as a card at the side is."""
        self._is_alone = is_alone
        self._fit()

    def event(self, event: QEvent) -> bool:
        """Follow what the form needs."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return super().event(event)

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "body"):
            self._fit()

    def _fit(self) -> None:
        ratio = self.font().pointSizeF() / POINTS[TextSize.NORMAL]
        wide = round(self._width_px * min(WIDER_AT_MOST, max(1.0, ratio)))
        margins = self.contentsMargins() + self._lines.contentsMargins()
        held = self._scroll.minimumSizeHint().width() + margins.left() + margins.right()
        wide = max(wide, held, self._lines.minimumSize().width())
        self.setMinimumWidth(wide)
        self.setMaximumWidth(WIDEST_PX if self._is_alone else wide)
        self._scroll.setMinimumHeight(LEAST_LINES * self.fontMetrics().height())
