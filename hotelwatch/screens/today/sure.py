"""How sure one may be, in a few words: reckoned in the background, never waited for."""

from __future__ import annotations

from PySide6.QtCore import QTimer

from hotelwatch.core.roles import Sight
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.today.tiles import Tile
from hotelwatch.wording.day_picture import sure_lines, sure_words
from hotelwatch.wording.language import _

BEGINS_AFTER_MS = 1500
"""The first page stands before arrays are loaded."""


class SureTile(Tile):
    """The chance that something was missed; what was last known, or that it is being reckoned."""

    def __init__(self, context: Context) -> None:
        """Nothing known yet."""
        super().__init__()
        self._context = context
        self._begin = QTimer(self, singleShot=True, interval=BEGINS_AFTER_MS)
        self._begin.timeout.connect(context.odds.ask)
        context.odds.changed.connect(self._show)
        context.odds.stopped.connect(self._stop)
        self._say_waiting()

    def refresh(self) -> None:
        """Have the odds reckoned anew; what is known stays until then."""
        if not self._context.hotel.house.rooms or not self._context.sees(Sight.ODDS):
            self._begin.stop()
            return
        self._show()
        if not self._context.odds.is_current:
            self._begin.start()

    def _show(self) -> None:
        view = self._context.odds.view
        if view is None:
            self._say_waiting()
            return
        lines = list(sure_lines(view.hotel.none, view.hotel.rooms))
        if not self._context.odds.is_current:
            lines.append(_("As last known; being worked out anew"))
        self.say(sure_words(view.hotel.none), lines)

    def _stop(self) -> None:
        if self._context.odds.view is None:
            self.say(_("How sure?"), [_("It was not worked out. Press to see more.")])

    def _say_waiting(self) -> None:
        self.say(_("How sure?"), [_("Being worked out; it takes some seconds in a large hotel.")])
