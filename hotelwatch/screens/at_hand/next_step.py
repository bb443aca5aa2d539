"""What is not set up yet, and the one next step, in the middle of an empty pane."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout

from hotelwatch.core.checks.today import Lack
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _


class NextStep(QFrame):
    """A sentence and a button, for a page or a pane that has nothing to show yet."""

    wanted = Signal(str)
    """The key of the page on which the next step is taken."""

    def __init__(self) -> None:
        """Nothing lacks yet."""
        super().__init__()
        self.setProperty("role", "card")
        self._page = ""
        self.text = QLabel(wordWrap=True, alignment=Qt.AlignmentFlag.AlignCenter)
        self.button = QPushButton()
        self.button.setProperty("role", MAIN)
        self.button.clicked.connect(self._want)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(24, 16, 24, 16)
        lines.addStretch()
        lines.addWidget(self.text)
        lines.addSpacing(8)
        lines.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignCenter)
        lines.addStretch()

    def show_lack(self, lack: Lack, reason: str = "") -> None:
        """Say what lacks, and offer the step that mends it.

        ``reason`` is why the house has no rounds, where that is what lacks.
        """
        text, step, self._page = {
            Lack.NO_ROSTER: (
                _(
                    "No room is known yet. Rooms and beds come from your roster: a file, or its"
                    " rows pasted with Ctrl+V."
                ),
                _("Load a roster…"),
                "load_roster",
            ),
            Lack.NO_BOOKINGS: (
                _("No bookings were loaded yet. They tell when a room can be entered."),
                _("Load bookings…"),
                "load_bookings",
            ),
            Lack.NO_TEAM: (
                _("No team is described yet. Rounds are planned for teams."),
                _("Describe a team"),
                "rounds",
            ),
            Lack.HOUSE_CLOSED: (
                _("There are no rounds today: {reason}.").format(reason=reason),
                _("Look at the rounds"),
                "rounds",
            ),
            Lack.NOT_PUBLISHED: (
                _("No round is published for today. Draft one, look at it, publish it."),
                _("Go to the rounds"),
                "rounds",
            ),
            Lack.NOTHING_ON_SHEETS: (
                _("No team has a room on its sheet today."),
                _("Look at the rounds"),
                "rounds",
            ),
        }[lack]
        self.text.setText(text)
        self.button.setText(step)

    def _want(self) -> None:
        self.wanted.emit(self._page)
