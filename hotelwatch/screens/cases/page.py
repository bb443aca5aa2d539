"""Cases: the form for a sighting, the list, the checks asked for, and the case in view."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QSizePolicy,
    QSplitter,
    QStackedWidget,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.cases.case import Case, case_of
from hotelwatch.core.cases.rows import AskedRow, CaseRow, asked_rows, case_for_room, case_rows
from hotelwatch.core.facts import CaseNo, RoomNo, Topic
from hotelwatch.core.house import House
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_panel import CasePanel
from hotelwatch.screens.cases.dog_pane import DogPane
from hotelwatch.screens.cases.sighting_form import SightingPanel
from hotelwatch.screens.cases.tables import asked_table, cases_table, show_fitted
from hotelwatch.screens.tables.hug import rows_px
from hotelwatch.screens.tables.room import LEAST_ROWS
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, join, ngettext

LIST_LINES, CASE_LINES = 9, 30
"""Height of the list and of the case in lines of text, until there are cases."""
MOST_CASES = 4
"""So many one sees at once; the case in view has the rest, while nobody drags the two."""
ROOMY_LINES = 50
"""From so many lines on a form of a case and the list of cases stand above one another."""
EVERY_MINUTE_MS = 60_000


Told = tuple[House, datetime, bool]
"""Of which house the lists tell, as of which minute, and whether with closed cases."""


def _case_about(house: House, about: object) -> CaseNo:
    """The case that a kept form is about, alone or before more; LookupError if it is gone."""
    case = CaseNo(str(about[0] if isinstance(about, list) else about))
    if case not in house.sightings:
        raise LookupError(case)
    return case


def _is_same(one: Told, other: Told) -> bool:
    return one[0] is other[0] and one[1:] == other[1:]


class CasesPage(QWidget):
    """Cases above, the case in view below; or the form for a sighting in their place."""

    topics = frozenset(
        {
            Topic.CASES,
            Topic.QUARANTINE,
            Topic.CHECKS,
            Topic.ROSTER,
            Topic.STAYS,
            Topic.SETTINGS,
        }
    )

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.case: CaseNo | None = None
        self._is_filling = self._is_dragged = False
        self._told: Told | None = None
        self.sighting = SightingPanel(context)
        self.table = cases_table(context, self._log)
        self.table.follows_place = True
        self.asked = asked_table(context)
        self.dogs = DogPane(context)
        self.panel = CasePanel(context)
        self.with_closed = QCheckBox(_("Closed cases too"))
        self._lay_out()
        self.table.current_changed.connect(self._take_row)
        self.table.activated.connect(self._enter_case)
        self.asked.activated.connect(self._go_to_check)
        self.dogs.case_wanted.connect(self.focus_case)
        self.with_closed.toggled.connect(self._fill)
        # By a timer of the page: parts that go one by one with their window tell of it too.
        self._fitting = QTimer(self, singleShot=True, interval=0)
        self._fitting.timeout.connect(self._make_room)
        self._fitting.timeout.connect(self._share_out)
        self.panel.turned.connect(self._fitting.start)
        self.sighting.form.logged.connect(self._tell_logged)
        self.sighting.form.done.connect(self._show_cases)
        self.setFocusProxy(self.table.view)
        # A deadline passes though nobody writes anything down.
        self._clock = QTimer(self, interval=EVERY_MINUTE_MS)
        self._clock.timeout.connect(self._tick)
        self._clock.start()

    # --- what the window asks ------------------------------------------------

    def refresh(self) -> None:
        """Read the house anew; what is being typed stays."""
        self.sighting.form.refresh()
        if self._panes.currentWidget() is self.sighting:
            self.sighting.propose()
        self._fill()

    def unsaved(self) -> tuple[str, ...]:
        """A sighting or a form of a case begun but not saved."""
        told = []
        if self.sighting.form.is_begun():
            told.append(_("A sighting is begun, but not saved."))
        if self.dogs.form.is_begun():
            told.append(_("A dog's visit is begun, but not saved."))
        for form in self.panel.unsaved():
            told.append(_("Not saved: “{form}”.").format(form=form))
        return tuple(told)

    def bring(self, holder: QWidget, about: object) -> None:
        """Bring what a form that was half entered is about into view."""
        if holder is self.sighting.form:
            self.log_sighting(None)
            return
        self._show_cases()
        if holder is self.dogs.form:
            self.tabs.setCurrentIndex(2)
        else:
            self.choose(_case_about(self._context.hotel.house, about))

    def focus_room(self, room: RoomNo) -> None:
        """Put a room's open case in view, else its latest."""
        self._show_cases()
        case = case_for_room(self._context.hotel.house, room)
        if case is None:
            self._context.notices.warn(
                _("There is no case in room {room}.").format(room=room),
                _("Log a sighting there"),
                lambda: self.log_sighting(room),
            )
            return
        self.choose(case)

    def focus_case(self, case: CaseNo) -> None:
        """Put a case in view, also where a sighting is being typed; that stays begun."""
        self._show_cases()
        self.choose(case)

    def log_sighting(self, room: RoomNo | None) -> None:
        """Show the form for a sighting with the cursor in its first field."""
        self._panes.setCurrentWidget(self.sighting)
        self.setFocusProxy(self.sighting.form.room)
        self.sighting.form.begin(room)

    def choose(self, case: CaseNo) -> None:
        """Put a case in view; a closed one brings the closed ones into the list."""
        self.case = case
        self.tabs.setCurrentIndex(0)
        self._fill()
        if not self.table.select(case):
            self.with_closed.setChecked(True)
            self.table.select(case)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the height out anew; an open form has the page where both would be cramped."""
        super().resizeEvent(event)
        self._make_room()
        self._fitting.start()

    # --- making --------------------------------------------------------------

    def _lay_out(self) -> None:
        self.tabs = QTabBar()
        self.tabs.setDrawBase(False)
        self.tabs.setExpanding(False)
        self.tabs.setUsesScrollButtons(False)
        self.tabs.setAccessibleName(_("Lists"))
        self.tabs.addTab(_("Cases"))
        self.tabs.addTab(_("Checks asked for"))
        self.tabs.addTab(_("Dog visits"))
        self._lists = QStackedWidget()
        self._lists.addWidget(self.table)
        self._lists.addWidget(self.asked)
        self._lists.addWidget(self.dogs)
        self._make_others_small()
        self.tabs.currentChanged.connect(self._show_list)
        top = QHBoxLayout()
        top.addWidget(self.tabs, 1)
        top.addWidget(self.with_closed)
        self._upper = QWidget()
        column = QVBoxLayout(self._upper)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(top)
        column.addWidget(self._lists, 1)
        both = QSplitter(Qt.Orientation.Vertical)
        both.setChildrenCollapsible(False)
        both.setHandleWidth(10)
        both.addWidget(self._upper)
        both.addWidget(self.panel)
        both.setStretchFactor(0, 1)
        both.setStretchFactor(1, 4)
        line = self.fontMetrics().height()
        both.setSizes([LIST_LINES * line, CASE_LINES * line])
        both.splitterMoved.connect(self._note_drag)
        self._cases = both
        self._panes = QStackedWidget()
        self._panes.addWidget(both)
        self._panes.addWidget(self.sighting)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self._panes)

    # --- what is shown -------------------------------------------------------

    def _fill(self) -> None:
        self._fill_lists()
        shown = {row.no for row in self.table.model.rows}
        if self.case not in shown:
            self.case = next((row.no for row in self.table.model.rows), None)
        if self.case is not None:
            self.table.select(self.case)
        self.panel.show_case(self._case_in_view())

    def _fill_lists(self) -> None:
        """Read the lists anew, unless they tell of this house and this minute already."""
        hotel = self._context.hotel
        now = hotel.now()
        told = (hotel.house, now.replace(second=0, microsecond=0), self.with_closed.isChecked())
        if self._told is not None and _is_same(self._told, told):
            return
        self._told = told
        with_closed = self.with_closed.isChecked()
        rows = case_rows(hotel.house, hotel.occupancy(), now=now, with_closed=with_closed)
        asked = asked_rows(hotel.house, now=now)
        self._is_filling = True
        show_fitted(self.table, rows)
        show_fitted(self.asked, asked)
        self._is_filling = False
        left = sum(row.is_open for row in asked)
        self.tabs.setTabText(1, _("Checks asked for ({left} left)").format(left=left))
        self.tabs.setTabText(2, _("Dog visits ({open} open)").format(open=self.dogs.refresh()))
        self._fitting.start()

    def _show_list(self, place: int) -> None:
        self._lists.setCurrentIndex(place)
        self._make_others_small()
        for widget in (self.with_closed, self.panel):
            widget.setVisible(place == 0)

    def _make_others_small(self) -> None:
        """A list that is not shown asks for no room."""
        for one in (self.table, self.asked, self.dogs):
            is_shown = one is self._lists.currentWidget()
            policy = QSizePolicy.Policy.Preferred if is_shown else QSizePolicy.Policy.Ignored
            one.setSizePolicy(policy, policy)

    def _make_room(self) -> None:
        is_roomy = self.height() >= ROOMY_LINES * self.fontMetrics().height()
        self._upper.setVisible(is_roomy or not self.panel.has_form_open())

    def _share_out(self) -> None:
        """Leave the case in view what the list does not need, unless somebody dragged the two."""
        upper, lower = self._cases.sizes()
        if self._is_dragged or not (upper and lower) or self.table.view.isHidden():
            return
        above = self._lists.mapTo(self._upper, self._lists.rect().topLeft()).y()
        # What scrolls sideways at its foot takes no case away.
        self.table.setMinimumHeight(rows_px(self.table, LEAST_ROWS))
        high = above + rows_px(self.table, MOST_CASES)
        self._cases.setSizes([high, upper + lower - high])

    def _note_drag(self) -> None:
        self._is_dragged = True

    def _case_in_view(self) -> Case | None:
        return None if self.case is None else case_of(self._context.hotel.house, self.case)

    def _tick(self) -> None:
        if self.isVisible():
            self._fill()

    def _show_cases(self) -> None:
        self._panes.setCurrentWidget(self._cases)
        self.setFocusProxy(self.table.view)
        self.table.view.setFocus()

    def _tell_logged(self, no: CaseNo) -> None:
        self.choose(no)
        hotel = self._context.hotel
        case = case_of(hotel.house, no)
        said = [_("Case {case} is written down.").format(case=no)]
        if case.quarantined:
            rooms = join([str(room) for room in case.quarantined])
            said.append(_("In quarantine: {rooms}.").format(rooms=rooms))
        left = [state.asked for state in case.asked if state.is_open]
        if left:
            count = len({asked.room for asked in left})
            moment = moment_text(min(asked.by_at for asked in left), hotel.zone)
            said.append(
                ngettext(
                    "{count} room to be looked at by {moment}.",
                    "{count} rooms to be looked at by {moment}.",
                    count,
                ).format(count=count, moment=moment)
            )
        can_go = "desk" in self._context.pages
        to_desk = _("Front desk's list") if can_go else ""
        self._context.notices.done(" ".join(said), to_desk, self._go_to_desk)

    # --- what one does -------------------------------------------------------

    def _take_row(self, row: CaseRow | None) -> None:
        if row is None or self._is_filling or row.no == self.case:
            return
        self.case = row.no
        self.panel.show_case(self._case_in_view())

    def _enter_case(self, row: CaseRow) -> None:
        self._take_row(row)
        self.panel.setFocus()

    def _go_to_check(self, row: AskedRow) -> None:
        self._context.go_to("checks", row.room)

    def _go_to_desk(self) -> None:
        self._context.go_to("desk")

    def _log(self) -> None:
        self.log_sighting(None)
