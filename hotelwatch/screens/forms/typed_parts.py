"""A day or moment typed part by part: a separator leads on within the field, Tab out of it."""

from __future__ import annotations

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractSpinBox, QDateTimeEdit

SEPARATORS = "-: "


class TypedParts(QDateTimeEdit):
    """A field of parts that can be typed as it is shown: 2026-11-25, or 2026-11-25 14:05."""

    def __init__(self) -> None:
        """Nothing typed yet."""
        super().__init__()
        self._is_typed_into = False
        self._has_gone_on = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take what is typed; Qt goes on by itself once a part is full."""
        if event.text() and event.text() in SEPARATORS:
            if not self._has_gone_on:
                self._go_on()
            self._has_gone_on = False
            return
        if event.text() and self.lineEdit().selectedText() == self.text():
            self.setSelectedSection(self.sectionAt(0))
        part = self.currentSectionIndex()
        self._is_typed_into = True
        super().keyPressEvent(event)
        self._is_typed_into = False
        self._has_gone_on = event.text().isdigit() and self.currentSectionIndex() != part

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Let Tab leave the field; what is typed stays in it."""
        if self._is_typed_into:
            return True
        return QAbstractSpinBox.focusNextPrevChild(self, forward)

    def _go_on(self) -> None:
        """Select the next part, if there is one."""
        if self.currentSectionIndex() < self.sectionCount() - 1:
            self.setSelectedSection(self.sectionAt(self.currentSectionIndex() + 1))
