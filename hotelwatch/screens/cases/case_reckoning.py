"""The odds of the case in view, reckoned off the window's thread when a pane wants them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from hotelwatch.actions.odds import OddsWish, case_odds
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.house import House
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.wording.language import _

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import CaseOdds


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """Which case, as of which house and day, with which rooms beside its neighbours."""

    case: CaseNo
    house: House
    today: date
    also: frozenset[RoomNo]

    def covers(self, other: Wanted) -> bool:
        """Whether what was reckoned for this one answers the other."""
        same = self.case == other.case and self.today == other.today
        return same and self.house is other.house and other.also <= self.also


class CaseReckoning(QObject):
    """The last answer about a case; it stays while a new one is being reckoned."""

    changed = Signal()
    """An answer came, or was begun, stopped or asked for."""

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        """Nothing reckoned yet."""
        super().__init__(parent)
        self._context = context
        self._answer: CaseOdds | None = None
        self._answers: Wanted | None = None
        self._running: Wanted | None = None
        self._wanted: Wanted | None = None
        self._stopped: Wanted | None = None

    def of(self, case: CaseNo) -> CaseOdds | None:
        """The last answer about this case, if there is one."""
        return self._answer if self._answers and self._answers.case == case else None

    @property
    def is_running(self) -> bool:
        """Whether an answer is on its way."""
        return self._running is not None

    @property
    def was_stopped(self) -> bool:
        """Whether somebody stopped it, and what is shown is not up to date."""
        return self._stopped is not None

    def want(self, case: CaseNo, also: Iterable[RoomNo] = (), *, afresh: bool = False) -> None:
        """Reckon a case, unless it was reckoned from this house on this day already.

        What somebody stopped begins again only ``afresh``, or once something changed.
        """
        hotel = self._context.hotel
        wanted = Wanted(case, hotel.house, hotel.today(), frozenset(also))
        if self._answers is not None and self._answers.covers(wanted):
            self._wanted = None
            return
        was_stopped = self._stopped is not None and self._stopped.covers(wanted)
        if was_stopped and not afresh:
            return
        self._stopped, self._wanted = None, wanted
        if self._running is None:
            self._begin()

    def _begin(self) -> None:
        wanted, hotel = self._wanted, self._context.hotel
        if wanted is None:
            return
        if wanted.house is not hotel.house:
            # Something was written down while another piece of work was going on.
            wanted = Wanted(wanted.case, hotel.house, hotel.today(), wanted.also)
        self._running, self._wanted = wanted, None
        wish = OddsWish(wanted.house, hotel.occupancy(), hotel.neighbours(), wanted.today)
        self._context.jobs.run(
            partial(case_odds, also=tuple(sorted(wanted.also))),
            wish,
            wanted.case,
            label=_("Working out the odds of case {case}").format(case=wanted.case),
            on_done=self._take,
            on_failed=self._fail,
            on_stopped=self._stop,
            unasked=True,
        )
        self.changed.emit()

    def _take(self, odds: CaseOdds) -> None:
        self._answer, self._answers, self._running = odds, self._running, None
        if self._wanted is not None and self._answers and self._answers.covers(self._wanted):
            self._wanted = None
        self._begin()
        self.changed.emit()

    def _stop(self) -> None:
        self._stopped, self._running, self._wanted = self._running, None, None
        self.changed.emit()

    def _fail(self, error: Exception) -> None:
        self._stop()
        self._context.jobs.failed.emit(error)
