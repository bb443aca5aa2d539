"""What takes another's place: a second press meant for the one must not reach the next."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QElapsedTimer, QEvent, QObject, QPoint
from PySide6.QtGui import QGuiApplication, QMouseEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

PAUSE_MS = 1000
"""Nobody has read what took another's place in less; a choice of ours."""
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


class Pause:
    """The moment after something took another's place, in which nobody can mean it yet."""

    def __init__(self) -> None:
        """Nothing took another's place yet."""
        self._since = QElapsedTimer()

    def begin(self) -> None:
        """Something else is shown from now on."""
        self._since.start()

    @property
    def lasts(self) -> bool:
        """Whether a press of now, by hand or key, was meant for what was there before."""
        return self._since.isValid() and self._since.elapsed() < PAUSE_MS

    @property
    def is_double(self) -> bool:
        """Whether such a press is the second one of a double click, and no word is wanted."""
        within = QGuiApplication.styleHints().mouseDoubleClickInterval()
        return self.lasts and self._since.elapsed() < within
