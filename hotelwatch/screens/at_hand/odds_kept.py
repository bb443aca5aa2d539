"""The odds of the open hotel, reckoned once for every page that shows them.

They take seconds in a large hotel, so they are reckoned off the window's thread, make way
for work that somebody asked for, and what was known last stays until then.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from hotelwatch.actions.odds import OddsView, OddsWish, odds_view
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.screens.at_hand.jobs import Jobs
from hotelwatch.wording.language import _


class OddsKept(QObject):
    """Keeps the odds as last reckoned; ``ask`` brings them up to date."""

    changed = Signal()
    """``view`` is another one."""
    stopped = Signal()
    """They were not reckoned: somebody stopped it, or it failed."""

    def __init__(self, hotel: OpenHotel, jobs: Jobs, parent: QObject | None = None) -> None:
        """Nothing reckoned yet."""
        super().__init__(parent)
        self.view: OddsView | None = None
        self._hotel, self._jobs = hotel, jobs
        self._is_reckoning = self._is_wanted_again = False

    @property
    def is_reckoning(self) -> bool:
        """Whether they are being reckoned."""
        return self._is_reckoning

    @property
    def is_current(self) -> bool:
        """Whether they are those of the house and the day as they are."""
        view = self.view
        return (
            view is not None
            and view.house is self._hotel.house
            and view.reckoning.today == self._hotel.today()
        )

    def ask(self) -> None:
        """Reckon them anew where something changed, and once more if it does meanwhile."""
        if self._is_reckoning:
            self._is_wanted_again = True
            return
        if self.is_current:
            self.changed.emit()
            return
        self._is_reckoning, self._is_wanted_again = True, False
        hotel = self._hotel
        wish = OddsWish(
            hotel.house, hotel.occupancy(), hotel.neighbours_at_hand, hotel.today(), self.view
        )
        self._jobs.run(
            odds_view,
            wish,
            label=_("Working out the odds"),
            on_done=self._take,
            on_failed=self._fail,
            on_stopped=self._stop,
            unasked=True,
            gives_way=True,
        )

    def _take(self, view: OddsView) -> None:
        self.view = view
        self._hotel.keep_neighbours(view.house, view.around)
        self._is_reckoning = False
        if self._is_wanted_again and not self.is_current:
            self.ask()
            return
        self.changed.emit()

    def _fail(self, error: Exception) -> None:
        self._jobs.failed.emit(error)
        self._stop()

    def _stop(self) -> None:
        self._is_reckoning = self._is_wanted_again = False
        self.stopped.emit()
