"""How sure one may be: the odds in tabs, reckoned off the window's thread."""

from __future__ import annotations

from typing import Protocol, cast

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QPushButton, QTabWidget, QVBoxLayout, QWidget

from hotelwatch.actions.odds import OddsView
from hotelwatch.core.facts import RoomNo, Topic
from hotelwatch.core.roles import Sight
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.odds.back_pane import BackPane
from hotelwatch.screens.odds.compare_pane import ComparePane
from hotelwatch.screens.odds.cycle_pane import CyclePane
from hotelwatch.screens.odds.hotel_pane import HotelPane
from hotelwatch.screens.odds.rests_pane import RestsPane
from hotelwatch.screens.odds.rooms_pane import RoomsPane
from hotelwatch.screens.odds.survey_pane import SurveyPane
from hotelwatch.screens.odds.trials_pane import TrialsPane
from hotelwatch.wording.language import _


class Pane(Protocol):
    """A tab of the page."""

    def show_view(self, view: OddsView) -> None:
        """Show these odds."""


class OddsPage(QWidget):
    """Panes in tabs, over the odds of today."""

    topics = frozenset(Topic)

    def __init__(self, context: Context) -> None:
        """Empty panes; ``refresh`` fills them."""
        super().__init__()
        self._context = context
        self._view: OddsView | None = None
        self._wanted: RoomNo | None = None
        self.waiting = QLabel(alignment=Qt.AlignmentFlag.AlignCenter)
        self.again = QPushButton(_("&Work out the odds"))
        self.again.setProperty("role", MAIN)
        self.again.clicked.connect(self.refresh)
        self.rooms = RoomsPane(context)
        self.hotel = HotelPane(context)
        self.cycle = CyclePane(context)
        self.survey = SurveyPane(context)
        self.trials = TrialsPane(context)
        self.compare = ComparePane(context)
        self.back = BackPane(context)
        self.rests = RestsPane(context)
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("How sure"))
        self.tabs.addTab(self.rooms, _("Where to look next"))
        self.tabs.addTab(self.hotel, _("The hotel"))
        self.tabs.addTab(self.cycle, _("What a cycle buys"))
        self.tabs.addTab(self.survey, _("Surveys"))
        trials = self.tabs.addTab(self.trials, _("Blind trials"))
        # Where dummies lie only a supervisor knows: else no trial would be blind.
        self.tabs.setTabVisible(trials, context.sees(Sight.TRIALS))
        self.tabs.addTab(self.compare, _("Compare rules"))
        self.tabs.addTab(self.back, _("Looking back"))
        self.tabs.addTab(self.rests, _("What it rests on"))
        self.cycle.rests_wanted.connect(self._show_rests)
        self.back.compare_wanted.connect(lambda: self.tabs.setCurrentWidget(self.compare))
        self.back.cycle_wanted.connect(lambda: self.tabs.setCurrentWidget(self.cycle))
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.tabs, 1)
        lines.addStretch()
        lines.addWidget(self.waiting)
        lines.addWidget(self.again, alignment=Qt.AlignmentFlag.AlignCenter)
        lines.addStretch()
        self.setFocusProxy(self.tabs.tabBar())
        self._say(_("Working out the odds…"), can_ask=False)
        context.odds.changed.connect(self._show)
        context.odds.stopped.connect(self._stopped)

    def refresh(self) -> None:
        """Have the odds reckoned anew as far as something changed."""
        self._say(_("Working out the odds…"), can_ask=False)
        self._context.odds.ask()

    def showEvent(self, event: QShowEvent) -> None:
        """Show what was reckoned while another page showed."""
        super().showEvent(event)
        self._show()

    def unsaved(self) -> tuple[str, ...]:
        """Forms begun but not saved."""
        return self.trials.unsaved()

    def _say(self, text: str, *, can_ask: bool) -> None:
        """Say why nothing is shown, while nothing is."""
        self.waiting.setText(text)
        self.waiting.setVisible(self._view is None)
        self.again.setVisible(self._view is None and can_ask)
        self.tabs.setVisible(self._view is not None)

    def _stopped(self) -> None:
        self._say(_("The odds were not worked out: it was stopped."), can_ask=True)

    def _show_rests(self) -> None:
        self.tabs.setCurrentWidget(self.rests)

    def focus_room(self, room: RoomNo) -> None:
        """Show a room among those to look at next."""
        self.tabs.setCurrentWidget(self.rooms)
        self._wanted = room
        if self._view is not None:
            self.rooms.focus_room(room)

    def _show(self) -> None:
        view = self._context.odds.view
        if view is None or view is self._view or not self.isVisible():
            return
        self._view = view
        self._say("", can_ask=False)
        for place in range(self.tabs.count()):
            if self.tabs.isTabVisible(place):
                cast("Pane", self.tabs.widget(place)).show_view(view)
        if self._wanted is not None:
            self.rooms.focus_room(self._wanted)
            self._wanted = None
