"""Where to look next: rooms by what a look saves for its minutes, and what each rests on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.odds import OddsView, story_of
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import minutes_text, short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import central_text, number_text, range_cell, room_lines

CARD_PX = 380

if TYPE_CHECKING:
    from hotelwatch.core.odds.rows import RoomRow


class RoomsPane(QWidget):
    """The rooms, and the one in view in words."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``show_view`` fills it."""
        super().__init__()
        self._context = context
        self._view: OddsView | None = None
        self.told = QLabel(wordWrap=True)
        self.told.setProperty("role", "muted")
        self.table = _rooms_table()
        self.table.current_changed.connect(self._show_room)
        self.table.activated.connect(self._open)
        self.what = QLabel()
        self.what.setProperty("role", "heading")
        self.story = QLabel(wordWrap=True)
        self.open = QPushButton(_("&Open the room"))
        self.open.setProperty("role", MAIN)
        self.open.clicked.connect(self._open)
        card = Card(CARD_PX)
        card.body.addWidget(self.what)
        card.body.addWidget(self.story)
        card.body.addStretch()
        card.foot.addStretch()
        card.foot.addWidget(self.open)
        both = QHBoxLayout()
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(card)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self.told)
        lines.addLayout(both, 1)

    def show_view(self, view: OddsView) -> None:
        """Show the rooms of these odds."""
        self._view = view
        self.told.setText(
            _(
                "Missed: how likely something is there that no look has found. Look finds: how"
                " likely a look today finds it. Days an hour: days with insects that nobody knows"
                " of, spared on average by an hour of looking there today; rooms with most of them"
                " come first. All of it rests on assumptions: see “What it rests on”."
            )
        )
        self.table.show_rows(view.rooms)
        if self.table.current() is None and view.rooms:
            self.table.select(view.rooms[0].room)
        self._show_room(self.table.current())

    def focus_room(self, room: str) -> None:
        """Give a room the place."""
        self.table.show_all()
        self.table.select(room)

    def _show_room(self, row: RoomRow | None) -> None:
        view = self._view
        self.open.setEnabled(row is not None)
        if row is None or view is None:
            self.what.setText("")
            self.story.setText("")
            return
        self.what.setText(_("Room {room}").format(room=row.room))
        lines = room_lines(story_of(view, row.room), row.chance, is_found=row.is_found)
        self.story.setText("\n\n".join(lines))

    def _open(self, _row: object = None) -> None:
        row = self.table.current()
        if row is not None:
            self._context.go_to("building", row.room)


def _rooms_table() -> RowTable[RoomRow]:
    return RowTable(
        [
            Column(_("Room"), lambda row: row.room),
            Column(
                _("Missed"),
                _chance,
                sort=lambda row: row.chance[Stance.CENTRAL],
                tint=lambda row: Tone.QUARANTINE if row.is_found else None,
            ),
            Column(_("Range"), _range, sort=lambda row: max(row.chance.values()), wraps=True),
            Column(
                _("Days an hour"),
                _saves,
                sort=lambda row: row.saves_per_hour[Stance.CENTRAL],
                right=True,
            ),
            Column(
                _("Takes"),
                lambda row: minutes_text(row.minutes),
                sort=lambda row: row.minutes,
                right=True,
            ),
            Column(
                _("Look finds"),
                _finds,
                sort=lambda row: row.finds[Stance.CENTRAL],
                wraps=True,
            ),
            Column(_("Due"), _due, sort=lambda row: row.due_on.toordinal() if row.due_on else 0),
        ],
        key=lambda row: row.room,
        name=_("Rooms to look at next"),
        empty=Empty(_("No room is known yet. Load a roster first.")),
    )


def _chance(row: RoomRow) -> str:
    return _("confirmed find") if row.is_found else central_text(row.chance)


def _range(row: RoomRow) -> str:
    return "" if row.is_found else range_cell(row.chance)


def _finds(row: RoomRow) -> str:
    return "" if row.is_found else central_text(row.finds)


def _saves(row: RoomRow) -> str:
    return "" if row.is_found else number_text(row.saves_per_hour[Stance.CENTRAL])


def _due(row: RoomRow) -> str:
    return short_day_text(row.due_on) if row.due_on else ""
