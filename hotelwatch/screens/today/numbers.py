"""The day's four numbers, each a large button that leads to what it counts."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QVBoxLayout

BIGGER = 2.3
"""How many times the usual text the number is high."""
AIR_PX = 14


class NumberButton(QPushButton):
    """A number, what it counts, and what presses about it."""

    def __init__(self, title: str) -> None:
        """Nothing counted yet."""
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.number = QLabel("–")
        self.title = QLabel(title)
        self.detail = QLabel()
        self._lines = lines = QVBoxLayout(self)
        lines.setContentsMargins(AIR_PX, 8, AIR_PX, 8)
        lines.setSpacing(2)
        for label in (self.number, self.title, self.detail):
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            label.setTextFormat(Qt.TextFormat.PlainText)
            lines.addWidget(label)
        self._wear()

    def say(self, number: str, detail: str, *, presses: bool) -> None:
        """Show a number and what about it; ``presses`` where somebody must act at once."""
        self.number.setText(number)
        self.detail.setText(detail)
        self.detail.setProperty("role", "problem" if presses else "muted")
        self.detail.style().unpolish(self.detail)
        self.detail.style().polish(self.detail)
        self.setAccessibleName(f"{self.title.text()}: {number}. {detail}")
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As large as what it says."""
        return self._lines.sizeHint()

    def minimumSizeHint(self) -> QSize:
        """As large as what it says: nothing of it is cut off."""
        return self._lines.minimumSize()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "detail"):
            self._wear()

    def _wear(self) -> None:
        font = self.font()
        font.setPointSizeF(font.pointSizeF() * BIGGER)
        font.setBold(True)
        self.number.setFont(font)
