"""What lies before today's work: planning again, and where the present pace leads."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton

from hotelwatch.core.rounds.backlog import Backlog, backlog
from hotelwatch.core.rounds.morning import Morning
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.wording.backlog import backlog_sentence
from hotelwatch.wording.language import _
from hotelwatch.wording.plan_calendar import morning_sentence


class MorningBar(QFrame):
    """Why today's sheets are worth planning again, and the way there. Hidden for no reason."""

    wanted = Signal()
    """The person wants to plan again."""

    def __init__(self) -> None:
        """Nothing speaks for it yet."""
        super().__init__()
        self.setProperty("role", "notice")
        self.setProperty("tone", Tone.DUE.value)
        self.text = QLabel(wordWrap=True)
        self.button = QPushButton(_("Plan agai&n"))
        self.button.setProperty("role", MAIN)
        self.button.clicked.connect(self._want)
        line = QHBoxLayout(self)
        line.setContentsMargins(12, 6, 8, 6)
        line.addWidget(self.text, 1)
        line.addWidget(self.button)
        self.hide()

    def show_morning(self, told: Morning | None, *, is_empty: bool = False) -> None:
        """Say what speaks for it; hide where nothing does. ``is_empty``: no sheet has a room."""
        self.setVisible(told is not None)
        if told is not None:
            said = [_("No room was fixed for today.")] if is_empty else []
            self.text.setText(" ".join([*said, morning_sentence(told)]))

    def _want(self) -> None:
        self.wanted.emit()


class BacklogLine(QLabel):
    """By when every underside will have been seen, worked out off the window's thread."""

    def __init__(self, context: Context) -> None:
        """Nothing is worked out yet."""
        super().__init__(wordWrap=True)
        self.setProperty("role", "muted")
        self._context = context
        self._is_counting = self._is_stale = False

    def refresh(self) -> None:
        """Work it out anew; what stands there stays until then."""
        hotel = self._context.hotel
        if not hotel.house.beds:
            self.clear()
            return
        if self._is_counting:
            self._is_stale = True
            return
        self._is_counting = True
        self._context.jobs.run(
            backlog,
            hotel.house,
            hotel.today(),
            label=_("Working out the pace"),
            unasked=True,
            on_done=self._show,
            on_stopped=self._stop,
        )

    def _show(self, told: Backlog) -> None:
        self._is_counting = False
        self.setText(backlog_sentence(told))
        if self._is_stale:
            self._is_stale = False
            self.refresh()

    def _stop(self) -> None:
        self._is_counting = self._is_stale = False
