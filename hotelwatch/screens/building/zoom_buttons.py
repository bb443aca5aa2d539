"""Larger, smaller, all: three buttons that lie in a corner of a drawing."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hotelwatch.screens.building.camera import ZOOM_STEP
from hotelwatch.screens.building.moving_view import MovingView
from hotelwatch.wording.language import _

EDGE_PX = 8
TIMES = ZOOM_STEP * ZOOM_STEP


class ZoomButtons(QWidget):
    """Stays in the upper right corner of its drawing."""

    def __init__(self, view: MovingView) -> None:
        """For this drawing, which keeps it."""
        super().__init__(view)
        self._view = view
        self.larger = self._button("+", _("Larger"), "+")
        self.smaller = self._button("−", _("Smaller"), "−")
        self.all = self._button("⤢", _("Show everything"), _("Home"))
        self.larger.clicked.connect(lambda: view.zoom(TIMES))
        self.smaller.clicked.connect(lambda: view.zoom(1 / TIMES))
        self.all.clicked.connect(view.fit)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(4)
        for button in (self.larger, self.smaller, self.all):
            lines.addWidget(button)
        view.installEventFilter(self)
        self._place()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the corner."""
        if event.type() in (QEvent.Type.Resize, QEvent.Type.FontChange):
            self._place()
        return False

    def _place(self) -> None:
        side = max(30, round(self._view.fontMetrics().height() * 1.75))
        for button in (self.larger, self.smaller, self.all):
            button.setFixedSize(side, side)
        self.adjustSize()
        self.move(self._view.width() - self.width() - EDGE_PX, EDGE_PX)

    def _button(self, text: str, said: str, key: str) -> QPushButton:
        button = QPushButton(text)
        button.setProperty("role", "chip")
        button.setAccessibleName(said)
        button.setToolTip(_("{what} ({key})").format(what=said, key=key))
        return button
