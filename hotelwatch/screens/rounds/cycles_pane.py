"""Cycles: every how many days an underside is due: house, room type, rooms of a risk, a room."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.hotel import LONGEST_CYCLE, choose_cycle, place_risk
from hotelwatch.core.checks.cycles import CycleRow, cycle_rows, rooms_of_risk
from hotelwatch.core.checks.seasons import seasons_noted
from hotelwatch.core.facts import CycleChosen, Risk, RiskPlaced, RoomNo, Scope
from hotelwatch.core.round_facts import SeasonNoted
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.forms.rooms_typed import rooms_named
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.rounds.risk_proposed import RiskProposed
from hotelwatch.screens.rounds.room_cycle_form import RoomCycleForm
from hotelwatch.screens.rounds.season_form import SeasonForm, seasons_table
from hotelwatch.screens.rounds.words import default_cycle_text
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label
from hotelwatch.wording.rounds import rooms_of_risk_sentence

FORM_PX = 400
HOUSE = (Scope.HOUSE, "")


class CyclesPane(QWidget):
    """Every cycle in force, seasons in which they run faster, a form for the one chosen."""

    def __init__(self, context: Context) -> None:
        """No cycle yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._row: CycleRow | None = None
        self.table = _cycles_table()
        self.table.current_changed.connect(self._choose_cycle)
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.form = Form()
        self.days = self.form.add(_("D&ue every"), QSpinBox())
        self.days.setRange(1, LONGEST_CYCLE)
        self.days.setSuffix(_(" days"))
        self.rooms = self.form.add(_("Roo&ms"), QLineEdit())
        self.rooms.setPlaceholderText("301, 302, 303")
        self.proposed = RiskProposed(context, self.rooms)
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.follow = QPushButton(_("F&ollow the hotel again"))
        self.follow.clicked.connect(self._follow)
        self.seasons = seasons_table()
        self.seasons.current_changed.connect(self._take_season)
        self.seasons.view.clicked.connect(self._show_season)
        self.table.view.clicked.connect(self._show_cycle)
        self.one_room = RoomCycleForm(context)
        self.one_room.done.connect(self._show_room)
        self.new_room = QPushButton(_("Give one room its o&wn cycle"))
        self.new_room.clicked.connect(self._begin_room)
        self.season = SeasonForm(context)
        self.season.done.connect(self.refresh)
        self.new_season = QPushButton(_("&Note a season or an event"))
        self.new_season.clicked.connect(self._begin_season)
        self._lay_out()

    def about(self) -> list[str] | None:
        """The cycle that the number is for, by its scope and which of it."""
        return [self._row.scope.value, self._row.which] if self._row is not None else None

    def bring(self, holder: QWidget, about: list[str] | None) -> None:
        """Put the cycle of a number that was half entered into view; LookupError if it is gone."""
        if holder is not self or about is None:
            return
        self.refresh()
        scope, which = about
        if not self.table.select((Scope(scope), which)):
            raise LookupError(which)

    def refresh(self) -> None:
        """Read the cycles anew."""
        house = self._context.hotel.house
        self.note.setText(
            _("Counted for each bed from its last look. Due dates move at once. {default}").format(
                default=default_cycle_text(house.rules)
            )
        )
        self.one_room.offer(house)
        rows = cycle_rows(house)
        self.table.show_rows(rows)
        self.seasons.show_rows(seasons_noted(house))
        if self.table.current() is None:
            self.table.select(HOUSE)
        self._take(self.table.current())

    # --- making -------------------------------------------------------------

    def _lay_out(self) -> None:
        card = Card(FORM_PX)
        buttons = QHBoxLayout()
        buttons.addWidget(self.follow)
        buttons.addStretch()
        buttons.addWidget(self.save)
        cycle = QWidget()
        inner = QVBoxLayout(cycle)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self.title)
        inner.addWidget(self.form)
        inner.addWidget(self.proposed)
        inner.addWidget(self.note)
        self.for_others = offer(
            self._context,
            Deed(
                _("Choose cycles"),
                (CycleChosen, RiskPlaced),
                (self.save, self.follow, self.new_room),
            ),
            Deed(_("Note a season or an event"), (SeasonNoted,), (self.new_season,)),
        )
        inner.addWidget(self.for_others)
        inner.addStretch()
        inner.addLayout(buttons)
        self._cards = QStackedWidget()
        self._cards.addWidget(cycle)
        self._cards.addWidget(self.season)
        self._cards.addWidget(self.one_room)
        card.body.addWidget(self._cards)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addLayout(self._lists(), 1)
        both.addWidget(card)

    def _lists(self) -> QVBoxLayout:
        heading = QLabel(_("Seasons: days on which cycles run faster"), wordWrap=True)
        heading.setProperty("role", "heading")
        top = QHBoxLayout()
        top.addWidget(heading, 1)
        top.addWidget(self.new_season)
        lines = QVBoxLayout()
        lines.addWidget(self.table, 3)
        lines.addWidget(self.new_room, 0, Qt.AlignmentFlag.AlignRight)
        lines.addLayout(top)
        lines.addWidget(self.seasons, 2)
        return lines

    def _show_cycle(self, *_where: object) -> None:
        self._cards.setCurrentIndex(0)

    def _show_season(self, *_where: object) -> None:
        self._cards.setCurrentIndex(1)

    def _begin_room(self) -> None:
        self._cards.setCurrentWidget(self.one_room)
        self.one_room.room.setFocus()

    def _show_room(self, room: str) -> None:
        self.refresh()
        self.table.select((Scope.ROOM, room))
        self._show_cycle()

    def _begin_season(self) -> None:
        self.seasons.let_go()
        self.season.take(None)
        self._show_season()
        self.season.name.setFocus()

    def _take_season(self, row: SeasonNoted | None) -> None:
        if row is not None:
            self.season.take(row)
            self._show_season()

    def _choose_cycle(self, row: CycleRow | None) -> None:
        self._take(row)
        if row is not None:
            self._show_cycle()

    def _take(self, row: CycleRow | None) -> None:
        if row is None:
            return
        is_risk = row.scope is Scope.RISK
        self.form.show_field(self.rooms, visible=is_risk)
        self.proposed.offer(Risk(row.which) if is_risk else None)
        if row != self._row:
            self.days.setValue(row.cycle_days)
            placed = rooms_of_risk(self._context.hotel.house, Risk(row.which)) if is_risk else ()
            self.rooms.setText(", ".join(placed))
            self.rooms.setCursorPosition(0)
            self.form.settle()
        self._row = row
        self.title.setText(_name(row))
        self.follow.setVisible(row.is_chosen and row.scope is not Scope.HOUSE)

    # --- writing down -------------------------------------------------------

    def _save(self) -> None:
        self.form.clear()
        row = self._row
        if row is not None and row.scope is Scope.RISK:
            self._save_risk(row)
        else:
            self._choose(self.days.value())

    def _save_risk(self, row: CycleRow) -> None:
        """Write down its rooms, and its cycle where somebody chose one."""
        hotel, days = self._context.hotel, self.days.value()
        named, strange = rooms_named(self.rooms.text(), hotel.house.rooms)
        if strange:
            told = join(list(strange))
            self.form.say(self.rooms, _("No room of the roster: {rooms}.").format(rooms=told))
            return
        is_own = row.is_chosen or days != row.cycle_days
        with self._context.notices.refusals():
            rooms = [RoomNo(room) for room in named]
            place_risk(hotel, Risk(row.which), rooms, days if is_own else 0)
            self.form.settle()
            self.refresh()
            said = _("{risk}: {rooms}").format(risk=_name(row), rooms=rooms_of_risk_sentence(rooms))
            more = _("Due every {days}.").format(days=days_text(days))
            if not is_own:
                more = _("Due as their types are: another number makes it their own.")
            self._context.notices.done(f"{said} {more}")

    def _follow(self) -> None:
        self._choose(0)

    def _choose(self, days: int) -> None:
        row = self._row
        if row is None:
            return
        with self._context.notices.refusals():
            choose_cycle(self._context.hotel, row.scope, row.which, days)
            self.form.settle()
            self.refresh()
            if days:
                told = _("{scope}: due every {days}.")
            elif row.scope is Scope.RISK:
                told = _("{scope}: no cycle of its own any more; rooms go by their types.")
            else:
                told = _("{scope}: follows the whole hotel again.")
            self._context.notices.done(told.format(scope=_name(row), days=days_text(days)))


