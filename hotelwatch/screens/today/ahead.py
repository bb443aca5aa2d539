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


class WayBar(QFrame):
    """What a person should know today, and the way to where it is seen to; hidden for nothing."""

    wanted = Signal()
    """The person wants to go there."""

    def __init__(self, step: str) -> None:
        """Nothing to know yet; the button says ``step``."""
        super().__init__()
        self.setProperty("role", "notice")
        self.setProperty("tone", Tone.DUE.value)
        self.text = QLabel(wordWrap=True)
        self.button = QPushButton(step)
        self.button.setProperty("role", MAIN)
        self.button.clicked.connect(self._want)
        line = QHBoxLayout(self)
        line.setContentsMargins(12, 6, 8, 6)
        line.addWidget(self.text, 1)
        line.addWidget(self.button)
        self.hide()

    def say(self, text: str) -> None:
        """Say this; hide where it is nothing."""
        self.text.setText(text)
        self.setVisible(bool(text))

    def _want(self) -> None:
        self.wanted.emit()


class MorningBar(WayBar):
    """Why today's sheets are worth planning again, and the way there."""

    def __init__(self) -> None:
        """Nothing speaks for it yet."""
        super().__init__(_("Plan agai&n"))

    def show_morning(self, told: Morning | None, *, is_empty: bool = False) -> None:
        """Say what speaks for it; hide where nothing does. ``is_empty``: no sheet has a room."""
        said = [_("No room was fixed for today.")] if is_empty else []
        self.say("" if told is None else " ".join([*said, morning_sentence(told)]))


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
