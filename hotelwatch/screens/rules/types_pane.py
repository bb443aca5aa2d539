"""Types of room from the plainest to the best: a guest may be moved to a better one, never down."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.desk import rank_types
from hotelwatch.core.choice_facts import RoomTypesRanked
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class TypeRow:
    """A type of room and its place in the order."""

    room_type: str
    place: int
    """From 1, the plainest; 0 where it stands in no order."""
    rooms: int


class TypesPane(QWidget):
    """The types, and buttons that move one up, down or out of the order."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._read: tuple[str, ...] = ()
        self._order: list[str] = []
        told = QLabel(
            _(
                "From plain to best. A guest who has to be moved gets a room of the same type"
                " or a better one; a type without a place is moved within only."
            ),
            wordWrap=True,
        )
        told.setProperty("role", "muted")
        self.table = _types_table()
        self.table.current_changed.connect(self._allow)
        self.plainer = QPushButton(_("&Plainer"))
        self.plainer.clicked.connect(self._make_plainer)
        self.better = QPushButton(_("&Better"))
        self.better.clicked.connect(self._make_better)
        self.out = QPushButton(_("&Off the list"))
        self.out.clicked.connect(self._take_out)
        self.save = QPushButton(_("&Save the order"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        order = (self.plainer, self.better, self.out, self.save)
        deed = Deed(_("Put types of rooms in order"), (RoomTypesRanked,), order)
        self.for_others = offer(context, deed)
        below = QHBoxLayout()
        for button in (self.plainer, self.better, self.out):
            below.addWidget(button)
        below.addStretch(1)
        below.addWidget(self.save)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(told)
        lines.addWidget(self.table, 1)
        lines.addLayout(below)
        lines.addWidget(self.for_others)

    def refresh(self) -> None:
        """Read types and their order anew; an order being made is kept."""
        if not self.is_begun():
            self._read = self._known()
            self._order = list(self._read)
        self._show()

    def is_begun(self) -> bool:
        """Whether the order was changed and not saved."""
        return tuple(self._order) != self._read

    def _known(self) -> tuple[str, ...]:
        ranked = self._context.hotel.house.all_of(RoomTypesRanked)
        return ranked[-1].types if ranked else ()

    def _show(self) -> None:
        rooms: dict[str, int] = {}
        for room in self._context.hotel.house.rooms.values():
            rooms[room.room_type] = rooms.get(room.room_type, 0) + 1
        ranked = [kind for kind in self._order if kind in rooms]
        others = sorted(kind for kind in rooms if kind not in ranked)
        rows = [TypeRow(kind, place, rooms[kind]) for place, kind in enumerate(ranked, 1)]
        rows += [TypeRow(kind, 0, rooms[kind]) for kind in others]
        self.table.show_rows(rows)
        self._allow(self.table.current())

    def _allow(self, row: TypeRow | None) -> None:
        self.plainer.setEnabled(row is not None and row.place != 1)
        self.better.setEnabled(row is not None and (not row.place or row.place < len(self._order)))
        self.out.setEnabled(row is not None and row.place > 0)
        self.save.setEnabled(self.is_begun())

    def _make_plainer(self) -> None:
        self._move(-1)

    def _make_better(self) -> None:
        self._move(1)

    def _move(self, steps: int) -> None:
        """One place down or up; a type without a place comes in at that end of the order."""
        row = self.table.current()
        if row is None:
            return
        if row.place:
            place = row.place - 1 + steps
            self._order.remove(row.room_type)
        else:
            place = len(self._order) if steps > 0 else 0
        self._order.insert(max(0, place), row.room_type)
        self._show()
        self.table.select(row.room_type)

    def _take_out(self) -> None:
        row = self.table.current()
        if row is not None and row.place:
            self._order.remove(row.room_type)
            self._show()
            self.table.select(row.room_type)

    def _save(self) -> None:
        with self._context.notices.refusals():
            rank_types(self._context.hotel, self._order)
            self._read = tuple(self._order)
            self._context.notices.done(_("The order of room types is written down."))
        self._show()


def _types_table() -> RowTable[TypeRow]:
    return RowTable(
        [
            Column(_("Place"), _place_text, sort=lambda row: row.place, right=True),
            Column(_("Type of room"), lambda row: row.room_type or _("no type given")),
            Column(_("Rooms"), lambda row: str(row.rooms), sort=lambda row: row.rooms, right=True),
            Column(_("Guests may be moved to"), lambda row: _moves_text(row)),
        ],
        key=lambda row: row.room_type,
        name=_("Types of room"),
        empty=Empty(_("No room is known yet.")),
        filtered=False,
    )


def _place_text(row: TypeRow) -> str:
    return str(row.place) if row.place else "–"


def _moves_text(row: TypeRow) -> str:
    return _("it and those below it on this list") if row.place else _("its own type only")
