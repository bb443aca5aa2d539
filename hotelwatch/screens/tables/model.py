"""Rows of frozen values as Qt wants them. ``hotelwatch.screens.tables.row_table`` shows them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Any, Generic, TypeVar

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtGui import QColor

from hotelwatch.screens.look.theme import LIGHT, Colours, Tint, Tone

R = TypeVar("R")
Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole


class OwnRole(IntEnum):
    """What the model tells beside Qt's own roles."""

    SORT = Role.UserRole + 1
    FOLDED = Role.UserRole + 2


@dataclass(frozen=True)  # with slots, Column[Row](...) fails on Python 3.11
class Column(Generic[R]):
    """One column: its title and what it says of a row.

    ``sort`` gives any value that can be compared with others of the column; None
    goes last. Without it the text sorts, numbers within it by their size.
    ``spoken`` is what a screen reader says in place of the text.
    """

    title: str
    text: Callable[[R], str]
    sort: Callable[[R], Any] | None = None
    tint: Callable[[R], Tone | None] | None = None
    spoken: Callable[[R], str] | None = None
    right: bool = False
    """Right-aligned, for numbers."""
    hint: Callable[[R], str] | None = None
    """What the pointer shows resting on the cell."""
    wraps: bool = False
    """Takes the width that the others leave, and as many lines as its text then needs.
    For tables of few rows: every row is measured."""


def folded(text: str) -> str:
    """Text without case and accents, for comparing what people type."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    return "".join(char for char in plain if not unicodedata.combining(char))


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """A sort value under which "9" comes before "10" and "Bar 2" before "Bar 10"."""
    parts = re.findall(r"\d+|\D+", folded(text))
    return tuple((0, int(p), p) if p.isdecimal() else (1, 0, p) for p in parts)


class RowModel(QAbstractTableModel, Generic[R]):
    """A flat, read-only table of rows; a row is known again by its key."""

    def __init__(
        self,
        columns: Sequence[Column[R]],
        key: Callable[[R], Hashable],
        *,
        parent: QObject | None = None,
    ) -> None:
        """An empty table of these columns."""
        super().__init__(parent)
        self.columns = tuple(columns)
        self.rows: tuple[R, ...] = ()
        self.colours: Colours = LIGHT
        self._key = key
        self._keys: tuple[Hashable, ...] = ()
        self._places: dict[Hashable, int] = {}
        self._folded: dict[int, str] = {}
        self._ranks: dict[int, list[int]] = {}

    # --- rows ---------------------------------------------------------------

    def show(self, rows: Sequence[R]) -> bool:
        """Take these rows; False if their keys differ, so that everything was reset."""
        new = tuple(rows)
        keys = tuple(self._key(row) for row in new)
        if keys == self._keys:
            self._change(new)
            return True
        self.beginResetModel()
        self.rows, self._keys = new, keys
        self._places = {key: place for place, key in enumerate(keys)}
        self._folded, self._ranks = {}, {}
        self.endResetModel()
        return False

    def wear(self, colours: Colours) -> None:
        """Tint by this look from now on."""
        self.colours = colours
        self._tell(0, len(self.rows) - 1)

    def place_of(self, key: Hashable) -> int | None:
        """Where the row of that key stands; None if there is none."""
        return self._places.get(key)

    def key_at(self, place: int) -> Hashable:
        """The key of the row standing there."""
        return self._keys[place]

    def _change(self, new: tuple[R, ...]) -> None:
        pairs = enumerate(zip(self.rows, new, strict=True))
        changed = [place for place, (before, now) in pairs if before != now]
        self.rows = new
        if not changed:
            return
        self._ranks = {}
        for place in changed:
            self._folded.pop(place, None)
        for first, last in _runs(changed):
            self._tell(first, last)

    def _tell(self, first: int, last: int) -> None:
        if first <= last:
            end = self.index(last, len(self.columns) - 1)
            self.dataChanged.emit(self.index(first, 0), end)

    # --- what Qt asks -------------------------------------------------------

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 Qt's own signature
        """How many rows."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many columns."""
        return 0 if parent.isValid() else len(self.columns)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:  # noqa: ANN401
        """Titles of the columns."""
        if orientation is Qt.Orientation.Horizontal and 0 <= section < len(self.columns):
            column = self.columns[section]
            if role == Role.DisplayRole:
                return column.title
            if role == Role.TextAlignmentRole:
                return _alignment(column)
        return None

    def data(self, index: Index, role: int = 0) -> Any:  # noqa: ANN401
        """What a cell says in a role."""
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row, column = self.rows[index.row()], self.columns[index.column()]
        if role == Role.DisplayRole:
            return column.text(row)
        if role == OwnRole.SORT:
            return self._rank(index.column(), index.row())
        if role == OwnRole.FOLDED:
            return self._fold(index.row())
        if role in (Role.BackgroundRole, Role.ForegroundRole):
            return self._colour(row, column, role)
        return _beside(row, column, role)

    # --- kept while rows stay the same --------------------------------------

    def _fold(self, place: int) -> str:
        if place not in self._folded:
            row = self.rows[place]
            self._folded[place] = folded("\t".join(column.text(row) for column in self.columns))
        return self._folded[place]

    def _rank(self, number: int, place: int) -> int:
        if number not in self._ranks:
            self._ranks[number] = _ranks([_sort_value(self.columns[number], r) for r in self.rows])
        return self._ranks[number][place]

    def _colour(self, row: R, column: Column[R], role: int) -> QColor | None:
        tone = column.tint(row) if column.tint else None
        if tone is None:
            return None
        tint: Tint = self.colours.tones[tone]
        return QColor(tint.fill if role == Role.BackgroundRole else tint.ink)


def _beside(row: R, column: Column[R], role: int) -> Any:  # noqa: ANN401
    if role == Role.TextAlignmentRole:
        return _alignment(column)
    if role == Role.AccessibleTextRole:
        return column.spoken(row) if column.spoken else f"{column.title}: {column.text(row)}"
    if role == Role.ToolTipRole and column.hint:
        return _hint(column.text(row), column.hint(row))
    return None


def _hint(text: str, hint: str) -> str:
    """A column with a hint may be cut short: the hint then says the text, too."""
    return hint if text in hint else f"{text}\n{hint}".strip()


def _alignment(column: Column[R]) -> int:
    flag = Qt.AlignmentFlag
    return int((flag.AlignRight if column.right else flag.AlignLeft) | flag.AlignVCenter)


def _sort_value(column: Column[R], row: R) -> Any:  # noqa: ANN401
    return column.sort(row) if column.sort else natural(column.text(row))


def _ranks(values: list[Any]) -> list[int]:
    known = sorted({value for value in values if value is not None})
    ranks = {value: rank for rank, value in enumerate(known)}
    return [ranks.get(value, len(known)) for value in values]


def _runs(places: list[int]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for place in places:
        if runs and place == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], place)
        else:
            runs.append((place, place))
    return runs


class RowOrder(QSortFilterProxyModel):
    """Rows sorted by a column and narrowed to those that hold every typed word."""

    def __init__(self, model: RowModel[Any], parent: QObject) -> None:
        """Sort and narrow this model."""
        super().__init__(parent)
        self.setSourceModel(model)
        self.setSortRole(OwnRole.SORT)
        self.setFilterRole(OwnRole.FOLDED)
        self.setFilterKeyColumn(0)
        self.sort(-1)

    def narrow(self, typed: str) -> None:
        """Keep rows that hold every word typed, in any column."""
        words = (re.escape(word) for word in folded(typed).split())
        self.setFilterRegularExpression("".join(f"(?=.*{word})" for word in words))
