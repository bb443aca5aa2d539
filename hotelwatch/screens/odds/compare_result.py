"""What came of comparing rules: of which rules, then drawn, as a table and in words."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.compare_rules import RulesCompared
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.odds.compare_chart import ChangeChart, groups_of
from hotelwatch.screens.odds.compare_table import compared_rows, compared_table
from hotelwatch.wording.compare_rules import (
    DRAWN,
    by_setting_text,
    drawing_note,
    settings_text,
    tried_text,
    verdict_lines,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.simulation import mind_lines, rests_on_lines

CHART, TABLE = 0, 1


class ComparedResult(QWidget):
    """The last comparison; it stays until the next one is there."""

    def __init__(self) -> None:
        """Nothing yet."""
        super().__init__()
        self.shown: RulesCompared | None = None
        self.of = text_label("", role="muted")
        self.stale = text_label("", role="problem")
        self.stale.hide()
        self.verdict = text_label("")
        self.stance = QComboBox()
        self.stance.setAccessibleName(_("Settings of the table"))
        for stance in Stance:
            self.stance.addItem(settings_text(stance))
        self.stance.setCurrentIndex(list(Stance).index(Stance.CENTRAL))
        self.stance.currentIndexChanged.connect(self._show_table)
        self.views = QTabWidget(documentMode=True)
        self.chart = ChangeChart()
        self.table = compared_table()
        self.legend = text_label(
            _(
                "Hollow: can't be told from no change."
                " Line with caps: the simulation's 95 % interval."
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
        self.views.setTabEnabled(CHART, tried is not None)
        if tried is None:
            self.of.setText(_("Today's rule alone: nothing was tried beside it."))
            self.verdict.setText(_("Change something at the left to compare."))
            self.details.clear()
            self.chart.show_groups(())
            self.views.setCurrentIndex(TABLE)
        else:
            self.of.setText(tried_text(usual, tried))
            self.verdict.setText("\n".join(verdict_lines(told)))
            self.details.setText("\n".join(by_setting_text(told.row(one)) for one in DRAWN))
            self.chart.show_groups(groups_of(told))
        odds = asked.basis.wish.odds
        rests = rests_on_lines(told, odds, is_own_pattern=compared.is_own_pattern)
        drawn = () if tried is None else (drawing_note(),)
        self.rests.setText("\n".join((*rests, *drawn, *mind_lines(tried or usual))))
        self._show_table()

    def say_stale(self, why: str) -> None:
        """Say that what is shown is of other rules than those in view; empty: it is of these."""
        self.stale.setText(why)
        self.stale.setVisible(bool(why) and self.shown is not None)

    def _show_table(self, *_what: object) -> None:
        if self.shown is not None:
            stance = list(Stance)[self.stance.currentIndex()]
            self.table.show_rows(compared_rows(self.shown.told, stance))

    def _lay_out(self) -> None:
        self.views.tabBar().setAccessibleName(_("What came of it"))
        self.views.addTab(_column(_scrolled(self.chart), self.legend), _("Changes"))
        label = QLabel(_("By &which settings"))
        label.setBuddy(self.stance)
        choice = QHBoxLayout()
        choice.addWidget(label)
        choice.addWidget(self.stance)
        choice.addStretch()
        above = QWidget()
        above.setLayout(choice)
        choice.setContentsMargins(0, 0, 0, 0)
        numbers = _column(above, self.table)
        self.views.addTab(numbers, _("Numbers"))
        below = QWidget()
        below.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        told = _column(self.details, self.rests, below)
        self.views.addTab(_column(_scrolled(told)), _("Words and what they rest on"))
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        for widget in (self.of, self.stale, self.verdict):
            lines.addWidget(widget)
        lines.addWidget(self.views, 1)


def _column(*widgets: QWidget) -> QWidget:
    column = QWidget()
    column.setProperty("role", "plain")
    lines = QVBoxLayout(column)
    lines.setContentsMargins(0, 6, 0, 0)
    for widget in widgets:
        lines.addWidget(widget)
    return column


def _scrolled(held: QWidget) -> UprightScroll:
    scroll = UprightScroll()
    scroll.setWidget(held)
    scroll.setFrameShape(QFrame.Shape.NoFrame)
    return scroll
