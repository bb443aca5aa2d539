"""Enter presses the button that has the keyboard.

Qt lets only Space press a button outside a dialog; who works by keyboard expects both.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QPushButton, QToolButton

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


def pressed_by_enter(event: QKeyEvent) -> bool:
    """Press the button that has the keyboard, if this is Enter; whether one was pressed."""
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    button = QApplication.focusWidget()
    if event.key() not in ENTER or held != Qt.KeyboardModifier.NoModifier:
        return False
    if not isinstance(button, (QPushButton, QToolButton)):
        return False
    if not event.isAutoRepeat():
        button.click()
    return True
