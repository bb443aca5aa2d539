"""Compare rules: the hotel's years simulated under today's house rule and under one to try."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.compare_rules import (
    RulesAsked,
    RulesBasis,
    RulesCompared,
    RulesWish,
    compare_rules,
    read_rule,
)
from hotelwatch.actions.odds import OddsView
from hotelwatch.core.checks.today import Lack
from hotelwatch.core.house import House
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.next_step import NextStep
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.odds.compare_fields import RuleFields
from hotelwatch.screens.odds.compare_result import ComparedResult
from hotelwatch.wording.language import _
from hotelwatch.wording.simulation import mind_lines

CARD_PX = 400
LACKING, READY = 0, 1
NOTHING_YET, RESULT = 0, 1


class ComparePane(QWidget):
    """Today's rule and the one to try to the left; what comes of both to the right."""

    def __init__(self, context: Context) -> None:
        """Nothing is read until the pane is shown."""
        super().__init__()
        self._context = context
        self._wish: RulesWish | None = None
        self._read_for: RulesWish | None = None
        self._basis: RulesBasis | None = None
        self.is_simulating = self._had_focus = False
        self.fields = RuleFields()
        self.fields.changed.connect(self._compare_with_shown)
        self.fields.years.valueChanged.connect(self._compare_with_shown)
        self.back = QPushButton(_("&Back to today"))
        self.back.clicked.connect(self._go_back)
        self.simulate = QPushButton(_("&Simulate"))
        self.simulate.setProperty("role", MAIN)
        self.simulate.clicked.connect(self._simulate)
        self.state = text_label("", role="muted")
        self.state.hide()
        self.mind = text_label("", role="muted")
        self.result = ComparedResult()
        self.next_step = NextStep()
        self.next_step.wanted.connect(self._go)
        self._lay_out()

    def show_view(self, view: OddsView) -> None:
        """Compare by the figures of these odds from now on."""
        reckoning, lack = view.reckoning, _lack_of(view.house)
        if lack is not None:
            self.next_step.show_lack(lack)
        self._panes.setCurrentIndex(READY if lack is None else LACKING)
        around = self._context.hotel.neighbours()
        self._wish = RulesWish(view.house, around, reckoning.today, reckoning.rules)
        self._read()

    def showEvent(self, event: QShowEvent) -> None:
        """Read what was put off while the pane was out of view."""
        super().showEvent(event)
        self._read()

    # --- working --------------------------------------------------------------------------

    def _read(self) -> None:
        """Read today's rule, once for each state of the record."""
        if self._wish is None or self._read_for is self._wish or not self.isVisible():
            return
        if self._panes.currentIndex() == LACKING:
            return
        self._read_for = self._wish
        self._context.jobs.run(
            read_rule,
            self._wish,
            label=_("Reading today's rule"),
            on_done=self._take_basis,
            on_stopped=self._forget_reading,
            unasked=True,
        )

    def _take_basis(self, basis: RulesBasis) -> None:
        self._basis = basis
        self.fields.show_basis(basis)
        self._compare_with_shown()
        if basis.wish is not self._wish:
            self._read()

    def _forget_reading(self) -> None:
        """Read again when the pane is shown the next time."""
        self._read_for = None

    def _simulate(self) -> None:
        if self._basis is None or self.is_simulating:
            return
        self.is_simulating = True
        # Its button is not to be pressed meanwhile, and loses the focus with that.
        self._had_focus = self.simulate.hasFocus()
        self._suit()
        self._say(_("Simulating. What is shown stays until it is done."))
        self._context.jobs.run(
            compare_rules,
            self._asked(self._basis),
            label=_("Simulating the hotel's years"),
            on_done=self._take,
            on_failed=self._fail,
            on_stopped=self._stopped,
        )

    def _asked(self, basis: RulesBasis) -> RulesAsked:
        rule = self.fields.rule()
        tried = None if rule == basis.usual else rule
        return RulesAsked(basis, tried, self.fields.years.value())

    def _take(self, compared: RulesCompared) -> None:
        self._end("")
        self.result.show_compared(compared)
        self._sides.setCurrentIndex(RESULT)
        self._compare_with_shown()

    def _stopped(self) -> None:
        self._end(_("Stopped before it was done. What is shown and the fields stay as they are."))

    def _fail(self, error: Exception) -> None:
        self._end("")
        self._context.notices.fail(error)

    def _end(self, said: str) -> None:
        self.is_simulating = False
        self._say(said)
        self._suit()
        holds = QApplication.focusWidget()
        if self._had_focus and self.isVisible() and not (holds and self.isAncestorOf(holds)):
            self.simulate.setFocus()

    def _say(self, text: str) -> None:
        self.state.setText(text)
        self.state.setVisible(bool(text))

    # --- showing ----------------------------------------------------------------------------

    def _compare_with_shown(self, *_what: object) -> None:
        """Mark the result where it is of other rules, or of another record, than in view."""
        self._suit()
        shown, basis = self.result.shown, self._basis
        if shown is None or basis is None:
            return
        asked = self._asked(basis)
        before = shown.asked
        if (asked.tried, asked.years) != (before.tried, before.years):
            self.result.say_stale(
                _("Not of what the fields say now: they were changed since. Simulate again.")
            )
        elif before.basis.wish is not basis.wish:
            self.result.say_stale(
                _("Of the record as it was: something was written down since. Simulate again.")
            )
        else:
            self.result.say_stale("")

    def _suit(self) -> None:
        known = self._basis is not None
        self.simulate.setEnabled(known and not self.is_simulating)
        self.back.setEnabled(False)
        if self._basis is not None:
            rule = self.fields.rule()
            self.back.setEnabled(rule != self._basis.usual)
            self.mind.setText(" ".join(mind_lines(rule)))

    def _go_back(self) -> None:
        if self._basis is not None:
            self.fields.set_rule(self._basis.usual)
            self._compare_with_shown()

    def _go(self, page: str) -> None:
        if page in self._context.pages:
            self._context.go_to(page)

    # --- making -------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        card = Card(CARD_PX)
        card.body.addWidget(self.fields)
        card.body.addWidget(self.mind)
        card.body.addWidget(_about())
        card.body.addStretch()
        foot = QVBoxLayout()
        foot.addWidget(self.state)
        buttons = QHBoxLayout()
        buttons.addWidget(self.back)
        buttons.addStretch()
        buttons.addWidget(self.simulate)
        foot.addLayout(buttons)
        card.foot.addLayout(foot)
        self._sides = QStackedWidget()
        self._sides.addWidget(_nothing_yet())
        self._sides.addWidget(self.result)
        ready = QWidget()
        both = QHBoxLayout(ready)
        both.setContentsMargins(0, 0, 0, 0)
        both.setSpacing(12)
        both.addWidget(card)
        both.addWidget(self._sides, 1)
        self._panes = QStackedWidget()
        self._panes.addWidget(self.next_step)
        self._panes.addWidget(ready)
        self._panes.setCurrentIndex(READY)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self._panes)
        self._suit()


def _lack_of(house: House) -> Lack | None:
    if not house.rooms:
        return Lack.NO_ROSTER
    return None if house.teams else Lack.NO_TEAM


def _about() -> QLabel:
    return text_label(
        _(
            "Today's rule: by the record, the figures and the teams; one cycle stands for all."
            " Nothing here changes how the hotel works."
        ),
        role="muted",
    )


def _nothing_yet() -> QLabel:
    said = text_label(
        _(
            "Change what you want to try at the left and press Simulate.\n\nThe hotel's rooms,"
            " guests, finds and treatments are drawn by chance over many years, under today's rule"
            " and under yours, with the same guests and the same luck. What differs is what the"
            " rule changes."
        ),
        role="muted",
    )
    said.setAlignment(Qt.AlignmentFlag.AlignCenter)
    return said
