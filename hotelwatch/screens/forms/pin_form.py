"""A new PIN for who sits at the desk, for the old one."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QWidget,
)

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.people import change_pin
from hotelwatch.actions.pins import LONGEST_PIN
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.layout.box import Box
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import refusal_sentence

WIDE_LETTERS = 52


def pin_field() -> QLineEdit:
    """A line for a PIN: what is typed is never shown."""
    line = QLineEdit()
    line.setEchoMode(QLineEdit.EchoMode.Password)
    line.setMaxLength(LONGEST_PIN)
    line.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
    line.setInputMethodHints(Qt.InputMethodHint.ImhDigitsOnly | Qt.InputMethodHint.ImhSensitiveData)
    return line


def same_twice(pin: str, again: str) -> None:
    """Raise Refusal("pins_differ") unless a new PIN was typed the same twice."""
    if pin != again:
        raise Refusal("pins_differ")


class PinForm(Box):
    """The old PIN, the new one twice."""

    def __init__(self, hotel: OpenHotel, notices: Notices, parent: QWidget) -> None:
        """Empty fields."""
        super().__init__(_("Change my PIN"), parent)
        self._hotel, self._notices = hotel, notices
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.form = Form()
        self.old = self.form.add(_("&PIN now"), pin_field())
        self.new = self.form.add(_("&New PIN"), pin_field())
        self.again = self.form.add(_("New PIN &again"), pin_field())
        self.save = QPushButton(_("&Save the new PIN"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        leave = QPushButton(_("Not now"))
        leave.clicked.connect(self.reject)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(leave)
        foot.addWidget(self.save)
        self.enter = self.save
        self.lines.addWidget(self.form)
        self.lines.addStretch(1)
        self.lines.addLayout(foot)
        self.setMinimumWidth(WIDE_LETTERS * self.fontMetrics().averageCharWidth())
        self.old.setFocus()

    def _save(self) -> None:
        self.form.clear()
        try:
            same_twice(self.new.text(), self.again.text())
            change_pin(self._hotel, self.old.text(), self.new.text())
        except Refusal as refusal:
            field = self.old if refusal.code in {"wrong_pin", "pin_wait"} else self.new
            self.form.say(field, " ".join(refusal_sentence(refusal)).strip())
            field.setFocus()
            return
        self.accept()
        self._notices.done(_("Your new PIN counts from now on."))
