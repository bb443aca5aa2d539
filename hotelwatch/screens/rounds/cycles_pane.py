"""Cycles: every how many days an underside is due, for the house, a room type or a room."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.hotel import LONGEST_CYCLE, choose_cycle
from hotelwatch.core.checks.cycles import CycleRow, cycle_rows
from hotelwatch.core.facts import Scope
from hotelwatch.screens.context import Context
from hotelwatch.screens.forms import Form
from hotelwatch.screens.rounds.words import default_cycle_text
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.screens.theme import MAIN
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _

FORM_PX = 400
HOUSE = (Scope.HOUSE, "")


class CyclesPane(QWidget):
    """Every cycle in force and a small form for the one chosen."""

    def __init__(self, context: Context) -> None:
        """No cycle yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._row: CycleRow | None = None
        self.table = _cycles_table()
        self.table.current_changed.connect(self._take)
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.form = Form()
        self.days = self.form.add(_("Due &every"), QSpinBox())
        self.days.setRange(1, LONGEST_CYCLE)
        self.days.setSuffix(_(" days"))
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.follow = QPushButton(_("F&ollow the house again"))
        self.follow.clicked.connect(self._follow)
        self._lay_out()

    def refresh(self) -> None:
        """Read the cycles anew."""
        house = self._context.hotel.house
        self.note.setText(
            _("Counted for each bed from its last look. Due dates move at once. {default}").format(
                default=default_cycle_text(house.rules)
            )
        )
        rows = cycle_rows(house)
        self.table.show_rows(rows)
        if self.table.current() is None:
            self.table.select(HOUSE)
        self._take(self.table.current())

    # --- making -------------------------------------------------------------

    def _lay_out(self) -> None:
        card = QFrame()
        card.setProperty("role", "card")
        card.setFixedWidth(FORM_PX)
        buttons = QHBoxLayout()
        buttons.addWidget(self.follow)
        buttons.addStretch()
        buttons.addWidget(self.save)
        inner = QVBoxLayout(card)
        inner.setContentsMargins(16, 12, 16, 12)
        inner.addWidget(self.title)
        inner.addWidget(self.form)
        inner.addWidget(self.note)
        inner.addStretch()
        inner.addLayout(buttons)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(card)

    def _take(self, row: CycleRow | None) -> None:
        if row is None:
            return
        if row != self._row:
            self.days.setValue(row.cycle_days)
        self._row = row
        self.title.setText(_name(row))
        self.follow.setVisible(row.is_chosen and row.scope is not Scope.HOUSE)

    # --- writing down -------------------------------------------------------

    def _save(self) -> None:
        self._choose(self.days.value())

    def _follow(self) -> None:
        self._choose(0)

    def _choose(self, days: int) -> None:
        row = self._row
        if row is None:
            return
        with self._context.notices.refusals():
            choose_cycle(self._context.hotel, row.scope, row.which, days)
            self.refresh()
            if days:
                told = _("{scope}: due every {days}.")
            else:
                told = _("{scope}: follows the house again.")
            self._context.notices.done(told.format(scope=_name(row), days=days_text(days)))


def _name(row: CycleRow) -> str:
    if row.scope is Scope.HOUSE:
        return _("Whole hotel")
    if row.scope is Scope.ROOM_TYPE:
        return _("Room type {room_type}").format(room_type=row.which)
    return _("Room {room}").format(room=row.which)


def _from_text(row: CycleRow) -> str:
    if row.is_chosen:
        return _("chosen by the hotel")
    return _("nobody chose") if row.scope is Scope.HOUSE else _("as the house")


def _cycles_table() -> RowTable[CycleRow]:
    return RowTable(
        [
            Column[CycleRow](_("For"), _name),
            Column[CycleRow](_("Rooms"), lambda row: str(row.rooms), sort=lambda row: row.rooms),
            Column[CycleRow](_("Beds"), lambda row: str(row.beds), sort=lambda row: row.beds),
            Column[CycleRow](
                _("Due every"),
                lambda row: days_text(row.cycle_days),
                sort=lambda row: row.cycle_days,
            ),
            Column[CycleRow](_("Where from"), _from_text),
        ],
        key=lambda row: (row.scope, row.which),
        name=_("Cycles"),
        empty=Empty(_("No cycle is known.")),
        filtered=False,
    )
