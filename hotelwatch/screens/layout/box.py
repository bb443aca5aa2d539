"""A box above the window: never larger than the window, scrolling where that is too little.

Esc closes it. Enter presses the button that has the keyboard; from a field it presses the
one that the box names in ``enter``, and no other: Qt would take the first it comes to.
"""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QAbstractButton, QDialog, QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.screens.layout.enter import ENTER
from hotelwatch.screens.layout.page_frame import PageFrame
from hotelwatch.screens.layout.tab_order import in_turn


class Box(QDialog):
    """A title, and what a box of its own puts below it in ``lines``."""

    def __init__(self, title: str, parent: QWidget | None, *, wished: QSize | None = None) -> None:
        """Empty; without a size that is wished it is as large as what it holds."""
        super().__init__(parent)
        self._wished = wished
        self.enter: QPushButton | None = None
        self.setWindowTitle(title)
        self.heading = QLabel(title, wordWrap=True)
        self.heading.setProperty("role", "title")
        self._inside = QWidget()
        self.lines = QVBoxLayout(self._inside)
        self.lines.addWidget(self.heading)
        self._frame = PageFrame(self._inside)
        self._frame.verticalScrollBar().rangeChanged.connect(self._grow)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._frame)

    def sizeHint(self) -> QSize:
        """What is wished, or what is held needs, within the window."""
        wished = self._wished if self._wished is not None else self._needed()
        return wished.boundedTo(self._room())

    def showEvent(self, event: QShowEvent) -> None:
        """Take the room there is, and leave Enter to ``keyPressEvent``."""
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(False)
        self.resize(self.sizeHint())
        super().showEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press one button; fields and lists have had the key before."""
        if event.key() not in ENTER:
            super().keyPressEvent(event)
            return
        held = self.focusWidget()
        button = held if isinstance(held, QAbstractButton) else self.enter
        if button is not None and button.isVisible() and not event.isAutoRepeat():
            button.click()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Let Tab come to every control in turn."""
        with in_turn(self):
            return super().focusNextPrevChild(forward)

    def _needed(self) -> QSize:
        hint = self._inside.sizeHint().expandedTo(self.minimumSize())
        if self.lines.hasHeightForWidth():
            hint.setHeight(self.lines.totalHeightForWidth(hint.width()))
        return hint

    def _room(self) -> QSize:
        holder = self.parentWidget()
        return holder.window().size() if holder is not None else self.screen().availableSize()

    def _grow(self, _first: int, beyond: int) -> None:
        """Grow by what one would have to scroll, as far as the window goes."""
        if beyond and self.isVisible():
            tall = min(self.height() + beyond, self._room().height())
            if tall > self.height():
                self.resize(self.width(), tall)
