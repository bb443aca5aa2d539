"""Notices that nobody touched the window for a while: no key, no mouse, no finger."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QWindow

MINUTE_MS = 60_000
TOUCHES = frozenset(
    {
        QEvent.Type.KeyPress,
        QEvent.Type.MouseButtonPress,
        QEvent.Type.MouseMove,
        QEvent.Type.Wheel,
        QEvent.Type.TouchBegin,
        QEvent.Type.TouchUpdate,
        QEvent.Type.TabletMove,
    }
)


class IdleWatch(QObject):
    """Rings once when nothing was touched for so long. It sees what reaches our windows only."""

    idle = Signal()

    def __init__(self, parent: QObject) -> None:
        """Not watching yet."""
        super().__init__(parent)
        self.timer = QTimer(self, singleShot=True)
        self.timer.timeout.connect(self.idle)
        app = QGuiApplication.instance()
        if isinstance(app, QGuiApplication):
            # Windows see each touch once; watching every widget would slow painting down.
            app.focusWindowChanged.connect(self._watch)

    def start(self, minutes: float) -> None:
        """Ring after so many minutes without a touch, from now on."""
        self.timer.start(max(1, round(minutes * MINUTE_MS)))
        self._watch(QGuiApplication.focusWindow())

    def stop(self) -> None:
        """Ring no more."""
        self.timer.stop()

    def fit(self, minutes: float) -> None:
        """Another time counts from the next touch on."""
        if self.timer.isActive() and self.timer.interval() != round(minutes * MINUTE_MS):
            self.timer.start(max(1, round(minutes * MINUTE_MS)))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Begin to count anew at each touch; nothing is kept from going on."""
        if event.type() in TOUCHES and self.timer.isActive():
            self.timer.start()
        return super().eventFilter(watched, event)

    def _watch(self, window: QWindow | None) -> None:
        if window is not None:
            window.installEventFilter(self)  # once is enough: Qt keeps each filter once
