"""The places of a visit as Qt wants them: beds and steps as headings, a row for each place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import groupby
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from hotelwatch.core.beds import Place
from hotelwatch.core.checks.looking import RoomLook
from hotelwatch.core.checks.place_looks import PlaceLook, place_looks
from hotelwatch.core.facts import BedNo
from hotelwatch.core.house import House
from hotelwatch.screens.checks.words import spoken_place, state_words, step_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label, place_label

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
LINE = Role.UserRole + 1


class LineKind(IntEnum):
    """What a line of the list is."""

    BED = 1
    STEP = 2
    """Something must be moved before the places below can be seen."""
    PLACE = 3


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the list: a heading, or a place with how it stands."""

    kind: LineKind
    text: str
    look: PlaceLook | None = None
    number: int = 0
    """Of a place in its bed, as on the drawing and on the printed sheet; 0 for a heading."""

    @property
    def key(self) -> tuple[str, str]:
        """What a place is known by when it comes again."""
        return (self.look.bed, self.look.place.code) if self.look else ("", "")


def lines_of(house: House, look: RoomLook) -> tuple[Line, ...]:
    """Every bed with its steps and places in looking order, then the room's other places."""
    lines: list[Line] = []
    for bed, places in groupby(place_looks(house, look), key=lambda one: one.bed):
        lines.append(Line(LineKind.BED, bed_text(house, bed)))
        lines += _places(list(places))
    return tuple(lines)


def bed_text(house: House, bed: str) -> str:
    """A bed's label with its kind; or the room's other places."""
    if not bed:
        return _("The room's other places")
    described = house.beds[BedNo(bed)]
    kind = bed_label(described.kind)
    if described.encased:
        kind = _("{kind}, encased").format(kind=kind)
    return _("Bed {bed}: {kind}").format(bed=bed, kind=kind)


def _places(looks: Sequence[PlaceLook]) -> Iterator[Line]:
    move = ""
    for number, look in enumerate(looks, 1):
        place: Place = look.place
        if look.bed and place.move and place.move != move:
            yield Line(LineKind.STEP, step_text(place))
        move = place.move
        yield Line(LineKind.PLACE, place_label(place.code), look, number)


class PlaceModel(QAbstractTableModel):
    """A line for each place and heading; two columns: the place, how it stands."""

    def __init__(self) -> None:
        """No line yet."""
        super().__init__()
        self.lines: tuple[Line, ...] = ()

    def show(self, lines: tuple[Line, ...]) -> bool:
        """Take these lines; False if other places stand there, so that all was reset."""
        same = [(line.kind, line.text, line.key) for line in lines] == [
            (line.kind, line.text, line.key) for line in self.lines
        ]
        if not same:
            self.beginResetModel()
            self.lines = lines
            self.endResetModel()
            return False
        before, self.lines = self.lines, lines
        for number, (old, new) in enumerate(zip(before, lines, strict=True)):
            if old != new:
                self.dataChanged.emit(self.index(number, 0), self.index(number, 1))
        return True

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 Qt's own signature
        """How many lines."""
        return 0 if parent.isValid() else len(self.lines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """The place, and how it stands."""
        return 0 if parent.isValid() else 2

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:  # noqa: ANN401
        """Titles of the columns."""
        if orientation is Qt.Orientation.Horizontal and role == Role.DisplayRole:
            return (_("Place"), _("How it stands"))[section]
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Only places can have the place; headings are passed over."""
        if not index.isValid() or self.lines[index.row()].look is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def data(self, index: Index, role: int = 0) -> Any:  # noqa: ANN401
        """What a cell says in a role."""
        if not index.isValid() or index.row() >= len(self.lines):
            return None
        line = self.lines[index.row()]
        if role == LINE:
            return line
        if role == Role.DisplayRole:
            return line.text if index.column() == 0 else _state(line)
        if role == Role.AccessibleTextRole:
            return spoken_place(line.look) if line.look else line.text
        return None


def _state(line: Line) -> str:
    return " ".join(text for text in state_words(line.look) if text) if line.look else ""
