"""Planning off the window's thread, and reading off what a plan leans on once it is there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from PySide6.QtCore import QObject, Signal

from hotelwatch.actions.plan_reading import Reading, read_plan
from hotelwatch.actions.rounds import draft_round, wish_for
from hotelwatch.core.facts import RoundPublished
from hotelwatch.core.rounds.plan import Plan, Wish
from hotelwatch.core.rounds.team_days import Round
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class Draft:
    """A plan that is not published, what was asked, and how much was on record when it was made."""

    plan: Plan
    wish: Wish
    entry: int


class PlanWork(QObject):
    """Makes drafts one at a time; one asked for meanwhile is made next."""

    drafted = Signal(object)
    ended = Signal()
    """Nothing is being planned any more: stopped before there was a plan, or failed."""
    read = Signal()
    """The reading of what is shown has come."""

    def __init__(self, context: Context, parent: QObject) -> None:
        """Nothing to do yet."""
        super().__init__(parent)
        self._context = context
        self._wish: Wish | None = None
        self._days = self._entry = 0
        self._is_wanted_again = self._is_reading = False
        self._read_for: tuple[object, ...] = ()
        self.is_drafting = False
        self.reading = Reading()

    # --- planning -----------------------------------------------------------

    def start(self, days: int) -> None:
        """Plan so many days; Stop keeps the best plan so far."""
        self._days = days
        if self.is_drafting:
            self._is_wanted_again = True
            return
        hotel = self._context.hotel
        self.is_drafting, self._is_wanted_again = True, False
        self._wish = wish_for(hotel, days)
        self._entry = max(hotel.house.entries, default=0)
        self._context.jobs.run(
            draft_round,
            hotel.house,
            hotel.occupancy(),
            self._wish,
            label=_("Planning the rounds"),
            on_done=self._take,
            on_failed=self._fail,
            on_stopped=self._stopped,
            keeps=True,
        )

    def _take(self, plan: Plan) -> None:
        self.is_drafting = False
        if self._is_wanted_again or self._was_published_since():
            self.start(self._days)
        elif self._wish is not None:
            wish = replace(self._wish, weights=plan.weights)
            self.drafted.emit(Draft(plan, wish, self._entry))

    def _fail(self, error: Exception) -> None:
        self._stopped()
        self._context.notices.fail(error)

    def _stopped(self) -> None:
        self.is_drafting = self._is_wanted_again = False
        self.ended.emit()

    def _was_published_since(self) -> bool:
        """Whether a round was published while the plan was made, which knows nothing of it."""
        published = self._context.hotel.house.kept_of(RoundPublished)
        return any(kept.entry > self._entry for kept in published)

    # --- reading ------------------------------------------------------------

    def read_on(self, draft: Draft | None, told: Round, days: int) -> None:
        """Read a draft, else the round told, in the background; not twice, nor while planning.

        One reading at a time: whoever hears that it has come asks for what is shown by then.
        """
        hotel = self._context.hotel
        slots = told.slots if draft is None else draft.plan.slots
        if self.is_drafting or self._is_reading:
            return
        newest = max(hotel.house.entries, default=0)
        state = (newest, hotel.today(), draft, len(slots), days)
        if state == self._read_for:
            return
        self._read_for, self.reading = state, Reading()
        if not slots and draft is None:
            return
        self._is_reading = True
        self._context.jobs.run(
            partial(read_plan, is_published=draft is None),
            hotel.house,
            hotel.occupancy(),
            draft.wish if draft else wish_for(hotel, days),
            slots,
            label=_("Reading the round"),
            unasked=True,
            on_done=self._take_reading,
            on_failed=self._fail_reading,
            on_stopped=self._stop_reading,
        )

    def _take_reading(self, reading: Reading) -> None:
        self._is_reading = False
        self.reading = reading
        self.read.emit()

    def _fail_reading(self, error: Exception) -> None:
        self._stop_reading()
        self._context.notices.fail(error)

    def _stop_reading(self) -> None:
        """Read again when the round is shown the next time."""
        self._is_reading, self._read_for = False, ()
