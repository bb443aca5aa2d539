"""Nights that rounds ask front desk to keep a room free: what each costs, saves, the answer."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.by_hand import answer_night
from hotelwatch.core.cases.keep_free import KeepFree
from hotelwatch.core.round_facts import NightAnswered
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.only_if import only_if
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.desk import night_answer_text, night_cost_text, night_saves_text
from hotelwatch.wording.language import _


class NightsPane(QWidget):
    """The nights asked for, and two buttons with which front desk answers."""

    def __init__(self, context: Context) -> None:
        """No night yet; ``show_nights`` gives them."""
        super().__init__()
        self._context = context
        self.keep = QPushButton(_("We &keep it free"))
        self.refuse = QPushButton(_("&Not possible"))
        self.keep.clicked.connect(self._keep)
        self.refuse.clicked.connect(self._refuse)
        only_if(context.may(NightAnswered), self.keep, self.refuse)
        self.table = _nights_table()
        self.table.current_changed.connect(self._allow)
        self.heading = QLabel(wordWrap=True)
        self.heading.setProperty("role", "heading")
        top = QHBoxLayout()
        top.addWidget(self.heading, 1)
        top.addWidget(self.refuse)
        top.addWidget(self.keep)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(top)
        lines.addWidget(self.table)
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

    def _allow(self, row: KeepFree | None) -> None:
        for button in (self.keep, self.refuse):
            button.setVisible(bool(self.table.model.rows))
        self.keep.setEnabled(row is not None and row.is_kept is not True)
        self.refuse.setEnabled(row is not None and row.is_kept is not False)

    def _keep(self) -> None:
        self._answer(is_kept=True)

    def _refuse(self) -> None:
        self._answer(is_kept=False)

    def _answer(self, *, is_kept: bool) -> None:
        row, hotel = self.table.current(), self._context.hotel
        if row is None:
            return
        with self._context.notices.refusals():
            answer_night(hotel, NightAnswered(row.room, row.night, is_kept, hotel.by))
            said = (
                _("{room} is kept free the night of {day}; rounds count on it.")
                if is_kept
                else _("{room} is not kept free the night of {day}; rounds plan without it.")
            )
            told = said.format(room=row.room, day=day_text(row.night))
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
                _("Saves, as booked now"),
                night_saves_text,
                sort=lambda row: row.overdue_bed_days,
                wraps=True,
            ),
            Column[KeepFree](_("Answer"), night_answer_text, tint=_answer_tone),
        ],
        key=lambda row: (row.room, row.night),
        name=_("Please keep free"),
        empty=Empty(_("Rounds ask for no night.")),
        filtered=False,
    )


def _answer_tone(row: KeepFree) -> Tone | None:
    if row.is_kept is None:
        return Tone.DUE
    return Tone.DONE if row.is_kept else None
