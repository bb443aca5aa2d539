"""The day's four numbers, each a large button that leads to what it counts."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QSizePolicy, QVBoxLayout

BIGGER = 2.3
"""How many times the usual text the number is high."""
AIR_PX = 14
SPARE_PX = 8
"""A label does not count its own padding when it says how high it must be."""


class NumberButton(QPushButton):
    """A number, what it counts, and what presses about it."""

    def __init__(self, title: str) -> None:
        """Nothing counted yet."""
        super().__init__()
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.number = QLabel("–")
        self.title = QLabel(title, wordWrap=True)
        self.detail = QLabel(wordWrap=True)
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(AIR_PX, 8, AIR_PX, 8)
        self._lines.setSpacing(2)
        for label in (self.number, self.title, self.detail):
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            label.setTextFormat(Qt.TextFormat.PlainText)
            self._lines.addWidget(label)
        self._lines.addStretch()
        # Only once the whole application wears the new size.
        self._wearing = QTimer(self, singleShot=True, interval=0)
        self._wearing.timeout.connect(self._wear)
        self._wear()

    def say(self, number: str, detail: str, *, presses: bool) -> None:
        """Show a number and what about it; ``presses`` where somebody must act at once."""
        self.number.setText(number)
        self.detail.setText(detail)
        self.detail.setProperty("role", "problem" if presses else "muted")
        self.detail.style().unpolish(self.detail)
        self.detail.style().polish(self.detail)
        QApplication.sendEvent(self.detail, QEvent(QEvent.Type.StyleChange))  # takes its padding
        self.setAccessibleName(f"{self.title.text()}: {number}. {detail}")
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As large as what it says."""
        return self._lines.sizeHint()

    def minimumSizeHint(self) -> QSize:
        """As large as what it says: nothing of it is cut off."""
        return self._lines.minimumSize()

    def heightForWidth(self, width: int) -> int:
        """Higher where it is too narrow for a line."""
        return self._lines.totalHeightForWidth(width) + SPARE_PX

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_wearing"):
            self._wearing.start()

    def _wear(self) -> None:
        font = QApplication.font()
        font.setPointSizeF(font.pointSizeF() * BIGGER)
        font.setBold(True)
        self.number.setFont(font)
