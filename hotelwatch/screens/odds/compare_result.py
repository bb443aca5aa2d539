"""What came of comparing rules: of which rules, in sentences, drawn and as a table."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.compare_rules import RulesCompared
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.entry_form import text_label
from hotelwatch.screens.flow import UprightScroll
from hotelwatch.screens.odds.compare_chart import ChangeChart, groups_of
from hotelwatch.screens.odds.compare_table import compared_rows, compared_table
from hotelwatch.wording.compare_rules import (
    DRAWN,
    by_setting_text,
    settings_text,
    tried_text,
    verdict_lines,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.simulation import mind_lines, rests_on_lines

LEAST_TEXT_PX = 120
CHART, TABLE = 0, 1


class ComparedResult(QWidget):
    """The last comparison; it stays until the next one is there."""

    def __init__(self) -> None:
        """Nothing yet."""
        super().__init__()
        self.shown: RulesCompared | None = None
        self.of = text_label("", role="heading")
        self.stale = text_label("", role="problem")
        self.stale.hide()
        self.verdict = text_label("")
        self.as_table = QCheckBox(_("Sho&w as table"))
        self.as_table.toggled.connect(self._show)
        self.stance = QComboBox()
        self.stance.setAccessibleName(_("Settings of the table"))
        for stance in Stance:
            self.stance.addItem(settings_text(stance))
        self.stance.setCurrentIndex(list(Stance).index(Stance.CENTRAL))
        self.stance.currentIndexChanged.connect(self._show)
        self.chart = ChangeChart()
        self.table = compared_table()
        self.legend = text_label(
            _(
                "Filled: a change that shows. Hollow: can't be told from none. The line with caps"
                " holds 95 % of what simulating scatters. Up and Down go along; the numbers"
                " themselves are in the table."
            ),
            role="muted",
        )
        self.details = text_label("")
        self.rests = text_label("", role="muted")
        self._lay_out()

    def show_compared(self, compared: RulesCompared) -> None:
        """Show what came of a simulation."""
        self.shown = compared
        asked, told = compared.asked, compared.told
        usual, tried = asked.basis.usual, asked.tried
        self.stale.hide()
        self.as_table.setEnabled(tried is not None)
        if tried is None:
            self.of.setText(_("Today's rule alone: nothing was tried beside it."))
            self.verdict.setText(_("Change something at the left to compare."))
            self.details.clear()
            self.as_table.setChecked(True)
        else:
            self.of.setText(tried_text(usual, tried))
            self.verdict.setText("\n".join(verdict_lines(told)))
            self.details.setText("\n".join(by_setting_text(told.row(one)) for one in DRAWN))
            self.chart.show_groups(groups_of(told))
        odds = asked.basis.wish.odds
        rests = rests_on_lines(told, odds, is_own_pattern=compared.is_own_pattern)
        self.rests.setText("\n".join((*rests, *mind_lines(tried or usual))))
        self._show()

    def say_stale(self, why: str) -> None:
        """Say that what is shown is of other rules than those in view; empty: it is of these."""
        self.stale.setText(why)
        self.stale.setVisible(bool(why) and self.shown is not None)

    def _show(self, *_what: object) -> None:
        is_table = self.as_table.isChecked()
        self._views.setCurrentIndex(TABLE if is_table else CHART)
        self.stance.setVisible(is_table)
        self.legend.setVisible(not is_table)
        if self.shown is not None:
            stance = list(Stance)[self.stance.currentIndex()]
            self.table.show_rows(compared_rows(self.shown.told, stance))

    def _lay_out(self) -> None:
        switches = QHBoxLayout()
        switches.addStretch()
        switches.addWidget(self.stance)
        switches.addWidget(self.as_table)
        drawn = UprightScroll()
        drawn.setWidget(self.chart)
        drawn.setFrameShape(QFrame.Shape.NoFrame)
        self._views = QStackedWidget()
        self._views.addWidget(drawn)
        self._views.addWidget(self.table)
        told = QWidget()
        told.setProperty("role", "plain")
        inner = QVBoxLayout(told)
        inner.setContentsMargins(0, 0, 4, 0)
        for widget in (self.details, self.rests):
            inner.addWidget(widget)
        inner.addStretch()
        scroll = UprightScroll()
        scroll.setWidget(told)
        scroll.setMinimumHeight(LEAST_TEXT_PX)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        for widget in (self.of, self.stale, self.verdict):
            lines.addWidget(widget)
        lines.addLayout(switches)
        lines.addWidget(self._views, 3)
        lines.addWidget(self.legend)
        lines.addWidget(scroll, 1)
