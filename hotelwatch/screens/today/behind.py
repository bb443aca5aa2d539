"""What stands behind the number or the name that was pressed, and where one goes from there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QEvent, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from hotelwatch.core.cases.desk_duties import MOVE_GUEST, OTHER_ROOM
from hotelwatch.core.cases.duties import Duty
from hotelwatch.core.facts import BedChecked, RoomNo
from hotelwatch.core.whole.day import ClosedRoom, Late, LateKind, RoomToday
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.layout.flow import FlowRow
from hotelwatch.screens.tables.row_table import RowTable
from hotelwatch.screens.today.tables import (
    TEAM_COLUMN,
    closed_table,
    duties_table,
    late_table,
    rooms_table,
)
from hotelwatch.wording.language import _

LINES_AT_LEAST, LINES_BELOW = 9, 15
"""Lines of text that the table has at least: beside the strips, and below them."""
Row = RoomToday | Duty | ClosedRoom | Late


class Behind(QWidget):
    """A title, a table of rooms or duties, and the buttons that act on the row in view."""

    wanted = Signal(str, object)
    """The page on which one acts, and the room, or None."""
    rooms_wanted = Signal(str, object)
    """A name, and the rooms to be shown under it in the house."""

    def __init__(self, context: Context) -> None:
        """Nothing pressed yet."""
        super().__init__()
        self._lines = LINES_AT_LEAST
        self._pages, self._may_record = context.pages, context.may(BedChecked)
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.rooms, self.duties = rooms_table(context), duties_table(context)
        self.closed, self.late = closed_table(context), late_table(context)
        self.act = QPushButton()
        self.record = QPushButton(_("R&oom's record"))
        self.show_all = QPushButton(_("Show in the &building"))
        self._tables = QStackedWidget()
        for table in (self.rooms, self.duties, self.closed, self.late):
            self._tables.addWidget(table)
            table.activated.connect(self._act_on)
            table.current_changed.connect(self._say_act)
        self.act.clicked.connect(self._act)
        self.record.clicked.connect(self._open_record)
        self.show_all.clicked.connect(self._show_rooms)
        top = QHBoxLayout()
        top.addWidget(self.title, 1)
        acts = FlowRow()
        for button in (self.act, self.record, self.show_all):
            acts.flow.addWidget(button)
        top.addWidget(acts)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(top)
        lines.addWidget(self._tables, 1)
        self._leave_room()

    # --- showing --------------------------------------------------------------

    def show_rooms(self, title: str, rows: Sequence[RoomToday], *, of_one_team: bool) -> None:
        """Show rooms to look at."""
        self.rooms.view.setColumnHidden(TEAM_COLUMN, of_one_team)
        self._show(self.rooms, title, rows)

    def show_duties(self, title: str, rows: Sequence[Duty]) -> None:
        """Show what cases want of somebody."""
        self._show(self.duties, title, rows)

    def show_closed(self, title: str, rows: Sequence[ClosedRoom]) -> None:
        """Show rooms in quarantine."""
        self._show(self.closed, title, rows)

    def show_late(self, title: str, rows: Sequence[Late]) -> None:
        """Show what is late."""
        self._show(self.late, title, rows)

    def focus_room(self, room: RoomNo) -> bool:
        """Give a room the place, if it stands in the table that shows."""
        table = self.table
        for row in table.model.rows:
            if row.room == room:
                table.show_all()
                return bool(table.select(table.model.key_at(table.model.rows.index(row))))
        return False

    @property
    def table(self) -> RowTable[Any]:
        """The table that shows."""
        return self._tables.currentWidget()  # type: ignore[return-value]

    def changeEvent(self, event: QEvent) -> None:
        """Leave room for rows of the new size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_tables"):
            self._leave_room()

    def stand(self, *, is_beside: bool) -> None:
        """Beside the strips, as high as they are; or below them, where the page scrolls anyway."""
        self._lines = LINES_AT_LEAST if is_beside else LINES_BELOW
        self._leave_room()

    def _leave_room(self) -> None:
        self._tables.setMinimumHeight(self.fontMetrics().height() * self._lines)

    def _show(self, table: RowTable[Any], title: str, rows: Sequence[Row]) -> None:
        self.title.setText(title)
        self._tables.setCurrentWidget(table)
        table.show_rows(rows)
        for button in (self.record, self.show_all):
            button.setVisible(bool(rows) and "building" in self._pages)
        self._say_act(self._row())

    # --- going on ---------------------------------------------------------------

    def _row(self) -> Row | None:
        """The row in view, else the first that is still to do."""
        table = self.table
        row: Row | None = table.current()
        if row is not None:
            return row
        shown = table.shown_rows()
        left = (one for one in shown if not (isinstance(one, RoomToday) and one.is_done))
        return next(left, shown[0] if shown else None)

    def _say_act(self, row: Row | None) -> None:
        row = row or self._row()
        page = "" if row is None else _page_of(row)
        is_read_only = page == "checks" and not self._may_record
        self.act.setVisible(page in self._pages and not is_read_only)
        if page in _WORDS:
            self.act.setText(_WORDS[page]())

    def _act(self) -> None:
        row = self._row()
        if row is not None:
            self._act_on(row)

    def _act_on(self, row: Row) -> None:
        self.wanted.emit(_page_of(row), row.room)

    def _open_record(self) -> None:
        row = self._row()
        if row is not None:
            self.wanted.emit("building", row.room)

    def _show_rooms(self) -> None:
        rooms = frozenset(row.room for row in self.table.shown_rows())
        self.rooms_wanted.emit(self.title.text(), rooms)


_WORDS: dict[str, Callable[[], str]] = {
    "checks": lambda: _("Record a chec&k"),
    "cases": lambda: _("Open the ca&se"),
    "desk": lambda: _("Go to front des&k"),
    "rounds": lambda: _("Plan it in&to a round"),
}


def _page_of(row: Row) -> str:
    """The page on which one acts on a row."""
    if isinstance(row, RoomToday):
        return "checks"
    if isinstance(row, ClosedRoom):
        return "cases"
    if isinstance(row, Duty):
        return "desk" if row.step.code in (MOVE_GUEST, OTHER_ROOM) else "cases"
    if row.kind in (LateKind.NOT_PLANNED, LateKind.AGREED_BROKEN):
        return "rounds"
    if row.duty is not None:
        return _page_of(row.duty)
    return "checks"
