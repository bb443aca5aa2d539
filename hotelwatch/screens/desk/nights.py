"""Nights that rounds ask front desk to keep a room free: what each costs, saves, the answer."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.by_hand import answer_night
from hotelwatch.core.cases.keep_free import KeepFree
from hotelwatch.core.round_facts import NightAnswered
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.only_if import only_if
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.asked import answer_text
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.desk import (
    night_cost_text,
    night_saves_text,
    still_booked_sentence,
)
from hotelwatch.wording.language import _


class NightsPane(QWidget):
    """The nights asked for, and a line with which front desk answers, with a note if it likes."""

    def __init__(self, context: Context) -> None:
        """No night yet; ``show_nights`` gives them."""
        super().__init__()
        self._context = context
        self.form = Form()
        self.note = self.form.add(_("No&te to the answer"), QLineEdit())
        self.note.setPlaceholderText(_("No guest's name; a guest may read it"))
        self.note.textChanged.connect(self._allow_now)
        self.keep = QPushButton(_("We &keep it free"))
        self.refuse = QPushButton(_("&Not possible"))
        self.keep.clicked.connect(self._keep)
        self.refuse.clicked.connect(self._refuse)
        self.table = _nights_table()
        self.table.current_changed.connect(self._allow)
        self.heading = QLabel(wordWrap=True)
        self.heading.setProperty("role", "heading")
        self.line = QWidget()
        row = QHBoxLayout(self.line)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.form, 1)
        for button in (self.refuse, self.keep):
            row.addWidget(button, alignment=Qt.AlignmentFlag.AlignBottom)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.heading)
        lines.addWidget(self.table)
        lines.addWidget(self.line)
        only_if(context.may(NightAnswered), self.line)
        self._allow(None)

    def show_nights(self, rows: tuple[KeepFree, ...]) -> None:
        """Show these nights; the first one not answered has the place at first."""
        self.table.show_rows(rows)
        n = sum(row.is_kept is None for row in rows)
        said = _("Please keep free ({n} not answered)") if n else _("Please keep free")
        self.heading.setText(said.format(n=n))
        if self.table.current() is None:
            waiting = [row for row in rows if row.is_kept is None]
            if waiting:
                self.table.select((waiting[0].room, waiting[0].night))
        self._allow(self.table.current())

    def is_begun(self) -> bool:
        """Whether a note is typed and not written down."""
        return bool(self._noted())

    def about(self) -> list[str] | None:
        """The room and the night whose answer the note is to."""
        row = self.table.current()
        return None if row is None else [row.room, row.night.isoformat()]

    def bring(self, holder: QWidget, about: list[str] | None) -> None:
        """Put the night of a note half entered into view; LookupError if it is gone."""
        if holder is not self or about is None:
            return
        room, night = about
        if not self.table.select((room, date.fromisoformat(night))):
            raise LookupError(about)

    def _noted(self) -> str:
        return " ".join(self.note.text().split())

    def _allow_now(self, _typed: str) -> None:
        self._allow(self.table.current())

    def _allow(self, row: KeepFree | None) -> None:
        self.line.setVisible(bool(self.table.model.rows))
        self.line.setEnabled(row is not None)
        # The same answer once more is worth saying only with a note.
        says_more = self.is_begun()
        self.keep.setEnabled(row is not None and (row.is_kept is not True or says_more))
        self.refuse.setEnabled(row is not None and (row.is_kept is not False or says_more))

    def _keep(self) -> None:
        self._answer(is_kept=True)

    def _refuse(self) -> None:
        self._answer(is_kept=False)

    def _answer(self, *, is_kept: bool) -> None:
        row, hotel = self.table.current(), self._context.hotel
        if row is None:
            return
        with self._context.notices.refusals():
            noted = self._noted()
            answer_night(hotel, NightAnswered(row.room, row.night, is_kept, hotel.by, noted))
            self.note.clear()
            said = (
                _("{room} is kept free the night of {day}; rounds count on it.")
                if is_kept
                else _("{room} is not kept free the night of {day}; rounds plan without it.")
            )
            told = said.format(room=row.room, day=day_text(row.night))
            if is_kept and row.booked_until is not None:
                told = still_booked_sentence(row.room)
            self._context.notices.done(told)


def _nights_table() -> RowTable[KeepFree]:
    return RowTable(
        [
            Column[KeepFree](_("Room"), lambda row: row.room),
            Column[KeepFree](
                _("Night of"), lambda row: day_text(row.night), sort=lambda row: row.night
            ),
            Column[KeepFree](_("Costs"), night_cost_text, wraps=True),
            Column[KeepFree](
                _("Saves"),
                night_saves_text,
                sort=lambda row: row.overdue_bed_days,
                wraps=True,
            ),
            Column[KeepFree](_("Answer"), answer_text, tint=_answer_tone, wraps=True),
        ],
        key=lambda row: (row.room, row.night),
        name=_("Please keep free"),
        empty=Empty(_("Rounds ask for no night.")),
        filtered=False,
    )


def _answer_tone(row: KeepFree) -> Tone | None:
    if row.is_sold:
        return Tone.LATE
    if row.is_kept is None:
        return Tone.DUE
    return Tone.DONE if row.is_kept else None
