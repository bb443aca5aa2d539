"""A cycle for one room alone: which room, and every how many days it is due."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hotelwatch.actions.hotel import LONGEST_CYCLE, choose_cycle
from hotelwatch.core.checks.cycles import cycle_from
from hotelwatch.core.facts import RoomNo, Scope
from hotelwatch.core.house import House
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.fields import ChoiceField, Form
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _
from hotelwatch.wording.rounds import cycle_sentence


class RoomCycleForm(QWidget):
    """Gives one room a cycle of its own, whatever its type or the whole hotel has."""

    done = Signal(str)
    """A cycle was written down for this room."""

    def __init__(self, context: Context) -> None:
        """No room chosen yet."""
        super().__init__()
        self._context = context
        self._told_of: str | None = None
        title = QLabel(_("One room's own cycle"), wordWrap=True)
        title.setProperty("role", "heading")
        self.form = Form()
        self.room = self.form.add(_("R&oom"), ChoiceField())
        self.days = self.form.add(_("D&ue every"), QSpinBox())
        self.days.setRange(1, LONGEST_CYCLE)
        self.days.setSuffix(_(" days"))
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.room.chosen.connect(self._tell)
        buttons = QHBoxLayout()
        buttons.addStretch()
        buttons.addWidget(self.save)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(title)
        lines.addWidget(self.form)
        lines.addWidget(self.note)
        lines.addStretch()
        lines.addLayout(buttons)

    def offer(self, house: House) -> None:
        """Offer the rooms of the house."""
        self.room.offer((room, room) for room in house.rooms)
        self._tell()

    def _tell(self, _what: object = None) -> None:
        """Say what the room chosen goes by now; another room begins with its own number."""
        house, room = self._context.hotel.house, self.room.value()
        if room is None:
            self.note.clear()
            return
        told = cycle_from(house, RoomNo(room))
        self.note.setText(_("Now: {cycle}").format(cycle=cycle_sentence(told)))
        if room != self._told_of:
            self.days.setValue(told.cycle_days)
        self._told_of = room

    def _save(self) -> None:
        self.form.clear()
        room, days = self.room.value(), self.days.value()
        if room is None:
            self.form.say(self.room, _("Choose a room of the house."))
            return
        with self._context.notices.refusals():
            choose_cycle(self._context.hotel, Scope.ROOM, room, days)
            self.form.settle()
            self.done.emit(room)
            self._context.notices.done(
                _("Room {room}: due every {days}.").format(room=room, days=days_text(days))
            )
