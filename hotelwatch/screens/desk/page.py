"""The page that front desk acts on. Nothing on it says more than a guest may read."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.desk import front_desk, write_desk_calendar, write_front_desk
from hotelwatch.core.case_facts import GuestMoved, LetExplained
from hotelwatch.core.cases.blocks import BlockKind
from hotelwatch.core.cases.desk import BlockRow, DeskList
from hotelwatch.core.cases.touched import TouchedArrival
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo, StaysImported, Topic
from hotelwatch.core.round_facts import NightAnswered
from hotelwatch.printing.desk_sheet import print_desk_sheet
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import (
    folder_to_print,
    open_to_print,
    show_file,
    tip_to_print,
)
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.desk.explain import LetsPane
from hotelwatch.screens.desk.moves import MovesPane
from hotelwatch.screens.desk.nights import NightsPane
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.tables.hug import Hug
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.desk import (
    cost_text,
    count_caution,
    latest_text,
    nights_text,
    release_by_text,
    short_moment_text,
    state_text,
    total_line,
    until_text,
)
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.replaced import bookings_ahead_text

APART_PX = 6
MOST_BLOCKS, MOST_ROWS = 12, 8
"""Rows that a table shows before it scrolls within itself."""


class DeskPage(QWidget):
    """Rooms not to sell, guests to be given another room, rooms let, nights to keep free."""

    topics = frozenset({Topic.QUARANTINE, Topic.CASES, Topic.STAYS, Topic.CHECKS, Topic.ROSTER})

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.as_of = QLabel(wordWrap=True)
        self.as_of.setProperty("role", "muted")
        self.costs = QLabel(wordWrap=True)
        self.costs.setProperty("role", "muted")
        self.blocks = _blocks_table(context)
        self.moves = MovesPane(context)
        self.lets = LetsPane(context)
        self.nights = NightsPane(context)
        self.blocks.activated.connect(self._open_block)
        self.moves.table.activated.connect(self._open_room)
        self._lay_out()

    def _lay_out(self) -> None:
        self.print_list = QPushButton(_("&Print the list"))
        self.print_list.setToolTip(tip_to_print())
        self.print_list.setProperty("role", MAIN)
        self.print_list.clicked.connect(self._print)
        self.save_list = QPushButton(_("Save as &workbook…"))
        self.save_list.clicked.connect(self._save)
        self.save_calendar = QPushButton(_("Save as &calendar…"))
        self.save_calendar.clicked.connect(self._save_calendar)
        top = QHBoxLayout()
        top.addWidget(self.as_of, 1)
        papers = QHBoxLayout()
        for button in (self.save_calendar, self.save_list, self.print_list):
            papers.addWidget(button)
        top.addLayout(papers)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(top)
        self.heading = QLabel(_("Rooms not to sell, and until when"))
        self.heading.setProperty("role", "heading")
        lines.addWidget(self.heading)
        lines.addWidget(self.blocks)
        lines.addWidget(self.costs)
        for pane in (self.moves, self.nights, self.lets):
            pane.setContentsMargins(0, APART_PX, 0, 0)
            lines.addWidget(pane)
        self.for_others = offer(
            self._context,
            Deed(_("Agree that guests move"), (GuestMoved,)),
            Deed(_("Answer for a night"), (NightAnswered,)),
            Deed(_("Explain a let"), (LetExplained,)),
        )
        lines.addWidget(self.for_others)
        lines.addStretch(1)
        for table, most in (
            (self.blocks, MOST_BLOCKS),
            (self.moves.table, MOST_ROWS),
            (self.nights.table, MOST_ROWS),
            (self.lets.table, MOST_ROWS),
        ):
            # As high as what they hold: the page scrolls, and no table within it before it must.
            Hug(table, most)

    def refresh(self) -> None:
        """Read the list anew."""
        shown = front_desk(self._context.hotel)
        self.blocks.show_rows(shown.blocks)
        self.costs.setText(total_line(shown.total) if shown.blocks else "")
        self.costs.setToolTip(count_caution())
        self.costs.setVisible(bool(shown.blocks))
        self.moves.show_desk(shown)
        self.lets.show_lets(shown.lets_against)
        self.nights.show_nights(shown.nights)
        self.as_of.setText(self._as_of(shown))

    def focus_room(self, room: RoomNo) -> None:
        """Give the keyboard to what is to be said of a room: how it was let, else its block."""
        if not self.lets.ask_about(room) and self.blocks.select(room):
            self.blocks.view.setFocus()

    def unsaved(self) -> tuple[str, ...]:
        """What is typed and not written down."""
        told = []
        if self.lets.is_begun():
            told.append(_("An explanation on front desk's page is typed, and not written down."))
        if self.nights.is_begun():
            told.append(_("A note to an answer of front desk is typed, and not written down."))
        return tuple(told)

    def _as_of(self, shown: DeskList) -> str:
        hotel = self._context.hotel
        read = hotel.house.kept_of(StaysImported)
        moment = short_moment_text(shown.made_at, hotel.zone)
        if not read:
            return _("As of {moment}. No bookings were loaded yet.").format(moment=moment)
        loaded_at = hotel.house.entry_of(read[-1]).recorded_at
        loaded = short_moment_text(loaded_at, hotel.zone)
        days = (hotel.today() - local_day(loaded_at, hotel.zone)).days
        ahead = bookings_ahead_text(hotel.house, hotel.today())
        if days > 0:
            said = ngettext(
                "As of {moment}. The bookings are {n} day old, of {loaded}: load them again.",
                "As of {moment}. The bookings are {n} days old, of {loaded}: load them again.",
                days,
            ).format(moment=moment, loaded=loaded, n=days)
        else:
            said = _("As of {moment}; bookings as loaded {loaded}.").format(
                moment=moment, loaded=loaded
            )
        return f"{said} {ahead}"

    def _open_block(self, row: BlockRow) -> None:
        self._context.go_to("building", row.block.room)

    def _open_room(self, row: TouchedArrival) -> None:
        self._context.go_to("building", row.room)

    # --- on paper -----------------------------------------------------------

    def _suggested(self, ending: str) -> Path:
        hotel = self._context.hotel
        return hotel.path.with_name(f"front-desk-{hotel.today().isoformat()}.{ending}")

    def _print(self) -> None:
        context = self._context
        target = folder_to_print(context.hotel.path) / self._suggested("pdf").name
        print_desk_sheet(front_desk(context.hotel), context.hotel.house, target)
        told = _("The list is open as PDF, to be printed from there: {file}")
        open_to_print(context, told.format(file=target), [target])

    def _save(self) -> None:
        self._context.files.save(
            _("Save front desk's list"), "Excel (*.xlsx)", self._suggested("xlsx"), self._save_to
        )

    def _save_to(self, target: Path) -> None:
        with self._context.notices.refusals():
            write_front_desk(self._context.hotel, target)
            self._tell(target)

    def _save_calendar(self) -> None:
        self._context.files.save(
            _("Save the blocked rooms as a calendar"),
            "iCalendar (*.ics)",
            self._suggested("ics"),
            self._save_calendar_to,
        )

    def _save_calendar_to(self, target: Path) -> None:
        with self._context.notices.refusals():
            write_desk_calendar(self._context.hotel, target)
            self._tell(target)

    def _tell(self, target: Path) -> None:
        def show() -> None:
            show_file(self._context, target)

        text = _("Written: {file}").format(file=target.name)
        self._context.notices.done(text, _("Open"), show)


def _blocks_table(context: Context) -> RowTable[BlockRow]:
    zone = context.hotel.zone
    return RowTable(
        [
            Column(_("Room"), lambda row: row.block.room, tint=_block_tone),
            Column(
                _("Not to sell from"),
                lambda row: short_moment_text(row.block.from_at, zone),
                sort=lambda row: row.block.from_at,
            ),
            Column(
                _("Earliest"),
                lambda row: until_text(row.block.earliest_until),
                sort=lambda row: row.block.earliest_until,
            ),
            Column(
                _("Expected"),
                lambda row: until_text(row.block.expected_until),
                sort=lambda row: row.block.expected_until,
            ),
            Column(
                _("Latest"),
                lambda row: latest_text(row.block),
                sort=lambda row: row.block.latest_until,
            ),
            Column(
                _("Ask again"),
                lambda row: until_text(row.block.review_on),
                sort=lambda row: row.block.review_on,
            ),
            Column(
                _("Nights"),
                lambda row: nights_text(row.cost),
                sort=lambda row: (row.cost.lost + (row.cost.expected or 0), row.cost.sold),
                hint=lambda row: cost_text(row.cost),
                wraps=True,
            ),
            Column(
                _("Waits for"),
                lambda row: state_text(row.block),
                hint=lambda row: state_text(row.block),
            ),
            Column(
                _("Given back by"),
                lambda row: release_by_text(row.block),
                hint=lambda row: release_by_text(row.block),
            ),
        ],
        key=lambda row: row.block.room,
        name=_("Rooms not to sell"),
        empty=Empty(_("No room is blocked. Every room may be sold.")),
        filtered=False,
    )


def _block_tone(row: BlockRow) -> Tone:
    return Tone.QUARANTINE if row.block.kind is BlockKind.CLOSED else Tone.ASKED
