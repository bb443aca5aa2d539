"""What a field may hold, offered below it as one types."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QCompleter, QLineEdit

LINES = "QListView::item { min-height: 2em; padding: 0 8px; }"
"""The list's own: within a box of choices the window's rules for lines do not reach it."""


def suggest(field: QLineEdit | QComboBox, completer: QCompleter, *, anywhere: bool = False) -> None:
    """Offer a completer's texts by what is typed: their beginnings, or what stands anywhere."""
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    if anywhere:
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
    field.setCompleter(completer)
    # Qt gives the list no parent, and so not the look that the window wears. The line within a
    # box of choices must not have it: Qt lets go of it twice there, and the program crashes.
    if (popup := completer.popup()) is not None:
        popup.setParent(field, popup.windowFlags())
        popup.setStyleSheet(LINES)
