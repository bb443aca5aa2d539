"""The heart of the rounds: plan, look at the calendar, change it by hand, publish it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from hotelwatch.actions.rounds import publish_round
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import SheetSum, SlotRow, published_rows, sheet_sums
from hotelwatch.core.checks.today import keeps_from_planning
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.rounds.calendar_rows import Shown, calendar_rows
from hotelwatch.core.rounds.changes import Moved, moved_visits
from hotelwatch.core.rounds.draft import draft_rows, draft_sums, first_day
from hotelwatch.core.rounds.mending import mended
from hotelwatch.core.rounds.morning import Morning, morning
from hotelwatch.core.rounds.plan import LeftOut
from hotelwatch.core.rounds.team_days import Round, drafted_round, published_ahead, published_round
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.day_sheets import print_sheets_of
from hotelwatch.screens.at_hand.next_step import NextStep
from hotelwatch.screens.rounds.plan_bar import Offer, PlanBar
from hotelwatch.screens.rounds.plan_details import ROOMS, PlanDetails
from hotelwatch.screens.rounds.plan_hand import PlanHand
from hotelwatch.screens.rounds.plan_layout import Place
from hotelwatch.screens.rounds.plan_legend import PlanLegend
from hotelwatch.screens.rounds.plan_view import PlanView
from hotelwatch.screens.rounds.plan_why import PlanWhy
from hotelwatch.screens.rounds.plan_work import Draft, PlanWork
from hotelwatch.screens.rounds.words import (
    assumptions_text,
    draft_text,
    hand_text,
    proof_text,
    proof_tip,
    published_text,
    published_told,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.plan_calendar import morning_sentence
from hotelwatch.wording.proofs import odds_weigh_sentence

BESIDE_FROM_PX = 1450
"""With so much width the lists stand beside the calendar, with less below it."""
LEAST_LINES = 20
"""With less height than so many lines of text the legend gives way; each chip says it in words."""
BESIDE_SHARE, BELOW_SHARE, TALL_SHARE = 0.55, 0.62, 0.46
"""How much of the width or of the height the calendar takes at most; one that needs more of the
window's height is tall. The window's: notices that come and go above the page turn nothing."""


class PlanPane(QWidget):
    """The draft, or what is published."""

    team_wanted = Signal()
    """There is no team yet; the person wants to describe one."""

    tab_wanted = Signal(str)
    """Another tab of the rounds: days, teams or cycles."""

    def __init__(self, context: Context) -> None:
        """Nothing to show yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._is_by_hand = False
        self._arranged: tuple[object, ...] = ()
        self._morning: Morning | None = None
        self._rows: tuple[SlotRow, ...] = ()
        self.draft: Draft | None = None
        self.work = PlanWork(context, self)
        self.bar = PlanBar(context, self._shown_round)
        self.state = QLabel(wordWrap=True)
        self.proof = QLabel(wordWrap=True)
        self.assumptions = QLabel(wordWrap=True)
        self.view = PlanView()
        self.legend = PlanLegend()
        self.details = PlanDetails()
        self.hand = PlanHand(context, self)
        self.why = PlanWhy(context, self.view, self.details)
        self.view.refuse = self.hand.refuse
        self.next_step = NextStep()
        self._connect()
        self._lay_out()

    # --- what the page asks -------------------------------------------------

    def refresh(self) -> None:
        """Read the house anew; a draft stays until it is published or thrown away."""
        hotel = self._context.hotel
        if self.draft is not None and self.draft.plan.from_on < hotel.today():
            self.draft = None
            self._context.notices.warn(_("The draft began before today, so it was put away."))
        lack = keeps_from_planning(hotel.house)
        if lack is not None:
            self.next_step.show_lack(lack)
        self._panes.setCurrentIndex(0 if lack is None else 1)
        for widget in (self.bar, self.state):
            widget.setVisible(lack is None)
        self._show()

    def focus_room(self, room: RoomNo) -> None:
        """Give a room the place on the sheet that it is on next."""
        row = self.details.find_room(room)
        if row is not None:
            self.view.choose_room(row)

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        bar, view, details = self.bar, self.view, self.details
        bar.days.valueChanged.connect(self._follow_days)
        bar.make_draft.clicked.connect(self._start)
        bar.publish.clicked.connect(self._publish_firm)
        bar.publish_whole.clicked.connect(self._publish_whole)
        bar.throw_away.triggered.connect(self._throw_away)
        bar.print_day.clicked.connect(self._print)
        view.picked.connect(self._follow)
        view.opened.connect(self._open_place)
        view.menu_wanted.connect(self.hand.ask)
        view.moved.connect(self.hand.move)
        view.refused.connect(self.hand.say_refused)
        details.draft_wanted.connect(self._start)
        details.sheet_chosen.connect(self._choose_place)
        details.room_chosen.connect(self._choose_room)
        details.room_opened.connect(self._open_room)
        details.menu_wanted.connect(self._show_room_menu)
        self.work.drafted.connect(self._take_draft)
        self.work.ended.connect(self._stop)
        self.work.read.connect(self._show)
        self.hand.opened.connect(self._open_place)
        self.hand.written.connect(self._plan_after_hand)
        self.why.written.connect(self._plan_after_hand)
        self.why.tab_wanted.connect(self.tab_wanted)
        self.next_step.wanted.connect(self._go)

    def _lay_out(self) -> None:
        for label in (self.state, self.assumptions):
            label.setProperty("role", "muted")
        drawing = QWidget()
        above = QVBoxLayout(drawing)
        above.setContentsMargins(0, 0, 0, 0)
        above.setSpacing(4)
        above.addWidget(self.view, 1)
        above.addWidget(self.legend)
        self._both = QSplitter(Qt.Orientation.Vertical)
        self._both.setChildrenCollapsible(False)
        self._both.setHandleWidth(10)
        self._both.addWidget(drawing)
        self._both.addWidget(self.details)
        self._both.setStretchFactor(1, 1)
        self._panes = QStackedWidget()
        self._panes.addWidget(self._both)
        self._panes.addWidget(self.next_step)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.setSpacing(4)
        for widget in (self.bar, self.state, self.proof):
            lines.addWidget(widget)
        lines.addWidget(self._panes, 1)
        lines.addWidget(self.assumptions)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the lists beside the calendar where both have room there, else below it."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """Share the room out; where the person moved the line between, it stays."""
        needed, whole = self.view.whole_height(), self._panes.height()
        is_beside = self.width() >= BESIDE_FROM_PX and needed > self.window().height() * TALL_SHARE
        wanted = Qt.Orientation.Horizontal if is_beside else Qt.Orientation.Vertical
        arranged = (wanted, whole, needed)
        if arranged == self._arranged:
            return
        self._arranged = arranged
        is_tight = whole < LEAST_LINES * self.fontMetrics().height()
        self.legend.setVisible(not is_tight)
        self._both.setOrientation(wanted)
        if is_beside:
            first = round(self.width() * BESIDE_SHARE)
            self._both.setSizes([first, self.width() - first])
        else:
            first = min(needed + self.legend.height() + 6, round(whole * BELOW_SHARE))
            self._both.setSizes([first, whole - first])

    # --- showing ------------------------------------------------------------

    def _show(self) -> None:
        hotel = self._context.hotel
        house, now, today = hotel.house, hotel.now(), hotel.today()
        self._morning = None
        moved: tuple[Moved, ...] = ()
        left: tuple[LeftOut, ...] = ()
        if self.draft is not None:
            plan = self.draft.plan
            self._rows = draft_rows(house, hotel.occupancy(), plan, now=now)
            sums = draft_sums(house, plan, self._rows)
            said = draft_text(plan, house, self.draft.entry)
            moved = moved_visits(house, hotel.occupancy(), plan, now)
            left = (*plan.left_out, *plan.left_again)
        else:
            self._rows = published_rows(house, hotel.occupancy(), from_on=today, now=now)
            sums = sheet_sums(house, self._rows, Calendar(house).minutes)
            said = published_text(house, today, hotel.zone)
            self._morning = morning(house, hotel.occupancy(), now)
            if self._morning is not None:
                said = f"{said} {morning_sentence(self._morning)}"
        self.state.setText(said or _("Nothing is published from today on. Draft a round first."))
        self.work.read_on(self.draft, self._shown_round(), len(self._days()))
        self._show_calendar(sums)
        self.details.show_changes(moved, left, is_draft=self.draft is not None)
        self._say_proof()
        self._allow()
        self.why.show(self.work.reading)
        self.assumptions.setText(assumptions_text(house, self.work.reading.first_round))

    def _show_calendar(self, sums: tuple[SheetSum, ...]) -> None:
        hotel = self._context.hotel
        house = hotel.house
        shown = Shown(self._rows, self._likely(), self.work.reading.leanings)
        rows = calendar_rows(house, self._days(), shown, today=hotel.today())
        self.hand.renew(rows)
        self.view.show_rows(rows, hotel.today())
        self._arrange()
        corridors = {room.room: (room.floor, room.wing) for room in house.rooms.values()}
        self.details.show_round(self._rows, sums, corridors)

    def _say_proof(self) -> None:
        said = [proof_text(self.draft.plan.proof)] if self.draft is not None else []
        if self.work.reading.price is not None and self.draft is not None:
            said.append(hand_text(self.work.reading.choices, self.work.reading.price))
        if self.draft is not None and self.draft.plan.weights:
            said.append(odds_weigh_sentence())
        self.proof.setText(" ".join(said))
        self.proof.setToolTip(proof_tip())
        self.proof.setVisible(bool(said))

    def _likely(self) -> frozenset[tuple[date, RoomNo]]:
        if self.draft is None:
            return frozenset()
        promised = {(slot.on, slot.room) for slot in self.draft.plan.promised}
        return frozenset({(row.on, row.room) for row in self._rows} - promised)

    def _days(self) -> tuple[date, ...]:
        """The draft's days; else from today as far as is published, or would be planned."""
        if self.draft is not None:
            first, last = self.draft.plan.from_on, self.draft.plan.until_on
        else:
            first = self._context.hotel.today()
            span = published_ahead(self._context.hotel.house, first)
            last = first + timedelta(days=self.bar.days.value() - 1)
            last = max(last, span[1]) if span else last
        return tuple(days_from(first, (last - first).days + 1))

    def _follow_days(self) -> None:
        """Show so many days ahead; a draft has days of its own until one plans again."""
        if self.draft is None:
            self._show()

    def _allow(self) -> None:
        draft = self.draft
        newest = max(self._context.hotel.house.entries, default=0)
        self.bar.allow(
            Offer(
                has_draft=draft is not None,
                has_round=draft is not None or bool(self._rows),
                is_stale=self._morning is not None or (draft is not None and newest > draft.entry),
                is_drafting=self.work.is_drafting,
                has_likely=draft is not None and draft.plan.promised != draft.plan.slots,
                print_on=self._day_to_print(),
            )
        )

    def _day_to_print(self) -> date | None:
        return None if self.draft is not None else self.details.day or first_day(self._rows)

    def _shown_round(self) -> Round:
        """What papers are made of."""
        if self.draft is not None:
            return drafted_round(self.draft.plan)
        days = self._days()
        house, today = self._context.hotel.house, self._context.hotel.today()
        span = published_ahead(house, today) or (days[0], days[-1])
        return published_round(house, *span)

    # --- one selection ------------------------------------------------------

    def _follow(self, place: Place) -> None:
        self.details.follow(place)
        self._allow()

    def _choose_place(self, place: Place | None) -> None:
        self.view.choose(place)
        self._allow()

    def _choose_room(self, row: SlotRow) -> None:
        self.view.choose_room(row)

    def _open_place(self, place: Place) -> None:
        if place.room is not None:
            self._open_room_no(place.room)
            return
        self.details.setCurrentIndex(ROOMS)
        self.details.rooms.view.setFocus()

    # --- planning -----------------------------------------------------------

    def _start(self) -> None:
        self.work.start(self.bar.days.value())
        self._allow()

    def _take_draft(self, draft: Draft) -> None:
        self.draft = draft
        is_by_hand, self._is_by_hand = self._is_by_hand, False
        if not is_by_hand:
            self.details.follow(None)
            self.view.choose(None)
        self.refresh()
        if not is_by_hand:
            self.details.setCurrentIndex(ROOMS)
            self.bar.publish.setFocus()
        elif self.details.day is not None:
            self.details.follow(self.view.scene.current)

    def _plan_after_hand(self, told: str, rooms: frozenset[RoomNo]) -> None:
        """Show what the hand did at once, then plan anew; the calendar keeps the keyboard."""
        hotel = self._context.hotel
        self._is_by_hand = True
        self._context.notices.done(told)
        if self.draft is not None:
            plan = mended(
                hotel.house, hotel.occupancy(), self.draft.plan, rooms=rooms, today=hotel.today()
            )
            self.draft = replace(self.draft, plan=plan)
        self._start()
        self._show()

    def _stop(self) -> None:
        self._is_by_hand = False
        self._allow()

    # --- publishing ---------------------------------------------------------

    def _publish_firm(self) -> None:
        self._publish(whole=False)

    def _publish_whole(self) -> None:
        self._publish(whole=True)

    def _publish(self, *, whole: bool) -> None:
        if self.draft is None or self.work.is_drafting:
            return
        plan, context = self.draft.plan, self._context
        with context.notices.refusals():
            # The button pressed goes: what has the keyboard then must not be chosen by chance.
            self.bar.make_draft.setFocus()
            publish_round(context.hotel, plan, whole=whole)
            self.draft = None
            self.refresh()
            context.notices.done(published_told(plan, whole=whole))
            self.bar.print_day.setFocus()

    def _throw_away(self) -> None:
        self.draft = None
        self.refresh()
        self.bar.make_draft.setFocus()

    # --- going on -----------------------------------------------------------

    def _show_room_menu(self, row: SlotRow, at: QPoint) -> None:
        self.hand.ask_room(row, at, self.details.copy_action())

    def _print(self) -> None:
        day = self._day_to_print()
        if day is not None:
            print_sheets_of(self._context, day)

    def _open_room(self, row: SlotRow | LeftOut | Moved) -> None:
        self._open_room_no(row.room)

    def _open_room_no(self, room: RoomNo) -> None:
        if "building" in self._context.pages:
            self._context.go_to("building", room)

    def _go(self, page: str) -> None:
        if page == "rounds":
            self.team_wanted.emit()
        elif page in self._context.pages:
            self._context.go_to(page)