def _name(row: CycleRow) -> str:
    if row.scope is Scope.HOUSE:
        return _("Whole hotel")
    if row.scope is Scope.ROOM_TYPE:
        return _("Room type {room_type}").format(room_type=row.which)
    if row.scope is Scope.RISK:
        return label(Risk(row.which))
    return _("Room {room}").format(room=row.which)


def _every_text(row: CycleRow) -> str:
    # Rooms of a risk without a cycle of its own go by types that may differ.
    return days_text(row.cycle_days) if row.is_chosen or row.scope is not Scope.RISK else "–"


def _from_text(row: CycleRow) -> str:
    if row.is_chosen:
        return _("chosen by the hotel")
    if row.scope is Scope.RISK:
        return _("as their types")
    return _("nobody chose") if row.scope is Scope.HOUSE else _("as the whole hotel")


def _cycles_table() -> RowTable[CycleRow]:
    return RowTable(
        [
            Column[CycleRow](_("For"), _name),
            Column[CycleRow](_("Rooms"), lambda row: str(row.rooms), sort=lambda row: row.rooms),
            Column[CycleRow](_("Beds"), lambda row: str(row.beds), sort=lambda row: row.beds),
            Column[CycleRow](
                _("Due every"),
                _every_text,
                sort=lambda row: row.cycle_days,
            ),
            Column[CycleRow](_("Where from"), _from_text),
        ],
        key=lambda row: (row.scope, row.which),
        name=_("Cycles"),
        empty=Empty(_("No cycle is known.")),
        filtered=False,
    )
