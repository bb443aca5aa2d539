"""A pad for a PIN: large keys for fingers, the same digits by the keyboard."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QEvent, QRegularExpression, Qt, Signal
from PySide6.QtGui import QKeyEvent, QRegularExpressionValidator
from PySide6.QtWidgets import QGridLayout, QLineEdit, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from hotelwatch.actions.pins import LONGEST_PIN
from hotelwatch.screens.layout.enter import ENTER
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _

KEY_LINES = 3
"""A key is so many lines of text high: at least 44 px, as WCAG 2.2 (2.5.5) asks for."""
WIDER = 1.6
KEYS = "123456789"


class PinPad(QWidget):
    """The digits typed, never shown, and the keys below them."""

    entered = Signal(str)
    """A PIN was typed to its end."""

    def __init__(self) -> None:
        """No digit yet."""
        super().__init__()
        self.line = QLineEdit()
        self.line.setEchoMode(QLineEdit.EchoMode.Password)
        self.line.setMaxLength(LONGEST_PIN)
        self.line.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.line.setInputMethodHints(
            Qt.InputMethodHint.ImhDigitsOnly | Qt.InputMethodHint.ImhSensitiveData
        )
        self.line.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        self.line.setValidator(QRegularExpressionValidator(QRegularExpression("[0-9]*"), self))
        self.line.setAccessibleName(_("PIN"))
        self.line.setPlaceholderText(_("PIN"))
        self.line.returnPressed.connect(self._enter)
        self.keys = {digit: self._key(digit) for digit in f"{KEYS}0"}
        self.rub_out = self._button("⌫", self.line.backspace)
        self.rub_out.setAccessibleName(_("Delete the last digit"))
        self.enter = self._button(_("Enter"), self._enter)
        self.enter.setProperty("role", MAIN)
        self._grid = QGridLayout()
        self._grid.setSpacing(8)
        for place, digit in enumerate(KEYS):
            self._grid.addWidget(self.keys[digit], *divmod(place, 3))
        self._grid.addWidget(self.rub_out, 3, 0)
        self._grid.addWidget(self.keys["0"], 3, 1)
        self._grid.addWidget(self.enter, 3, 2)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(10)
        lines.addWidget(self.line)
        lines.addLayout(self._grid)
        self.setFocusProxy(self.line)
        self._fit()

    def clear(self) -> None:
        """Forget the digits."""
        self.line.clear()

    def take_key(self, event: QKeyEvent) -> bool:
        """Take a digit typed elsewhere on the screen; whether it was one."""
        digit = event.text()
        if digit not in self.keys or not digit:
            return False
        self.line.setFocus()
        self.line.insert(digit)
        return True

    def changeEvent(self, event: QEvent) -> None:
        """Make the keys fit larger text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "enter"):
            self._fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let digits and Enter count wherever the keyboard stands on the pad."""
        if event.key() in ENTER:
            self._enter()
        elif not self.take_key(event):
            super().keyPressEvent(event)

    def _fit(self) -> None:
        side = KEY_LINES * self.fontMetrics().lineSpacing()
        for place in range(len(KEYS) // 3 + 1):
            self._grid.setRowMinimumHeight(place, side)
        for place in range(3):
            self._grid.setColumnMinimumWidth(place, round(WIDER * side))

    def _key(self, digit: str) -> QPushButton:
        return self._button(digit, partial(self._type, digit))

    def _button(self, text: str, act: object) -> QPushButton:
        button = QPushButton(text)
        button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # the keyboard stays in the line
        button.clicked.connect(act)
        return button

    def _type(self, digit: str, _checked: bool = False) -> None:
        self.line.insert(digit)

    def _enter(self, _checked: bool = False) -> None:
        if self.line.text():
            self.entered.emit(self.line.text())
