"""Rooms let although they were blocked, and the line in which a named person says how it came."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.desk import explain_let
from hotelwatch.core.case_facts import LetExplained
from hotelwatch.core.cases.lets import LetAgainstBlock
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.only_if import only_if
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.desk import explained_text, how_let_text
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import booking_text

AFTER_TABLES_MS = 50


class LetsPane(QWidget):
    """The rooms let, and one line to explain the one that has the place."""

    def __init__(self, context: Context) -> None:
        """No let yet; ``show_lets`` gives them."""
        super().__init__()
        self._context = context
        self.table = _lets_table()
        self.table.current_changed.connect(self._allow)
        self.form = Form()
        self.note = self.form.add(_("How &it came"), QLineEdit())
        self.note.setPlaceholderText(_("No guest's name"))
        self.who = self.form.add(_("Who says s&o"), QLineEdit(context.hotel.by))
        self.say = QPushButton(_("Ex&plain"))
        self.say.clicked.connect(self._explain)
        self.note.returnPressed.connect(self._explain)
        self.line = QWidget()
        row = QHBoxLayout(self.line)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.form, 1)
        row.addWidget(self.say, alignment=Qt.AlignmentFlag.AlignBottom)
        self.heading = QLabel(wordWrap=True)
        self.heading.setProperty("role", "heading")
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.heading)
        lines.addWidget(self.table)
        lines.addWidget(self.line)
        only_if(context.may(LetExplained), self.line)
        self._allow(None)

    def show_lets(self, rows: tuple[LetAgainstBlock, ...]) -> None:
        """Show these; the first one not explained has the place at first."""
        if not self.is_begun():
            self.who.setText(self._context.hotel.by)
        self.table.show_rows(rows)
        n = sum(not row.explained for row in rows)
        said = _("Let although blocked ({n} not explained)") if n else _("Let although blocked")
        self.heading.setText(said.format(n=n))
        if self.table.current() is None:
            waiting = [row for row in rows if not row.explained]
            if waiting:
                self.table.select(_key(waiting[0]))
        self._allow(self.table.current())

    def ask_about(self, room: RoomNo) -> bool:
        """Ask how a room came to be let, the first time that nobody explained; else False."""
        waiting = [row for row in self.table.model.rows if row.room == room and not row.explained]
        if not waiting or self.line.isHidden():
            return False
        self.table.select(_key(waiting[0]))
        # Tables take their height first: what has the keyboard is brought into view then.
        QTimer.singleShot(AFTER_TABLES_MS, self.note, self._begin)
        return True

    def _begin(self) -> None:
        """Bring the whole line into view, its button first, and begin where one types."""
        self.say.setFocus()
        self.note.setFocus()

    def is_begun(self) -> bool:
        """Whether an explanation is typed and not saved."""
        return bool(self.note.text().strip())

    def about(self) -> list[str] | None:
        """The let that is being explained: its booking, its room, its first night."""
        row = self.table.current()
        return None if row is None else [row.stay.booking, row.room, row.first_night.isoformat()]

    def bring(self, holder: QWidget, about: list[str] | None) -> None:
        """Put the let of an explanation half entered into view; LookupError if it is gone."""
        if holder is not self or about is None:
            return
        booking, room, night = about
        if not self.table.select((booking, room, date.fromisoformat(night))):
            raise LookupError(about)

    def _allow(self, row: LetAgainstBlock | None) -> None:
        self.line.setVisible(bool(self.table.model.rows))
        self.line.setEnabled(row is not None)

    def _explain(self) -> None:
        row = self.table.current()
        if row is None:
            return
        with self._context.notices.refusals():
            explain_let(self._context.hotel, row, note=self.note.text(), by=self.who.text())
            self.note.clear()
            self.form.settle()
            self._context.notices.done(
                _("Written down why room {room} was let.").format(room=row.room)
            )


def _key(row: LetAgainstBlock) -> tuple[str, str, date]:
    return row.stay.booking, row.room, row.first_night


def _lets_table() -> RowTable[LetAgainstBlock]:
    return RowTable(
        [
            Column(_("Room"), lambda row: row.room),
            Column(
                _("Booking"),
                lambda row: booking_text(row.stay.booking),
                tint=lambda row: Tone.DUE if row.explained else Tone.LATE,
            ),
            Column(
                _("From the night of"),
                lambda row: short_day_text(row.first_night),
                sort=lambda row: row.first_night,
            ),
            Column(
                _("Nights"), lambda row: str(row.nights), sort=lambda row: row.nights, right=True
            ),
            Column(_("How"), how_let_text, hint=how_let_text),
            Column(_("Explained"), explained_text, hint=explained_text),
        ],
        key=_key,
        name=_("Rooms let although they were blocked"),
        empty=Empty(_("No blocked room was let.")),
        filtered=False,
    )
