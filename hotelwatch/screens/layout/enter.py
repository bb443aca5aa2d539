"""Enter presses the button that has the keyboard.

Qt lets only Space press a button outside a dialog; who works by keyboard expects both.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QPushButton, QToolButton, QWidget

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


def let_enter_press(within: QWidget) -> None:
    """Let Enter press each push button in a widget.

    The button takes the key itself: passed on, it might reach a button that has the
    keyboard only because the same Enter led there.
    """
    for button in within.findChildren(QPushButton):
        button.setAutoDefault(True)


def press_tool_button(holder: QWidget, event: QKeyEvent) -> bool:
    """Press the tool button in ``holder`` that passed this Enter on; whether one did.

    For a holder in which nothing else passes Enter on: tool buttons never take it.
    """
    button = QApplication.focusWidget()
    if event.key() not in ENTER or not isinstance(button, QToolButton):
        return False
    if not holder.isAncestorOf(button):
        return False
    if not event.isAutoRepeat():
        button.click()
    return True
