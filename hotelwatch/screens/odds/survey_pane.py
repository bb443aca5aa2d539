"""Surveys: how many rooms would show something, which, and what the looks just done show.

A survey is planned by people: nothing here asks for a check or writes anything down.
"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtGui import QGuiApplication, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.odds import OddsView
from hotelwatch.actions.surveys import PlanAsked, SpanAsked, survey_planned, survey_shown
from hotelwatch.core.checks.today import Lack
from hotelwatch.core.odds.surveys.survey_wish import (
    LookedRoom,
    PlannedRoom,
    SpanShown,
    SurveyPlan,
    usual_question,
)
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.next_step import NextStep
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.odds.survey_fields import SurveyFields
from hotelwatch.screens.odds.survey_tables import looked_table, planned_table
from hotelwatch.screens.tables.row_table import RowTable
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.survey_plan import (
    left_out_lines,
    looked_sentence,
    plan_headline,
    plan_lines,
    plan_rests,
    preset_text,
    span_lines,
)

CARD_PX = 360
BETWEEN_PX = 24
"""Above, between and below text, rooms and buttons."""
ROOMS_AT_ONCE = 500
"""A larger hotel is reckoned off the window's thread."""
Asked = PlanAsked | SpanAsked


class SurveyPane(QWidget):
    """Fields to the left; to the right a survey to do, and what recent looks show."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``show_view`` fills it."""
        super().__init__()
        self._context = context
        self._view: OddsView | None = None
        self._answered: Asked | None = None
        self._is_busy = False
        self.fields = SurveyFields(context.hotel.today())
        self.fields.changed.connect(self._work)
        self.preset = QLabel(wordWrap=True)
        self.preset.setProperty("role", "muted")
        self.planning = _Answer(context, planned_table())
        self.showing = _Answer(context, looked_table())
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("Surveys"))
        self.tabs.addTab(self.planning, _("A survey to do"))
        self.tabs.addTab(self.showing, _("What recent looks show"))
        self.tabs.currentChanged.connect(self._turn)
        self.next_step = NextStep()
        self.next_step.wanted.connect(self._go)
        self._lay_out()

    def show_view(self, view: OddsView) -> None:
        """Answer by these odds from now on."""
        if self._view is None:
            self.fields.show_question(usual_question(view.reckoning.rules))
        self._view = view
        self.fields.show_today(view.reckoning.today)
        self.fields.keep_rooms(view.hotel.rooms)
        self.preset.setText(preset_text(view.reckoning.rules))
        lacks = not view.house.rooms
        if lacks:
            self.next_step.show_lack(Lack.NO_ROSTER)
        self._panes.setCurrentIndex(0 if lacks else 1)
        self._work()

    def showEvent(self, event: QShowEvent) -> None:
        """Answer what was put off while the pane was out of view."""
        super().showEvent(event)
        self._work()

    def _lay_out(self) -> None:
        card = Card(CARD_PX)
        heading = QLabel(_("What the survey is to find"))
        heading.setProperty("role", "heading")
        for widget in (heading, self.fields, self.preset):
            card.body.addWidget(widget)
        card.body.addStretch()
        whole = QWidget()
        both = QHBoxLayout(whole)
        both.setContentsMargins(0, 0, 0, 0)
        both.setSpacing(12)
        both.addWidget(card)
        both.addWidget(self.tabs, 1)
        self._panes = QStackedWidget()
        self._panes.addWidget(self.next_step)
        self._panes.addWidget(whole)
        self._panes.setCurrentIndex(1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self._panes)

    # --- working --------------------------------------------------------------------

    def _asked(self, view: OddsView) -> Asked:
        if self.tabs.currentWidget() is self.planning:
            return PlanAsked(view, self._context.hotel.occupancy(), self.fields.wish())
        first_on, last_on = self.fields.span()
        return SpanAsked(view, self.fields.question(), first_on, last_on)

    def _work(self) -> None:
        """Answer what the fields ask; of what was asked meanwhile only the latest counts."""
        view = self._view
        if view is None or self._is_busy or not self.isVisible() or not self._panes.currentIndex():
            return
        asked = self._asked(view)
        if _is_same(asked, self._answered):
            return
        if len(view.rooms) <= ROOMS_AT_ONCE:
            self._take((asked, _answer(asked)))
            return
        self._is_busy = True
        self._context.jobs.run(
            _answered,
            asked,
            label=_("Working out the survey"),
            unasked=True,
            on_done=self._take_late,
            on_failed=self._fail,
            on_stopped=self._stop,
        )

    def _take_late(self, answered: tuple[Asked, SurveyPlan | SpanShown | None]) -> None:
        self._is_busy = False
        self._take(answered)
        self._work()

    def _take(self, answered: tuple[Asked, SurveyPlan | SpanShown | None]) -> None:
        self._answered, answer = answered
        rules = self._answered.view.reckoning.rules
        if isinstance(answer, SpanShown):
            self.showing.say(looked_sentence(answer), span_lines(answer, rules), ())
            self.showing.show_rooms(answer.looked)
        elif answer is None:
            self.planning.say(_("There is no room of which a survey could speak."), (), ())
            self.planning.show_rooms(())
        else:
            self.planning.say(
                plan_headline(answer),
                plan_lines(answer),
                (*left_out_lines(answer), *plan_rests(answer, rules)),
            )
            self.planning.show_rooms(answer.chosen)

    def _fail(self, error: Exception) -> None:
        self._stop()
        self._context.notices.fail(error)

    def _stop(self) -> None:
        """Answer again when a field is changed, or the pane is shown, the next time."""
        self._is_busy = False

    def _turn(self, _place: int) -> None:
        self.fields.show_planning(is_planning=self.tabs.currentWidget() is self.planning)
        self._work()

    def _go(self, page: str) -> None:
        if page in self._context.pages:
            self._context.go_to(page)


