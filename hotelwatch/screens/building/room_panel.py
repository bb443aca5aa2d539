"""Everything about the room in view: its state, beds, neighbours and stays around today."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QPushButton,
    QSizePolicy,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.case_facts import Sighted
from hotelwatch.core.cases.room_stands import RoomStanding
from hotelwatch.core.checks.cycles import cycle_from
from hotelwatch.core.checks.room_record import room_record
from hotelwatch.core.checks.seasons import seasons_noted
from hotelwatch.core.facts import BedChecked, RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.building.record_table import record_table
from hotelwatch.screens.building.rows import (
    GLYPHS,
    TONES,
    BedRow,
    NeighbourRow,
    RoomRow,
    StayRow,
    bed_rows,
    neighbour_rows,
    state_text,
    stay_rows,
)
from hotelwatch.screens.layout.flow import Flow
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.rounds import cycle_sentence

NARROWEST_DIGITS = 38
"""As many digits stand beside each other in the panel at its narrowest, at any text size."""


class RoomPanel(QFrame):
    """The room in view, in words."""

    def __init__(self, context: Context) -> None:
        """No room in view yet."""
        super().__init__()
        self.setProperty("role", "card")
        self._keep_wide()
        self._context = context
        self.room: RoomNo | None = None
        self.title = QLabel()
        self.title.setProperty("role", "title")
        self.state = QLabel(wordWrap=True)
        self.where = QLabel(wordWrap=True)
        self.where.setProperty("role", "muted")
        self.beds = self._make_beds()
        self.neighbours = self._make_neighbours()
        self.stays = self._make_stays()
        self.record = record_table()
        self.tabs = QTabWidget(documentMode=True)
        self.tabs.tabBar().setAccessibleName(_("About the room"))
        self.tabs.addTab(_above_each_other(self.beds, self.record), _("Beds"))
        self.tabs.addTab(self.neighbours, _("Neighbours"))
        self.tabs.addTab(self.stays, _("Stays"))
        self.to_check = QPushButton(_("Record a check"))
        self.to_check.clicked.connect(self._record_check)
        self.to_sighting = QPushButton(_("Log a sighting here"))
        self.to_sighting.clicked.connect(self._log_sighting)
        self.to_odds = QPushButton(_("How sure"))
        self.to_odds.clicked.connect(self._show_odds)
        leading = (
            (self.to_check, "checks"),
            (self.to_sighting, "cases"),
            (self.to_odds, "odds"),
        )
        for button, page in leading:
            if page not in context.pages:
                button.hide()
        self.for_others = offer(
            context,
            Deed(_("Log a sighting"), (Sighted,), (self.to_sighting,)),
            Deed(_("Record a check"), (BedChecked,), (self.to_check,)),
        )
        self._lay_out()
        self.show_room(None, {})

    def _lay_out(self) -> None:
        self._acts = QWidget()
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self._acts.setSizePolicy(policy)
        buttons = Flow()
        self._acts.setLayout(buttons)
        buttons.addWidget(self.to_check)
        buttons.addWidget(self.to_sighting)
        buttons.addWidget(self.to_odds)
        self._chosen = QWidget()
        about = QVBoxLayout(self._chosen)
        about.setContentsMargins(0, 0, 0, 0)
        about.addWidget(self.state)
        about.addWidget(self.where)
        about.addWidget(self._acts)
        about.addWidget(self.for_others)
        about.addWidget(self.tabs, 1)
        self._how_to = QLabel(how_to(), wordWrap=True)
        self._how_to.setAlignment(Qt.AlignmentFlag.AlignTop)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(14, 12, 14, 12)
        lines.addWidget(self.title)
        lines.addWidget(self._chosen, 1)
        lines.addWidget(self._how_to, 1)

    def changeEvent(self, event: QEvent) -> None:
        """Stay wide enough for larger text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._keep_wide()

    def _keep_wide(self) -> None:
        self.setMinimumWidth(NARROWEST_DIGITS * self.fontMetrics().horizontalAdvance("0"))

    # --- what is shown ------------------------------------------------------

    def show_room(
        self, row: RoomRow | None, states: Mapping[RoomNo, RoomStanding], *, is_past: bool = False
    ) -> None:
        """Put a room in view; None for none. Of the past nothing new is recorded."""
        self.room = row.room if row else None
        hotel = self._context.hotel
        self._chosen.setVisible(row is not None)
        self._how_to.setVisible(row is None)
        if row is None:
            self.title.setText(_("No room chosen"))
            return
        self.title.setText(_("Room {room}").format(room=row.room))
        sign = GLYPHS[row.state]
        said = f"{state_text(row.state).capitalize()}. {row.why}"
        self.state.setText(f"{sign}  {said}" if sign else said)
        where = _where(row, is_drawn=hotel.building.shapes[row.room].is_drawn)
        self.where.setText(f"{where}. {self._cycle_text(row.room)}")
        self._acts.setVisible(not is_past)
        self.beds.show_rows(bed_rows(hotel, row))
        self.neighbours.show_rows(neighbour_rows(hotel, row.room, states))
        self.stays.show_rows(stay_rows(hotel, row.room))
        self.record.show_rows(room_record(hotel.house, row.room))

    def _cycle_text(self, room: RoomNo) -> str:
        """Where the room's cycle comes from, and the seasons of now that hasten it."""
        hotel = self._context.hotel
        today = hotel.today()
        seasons = [one for one in seasons_noted(hotel.house) if one.until_on >= today]
        return cycle_sentence(cycle_from(hotel.house, room), seasons)

    # --- making -------------------------------------------------------------

    def _make_beds(self) -> RowTable[BedRow]:
        return RowTable(
            [
                Column[BedRow](_("Bed"), lambda row: row.bed),
                Column[BedRow](
                    _("Underside"),
                    lambda row: short_day_text(row.last_on) if row.last_on else _("never"),
                    sort=lambda row: row.last_on,
                ),
                Column[BedRow](
                    _("Due by"),
                    lambda row: (
                        f"{GLYPHS[RoomStanding.OVERDUE]} {short_day_text(row.due_on)}"
                        if row.is_late
                        else short_day_text(row.due_on)
                    ),
                    spoken=lambda row: (
                        _("Overdue since {day}") if row.is_late else _("Due by {day}")
                    ).format(day=short_day_text(row.due_on)),
                    sort=lambda row: row.due_on,
                    tint=lambda row: Tone.LATE if row.is_late else None,
                ),
                Column[BedRow](
                    _("Kind"),
                    lambda row: (
                        _("{kind}, encased").format(kind=row.kind) if row.encased else row.kind
                    ),
                    hint=lambda row: (
                        _("{kind}, encased").format(kind=row.kind) if row.encased else row.kind
                    ),
                ),
            ],
            key=lambda row: row.bed,
            name=_("Beds of the room"),
            empty=Empty(_("The roster has no bed in this room.")),
            filtered=False,
        )

    def _make_neighbours(self) -> RowTable[NeighbourRow]:
        table = RowTable(
            [
                Column[NeighbourRow](_("Room"), lambda row: row.room),
                Column[NeighbourRow](_("Why"), lambda row: row.why, wraps=True),
                Column[NeighbourRow](
                    _("State"),
                    lambda row: state_text(row.state),
                    tint=lambda row: TONES[row.state],
                ),
            ],
            key=lambda row: row.room,
            name=_("Neighbours of the room"),
            empty=Empty(_("The roster gives this room no neighbour.")),
            filtered=False,
        )
        table.activated.connect(self._go_to_neighbour)
        return table

    def _make_stays(self) -> RowTable[StayRow]:
        return RowTable(
            [
                Column[StayRow](
                    _("Arrives"),
                    lambda row: short_day_text(row.arrives_on),
                    sort=lambda row: row.arrives_on,
                ),
                Column[StayRow](
                    _("Leaves"),
                    lambda row: short_day_text(row.leaves_on),
                    sort=lambda row: row.leaves_on,
                ),
                Column[StayRow](_("Booking"), lambda row: row.booking),
                Column[StayRow](_("State"), lambda row: row.status),
            ],
            key=lambda row: (row.booking, row.arrives_on),
            name=_("Stays around today"),
            empty=Empty(_("No stay is known around today.")),
            filtered=False,
        )

    # --- going on -----------------------------------------------------------

    def _go_to_neighbour(self, row: NeighbourRow) -> None:
        self._context.go_to("building", row.room)

    def _record_check(self) -> None:
        self._context.go_to("checks", self.room)

    def _show_odds(self) -> None:
        self._context.go_to("odds", self.room)

    def _log_sighting(self) -> None:
        self._context.log_sighting(self.room)


def _above_each_other(beds: QWidget, record: QWidget) -> QWidget:
    """A room's few beds, and below them who looked at it, and when."""
    heading = QLabel(_("Looks and dogs' visits"))
    heading.setProperty("role", "muted")
    both = QWidget()
    lines = QVBoxLayout(both)
    lines.setContentsMargins(0, 0, 0, 0)
    lines.addWidget(beds, 2)
    lines.addWidget(heading)
    lines.addWidget(record, 3)
    both.setFocusProxy(beds)
    return both


def how_to() -> str:
    """What one can do on the page before a room is chosen."""
    return "\n\n".join(
        (
            _("Choose a room on the drawing or in the list: click on it, or use the arrow keys."),
            _("Page Up and Page Down on the drawing go to another floor."),
            _("Here you will then see its beds, its neighbours and the stays around today."),
        )
    )


def _where(row: RoomRow, *, is_drawn: bool) -> str:
    parts = [_("Floor {floor}").format(floor=row.floor)]
    if row.wing:
        parts.append(_("wing {wing}").format(wing=row.wing))
    if row.room_type:
        parts.append(_("type {type}").format(type=row.room_type))
    if is_drawn:
        parts.append(_("drawn by hand"))
    return ", ".join(parts)
