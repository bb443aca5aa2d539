"""What a cycle buys: any cycle and way tried beside today's; nothing sets it by itself."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.cycle_worth import (
    BasisWish,
    CycleBasis,
    Question,
    Trial,
    Weighed,
    read_basis,
    weigh,
)
from hotelwatch.actions.hotel import choose_cycle
from hotelwatch.actions.odds import OddsView
from hotelwatch.core.checks.today import Lack
from hotelwatch.core.facts import Scope
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.next_step import NextStep
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.odds.cycle_chart import CycleChart
from hotelwatch.screens.odds.cycle_fields import DaysField, WaySwitches, trial_of
from hotelwatch.screens.odds.cycle_measures import measures
from hotelwatch.screens.odds.cycle_tables import MeasureTables
from hotelwatch.wording.cycle import best_hour_sentence, kept_sentence, let_sentence
from hotelwatch.wording.cycle_change import (
    as_is_lines,
    change_lines,
    choose_question,
    price_lines,
    range_sentence,
    trial_cautions,
)
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import main_assumption

CARD_PX = 350
LEAST_TEXT_PX = 150


class CyclePane(QWidget):
    """Fields to the left; to the right a picture to move about in, and what it says."""

    rests_wanted = Signal()
    """The person wants to see what the figures rest on."""

    def __init__(self, context: Context) -> None:
        """Nothing is read until the pane is shown."""
        super().__init__()
        self._context = context
        self._wish: BasisWish | None = None
        self._read_for: BasisWish | None = None
        self._basis: CycleBasis | None = None
        self._against: Trial | None = None
        """None: today."""
        self._is_busy = False
        self.weighed: Weighed | None = None
        """What is shown; None while nothing is."""
        self.days = DaysField()
        self.switches = WaySwitches()
        self.back = QPushButton(_("&Back to today"))
        self.compare = QPushButton(_("Co&mpare with this"))
        self.compare.setCheckable(True)
        self.choose = QPushButton(_("&Choose this cycle…"))
        self.rests = QPushButton(_("Wh&at it rests on"))
        self.inputs = _small()
        self._measures = measures()
        self.shows = QComboBox()
        self.shows.addItems([measure.name for measure in self._measures])
        self.as_table = QCheckBox(_("Show as &table"))
        self.chart = CycleChart()
        self.tables = MeasureTables(self._measures)
        self.legend = _small()
        self.legend.setText(
            _("Line: central assumptions. Shade: from optimistic to cautious ones. Drag to move.")
        )
        self.explained = _small()
        self.explained.setText(range_sentence())
        self.changed = QLabel(wordWrap=True)
        self.changed.setProperty("role", "heading")
        self.found = QLabel(wordWrap=True)
        self.hour = QLabel(wordWrap=True)
        self.hour.setProperty("role", "heading")
        self.cautions = _small()
        self.next_step = NextStep()
        self._connect()
        self._lay_out()

    def show_view(self, view: OddsView) -> None:
        """Weigh by the figures of these odds from now on."""
        hotel = self._context.hotel
        lacks = not view.house.rooms
        if lacks:
            self.next_step.show_lack(Lack.NO_ROSTER)
        self._panes.setCurrentIndex(0 if lacks else 1)
        reckoning = view.reckoning
        self._wish = BasisWish(view.house, hotel.neighbours(), reckoning.today, reckoning.rules)
        self._work()

    def trial(self) -> Trial:
        """What the fields say."""
        return trial_of(self.days, self.switches)

    def showEvent(self, event: QShowEvent) -> None:
        """Work out what was put off while the pane was out of view."""
        super().showEvent(event)
        self._work()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the text anew."""
        super().resizeEvent(event)
        self._fit_text()

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self.days.moved.connect(self._work)
        self.switches.changed.connect(self._work)
        self.chart.days_wanted.connect(self._go_along)
        self.back.clicked.connect(self._go_back)
        self.compare.toggled.connect(self._hold)
        self.choose.clicked.connect(self._ask)
        self.rests.clicked.connect(self.rests_wanted)
        self.shows.currentIndexChanged.connect(self._show)
        self.as_table.toggled.connect(self._show)
        self.next_step.wanted.connect(self._go)

    def _lay_out(self) -> None:
        whole = QWidget()
        both = QHBoxLayout(whole)
        both.setContentsMargins(0, 0, 0, 0)
        both.setSpacing(12)
        both.addWidget(self._card())
        both.addLayout(self._picture(), 1)
        self._panes = QStackedWidget()
        self._panes.addWidget(self.next_step)
        self._panes.addWidget(whole)
        self._panes.setCurrentIndex(1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self._panes)

    def _card(self) -> Card:
        card = Card(CARD_PX)
        heading = QLabel(_("How it is looked at"))
        heading.setProperty("role", "heading")
        for widget in (self.days, heading, self.switches, self.inputs):
            card.body.addWidget(widget)
        card.body.addWidget(self.rests)
        card.body.addStretch()
        foot = QVBoxLayout()
        above = QHBoxLayout()
        above.addWidget(self.back)
        above.addWidget(self.compare)
        foot.addLayout(above)
        foot.addWidget(self.choose)
        card.foot.addLayout(foot)
        return card

    def _picture(self) -> QVBoxLayout:
        label = QLabel(_("The picture sho&ws"))
        label.setBuddy(self.shows)
        self.shows.setAccessibleName(_("The picture shows"))
        top = QHBoxLayout()
        top.addWidget(label)
        top.addWidget(self.shows)
        top.addStretch()
        top.addWidget(self.as_table)
        self._views = QStackedWidget()
        self._views.addWidget(self.chart)
        self._views.addWidget(self.tables)
        told = QWidget()
        told.setProperty("role", "plain")
        inner = self._text = QVBoxLayout(told)
        inner.setContentsMargins(0, 0, 4, 0)
        for widget in (self.changed, self.cautions, self.found, self.hour, self.explained):
            inner.addWidget(widget)
        self._told = UprightScroll()
        self._told.setWidget(told)
        right = QVBoxLayout()
        right.addLayout(top)
        right.addWidget(self._views, 1)
        right.addWidget(self.legend)
        right.addWidget(self._told, 1)
        return right

    # --- working ------------------------------------------------------------

    def _question(self, basis: CycleBasis) -> Question:
        return Question(basis, self.trial(), self._against or basis.today)

    def _work(self) -> None:
        """Do the next piece of work; of what was tried meanwhile only the latest counts."""
        if self._is_busy or self._wish is None or not self.isVisible():
            return
        if not self._panes.currentIndex():
            return
        if self._read_for is not self._wish:
            self._read_for, self._is_busy = self._wish, True
            self._run(read_basis, self._wish, label=_("Reading how things are"))
        elif self._basis is not None:
            asked = self._question(self._basis)
            if self.weighed is not None and self.weighed.asked == asked:
                return
            if self._context.jobs.is_busy:
                # Long work elsewhere must not keep the slider waiting: a trial is short.
                self._take(weigh(asked, self.weighed))
                return
            self._is_busy = True
            self._run(weigh, asked, self.weighed, label=_("Trying it out"))

    def _run(
        self, function: Callable[..., CycleBasis | Weighed], *values: object, label: str
    ) -> None:
        self._context.jobs.run(
            function,
            *values,
            label=label,
            unasked=True,
            on_done=self._take,
            on_failed=self._fail,
            on_stopped=self._stop,
        )

    def _take(self, made: CycleBasis | Weighed) -> None:
        self._is_busy = False
        if isinstance(made, CycleBasis):
            self._take_basis(made)
        elif made.asked.basis is self._basis:
            self.weighed = made
            self._show()
        self._work()

    def _take_basis(self, basis: CycleBasis) -> None:
        before, self._basis = self._basis, basis
        self.days.mark(basis.today.cycle_days)
        self.switches.show_inputs(basis)
        if before is None or self.trial() == before.today:
            self._set(basis.today)
        self.inputs.setText("\n".join(_input_lines(basis)))
        self.hour.setText(best_hour_sentence(basis.hour))

    def _fail(self, error: Exception) -> None:
        self._stop()
        self._context.notices.fail(error)

    def _stop(self) -> None:
        """Try again when the pane is shown, or something is moved, the next time."""
        self._is_busy = False
        if self._basis is None:
            self._read_for = None

    # --- showing ------------------------------------------------------------

    def _show(self, *_what: object) -> None:
        place, weighed = self.shows.currentIndex(), self.weighed
        self._views.setCurrentIndex(1 if self.as_table.isChecked() else 0)
        if weighed is None:
            return
        measure, asked = self._measures[place], weighed.asked
        self.legend.setVisible(not self.as_table.isChecked())
        if self.as_table.isChecked():
            self.tables.show_weighed(weighed, place)
        else:
            self.chart.show_weighed(weighed, measure)
        basis, way = asked.basis, asked.tried.way
        if asked.tried == asked.against:
            said = as_is_lines(weighed.row, basis.rooms, basis.rules)
        else:
            said = change_lines(
                weighed.row,
                weighed.against_row,
                rooms=basis.rooms,
                rules=basis.rules,
                is_today=asked.against == basis.today,
            )
        self.changed.setText(said[0])
        self.found.setText(said[1])
        cautions = trial_cautions(way, basis.today.way)
        self.cautions.setText(" ".join(cautions))
        self.cautions.setVisible(bool(cautions))
        self.back.setEnabled(asked.tried != basis.today)
        self.choose.setEnabled(asked.tried.cycle_days != basis.house_days)
        self._fit_text()

    def _fit_text(self) -> None:
        """Give the text what it needs, and the picture what is left."""
        needs = max(0, self._text.totalHeightForWidth(self._told.viewport().width()))
        self._told.setMaximumHeight(needs)
        self._told.setMinimumHeight(min(needs, LEAST_TEXT_PX))

    # --- what one does --------------------------------------------------------

    def _set(self, trial: Trial) -> None:
        self.days.set_days(trial.cycle_days)
        self.switches.set_way(trial.way)

    def _go_along(self, days: int) -> None:
        self.days.set_days(days)
        self._work()

    def _go_back(self) -> None:
        if self._basis is not None:
            self._set(self._basis.today)
            self._work()

    def _hold(self, is_held: bool) -> None:
        """Compare with what is tried now, or with today again."""
        self._against = self.trial() if is_held else None
        self.compare.setText(_("Co&mpare with today") if is_held else _("Co&mpare with this"))
        self._work()

    def _ask(self) -> None:
        if self._basis is None:
            return
        days = self.days.days()
        self._context.notices.ask(
            choose_question(days, self._basis.house_days, self._basis.own_cycles),
            _("Choose {days}").format(days=days_text(days)),
            partial(self._choose, days),
        )

    def _choose(self, days: int) -> None:
        with self._context.notices.refusals():
            choose_cycle(self._context.hotel, Scope.HOUSE, "", days)
            self._context.notices.done(
                _("The hotel's cycle is {days} from now on.").format(days=days_text(days))
            )

    def _go(self, page: str) -> None:
        if page in self._context.pages:
            self._context.go_to(page)


def _small() -> QLabel:
    label = QLabel(wordWrap=True)
    label.setProperty("role", "muted")
    return label


def _input_lines(basis: CycleBasis) -> tuple[str, ...]:
    return (
        kept_sentence(basis.kept),
        let_sentence(basis.let),
        main_assumption(basis.rules),
        *(f"{line}." for line in price_lines(basis.rules)),
    )
