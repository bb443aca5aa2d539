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
    # Qt gives the list no parent, and so not the look that the window wears; what lies in a
    # box of choices, it paints as that box's own list.
    line = field.lineEdit() if isinstance(field, QComboBox) else field
    if (popup := completer.popup()) is not None:
        popup.setProperty("role", "suggestions")
        popup.setParent(line, popup.windowFlags())
