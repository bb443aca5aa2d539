"""Rounds: what is planned, for which teams, and every how many days a bed comes up."""

from __future__ import annotations

from PySide6.QtWidgets import QTabWidget, QVBoxLayout, QWidget

from hotelwatch.core.facts import RoomNo, Topic
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.half_entered import not_saved
from hotelwatch.screens.rounds.cycles_pane import CyclesPane
from hotelwatch.screens.rounds.days_pane import DaysPane
from hotelwatch.screens.rounds.plan_pane import PlanPane
from hotelwatch.screens.rounds.teams_pane import TeamsPane
from hotelwatch.screens.rounds.visits_pane import VisitsPane
from hotelwatch.screens.rounds.what_if_pane import WhatIfPane
from hotelwatch.wording.language import _


class RoundsPage(QWidget):
    """Panes in tabs: the plan, visits to arrange, what if, days, teams, cycles."""

    topics = frozenset(Topic)

    def __init__(self, context: Context) -> None:
        """Empty panes; ``refresh`` fills them."""
        super().__init__()
        self.plan = PlanPane(context)
        self.visits = VisitsPane(context)
        self.what_if = WhatIfPane(context)
        self.days = DaysPane(context)
        self.teams = TeamsPane(context)
        self.cycles = CyclesPane(context)
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("Rounds"))
        self.tabs.addTab(self.plan, _("Plan"))
        self.tabs.addTab(self.visits, _("Visits"))
        self.tabs.addTab(self.what_if, _("What if"))
        self.tabs.addTab(self.days, _("Days"))
        self.tabs.addTab(self.teams, _("Teams"))
        self.tabs.addTab(self.cycles, _("Cycles"))
        self._stale: set[VisitsPane | WhatIfPane | DaysPane | TeamsPane | CyclesPane] = set()
        self.tabs.currentChanged.connect(self._catch_up)
        self.plan.team_wanted.connect(self._describe_team)
        self.plan.tab_wanted.connect(self._show_tab)
        self.what_if.team_wanted.connect(self._describe_team)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.tabs)
        self.setFocusProxy(self.tabs.tabBar())

    def refresh(self) -> None:
        """Read the house anew: the plan, and the pane in view; the others when they are shown."""
        self._stale = {self.visits, self.what_if, self.days, self.teams, self.cycles}
        self.plan.refresh()
        self._catch_up()

    def _catch_up(self, _place: int = 0) -> None:
        """Bring the pane in view up to date."""
        for pane in tuple(self._stale):
            if pane is self.tabs.currentWidget():
                self._stale.discard(pane)
                pane.refresh()

    @staticmethod
    def keys() -> tuple[tuple[str, str], ...]:
        """Keys of the calendar."""
        return (
            (_("Arrows"), _("To the next room, corridor or day")),
            ("Enter", _("Open the room or the corridor")),
            (_("Menu key"), _("What can be done with the room by hand")),
            ("Page Up, Page Down", _("A week back or on")),
            ("Home, End", _("To the first or last day")),
            ("Esc", _("Let a room that is dragged be where it was")),
        )

    def unsaved(self) -> tuple[str, ...]:
        """A round drafted but not published, and forms begun but not saved."""
        drafted = (_("A round is drafted, but not published."),) if self.plan.draft else ()
        return (*drafted, *not_saved(self))

    def focus_room(self, room: RoomNo) -> None:
        """Show the sheet that a room is on next."""
        self.tabs.setCurrentWidget(self.plan)
        self.plan.focus_room(room)

    def _show_tab(self, key: str) -> None:
        pane = {"days": self.days, "teams": self.teams, "cycles": self.cycles}[key]
        self.tabs.setCurrentWidget(pane)
        self.tabs.tabBar().setFocus()

    def _describe_team(self) -> None:
        self.tabs.setCurrentWidget(self.teams)
        self.teams.begin()
