"""What lies beside the rounds' calendar: its rooms, its sheets, what moved, what is left out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QTabWidget, QVBoxLayout, QWidget

from hotelwatch.core.checks.slots import SheetSum, SlotRow
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.rounds.changes import Moved
from hotelwatch.core.rounds.plan import LeftOut
from hotelwatch.screens.look.theme import QUIET
from hotelwatch.screens.rounds.plan_layout import Place
from hotelwatch.screens.rounds.plan_tables import (
    ALL,
    TEAM_COLUMN,
    SumRow,
    left_out_table,
    moved_table,
    room_key,
    rooms_table,
    sum_rows,
    sums_table,
    why_not_text,
)
from hotelwatch.screens.rounds.why_pane import MendCard, Reason, WhyPane
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.plan_calendar import corridor_text

ROOMS, SHEETS, MOVED, LEFT_OUT, WHY = range(5)


class PlanDetails(QTabWidget):
    """The lists that have what the calendar has; they share its selection."""

    draft_wanted = Signal()
    """The step of an empty list of sheets."""
    sheet_chosen = Signal(object)
    """A cell as a place on the calendar, or None for all."""
    room_chosen = Signal(object)
    """The row of a room that was chosen in the list."""
    room_opened = Signal(object)
    reason_chosen = Signal(object)
    """Why visits can't be in time: what is to be drawn; None draws nothing."""
    menu_wanted = Signal(object, QPoint)
    """The row of a room, and where on the screen to show its menu."""

    def __init__(self) -> None:
        """Empty lists."""
        super().__init__()
        self.setDocumentMode(True)
        self.tabBar().setAccessibleName(_("What the round holds"))
        self._rows: tuple[SlotRow, ...] = ()
        self._corridors: Mapping[RoomNo, tuple[str, str]] = {}
        self._place: Place | None = None
        self._is_following = False
        self.which = QLabel()
        self.show_all = QPushButton(_("Show all days"))
        self.show_all.setProperty("role", QUIET)
        self.rooms = rooms_table()
        self.sums = sums_table(self.draft_wanted.emit)
        self.moved = moved_table()
        self.left_out = left_out_table()
        self.why = WhyPane()
        self.in_full = QLabel(wordWrap=True)
        self.addTab(self.rooms, _("Rooms"))
        self.addTab(self.sums, _("Sheets"))
        self.addTab(self.moved, _("Moved"))
        self.addTab(self._left_out_pane(), _("Left out"))
        self.addTab(self.why, _("Not in time"))
        self.setTabVisible(WHY, False)
        self._about_rooms = self._corner()
        self.setCornerWidget(self._about_rooms)
        self._connect()

    # --- showing ------------------------------------------------------------

    def show_round(
        self,
        rows: tuple[SlotRow, ...],
        sums: Sequence[SheetSum],
        corridors: Mapping[RoomNo, tuple[str, str]],
    ) -> None:
        """Show a round's rooms and sheets; the sheet chosen stays.

        ``corridors`` has the floor and the wing of every room.
        """
        self._rows, self._corridors = rows, corridors
        self._is_following = True
        self.sums.show_rows(sum_rows(sums))
        if self.sums.current() is None:
            self.sums.select(ALL)
            self._place = None
        self._is_following = False
        self._show_rooms()

    def show_changes(
        self, moved: Sequence[Moved], left: Sequence[LeftOut], *, is_draft: bool
    ) -> None:
        """Show what a draft moves and leaves out; a published round has neither list."""
        self.moved.show_rows(moved)
        self.setTabText(MOVED, _("Moved ({n})").format(n=len(moved)))
        self.setTabVisible(MOVED, is_draft)
        self.left_out.show_rows(left)
        self._tell_in_full(self.left_out.current())
        self.setTabText(LEFT_OUT, _("Left out ({n})").format(n=len(left)))
        self.setTabVisible(LEFT_OUT, is_draft)

    def show_why(
        self,
        reasons: Sequence[Reason],
        mends: Sequence[MendCard],
        load: str = "",
        order: str = "",
    ) -> None:
        """Show why visits can't be in time, what would mend it, and what cycles ask for ever."""
        self.why.show_reasons(reasons, mends, load, order)
        title = _("Not in time ({n})") if reasons else _("Not in time")
        self.setTabText(WHY, title.format(n=len(reasons)))
        self.setTabVisible(WHY, bool(reasons or load))
        self._tell_reason()

    def follow(self, place: Place | None) -> None:
        """Show the rooms of a place on the calendar; None shows all."""
        self._place = place
        self._is_following = True
        self.sums.select(ALL if place is None else place.sheet)
        self._is_following = False
        self._show_rooms()
        if place is not None and place.room is not None:
            self._is_following = True
            self.rooms.select((place.on, place.team, place.room, place.beds))
            self._is_following = False

    def find_room(self, room: RoomNo) -> SlotRow | None:
        """The next row of a room; all rooms are shown, and it gets the place."""
        self.follow(None)
        self.setCurrentIndex(ROOMS)
        self.rooms.show_all()
        for row in self._rows:
            if row.room == room:
                self.rooms.select(room_key(row))
                return row
        return None

    @property
    def day(self) -> date | None:
        """The day of the sheet chosen; None while all are."""
        return None if self._place is None else self._place.on

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self.show_all.clicked.connect(self._take_all)
        self.sums.current_changed.connect(self._choose)
        self.rooms.current_changed.connect(self._tell_room)
        for table in (self.rooms, self.moved, self.left_out):
            table.activated.connect(self.room_opened)
        self.left_out.current_changed.connect(self._tell_in_full)
        self.why.chosen.connect(self._tell_reason)
        self.currentChanged.connect(self._tell_reason)
        view = self.rooms.view
        view.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        view.customContextMenuRequested.connect(self._ask_menu)

    def _corner(self) -> QWidget:
        """Which rooms the list has, and the way back to all of them."""
        pane = QWidget()
        line = QHBoxLayout(pane)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.which)
        line.addWidget(self.show_all)
        keeps = self.show_all.sizePolicy()
        keeps.setRetainSizeWhenHidden(True)
        self.show_all.setSizePolicy(keeps)
        return pane

    def _left_out_pane(self) -> QWidget:
        pane = QWidget()
        lines = QVBoxLayout(pane)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.left_out, 1)
        lines.addWidget(self.in_full)
        return pane

    def copy_action(self) -> QAction:
        """The list's own action, for a menu that takes the place of its own."""
        return self.rooms.view.actions()[0]

    # --- what happens -------------------------------------------------------

    def _show_rooms(self) -> None:
        rows = [row for row in self._rows if self._is_meant(row)]
        self.rooms.view.setColumnHidden(TEAM_COLUMN, len({row.team for row in rows}) <= 1)
        self._is_following = True
        self.rooms.show_rows(rows)
        self._is_following = False
        self.setTabText(ROOMS, _("Rooms ({n})").format(n=len(rows)))
        self.which.setText(self._which_text())
        self.show_all.setVisible(self._place is not None)

    def _is_meant(self, row: SlotRow) -> bool:
        place = self._place
        if place is None:
            return True
        if (row.on, row.team) != place.sheet:
            return False
        is_whole = place.corridor is None or place.room is not None
        return is_whole or self._corridors.get(row.room) == place.corridor

    def _which_text(self) -> str:
        place = self._place
        if place is None:
            return _("All days")
        said = _("{day}, {team}").format(day=short_day_text(place.on), team=place.team)
        if place.corridor is not None and place.room is None:
            where = corridor_text(*place.corridor)
            said = _("{sheet}: {corridor}").format(sheet=said, corridor=where)
        return said

    def _choose(self, row: SumRow | None) -> None:
        if self._is_following or row is None:
            return
        self._place = None if row.sheet is None else Place(*row.sheet)
        self._show_rooms()
        self.sheet_chosen.emit(self._place)

    def _take_all(self) -> None:
        self.follow(None)
        self.sheet_chosen.emit(None)
        self.rooms.view.setFocus()

    def _tell_room(self, row: SlotRow | None) -> None:
        if row is not None and not self._is_following:
            self.room_chosen.emit(row)

    def _tell_in_full(self, row: LeftOut | None) -> None:
        """Say the reason below the table too, where it is never cut off."""
        self.in_full.setText(why_not_text(row) if row else "")
        self.in_full.setVisible(row is not None)

    def _tell_reason(self, *_what: object) -> None:
        """Let a reason be drawn while one looks at the reasons."""
        self._about_rooms.setVisible(self.currentIndex() == ROOMS)
        is_seen = self.currentIndex() == WHY and self.isTabVisible(WHY)
        self.reason_chosen.emit(self.why.reasons.current() if is_seen else None)

    def _ask_menu(self, at: QPoint) -> None:
        row = self.rooms.current()
        if row is not None:
            self.menu_wanted.emit(row, self.rooms.view.viewport().mapToGlobal(at))
