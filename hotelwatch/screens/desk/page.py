"""The page that front desk acts on. Nothing on it says more than a guest may read."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from hotelwatch.actions.reports import front_desk, write_front_desk
from hotelwatch.core.cases.desk import Block, DeskList, LetAgainstBlock, Touched, TouchedArrival
from hotelwatch.core.facts import StaysImported, Topic
from hotelwatch.printing.desk_sheet import print_desk_sheet
from hotelwatch.screens.context import Context
from hotelwatch.screens.desk.nights import NightsPane
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.screens.theme import MAIN, Tone
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import booking_text


class DeskPage(QWidget):
    """Rooms not to sell, guests to be given another room, rooms let, nights to keep free."""

    topics = frozenset({Topic.QUARANTINE, Topic.CASES, Topic.STAYS, Topic.CHECKS, Topic.ROSTER})

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.as_of = QLabel(wordWrap=True)
        self.as_of.setProperty("role", "muted")
        self.blocks = _blocks_table(context)
        self.arrivals = _arrivals_table()
        self.lets = _lets_table()
        self.nights = NightsPane(context)
        self.blocks.activated.connect(self._open_room)
        self.arrivals.activated.connect(self._open_room)
        self._lay_out()

    def _lay_out(self) -> None:
        self.print_list = QPushButton(_("&Print the list…"))
        self.print_list.setProperty("role", MAIN)
        self.print_list.clicked.connect(self._print)
        self.save_list = QPushButton(_("Save as &workbook…"))
        self.save_list.clicked.connect(self._save)
        top = QHBoxLayout()
        top.addWidget(self.as_of, 1)
        top.addWidget(self.save_list)
        top.addWidget(self.print_list)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(top)
        for table in (self.blocks, self.arrivals, self.lets, self.nights.table):
            # Heights follow the page, not what a table would like to show.
            table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        rooms = QHBoxLayout()
        rooms.setSpacing(12)
        rooms.addLayout(_titled(_("Rooms not to sell"), self.blocks), 5)
        rooms.addLayout(_titled(_("Rooms let although they were blocked"), self.lets), 3)
        lines.addLayout(rooms, 1)
        lines.addLayout(_titled(_("Guests who need another room"), self.arrivals), 1)
        lines.addWidget(self.nights, 1)

    def refresh(self) -> None:
        """Read the list anew."""
        shown = front_desk(self._context.hotel)
        self.blocks.show_rows(shown.blocks)
        self.arrivals.show_rows(shown.arrivals)
        self.lets.show_rows(shown.lets_against)
        self.nights.show_nights(shown.nights)
        self.as_of.setText(self._as_of(shown))

    def _as_of(self, shown: DeskList) -> str:
        hotel = self._context.hotel
        read = hotel.house.kept_of(StaysImported)
        moment = moment_text(shown.made_at, hotel.zone)
        if not read:
            return _("As of {moment}. No bookings were loaded yet.").format(moment=moment)
        loaded = moment_text(hotel.house.entry_of(read[-1]).recorded_at, hotel.zone)
        return _("As of {moment}; bookings as loaded {loaded}.").format(
            moment=moment, loaded=loaded
        )

    def _open_room(self, row: Block | TouchedArrival) -> None:
        self._context.go_to("building", row.room)

    # --- on paper -----------------------------------------------------------

    def _suggested(self, ending: str) -> Path:
        hotel = self._context.hotel
        return hotel.path.with_name(f"front-desk-{hotel.today().isoformat()}.{ending}")

    def _print(self) -> None:
        self._context.files.save(
            _("Print front desk's list"), "PDF (*.pdf)", self._suggested("pdf"), self._print_to
        )

    def _print_to(self, target: Path) -> None:
        context = self._context
        print_desk_sheet(front_desk(context.hotel), context.hotel.house, target)
        self._tell(target)

    def _save(self) -> None:
        self._context.files.save(
            _("Save front desk's list"), "Excel (*.xlsx)", self._suggested("xlsx"), self._save_to
        )

    def _save_to(self, target: Path) -> None:
        with self._context.notices.refusals():
            write_front_desk(self._context.hotel, target)
            self._tell(target)

    def _tell(self, target: Path) -> None:
        def show() -> None:
            self._context.files.show(target)

        text = _("Written: {file}").format(file=target.name)
        self._context.notices.done(text, _("Open"), show)


def _titled(title: str, table: QWidget) -> QVBoxLayout:
    heading = QLabel(title)
    heading.setProperty("role", "heading")
    lines = QVBoxLayout()
    lines.addWidget(heading)
    lines.addWidget(table, 1)
    return lines


def _blocks_table(context: Context) -> RowTable[Block]:
    zone = context.hotel.zone
    return RowTable(
        [
            Column(_("Room"), lambda row: row.room, tint=lambda _row: Tone.QUARANTINE),
            Column(
                _("Do not sell from"),
                lambda row: moment_text(row.from_at, zone),
                sort=lambda row: row.from_at,
            ),
            Column(
                _("Not before"),
                lambda row: (
                    day_text(row.earliest_until) if row.earliest_until else _("not known yet")
                ),
                sort=lambda row: row.earliest_until,
            ),
            Column(_("Waits for"), lambda row: label(row.condition)),
        ],
        key=lambda row: row.room,
        name=_("Rooms not to sell"),
        empty=Empty(_("No room is blocked. Every room may be sold.")),
        filtered=False,
    )


def _arrivals_table() -> RowTable[TouchedArrival]:
    return RowTable(
        [
            Column(
                _("What to do"),
                lambda row: _what_to_do(row),
                tint=lambda row: Tone.LATE if row.touched is Touched.IN_HOUSE else Tone.DUE,
            ),
            Column(_("Booking"), lambda row: booking_text(row.stay.booking)),
            Column(_("Room"), lambda row: row.room),
            Column(
                _("Arrives"),
                lambda row: day_text(row.stay.arrives_on),
                sort=lambda row: row.stay.arrives_on,
            ),
            Column(
                _("Leaves"),
                lambda row: day_text(row.stay.leaves_on),
                sort=lambda row: row.stay.leaves_on,
            ),
            Column(
                _("Vacant rooms of its type"),
                lambda row: join([str(room) for room in row.candidates]) or _("none is vacant"),
            ),
        ],
        key=lambda row: (row.stay.booking, row.room),
        name=_("Guests who need another room"),
        empty=Empty(_("No guest is touched by a block.")),
        filtered=False,
    )


def _what_to_do(row: TouchedArrival) -> str:
    if row.touched is Touched.IN_HOUSE:
        return _("Move the guest")
    if row.is_provisional:
        return _("Give any other room")
    return _("Change the room before arrival")


def _lets_table() -> RowTable[LetAgainstBlock]:
    return RowTable(
        [
            Column(_("Room"), lambda row: row.room),
            Column(
                _("Booking"),
                lambda row: booking_text(row.stay.booking),
                tint=lambda _row: Tone.LATE,
            ),
            Column(
                _("First night"),
                lambda row: day_text(row.first_night),
                sort=lambda row: row.first_night,
            ),
            Column(
                _("Nights"), lambda row: str(row.nights), sort=lambda row: row.nights, right=True
            ),
            Column(
                _("How"),
                lambda row: _("let anew") if row.was_let_blocked else _("guest stayed on"),
            ),
        ],
        key=lambda row: (row.stay.booking, row.room, row.first_night),
        name=_("Rooms let although they were blocked"),
        empty=Empty(_("No blocked room was let.")),
        filtered=False,
    )
