"""Rooms that the record speaks for as of higher risk, with why; a press puts them into the line."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hotelwatch.core.checks.risk import risky_rooms
from hotelwatch.core.facts import Risk, RiskPlaced
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.rooms_typed import rooms_named
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.rounds import risky_lines

MOST_TOLD = 4
"""Lines; of more finds the number is told."""


class RiskProposed(QWidget):
    """Says that a risk is the hotel's own judgement, and proposes rooms for the higher one."""

    def __init__(self, context: Context, rooms: QLineEdit) -> None:
        """``rooms``: the line that takes them."""
        super().__init__()
        self._context, self._rooms = context, rooms
        note = QLabel(
            _("The hotel's own judgement: nobody measured by how much one room is likelier."),
            wordWrap=True,
        )
        note.setProperty("role", "muted")
        self.propose = QPushButton(_("&Propose from the record"))
        self.propose.clicked.connect(self._propose)
        self.told = QLabel(wordWrap=True)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(note)
        lines.addWidget(self.propose)
        lines.addWidget(self.told)

    def offer(self, risk: Risk | None) -> None:
        """For rooms of this risk; None: for none."""
        self.setVisible(risk is not None)
        may = self._context.may(RiskPlaced)
        self.propose.setVisible(risk is Risk.HIGHER and may)
        self.told.setVisible(risk is Risk.HIGHER)
        self.told.clear()

    def _propose(self) -> None:
        hotel = self._context.hotel
        house = hotel.house
        found = risky_rooms(house, hotel.neighbours(), hotel.today())
        if not found:
            days = int(house.rules.figures.risk_found_days.value)
            self.told.setText(
                _("No sign that counts was found in the last {days} (an assumption).").format(
                    days=days_text(days)
                )
            )
            return
        named, strange = rooms_named(self._rooms.text(), house.rooms)
        more = (one.room for one in found)
        self._rooms.setText(", ".join(dict.fromkeys((*named, *strange, *more))))
        self._rooms.setCursorPosition(0)
        said = risky_lines(found)
        more_finds = len(said) - MOST_TOLD
        if more_finds > 0:
            told = ngettext("And {n} more find.", "And {n} more finds.", more_finds)
            said[MOST_TOLD:] = [told.format(n=more_finds)]
        self.told.setText("\n".join(said))
