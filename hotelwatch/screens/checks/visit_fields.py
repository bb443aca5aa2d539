"""From when to when somebody looked, and with what: not said unless a person says it."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QMenu, QPushButton, QWidget

from hotelwatch.core.checks.looking import RoomLook
from hotelwatch.core.facts import Aid
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label

CLOCK_PX = 56
"""Holds a clock time in text of the usual size; wider where there is room."""
CLOCK_CODES = frozenset({"unknown_clock_time", "clock_goes_back", "visit_to_come"})


class ClockFields(QWidget):
    """From when until when, in one line; empty where nobody says it."""

    changed = Signal()

    def __init__(self) -> None:
        """Nothing said yet."""
        super().__init__()
        self.begun = _clock_field(_("Visit from"))
        self.ended = _clock_field(_("Visit until"))
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(4)
        line.addWidget(self.begun)
        line.addWidget(QLabel("–"))
        line.addWidget(self.ended)
        self.setFocusProxy(self.begun)
        self.begun.textChanged.connect(self.changed)
        self.ended.textChanged.connect(self.changed)

    def show_look(self, look: RoomLook) -> None:
        """Show what a look says."""
        self.begun.setText(look.from_clock)
        self.ended.setText(look.until_clock)

    def clocks(self) -> tuple[str, str]:
        """From when and until when, as typed."""
        return self.begun.text().strip(), self.ended.text().strip()


class AidsButton(QPushButton):
    """Which aids were used: a button that says it, and a list to tick."""

    changed = Signal()

    def __init__(self) -> None:
        """None said yet."""
        super().__init__()
        menu = _StayingMenu(self)
        self._acts = {aid: self._act(menu, aid) for aid in Aid}
        self.setMenu(menu)
        self._say()

    def _act(self, menu: QMenu, aid: Aid) -> QAction:
        act = menu.addAction(label(aid))
        act.setCheckable(True)
        act.toggled.connect(self._tell)
        return act

    def choose(self, aids: Iterable[str]) -> None:
        """Tick these, and no others."""
        wanted = set(aids)
        for aid, act in self._acts.items():
            act.setChecked(aid.value in wanted)

    def chosen(self) -> tuple[str, ...]:
        """Codes of the aids ticked; empty: not said."""
        return tuple(aid.value for aid, act in self._acts.items() if act.isChecked())

    def _tell(self) -> None:
        self._say()
        self.changed.emit()

    def _say(self) -> None:
        names = [label(Aid(code)) for code in self.chosen()]
        said = _("not said")
        if names:
            said = ngettext("{n} aid used", "{n} aids used", len(names)).format(n=len(names))
        self.setText(said)
        told = _("Aids used: {aids}").format(aids=join(names) if names else said)
        self.setAccessibleName(told)
        self.setToolTip(told)


class _StayingMenu(QMenu):
    """A list that stays open while one ticks, until Esc or a press beside it."""

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tick what is pressed."""
        act = self.actionAt(event.position().toPoint())
        if act is None:
            super().mouseReleaseEvent(event)
        else:
            act.toggle()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space ticks where one stands; Enter ends it."""
        act = self.activeAction()
        if event.key() == Qt.Key.Key_Space and act is not None:
            act.toggle()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.close()
        else:
            super().keyPressEvent(event)


def _clock_field(name: str) -> QLineEdit:
    field = QLineEdit()
    field.setAccessibleName(name)
    field.setPlaceholderText("–:–")
    field.setToolTip(_("{name}, as 9:05; leave it empty if nobody knows").format(name=name))
    field.setMaxLength(len("00:00"))
    field.setMinimumWidth(CLOCK_PX)
    return field