class _Answer(QWidget):
    """A headline, what it means, the rooms, what it rests on; rooms can be copied and opened."""

    def __init__(
        self, context: Context, table: RowTable[PlannedRoom] | RowTable[LookedRoom]
    ) -> None:
        super().__init__()
        self._context = context
        self.table = table
        self.headline = QLabel(wordWrap=True)
        self.headline.setProperty("role", "heading")
        self.said = QLabel(wordWrap=True)
        self.rests = QLabel(wordWrap=True)
        self.rests.setProperty("role", "muted")
        self.copy = QPushButton(_("&Copy the rooms"))
        self.copy.clicked.connect(self._copy)
        self.open = QPushButton(_("&Open the room"))
        self.open.clicked.connect(self._open)
        table.activated.connect(self._open)
        table.current_changed.connect(self._allow)
        self._lay_out()
        self._allow()

    def _lay_out(self) -> None:
        told = QWidget()
        told.setProperty("role", "plain")
        self._text = QVBoxLayout(told)
        self._text.setContentsMargins(0, 0, 4, 0)
        for widget in (self.headline, self.said, self.rests):
            self._text.addWidget(widget)
        self._told = UprightScroll()
        self._told.setWidget(told)
        foot = QHBoxLayout()
        foot.addStretch()
        foot.addWidget(self.open)
        foot.addWidget(self.copy)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self._told, 1)
        lines.addWidget(self.table, 1)
        lines.addLayout(foot)

    def say(self, headline: str, said: Iterable[str], rests: Iterable[str]) -> None:
        """Say these."""
        self.headline.setText(headline)
        self.said.setText("\n".join(said))
        self.rests.setText(" ".join(rests))
        self.rests.setVisible(bool(self.rests.text()))
        self._fit_text()

    def show_rooms(self, rooms: tuple[PlannedRoom, ...] | tuple[LookedRoom, ...]) -> None:
        """Show these rooms."""
        self.table.show_rows(rooms)  # type: ignore[arg-type]
        self.copy.setEnabled(bool(rooms))
        self._allow()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the text anew."""
        super().resizeEvent(event)
        self._fit_text()

    def _fit_text(self) -> None:
        """Give the text what it needs, up to three fifths, and the rooms what is left."""
        needs = max(0, self._text.totalHeightForWidth(self._told.viewport().width()))
        table = max(self.table.minimumHeight(), self.table.minimumSizeHint().height())
        left = self.height() - table - self.open.sizeHint().height() - BETWEEN_PX
        self._told.setMaximumHeight(needs)
        self._told.setMinimumHeight(max(0, min(needs, self.height() * 3 // 5, left)))

    def _allow(self, _row: object = None) -> None:
        self.open.setEnabled(self.table.current() is not None)

    def _copy(self) -> None:
        rows = self.table.shown_rows()
        QGuiApplication.clipboard().setText(self.table.as_text(rows))  # type: ignore[arg-type]
        self._context.notices.done(
            ngettext("{n} room is copied.", "{n} rooms are copied.", len(rows)).format(n=len(rows))
        )

    def _open(self, _row: object = None) -> None:
        row = self.table.current()
        if row is not None:
            self._context.go_to("building", row.room)


def _answer(asked: Asked) -> SurveyPlan | SpanShown | None:
    return survey_planned(asked) if isinstance(asked, PlanAsked) else survey_shown(asked)


def _answered(asked: Asked) -> tuple[Asked, SurveyPlan | SpanShown | None]:
    return asked, _answer(asked)


def _is_same(asked: Asked, before: Asked | None) -> bool:
    """Whether the same was asked of the same odds; they are too large to compare in full."""
    if before is None or asked.view is not before.view:
        return False
    if isinstance(asked, PlanAsked):
        return isinstance(before, PlanAsked) and asked.wish == before.wish
    return isinstance(before, SpanAsked) and (
        (asked.question, asked.first_on, asked.last_on)
        == (before.question, before.first_on, before.last_on)
    )
