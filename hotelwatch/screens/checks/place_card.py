"""The place one stands on: its caution, and three buttons that say how it stands."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QPoint, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFrame, QLabel, QMenu, QPushButton, QVBoxLayout

from hotelwatch.core.case_facts import Sign
from hotelwatch.core.checks.looking import RoomLook
from hotelwatch.core.checks.place_looks import (
    SEEN_SIGNS,
    WHY_NUMBERS,
    PlaceLook,
    PlaceState,
    reasons_for,
)
from hotelwatch.screens.checks.words import people_text, why_label
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label, place_label


class PlaceCard(QFrame):
    """The current place in words, with what can be said of it."""

    looked_at = Signal()
    left = Signal(str)
    """It was not looked at: why."""
    found = Signal(object)
    """Signs found there; none takes the find away."""

    def __init__(self) -> None:
        """No place yet."""
        super().__init__()
        self.setProperty("role", "card")
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.caution = QLabel(wordWrap=True)
        self.seen = QPushButton(_("Looked at (L)"))
        self.seen.setAccessibleName(_("Looked at"))
        self.seen.clicked.connect(self.looked_at)
        self.left_out = QPushButton(_("Not looked at… (N)"))
        self.left_out.setAccessibleName(_("Not looked at, and why"))
        self.left_out.clicked.connect(self.ask_why)
        self.found_there = QPushButton(_("Found something… (F)"))
        self.found_there.setAccessibleName(_("Found something, and which sign"))
        self.found_there.clicked.connect(self.ask_signs)
        self.reasons = QMenu(self)
        self.signs = QMenu(self)
        self.everything = QMenu(self)
        self._look: PlaceLook | None = None
        lines = QVBoxLayout(self)
        lines.setContentsMargins(14, 10, 14, 12)
        lines.setSpacing(6)
        for widget in (self.title, self.caution, self.seen, self.left_out, self.found_there):
            lines.addWidget(widget)

    def show_place(self, look: PlaceLook | None, visit: RoomLook) -> None:
        """Show a place of a visit; None shows none."""
        self._look = look
        self.setVisible(look is not None)
        if look is None:
            return
        self.title.setText(place_label(look.place.code))
        self.caution.setText(_caution(look))
        self.caution.setVisible(bool(self.caution.text()))
        self.reasons.clear()
        for why in reasons_for(visit, look.place):
            number = WHY_NUMBERS[why]
            action = self._add(self.reasons, number, why_label(why), is_on=look.why == why)
            action.triggered.connect(partial(self._leave, why))
        self.signs.clear()
        for number, sign in enumerate(SEEN_SIGNS, 1):
            action = self._add(self.signs, number, label(sign), is_on=sign in look.signs)
            action.triggered.connect(partial(self._find, sign))

    def ask_why(self) -> None:
        """Offer the reasons; a digit, arrows or the pointer choose."""
        self._offer(self.reasons, self.left_out)

    def ask_signs(self) -> None:
        """Offer the signs; a sign that is ticked already is taken away."""
        self._offer(self.signs, self.found_there)

    def ask_all(self, at: QPoint) -> None:
        """Offer all that can be said of the place, at a point of the screen."""
        if self._look is None:
            return
        menu = self.everything
        menu.clear()
        _heading(menu, self.title.text())
        seen = menu.addAction(_("Looked at"))
        seen.setCheckable(True)
        seen.setChecked(self._look.state is PlaceState.SEEN)
        seen.triggered.connect(self.looked_at)
        menu.addSeparator()
        _heading(menu, _("Not looked at, because:"))
        menu.addActions(self.reasons.actions())
        menu.addSeparator()
        self.signs.setTitle(_("Found something"))
        menu.addMenu(self.signs)
        menu.popup(at)
        menu.setActiveAction(seen)

    def _offer(self, menu: QMenu, button: QPushButton) -> None:
        if self._look is None:
            return
        menu.popup(button.mapToGlobal(QPoint(0, button.height())))
        actions = menu.actions()
        menu.setActiveAction(next((one for one in actions if one.isChecked()), actions[0]))

    def _add(self, menu: QMenu, number: int, text: str, *, is_on: bool) -> QAction:
        action = menu.addAction(f"&{number}  {text}")
        action.setCheckable(True)
        action.setChecked(is_on)
        return action

    def _leave(self, why: str) -> None:
        self.left.emit(why)

    def _find(self, sign: Sign) -> None:
        if self._look is not None:
            others = tuple(one for one in self._look.signs if one is not sign)
            self.found.emit(others if sign in self._look.signs else (*others, sign))


def _heading(menu: QMenu, text: str) -> None:
    """A line that can't be chosen; a section's own text is not painted in every style."""
    menu.addAction(text).setEnabled(False)


def _caution(look: PlaceLook) -> str:
    place, parts = look.place, []
    if place.people > 1:
        parts.append(_("Takes {people}").format(people=people_text(place.people)))
    if place.move:
        parts.append(label(place.move))
    if place.caution:
        parts.append(label(place.caution))
    if place.one_way:
        parts.append(_("May not go back as it was"))
    return " ".join(_("{said}.").format(said=part) for part in parts)
