"""Left of the form: today's rooms as the sheets have them, and any room by its number."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QItemSelectionModel, QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCompleter,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.checks.slots import SlotRow, SlotState
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.forms.suggestions import suggest
from hotelwatch.screens.look.slot_words import state_text, state_tone
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.model import folded
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _, join

LIST_PX = 230
TEAM_COLUMN = 2


@dataclass(frozen=True, slots=True)
class ListedSlot:
    """A slot of today, whether its check is half entered, and whether a look found something."""

    slot: SlotRow
    is_begun: bool
    has_find: bool = False


class SlotList(QWidget):
    """Rooms to choose from."""

    room_wanted = Signal(object)
    rest_wanted = Signal()
    """What is left of the sheet is to be written down in one go."""

    def __init__(self) -> None:
        """No room yet."""
        super().__init__()
        self._rooms: tuple[RoomNo, ...] = ()
        self.room = QLineEdit(clearButtonEnabled=True)
        self.room.setPlaceholderText(_("Room number, then Enter"))
        self.room.setAccessibleName(_("Any room by its number"))
        self.room.returnPressed.connect(self._take_typed)
        self.room.textEdited.connect(self._forget_problem)
        self._known = QStringListModel(self)
        suggest(self.room, QCompleter(self._known, self), anywhere=True)
        self.problem = QLabel(wordWrap=True)
        self.problem.setProperty("role", "problem")
        self.problem.hide()
        self.begun = QLabel(wordWrap=True)
        self.begun.setProperty("role", "muted")
        self.table = _table()
        self.table.activated.connect(self._take_row)
        self.table.view.clicked.connect(self._take_current)
        self.table.view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.rest = QPushButton(_("The rest, all looked at…"))
        self.rest.setToolTip(
            _("Write down in one go every room in which nothing was left or found")
        )
        self.rest.clicked.connect(self.rest_wanted)
        self.table.setMinimumWidth(LIST_PX)  # and what stands below it may need more
        self._lay_out()

    def _lay_out(self) -> None:
        said = QLabel(_("&Any room"))
        said.setBuddy(self.room)
        heading = QLabel(_("On today's sheets"), wordWrap=True)
        heading.setProperty("role", "heading")
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        for widget in (said, self.room, self.problem, self.begun, heading):
            lines.addWidget(widget)
        lines.addWidget(self.table, 1)
        lines.addWidget(self.rest)

    def show_rooms(
        self,
        rows: Sequence[SlotRow],
        rooms: Sequence[RoomNo],
        *,
        begun: Collection[RoomNo],
        found: Collection[RoomNo] = (),
    ) -> None:
        """Show today's slots; ``rooms`` are all rooms, ``begun`` those half entered.

        ``found`` are those in which a look of today found something.
        """
        if self._rooms != tuple(rooms):
            self._rooms = tuple(rooms)
            self._known.setStringList([str(room) for room in rooms])
        self.table.show_rows(ListedSlot(row, row.room in begun, row.room in found) for row in rows)
        self.rest.setVisible(any(row.state is SlotState.TO_DO for row in rows))
        one_team = len({row.team for row in rows}) <= 1
        self.table.view.setColumnHidden(TEAM_COLUMN, one_team)
        on_sheets = {row.room for row in rows}
        others = [str(room) for room in begun if room not in on_sheets]
        self.begun.setText(_("Begun, not saved: {rooms}").format(rooms=join(others)))
        self.begun.setVisible(bool(others))

    def mark(self, room: RoomNo) -> None:
        """Mark the room whose check is being typed."""
        view, flag = self.table.view, QItemSelectionModel.SelectionFlag
        view.clearSelection()
        for row in self.table.model.rows:
            if row.slot.room == room and self.table.select((row.slot.team, room)):
                # With Ctrl held, as after Ctrl+Enter, the view itself would add or take away.
                view.selectionModel().select(view.currentIndex(), flag.ClearAndSelect | flag.Rows)
                return

    def _take_row(self, row: ListedSlot) -> None:
        self.room_wanted.emit(row.slot.room)

    def _take_current(self) -> None:
        row = self.table.current()
        if row is not None:
            self._take_row(row)

    def _take_typed(self) -> None:
        typed = folded(self.room.text().strip())
        exact = [room for room in self._rooms if folded(room) == typed]
        ending = [room for room in self._rooms if typed and folded(room).endswith(typed)]
        found = exact or ending
        if len(found) == 1:
            self.room.clear()
            self._forget_problem()
            self.room_wanted.emit(found[0])
        elif typed:
            text = (
                _("Which one: {rooms}?").format(rooms=join([str(room) for room in found[:4]]))
                if found
                else _("There is no room {room}.").format(room=self.room.text().strip())
            )
            self.problem.setText(text)
            self.problem.show()

    def _forget_problem(self) -> None:
        self.problem.hide()


def _table() -> RowTable[ListedSlot]:
    return RowTable(
        [
            Column[ListedSlot](_("Room"), lambda row: row.slot.room),
            Column[ListedSlot](_("State"), _how_far, tint=_tone, wraps=True),
            Column[ListedSlot](_("Team"), lambda row: row.slot.team),
        ],
        key=lambda row: (row.slot.team, row.slot.room),
        name=_("Rooms on today's sheets"),
        empty=Empty(_("No room is on a sheet today. Type any room's number above.")),
        filtered=False,
    )


def _how_far(row: ListedSlot) -> str:
    if row.has_find and row.slot.is_done:
        return _("! Found something")
    return _("… Begun") if row.is_begun and not row.slot.is_done else state_text(row.slot)


def _tone(row: ListedSlot) -> Tone | None:
    if row.has_find and row.slot.is_done:
        return Tone.LATE
    return Tone.ASKED if row.is_begun and not row.slot.is_done else state_tone(row.slot)
