"""What a field may hold, offered below it as one types."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QCompleter, QLineEdit


def suggest(field: QLineEdit | QComboBox, completer: QCompleter, *, anywhere: bool = False) -> None:
    """Offer a completer's texts by what is typed: their beginnings, or what stands anywhere."""
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    if anywhere:
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
    field.setCompleter(completer)
    # Qt gives the list no parent, and so not the look that the window wears. The line within a
    # box of choices must not have it: Qt lets go of it twice there, and the program crashes.
    if (popup := completer.popup()) is not None:
        popup.setProperty("role", "suggestions")
        popup.setParent(field, popup.windowFlags())
