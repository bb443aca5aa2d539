"""A button that says several things: large words, and lines below or beside them."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

AIR_PX = 12
SPARE_PX = 6
"""A label does not count its own padding when it says how high it must be."""


def plain_label(*, wraps: bool = False) -> QLabel:
    """A label within a button: it lets the pointer through and shows text as it is."""
    made = QLabel(wordWrap=wraps)
    made.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    made.setTextFormat(Qt.TextFormat.PlainText)
    return made


def give_role(label: QWidget, role: str) -> None:
    """Dress a label in another role."""
    if label.property("role") != role:
        label.setProperty("role", role)
        label.style().unpolish(label)
        label.style().polish(label)
        QApplication.sendEvent(label, QEvent(QEvent.Type.StyleChange))  # takes its padding


class WordsButton(QPushButton):
    """Grows with what it says; labels are laid into ``lines``."""

    larger_by = 1.0
    """How many times the usual text its words are high."""

    def __init__(self) -> None:
        """Says nothing yet."""
        super().__init__()
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.words = plain_label(wraps=True)
        self.lines = QVBoxLayout(self)
        self.lines.setContentsMargins(AIR_PX, 6, AIR_PX, 6)
        self.lines.setSpacing(2)
        # Only once the whole application wears the new size.
        self._wearing = QTimer(self, singleShot=True, interval=0)
        self._wearing.timeout.connect(self._wear)
        self._wear()

    def sizeHint(self) -> QSize:
        """As large as what it says."""
        return self.lines.sizeHint()

    def minimumSizeHint(self) -> QSize:
        """As large as what it says: nothing of it is cut off."""
        return self.lines.minimumSize()

    def heightForWidth(self, width: int) -> int:
        """Higher where it is too narrow for a line."""
        return self.lines.totalHeightForWidth(width) + SPARE_PX

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_wearing"):
            self._wearing.start()

    def _wear(self) -> None:
        font = QApplication.font()
        font.setPointSizeF(font.pointSizeF() * self.larger_by)
        font.setBold(True)
        self.words.setFont(font)
        self.updateGeometry()
