"""Buttons that take one another's place: a double click on one must not press the next."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QObject, QPoint
from PySide6.QtGui import QGuiApplication, QMouseEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

PRESSES = (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonDblClick)


class SecondPress(QObject):
    """Lets a press through only where it is not the second one of a double click elsewhere."""

    def __init__(self, holder: QWidget, buttons: Iterable[QAbstractButton]) -> None:
        """Watch these buttons for as long as ``holder`` lives."""
        super().__init__(holder)
        self._on: QObject | None = None
        self._at, self._when = QPoint(), 0
        for button in buttons:
            button.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Swallow a press at once, and in the same place, after one on another button."""
        if event.type() not in PRESSES or not isinstance(event, QMouseEvent):
            return super().eventFilter(watched, event)
        hints = QGuiApplication.styleHints()
        # Moments of the presses themselves: what the first one did may have taken long.
        at, when = event.globalPosition().toPoint(), event.timestamp()
        is_soon = when - self._when < hints.mouseDoubleClickInterval()
        is_there = (at - self._at).manhattanLength() < hints.startDragDistance()
        if self._on not in (None, watched) and is_soon and is_there:
            return True
        self._on, self._at, self._when = watched, at, when
        return False
