"""Who else must be looked at because of the case in view: the ring, drawn and as a list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.links import ask_rooms, ask_whole_floor, ring
from hotelwatch.core.case_facts import CheckAsked, GuestMoved
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.ring import Ring, next_first
from hotelwatch.core.cases.ring_rooms import RingRoom, RoomState
from hotelwatch.core.facts import BedChecked, RoomNo
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.cases.case_reckoning import CaseReckoning
from hotelwatch.screens.cases.move_form import GuestMoveForm
from hotelwatch.screens.cases.ring_picture import RingPicture
from hotelwatch.screens.cases.ring_signs import GLYPHS, TONES, RingLegend
from hotelwatch.screens.cases.team_sheets import TeamSheetButton
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.layout.flow import Flow, HeldScroll
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.ring import by_when_text, growth_sentence, state_text, why_text
from hotelwatch.wording.since import room_odds_note, room_odds_text

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import CaseOdds

SIDE_BY_SIDE_PX = 820
"""Narrower than this the list stands below the picture."""


@dataclass(frozen=True)
class RingLine:
    """A room of the ring as listed, with its chance beside it."""

    ring: RingRoom
    said: str
    """The chance in words."""
    chance: float
    """The central one, to sort by; below 0 where there is none."""

    @property
    def room(self) -> RoomNo:
        """Its label."""
        return self.ring.room


class RingPane(QWidget):
    """The ring of a case: why each room, by when, how it stands; and whether it still grows."""

    def __init__(self, context: Context, reckoning: CaseReckoning | None = None) -> None:
        """No case in view."""
        super().__init__()
        self._context = context
        self._case: Case | None = None
        self._reckoning = reckoning or CaseReckoning(context, self)
        self._reckoning.changed.connect(self._show_odds)
        self.ring: Ring | None = None
        self.growth = text_label("")
        self.elsewhere = text_label("", role="muted")
        self.odds_note = text_label("", role="muted")
        self.picture = RingPicture()
        self.picture.picked.connect(self._take_room)
        self.picture.opened.connect(self._record)
        self.table = self._make_table()
        self.move_form = GuestMoveForm(context)
        self.move_form.done.connect(self._show_ring)
        self.record = _button(_("Record the check"))
        self.record.clicked.connect(self._record_current)
        self.ask = _button("")
        self.ask.clicked.connect(self._ask)
        self.ask_after_all = _button("")
        self.ask_after_all.clicked.connect(self._ask_after_all)
        self.to_move = _button(_("Guests changed rooms…"))
        self.to_move.clicked.connect(self._open_move)
        self.to_sheet = TeamSheetButton(context)
        self._floors: list[QPushButton] = []
        self._lay_out()
        self.show_case(None)

    def title(self) -> str:
        """The tab's text."""
        return _("Other rooms")

    def is_begun(self) -> bool:
        """Whether something was typed and not saved."""
        return self._panes.currentWidget() is self.move_form and self.move_form.is_begun()

    def bring(self, holder: QWidget, _about: object) -> None:
        """Open the form of a move that was half entered."""
        if holder is self.move_form:
            self._open_move()

    def show_case(self, case: Case | None) -> None:
        """Put a case in view; what is chosen stays for the same case."""
        same = self._case is not None and case is not None and self._case.no == case.no
        self._case = case
        if not same:
            self._show_ring()
        self.to_sheet.show_case(case)
        self.ring = None if case is None else ring(self._context.hotel, case.no)
        rows = () if self.ring is None else next_first(self.ring.rooms)
        now = self._context.hotel.now()
        late = [row.room for row in rows if row.is_late(now)]
        away = self.picture.show_ring(self._context.hotel.building, rows, late)
        if case is not None:
            self._reckoning.want(case.no, (row.room for row in rows))
        self._show_odds()
        self.legend.show_states({row.state for row in rows})
        self.growth.setText("" if self.ring is None else growth_sentence(self.ring))
        self._say_elsewhere(rows, away)
        self._fit_buttons()
        if self.table.current() is None and rows:
            self.table.select(rows[0].room)

    def _show_odds(self) -> None:
        """List the rooms with the chances that are at hand by now."""
        rows = () if self.ring is None else next_first(self.ring.rooms)
        odds = None if self._case is None else self._reckoning.of(self._case.no)
        self.table.show_rows(_lines(rows, odds))
        note = room_odds_note(odds)
        self.odds_note.setText(note)
        self.odds_note.setVisible(bool(note))

    # --- making --------------------------------------------------------------

    def _make_table(self) -> RowTable[RingLine]:
        hotel = self._context.hotel

        def by_when(line: RingLine) -> str:
            return by_when_text(line.ring, hotel.zone, now=hotel.now())

        def tone(line: RingLine) -> Tone | None:
            return Tone.LATE if line.ring.is_late(hotel.now()) else None

        table = RowTable(
            [
                Column[RingLine](_("Room"), lambda line: line.room),
                Column[RingLine](
                    _("State"),
                    lambda line: f"{GLYPHS[line.ring.state]}  {state_text(line.ring)}",
                    spoken=lambda line: state_text(line.ring),
                    tint=lambda line: TONES.get(line.ring.state),
                ),
                Column[RingLine](
                    _("By when"),
                    by_when,
                    sort=lambda line: (line.ring.by_at, line.ring.rank),
                    tint=tone,
                ),
                Column[RingLine](
                    _("Chance"),
                    lambda line: line.said,
                    sort=lambda line: line.chance,
                    wraps=True,
                ),
                Column[RingLine](_("Why"), lambda line: why_text(line.ring), wraps=True),
            ],
            key=lambda row: row.room,
            name=_("Rooms to be looked at because of this case, what is next first"),
            empty=Empty(_("No room.")),
            filtered=False,
        )
        table.activated.connect(lambda row: self._record(row.room))
        table.current_changed.connect(self._take_row)
        return table

    def _lay_out(self) -> None:
        drawing = HeldScroll()
        drawing.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        drawing.setWidget(self.picture)
        self._drawing = drawing
        self._body = QSplitter(Qt.Orientation.Horizontal)
        self._body.setChildrenCollapsible(False)
        self._body.setHandleWidth(12)
        self._body.addWidget(drawing)
        self._body.addWidget(self.table)
        self._body.setStretchFactor(0, 2)
        self._body.setStretchFactor(1, 3)
        self.legend = RingLegend()
        self._whole = self._page()
        self._panes = QStackedWidget()
        self._panes.addWidget(self._whole)
        self._panes.addWidget(self.move_form)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 6, 0, 0)
        whole.addWidget(self._panes)
        self.setFocusProxy(self.table.view)

    def _page(self) -> QWidget:
        bar = QWidget()
        self._buttons = Flow()
        bar.setLayout(self._buttons)
        for button in (self.record, self.ask, self.ask_after_all, self.to_move, self.to_sheet):
            self._buttons.addWidget(button)
        inside = QWidget()
        lines = QVBoxLayout(inside)
        lines.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        head.addWidget(self.growth, 3)
        head.addWidget(bar, 4)
        lines.addLayout(head)
        self.for_others = offer(
            self._context,
            Deed(_("Record the check"), (BedChecked,), (self.record,)),
            Deed(_("Ask for looks"), (CheckAsked,), (self.ask, self.ask_after_all)),
            Deed(_("Note that guests changed rooms"), (GuestMoved,), (self.to_move,)),
        )
        lines.addWidget(self.for_others)
        lines.addWidget(self._body, 1)
        lines.addWidget(self.odds_note)
        lines.addWidget(self.elsewhere)
        lines.addWidget(self.legend)
        return inside

    def resizeEvent(self, event: QEvent) -> None:
        """Put the list beside the picture where there is room, else below it."""
        is_wide = self.width() >= SIDE_BY_SIDE_PX
        self._body.setOrientation(Qt.Orientation.Horizontal if is_wide else Qt.Orientation.Vertical)

    def _say_elsewhere(self, rows: tuple[RingRoom, ...], away: tuple[RoomNo, ...]) -> None:
        signs = {row.room: GLYPHS[row.state] for row in rows}
        told = [f"{room} {signs[room]}" for room in away]
        said = _("Elsewhere, tied by the record: {rooms}").format(rooms=join(told))
        self.elsewhere.setText(said if away else "")
        self.elsewhere.setVisible(bool(away))

    def _fit_buttons(self) -> None:
        rows = self.ring.rooms if self.ring else ()
        wanted = sum(row.state is RoomState.NOT_ASKED for row in rows)
        self.ask.setVisible(bool(wanted))
        said = ngettext("Ask for {n} room more", "Ask for {n} rooms more", wanted)
        self.ask.setText(said.format(n=wanted))
        self.ask.setProperty("role", MAIN)
        for button in self._floors:
            self._buttons.removeWidget(button)
            button.deleteLater()
        self._floors = []
        for floor in self.ring.floors if self.ring else ():
            button = _button(_("Look at all of floor {floor}").format(floor=floor.floor))
            button.clicked.connect(partial(self._ask_floor, floor.floor))
            self._buttons.addWidget(button)
            self._floors.append(button)
        self._fit_to_row(self.table.current())

    def _fit_to_row(self, row: RingLine | None) -> None:
        here = "checks" in self._context.pages
        self.record.setVisible(row is not None and here)
        self.ask_after_all.setVisible(row is not None and row.ring.state is RoomState.STRUCK_OUT)
        if row is not None:
            self.record.setText(_("Record the check of {room}").format(room=row.room))
            self.ask_after_all.setText(_("Ask for {room} after all").format(room=row.room))

    # --- going on ------------------------------------------------------------

    def _take_row(self, row: RingLine | None) -> None:
        self.picture.choose(row.room if row else None)
        drawn = self.picture.drawn_of(row.room) if row else None
        if drawn is not None:
            box = drawn.outline.boundingRect().toRect()
            middle = box.center()
            self._drawing.ensureVisible(
                middle.x(), middle.y(), box.width() // 2 + 8, box.height() // 2 + 8
            )
        self._fit_to_row(row)

    def _take_room(self, room: RoomNo) -> None:
        self.table.select(room)

    def _record(self, room: RoomNo) -> None:
        if "checks" in self._context.pages:
            self._context.go_to("checks", room)

    def _record_current(self) -> None:
        row = self.table.current()
        if row is not None:
            self._record(row.room)

    def _ask(self) -> None:
        if self._case is not None:
            with self._context.notices.refusals():
                ask_rooms(self._context.hotel, self._case.no)
                self._context.notices.done(_("Asked for: teams get them on their sheets."))
                self.show_case(self._case)

    def _ask_after_all(self) -> None:
        row = self.table.current()
        if self._case is not None and row is not None:
            with self._context.notices.refusals():
                ask_rooms(self._context.hotel, self._case.no, struck_out={row.room})
                self._context.notices.done(_("Asked for: teams get them on their sheets."))
                self.show_case(self._case)

    def _ask_floor(self, floor: str) -> None:
        if self._case is not None:
            with self._context.notices.refusals():
                ask_whole_floor(self._context.hotel, self._case.no, floor)
                self._context.notices.done(
                    _("All of floor {floor} is asked for.").format(floor=floor)
                )
                self.show_case(self._case)

    def _open_move(self) -> None:
        row = self.table.current()
        if self._case is not None:
            self.move_form.begin(self._case, row.room if row else self._case.room)
            self._panes.setCurrentWidget(self.move_form)
            self.move_form.setFocus()

    def _show_ring(self) -> None:
        self._panes.setCurrentWidget(self._whole)


def _button(text: str) -> QPushButton:
    button = QPushButton(text)
    button.setAutoDefault(True)
    return button


def _lines(rows: Iterable[RingRoom], odds: CaseOdds | None) -> list[RingLine]:
    """The ring's rooms in their order, with their chances."""
    lines = []
    for row in rows:
        chance = odds.chances.get(row.room) if odds else None
        central = chance[Stance.CENTRAL] if chance else -1.0
        lines.append(RingLine(row, room_odds_text(odds, row.room), central))
    return lines
