"""What is not the usual view, said above the drawings: some rooms alone, or a day of the past."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton

from hotelwatch.screens.look.theme import Tone


class ToldBar(QFrame):
    """A sentence with the button that leads back to the usual view."""

    pressed = Signal()

    def __init__(self, tone: Tone, back: str) -> None:
        """Hidden until there is something to tell."""
        super().__init__()
        self.setProperty("role", "notice")
        self.setProperty("tone", str(tone))
        self.said = QLabel(wordWrap=True)
        self.back = QPushButton(back)
        self.back.setProperty("role", "chip")
        self.back.clicked.connect(self.pressed)
        line = QHBoxLayout(self)
        line.setContentsMargins(12, 4, 8, 4)
        line.addWidget(self.said, 1)
        line.addWidget(self.back)
        self.hide()

    def tell(self, text: str) -> None:
        """Say this; nothing hides the bar."""
        self.said.setText(text)
        self.said.setAccessibleName(text)
        self.setVisible(bool(text))
