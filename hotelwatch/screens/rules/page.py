"""House rules: under which local set the hotel works, its own figures, public holidays."""

from __future__ import annotations

from PySide6.QtWidgets import QTabWidget, QVBoxLayout, QWidget

from hotelwatch.core.facts import Topic
from hotelwatch.core.people_facts import TrainingRecorded
from hotelwatch.core.roles import Sight
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.rules.carts_pane import CartsPane
from hotelwatch.screens.rules.choices_pane import ChoicesPane
from hotelwatch.screens.rules.figures_pane import FiguresPane
from hotelwatch.screens.rules.holidays_pane import HolidaysPane
from hotelwatch.screens.rules.hotel_pane import HotelPane
from hotelwatch.screens.rules.kept_pane import KeptPane
from hotelwatch.screens.rules.people_pane import PeoplePane
from hotelwatch.screens.rules.sets_pane import SetsPane
from hotelwatch.screens.rules.training_pane import TrainingPane
from hotelwatch.screens.rules.types_pane import TypesPane
from hotelwatch.wording.language import _


class RulesPage(QWidget):
    """Panes in tabs; the one in view is read anew."""

    topics = frozenset({Topic.SETTINGS, Topic.ROSTER, Topic.PEOPLE})

    def __init__(self, context: Context) -> None:
        """Empty panes; ``refresh`` fills them."""
        super().__init__()
        self.sets = SetsPane(context)
        self.choices = ChoicesPane(context)
        self.figures = FiguresPane(context)
        self.holidays = HolidaysPane(context)
        self.carts = CartsPane(context)
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("House rules"))
        self.tabs.addTab(self.sets, _("Local rules"))
        self.tabs.addTab(self.choices, _("Own choices"))
        self.tabs.addTab(self.figures, _("Figures"))
        self.tabs.addTab(self.holidays, _("Public holidays"))
        self.tabs.addTab(self.carts, _("Carts"))
        self.types = TypesPane(context)
        self.tabs.addTab(self.types, _("Types of room"))
        self.hotel = HotelPane(context)
        self.tabs.addTab(self.hotel, _("The hotel"))
        self.kept = KeptPane(context)
        self.tabs.addTab(self.kept, _("What is kept"))
        self.people = PeoplePane(context) if context.sees(Sight.PEOPLE) else None
        if self.people is not None:
            self.tabs.addTab(self.people, _("People"))
        sees_training = self.people is not None or context.may(TrainingRecorded)
        self.training = TrainingPane(context) if sees_training else None
        if self.training is not None:
            self.tabs.addTab(self.training, _("Training"))
        self.tabs.currentChanged.connect(self._catch_up)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.tabs)
        self.setFocusProxy(self.tabs.tabBar())

    def refresh(self) -> None:
        """Read the pane in view anew."""
        self._catch_up()

    def _catch_up(self, _place: int = 0) -> None:
        panes = (self.sets, self.choices, self.figures, self.holidays, self.carts, self.types)
        for pane in (*panes, self.hotel, self.kept, self.people, self.training):
            if pane is not None and pane is self.tabs.currentWidget():
                pane.refresh()
