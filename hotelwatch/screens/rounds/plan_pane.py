"""Draft a round, look at it, publish it; else what is published from today on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QSplitter,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.rounds import publish_round, wish_for
from hotelwatch.core.checks.slots import SheetSum, SlotRow, published_rows, sheet_sums
from hotelwatch.core.checks.today import keeps_from_planning
from hotelwatch.core.facts import RoomNo, StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.rounds.calendar import Calendar
from hotelwatch.core.rounds.draft import draft_rows, draft_sums, first_day
from hotelwatch.core.rounds.plan import LeftOut, Plan
from hotelwatch.core.rounds.planner import plan_rounds
from hotelwatch.screens.context import Context
from hotelwatch.screens.day_sheets import ask_and_print
from hotelwatch.screens.forms import TEXT_AIR_PX
from hotelwatch.screens.next_step import NextStep
from hotelwatch.screens.rounds.plan_tables import (
    ALL,
    TEAM_COLUMN,
    SumRow,
    left_out_table,
    rooms_table,
    sum_rows,
    sums_table,
    why_not_text,
)
from hotelwatch.screens.rounds.words import assumptions_text, draft_text, published_text
from hotelwatch.screens.theme import MAIN
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, ngettext

LEFT_PX, RIGHT_PX = 380, 690
DAYS_PX = 120


@dataclass(frozen=True, slots=True)
class Draft:
    """A plan that is not published, and how much was on record when it was made."""

    plan: Plan
    entry: int


class PlanPane(QWidget):
    """The draft, or what is published."""

    team_wanted = Signal()
    """There is no team yet; the person wants to describe one."""

    def __init__(self, context: Context) -> None:
        """Nothing to show yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._is_drafting = False
        self._rows: tuple[SlotRow, ...] = ()
        self.draft: Draft | None = None
        figures = context.hotel.house.rules.figures
        self.days = QSpinBox()
        self.days.setRange(int(figures.plan_days.low), int(figures.plan_days.high))
        self.days.setValue(int(figures.plan_days.value))
        self.days.setMinimumWidth(DAYS_PX)
        self.days.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
        self.make_draft = QPushButton(_("&Draft a round"))
        self.publish = QPushButton(_("&Publish"))
        self.throw_away = QPushButton(_("Thro&w away"))
        self.print_day = QPushButton()
        self.state = QLabel(wordWrap=True)
        self.assumptions = QLabel(wordWrap=True)
        self.in_full = QLabel(wordWrap=True)
        self.sums = sums_table(self._start)
        self.rooms = rooms_table()
        self.left_out = left_out_table()
        self.tabs = QTabWidget(documentMode=True)
        self.next_step = NextStep()
        self._connect()
        self._lay_out()

    # --- what the page asks -------------------------------------------------

    def refresh(self) -> None:
        """Read the house anew; a draft stays until it is published or thrown away."""
        hotel = self._context.hotel
        house, today = hotel.house, hotel.today()
        if self.draft is not None and self.draft.plan.from_on < today:
            self.draft = None
            self._context.notices.warn(_("The draft began before today, so it was put away."))
        lack = keeps_from_planning(house)
        if lack is not None:
            self.next_step.show_lack(lack)
        self._panes.setCurrentIndex(0 if lack is None else 1)
        for widget in (self._top, self.state):
            widget.setVisible(lack is None)
        self._show()

    def focus_room(self, room: RoomNo) -> None:
        """Give a room the place on the sheet that it is on next."""
        self.sums.select(ALL)
        self.rooms.show_all()
        for row in self._rows:
            if row.room == room:
                self.rooms.select((row.on, row.team, room))
                return

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self.make_draft.clicked.connect(self._start)
        self.publish.clicked.connect(self._publish)
        self.throw_away.clicked.connect(self._throw_away)
        self.print_day.clicked.connect(self._print)
        self.sums.current_changed.connect(self._choose)
        self.rooms.activated.connect(self._open_room)
        self.left_out.activated.connect(self._open_room)
        self.left_out.current_changed.connect(self._tell_in_full)
        self.next_step.wanted.connect(self._go)

    def _lay_out(self) -> None:
        self.publish.setProperty("role", MAIN)
        for label in (self.state, self.assumptions):
            label.setProperty("role", "muted")
        said = QLabel(_("Days &ahead"))
        said.setBuddy(self.days)
        self._top = QWidget()
        top = QHBoxLayout(self._top)
        top.setContentsMargins(0, 0, 0, 0)
        for widget in (said, self.days, self.make_draft):
            top.addWidget(widget)
        top.addStretch()
        for widget in (self.print_day, self.throw_away, self.publish):
            top.addWidget(widget)
        self.tabs.tabBar().setAccessibleName(_("What the round holds"))
        self.tabs.addTab(self.rooms, _("Rooms"))
        self.tabs.addTab(self._left_out_pane(), _("Left out"))
        both = QSplitter()
        both.setChildrenCollapsible(False)
        both.setHandleWidth(12)
        both.addWidget(self.sums)
        both.addWidget(self.tabs)
        both.setStretchFactor(1, 1)
        both.setSizes([LEFT_PX, RIGHT_PX])
        self._panes = QStackedWidget()
        self._panes.addWidget(both)
        self._panes.addWidget(self.next_step)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self._top)
        lines.addWidget(self.state)
        lines.addWidget(self._panes, 1)
        lines.addWidget(self.assumptions)

    def _left_out_pane(self) -> QWidget:
        pane = QWidget()
        lines = QVBoxLayout(pane)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.left_out, 1)
        lines.addWidget(self.in_full)
        return pane

    # --- showing ------------------------------------------------------------

    def _show(self) -> None:
        hotel = self._context.hotel
        house, now = hotel.house, hotel.now()
        if self.draft is not None:
            plan = self.draft.plan
            self._rows = draft_rows(house, hotel.occupancy(), plan, now=now)
            self.state.setText(draft_text(plan, house, self.draft.entry))
            self._show_sums(draft_sums(house, plan, self._rows))
        else:
            self._rows = published_rows(house, hotel.occupancy(), from_on=hotel.today(), now=now)
            self.state.setText(published_text(house, hotel.today(), hotel.zone))
            self._show_sums(sheet_sums(house, self._rows, Calendar(house).minutes))
        self._show_left_out()
        self._allow()
        self.assumptions.setText(self._assumptions(house))

    def _show_sums(self, sums: tuple[SheetSum, ...]) -> None:
        self.sums.show_rows(sum_rows(sums))
        if self.sums.current() is None:
            self.sums.select(ALL)
        self._choose(self.sums.current())

    def _show_left_out(self) -> None:
        left = self.draft.plan.left_out if self.draft else ()
        self.left_out.show_rows(left)
        self._tell_in_full(self.left_out.current())
        self.tabs.setTabText(1, _("Left out ({n})").format(n=len(left)))
        self.tabs.setTabVisible(1, self.draft is not None)

    def _tell_in_full(self, row: LeftOut | None) -> None:
        """Say the reason below the table too, where it is never cut off."""
        self.in_full.setText(why_not_text(row) if row else "")
        self.in_full.setVisible(row is not None)

    def _allow(self) -> None:
        has_draft = self.draft is not None
        self.publish.setVisible(has_draft)
        self.throw_away.setVisible(has_draft)
        self.make_draft.setText(_("&Draft again") if has_draft else _("&Draft a round"))
        self.make_draft.setEnabled(not self._is_drafting)
        self.make_draft.setProperty("role", "" if has_draft or self._rows else MAIN)
        self.make_draft.style().unpolish(self.make_draft)
        self.make_draft.style().polish(self.make_draft)
        day = self._day_to_print()
        self.print_day.setVisible(day is not None)
        if day is not None:
            self.print_day.setText(_("Print the &sheets of {day}…").format(day=short_day_text(day)))

    def _choose(self, chosen: SumRow | None) -> None:
        """Show the rooms of the sheet chosen; all rooms while none is."""
        sheet = chosen.sheet if chosen else None
        rows = [row for row in self._rows if sheet is None or (row.on, row.team) == sheet]
        self.rooms.view.setColumnHidden(TEAM_COLUMN, len({row.team for row in rows}) <= 1)
        self.rooms.show_rows(rows)
        self.tabs.setTabText(0, _("Rooms ({n})").format(n=len(rows)))
        self._allow()

    def _day_to_print(self) -> date | None:
        if self.draft is not None:
            return None
        chosen = self.sums.current()
        return first_day(self._rows) if chosen is None or chosen.on is None else chosen.on

    def _assumptions(self, house: House) -> str:
        said = assumptions_text(house.rules)
        if house.stays or house.all_of(StaysImported):
            return said
        none = _("No bookings were loaded: every room counts as vacant all day.")
        return f"{none} {said}"

    # --- drafting -----------------------------------------------------------

    def _start(self) -> None:
        if self._is_drafting:
            return
        hotel = self._context.hotel
        self._is_drafting = True
        self._allow()
        self._context.jobs.run(
            plan_rounds,
            hotel.house,
            hotel.occupancy(),
            wish_for(hotel, self.days.value()),
            label=_("Drafting a round"),
            on_done=self._take_draft,
            on_failed=self._fail,
            on_stopped=self._stopped,
        )

    def _take_draft(self, plan: Plan) -> None:
        self._is_drafting = False
        self.draft = Draft(plan, max(self._context.hotel.house.entries, default=0))
        self.sums.select(ALL)
        self.refresh()
        self.tabs.setCurrentIndex(0)
        self.publish.setFocus()

    def _fail(self, error: Exception) -> None:
        self._stopped()
        self._context.notices.fail(error)

    def _stopped(self) -> None:
        self._is_drafting = False
        self._allow()

    def _publish(self) -> None:
        if self.draft is None:
            return
        plan, context = self.draft.plan, self._context
        with context.notices.refusals():
            publish_round(context.hotel, plan)
            self.draft = None
            self.refresh()
            told = ngettext(
                "Published: {n} room until {day}.",
                "Published: {n} rooms until {day}.",
                len(plan.slots),
            ).format(n=len(plan.slots), day=short_day_text(plan.until_on))
            context.notices.done(told)
            self.print_day.setFocus()

    def _throw_away(self) -> None:
        self.draft = None
        self.refresh()
        self.make_draft.setFocus()

    # --- going on -----------------------------------------------------------

    def _print(self) -> None:
        day = self._day_to_print()
        if day is not None:
            ask_and_print(self._context, day)

    def _open_room(self, row: SlotRow | LeftOut) -> None:
        if "building" in self._context.pages:
            self._context.go_to("building", row.room)

    def _go(self, page: str) -> None:
        if page == "rounds":
            self.team_wanted.emit()
        elif page in self._context.pages:
            self._context.go_to(page)
