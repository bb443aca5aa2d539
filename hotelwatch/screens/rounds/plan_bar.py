"""The line of buttons above the rounds' calendar: plan, print, publish."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSpinBox, QWidget

from hotelwatch.core.facts import RoundPublished
from hotelwatch.core.rounds.team_days import Round
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.day_sheets import tip_for_sheets
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import TEXT_AIR_PX
from hotelwatch.screens.layout.second_press import SecondPress
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.rounds.plan_papers import PlanPapers
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _

DAYS_PX = 120


@dataclass(frozen=True, slots=True)
class Offer:
    """What can be done now."""

    has_draft: bool
    has_round: bool
    """Whether anything is drafted, or published from today on."""
    is_stale: bool
    """Whether something was written down since the draft, or speaks for planning today again."""
    is_drafting: bool
    has_likely: bool
    """Whether the draft has visits that publishing leaves open."""
    print_on: date | None
    """The day whose sheets can be printed."""


class PlanBar(QWidget):
    """Days ahead, planning, papers, publishing."""

    def __init__(self, context: Context, shown: Callable[[], Round]) -> None:
        """``shown`` gives the round that papers are made of."""
        super().__init__()
        figures = context.hotel.house.rules.figures
        self.days = QSpinBox()
        self.days.setRange(int(figures.plan_days.low), int(figures.plan_days.high))
        self.days.setValue(int(figures.plan_days.value))
        self.days.setMinimumWidth(DAYS_PX)
        self.days.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
        self.make_draft = QPushButton(_("&Draft a round"))
        self.papers = PlanPapers(context, shown)
        self.print_day = QPushButton()
        self.print_day.setToolTip(tip_for_sheets())
        self.throw_away = self.papers.throw_away
        self.publish_whole = QPushButton(_("Publish the &whole"))
        self.publish = QPushButton(_("&Publish"))
        self.publish.setProperty("role", MAIN)
        self._lay_out(context)
        buttons = (self.make_draft, self.print_day, self.publish_whole, self.publish)
        self._second_press = SecondPress(self, buttons)

    def allow(self, offer: Offer) -> None:
        """Show what can be done now, and give the one thing to do its colour."""
        self.publish.setVisible(offer.has_draft)
        self.throw_away.setVisible(offer.has_draft)
        self.publish_whole.setVisible(offer.has_draft and offer.has_likely)
        self._allow_publishing(is_drafting=offer.is_drafting)
        self.publish.setText(_("&Publish fixed visits") if offer.has_likely else _("&Publish"))
        self.make_draft.setText(_("Plan agai&n") if offer.has_round else _("&Draft a round"))
        self.make_draft.setEnabled(not offer.is_drafting)
        is_main = offer.is_stale or not offer.has_round
        if self.make_draft.property("role") != (MAIN if is_main else ""):
            self.make_draft.setProperty("role", MAIN if is_main else "")
            self.make_draft.style().unpolish(self.make_draft)
            self.make_draft.style().polish(self.make_draft)
        self.papers.allow(has_round=offer.has_round)
        self.print_day.setVisible(offer.print_on is not None)
        if offer.print_on is not None:
            day = short_day_text(offer.print_on)
            self.print_day.setText(_("Print the &sheets of {day}").format(day=day))

    def _allow_publishing(self, *, is_drafting: bool) -> None:
        """Let nobody publish a draft that is being made anew: what changes it would be lost."""
        waits = _("The plan is being made anew. It can be published once that is done.")
        whole = _("Fixes the likely visits too. Each later change to them then counts as a move.")
        for button, tip in ((self.publish, ""), (self.publish_whole, whole)):
            button.setEnabled(not is_drafting)
            button.setToolTip(waits if is_drafting else tip)

    def _lay_out(self, context: Context) -> None:
        said = QLabel(_("Days &ahead"))
        said.setBuddy(self.days)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        planning, papers = QHBoxLayout(), QHBoxLayout()
        for widget in (said, self.days, self.make_draft):
            planning.addWidget(widget)
        for widget in (self.papers, self.print_day, self.publish_whole, self.publish):
            papers.addWidget(widget)
        # Drafting is for whoever may publish; others read what is published.
        bars = (self.make_draft, self.publish, self.publish_whole, self.days, said)
        deed = Deed(_("Draft and publish a round"), (RoundPublished,), bars)
        self.for_others = offer(context, deed)
        planning.addWidget(self.for_others)
        line.addLayout(planning, 1 if self.for_others.text() else 0)
        line.addStretch()
        line.addLayout(papers)
