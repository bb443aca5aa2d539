"""Panes side by side that stand below one another where the width is too small for all."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter

HANDLE_PX = 12


class Turning(QSplitter):
    """Its panes are never narrower than what they hold; with large text they go below."""

    def __init__(self) -> None:
        """No pane yet; they stand side by side as long as they can."""
        super().__init__(Qt.Orientation.Horizontal)
        self.setChildrenCollapsible(False)
        self.setHandleWidth(HANDLE_PX)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Turn for the new width."""
        super().resizeEvent(event)
        self._turn()

    def event(self, event: QEvent) -> bool:
        """Turn for what the panes hold now."""
        is_taken = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:
            self._turn()
        return is_taken

    def _turn(self) -> None:
        panes = (self.widget(number) for number in range(self.count()))
        widths = [pane.minimumSizeHint().width() for pane in panes if pane is not None]
        needed = sum(widths) + HANDLE_PX * (len(widths) - 1)
        # A page held at its smallest width is exactly as wide as its panes side by side.
        is_beside = self.width() > needed
        wanted = Qt.Orientation.Horizontal if is_beside else Qt.Orientation.Vertical
        if self.orientation() is not wanted:
            self.setOrientation(wanted)
