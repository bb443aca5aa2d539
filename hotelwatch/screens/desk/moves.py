"""Guests who need another room, the room proposed to each, and one button to agree to it."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.desk import move_guest
from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.desk import DeskList
from hotelwatch.core.cases.touched import Touched, TouchedArrival
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.only_if import only_if
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.desk import mind_text, move_text, what_to_do, without_room_text
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import booking_text


class MovesPane(QWidget):
    """The guests, the most urgent first; moves are chosen together."""

    def __init__(self, context: Context) -> None:
        """No guest yet; ``show_desk`` gives them."""
        super().__init__()
        self._context = context
        heading = QLabel(_("Guests who need another room"))
        heading.setProperty("role", "heading")
        self.told = QLabel(wordWrap=True)
        self.told.setProperty("role", "muted")
        self.agree = QPushButton(_("&Move to the room proposed"))
        self.agree.clicked.connect(self._move)
        only_if(context.may(GuestMoved), self.agree)
        self.table = _arrivals_table()
        self.table.current_changed.connect(self._allow)
        top = QHBoxLayout()
        top.addWidget(heading)
        top.addWidget(self.told, 1)
        top.addWidget(self.agree)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(top)
        lines.addWidget(self.table)
        self._allow(None)

    def show_desk(self, desk: DeskList) -> None:
        """Show the guests of a list; the first one to be moved has the place at first."""
        self.table.show_rows(desk.arrivals)
        if self.table.current() is None:
            waiting = [row for row in desk.arrivals if _is_proposed(row)]
            if waiting:
                self.table.select(_key(waiting[0]))
        self.told.setText(without_room_text(desk.without_room) if desk.without_room else "")
        self._allow(self.table.current())

    def _allow(self, row: TouchedArrival | None) -> None:
        self.agree.setVisible(bool(self.table.model.rows))
        self.agree.setEnabled(row is not None and _is_proposed(row))
        if row is not None and row.move is not None:
            said = _("&Move to {room}").format(room=row.move.room)
        else:
            said = _("&Move to the room proposed")
        self.agree.setText(said)

    def _move(self) -> None:
        row = self.table.current()
        if row is None or row.move is None:
            return
        with self._context.notices.refusals():
            move_guest(self._context.hotel, row, row.move.room)
            told = _("Written down: {booking} to {room}. Change it in your booking system too.")
            self._context.notices.done(
                told.format(booking=booking_text(row.stay.booking), room=row.move.room)
            )


def _is_proposed(row: TouchedArrival) -> bool:
    return row.move is not None and not row.move.is_agreed


def _key(row: TouchedArrival) -> tuple[str, RoomNo, date]:
    return row.stay.booking, row.room, row.stay.arrives_on


def _arrivals_table() -> RowTable[TouchedArrival]:
    return RowTable(
        [
            Column(_("What to do"), what_to_do, tint=_urgency_tone, hint=what_to_do, wraps=True),
            Column(_("Booking"), lambda row: booking_text(row.stay.booking)),
            Column(_("Room"), lambda row: row.room),
            Column(
                _("Arrives"),
                lambda row: short_day_text(row.stay.arrives_on),
                sort=lambda row: row.stay.arrives_on,
            ),
            Column(
                _("Leaves"),
                lambda row: short_day_text(row.stay.leaves_on),
                sort=lambda row: row.stay.leaves_on,
            ),
            Column(_("To room"), lambda row: row.move.room if row.move else _("none")),
            Column(_("About that room"), _about, hint=_about, wraps=True),
        ],
        key=_key,
        name=_("Guests who need another room"),
        empty=Empty(_("No guest is touched by a block.")),
        filtered=False,
    )


def _about(row: TouchedArrival) -> str:
    return move_text(row) if row.move is None else mind_text(row.move)


def _urgency_tone(row: TouchedArrival) -> Tone:
    if row.move is not None and row.move.is_agreed:
        return Tone.DONE
    return Tone.LATE if row.touched is Touched.IN_HOUSE else Tone.DUE
