"""One table for every list in the program: sort, filter as one types, copy, keep the place.

::

    self.table = RowTable(
        [
            Column(_("Room"), lambda row: row.room),
            Column(_("Due"), lambda row: day_text(row.due_on), sort=lambda row: row.due_on,
                   tint=lambda row: Tone.LATE if row.is_late else None),
        ],
        key=lambda row: row.room,
        name=_("Rooms"),
        empty=Empty(_("No room yet."), _("Load the roster…"), self.load_roster),
    )
    self.table.activated.connect(self.open_room)     # Enter or double click: the row
    self.table.current_changed.connect(self.tell)    # arrows or click: the row, or None
    self.table.show_rows(rows)                        # again and again; keeps the selection

Rows are frozen dataclasses; ``key`` gives what a row is known by when it comes again.
Same keys in the same order: only cells of rows that differ are painted anew. Else the
table is reset, and selection and place are restored by key. Lambdas in a Column read
only their row; they must not hold a widget.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from PySide6.QtCore import (
    QEvent,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QSize,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.screens.look.theme import MAIN, TARGET_PX, colours_of
from hotelwatch.screens.tables.column_widths import shared_out, widths_of
from hotelwatch.screens.tables.copying import as_text, cells_of, for_clipboard
from hotelwatch.screens.tables.keys import TableKeys
from hotelwatch.screens.tables.model import Column, RowModel, RowOrder
from hotelwatch.screens.tables.room import least_room
from hotelwatch.screens.tables.row_heights import fit_rows
from hotelwatch.wording.language import _, ngettext

__all__ = ["Column", "Empty", "RowTable"]

R = TypeVar("R")
TYPING_PAUSE_MS = 150
ROWS_MEASURED = 60
ROW_AIR_PX = 14
CELL_AIR_PX = 16
"""Beside the text of a cell, left and right together: the padding of the stylesheet."""


@dataclass(frozen=True, slots=True)
class Empty:
    """What a table says while it has no rows, and the one next step."""

    text: str
    step_text: str = ""
    step: Callable[[], object] | None = None


class RowTable(QWidget, Generic[R]):
    """A table of rows with its filter line, its count and what it says when empty."""

    activated = Signal(object)
    """Enter or double click on a row: the row."""
    current_changed = Signal(object)
    """The row that has the place now, or None."""

    def __init__(
        self,
        columns: Sequence[Column[R]],
        key: Callable[[R], Hashable],
        *,
        name: str,
        empty: Empty,
        filtered: bool = True,
    ) -> None:
        """An empty table; ``name`` is what a screen reader calls it."""
        super().__init__()
        self.model: RowModel[R] = RowModel(columns, key, parent=self)
        self.order = RowOrder(self.model, self)
        self._key = key
        self._empty = empty
        self._typed = QTimer(self, singleShot=True, interval=TYPING_PAUSE_MS)
        self._typed.timeout.connect(self._narrow)
        self._fitting = QTimer(self, singleShot=True, interval=0)
        self._fitting.timeout.connect(self._fit_columns)
        self._shortened = [
            place for place, column in enumerate(columns) if column.hint or column.wraps
        ]
        self._is_fitting = self._is_by_hand = self.follows_place = False
        self._wrapping = [place for place, column in enumerate(columns) if column.wraps]
        self.filter = self._make_filter(name)
        self.count = QLabel()
        self.count.setProperty("role", "muted")
        self.view = self._make_view(name)
        self._make_empty_pane()
        self._lay_out(filtered)
        if self._wrapping:
            self.view.verticalScrollBar().rangeChanged.connect(self._fit_again)
        self.wear()
        self._show_right_pane()

    # --- rows ---------------------------------------------------------------

    def show_rows(self, rows: Iterable[R]) -> None:
        """Show these rows; selection, place and scroll position stay by key.

        Where ``follows_place``, the row that has the place stays in sight if it was.
        """
        was_in_sight = self.follows_place and self._is_place_in_sight()
        held = [self._key(row) for row in self.selected_rows()]
        current = self.current()
        scrolled = self.view.verticalScrollBar().value()
        before = self.model.rows
        if not self.model.show(tuple(rows)):
            self._restore(held, None if current is None else self._key(current))
            self.view.verticalScrollBar().setValue(scrolled)
        if self.model.rows and self.model.rows != before:
            self._fit_columns()
        self._show_right_pane()
        if was_in_sight:
            self.view.scrollTo(self.view.currentIndex())

    def _is_place_in_sight(self) -> bool:
        place = self.view.visualRect(self.view.currentIndex())
        return self.view.viewport().rect().contains(place.center()) and not place.isEmpty()

    def current(self) -> R | None:
        """The row that has the place, if any."""
        return self._row_at(self.view.currentIndex())

    def selected_rows(self) -> tuple[R, ...]:
        """Selected rows in the order shown."""
        indexes = sorted(self.view.selectionModel().selectedRows(), key=lambda i: i.row())
        rows = (self._row_at(index) for index in indexes)
        return tuple(row for row in rows if row is not None)

    def select(self, key: Hashable) -> bool:
        """Give the row of that key the place; False if it is not shown."""
        index = self._index_of(key)
        if not index.isValid():
            return False
        if index.row() != self.view.currentIndex().row() or not self.selected_rows():
            # The view's own way would add the row while Ctrl is held, as in Ctrl+Enter.
            flag = QItemSelectionModel.SelectionFlag
            self.view.selectionModel().setCurrentIndex(index, flag.ClearAndSelect | flag.Rows)
            self.view.scrollTo(index)
        return True

    def let_go(self) -> None:
        """Give no row the place, so that a press on any, the one before too, gives it that."""
        self.view.selectionModel().clear()

    def shown_rows(self) -> tuple[R, ...]:
        """Rows that pass the filter, in the order shown."""
        rows = (self._row_at(self.order.index(n, 0)) for n in range(self.order.rowCount()))
        return tuple(row for row in rows if row is not None)

    def copy(self) -> None:
        """Put the selected rows on the clipboard with their titles, as text and as a table."""
        cells = cells_of(self.model.columns, self.selected_rows())
        QGuiApplication.clipboard().setMimeData(for_clipboard(cells))

    def as_text(self, rows: Iterable[R]) -> str:
        """Rows with the titles above them, tab-separated."""
        return as_text(cells_of(self.model.columns, rows))

    def show_all(self) -> None:
        """Empty the filter line."""
        self.filter.clear()
        self._narrow()

    # --- look ---------------------------------------------------------------

    def wear(self) -> None:
        """Fit row heights and tints to the look worn now."""
        height = max(TARGET_PX, self.fontMetrics().height() + ROW_AIR_PX)
        self.view.verticalHeader().setDefaultSectionSize(height)
        self.model.wear(colours_of(self.palette()))

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of look or text size."""
        super().changeEvent(event)
        if not hasattr(self, "view"):
            return
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.wear()
        if event.type() == QEvent.Type.FontChange:
            self._fitting.start()  # once the cells have the new font too

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns to the room there is now."""
        super().resizeEvent(event)
        self._fitting.start()

    def sizeHint(self) -> QSize:
        """Room for some rows."""
        return QSize(480, 320)

    def minimumSizeHint(self) -> QSize:
        """Room for the titles and some rows, or for what an empty table says."""
        return least_room(self, is_filtered=self._filtered)

    # --- making -------------------------------------------------------------

    def _make_filter(self, name: str) -> QLineEdit:
        line = QLineEdit(clearButtonEnabled=True)
        line.setPlaceholderText(_("Type to narrow the list"))
        line.setAccessibleName(_("Narrow: {table}").format(table=name))
        line.setAcceptDrops(False)  # a file dropped here is meant for the window
        line.textChanged.connect(self._typed.start)
        line.returnPressed.connect(self._to_first_row)
        return line

    def _make_view(self, name: str) -> QTableView:
        view = QTableView()
        view.setModel(self.order)
        view.setAccessibleName(name)
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.setTabKeyNavigation(False)
        view.setAlternatingRowColors(True)
        view.setShowGrid(False)
        view.setWordWrap(bool(self._wrapping))
        view.setSortingEnabled(True)
        view.verticalHeader().hide()
        view.horizontalHeader().setSortIndicatorClearable(True)
        view.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        view.horizontalHeader().setHighlightSections(False)
        view.horizontalHeader().setResizeContentsPrecision(ROWS_MEASURED)
        view.horizontalHeader().sectionResized.connect(self._note_hand)
        view.activated.connect(self._activate)
        view.selectionModel().currentRowChanged.connect(self._tell_current)
        TableKeys(view, self.filter, copy=self.copy, show=self._show_filter)
        return view

    def _make_empty_pane(self) -> None:
        self.empty_text = QLabel(wordWrap=True, alignment=Qt.AlignmentFlag.AlignCenter)
        self.empty_step = QPushButton()
        self.empty_step.setProperty("role", MAIN)
        self.empty_step.clicked.connect(self._take_step)

    def _lay_out(self, filtered: bool) -> None:
        pane = QWidget()
        middle = QVBoxLayout(pane)
        middle.addStretch()
        middle.addWidget(self.empty_text)
        middle.addWidget(self.empty_step, alignment=Qt.AlignmentFlag.AlignCenter)
        middle.addStretch()
        self._panes = QStackedWidget()
        self._panes.addWidget(self.view)
        self._panes.addWidget(pane)
        line = QHBoxLayout()
        line.addWidget(self.filter, 1)
        line.addWidget(self.count)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addLayout(line)
        whole.addWidget(self._panes, 1)
        self.filter.setVisible(filtered)
        self.count.setVisible(filtered)
        self._filtered, self._is_narrowing = filtered, False

    def _show_filter(self, is_wanted: bool) -> None:
        self._is_narrowing = is_wanted
        self._narrow()

    def _fit_columns(self) -> None:
        header = self.view.horizontalHeader()
        self._is_fitting = True
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setStretchLastSection(not self._wrapping)
        if not self._is_by_hand:
            for column, width in enumerate(widths_of(self.view, self._shortened)):
                if not header.isSectionHidden(column):
                    header.resizeSection(column, width)
        if self._wrapping:
            self._wrap()
        self._is_fitting = False

    def _note_hand(self, _column: int, _before: int, _after: int) -> None:
        """Leave widths alone from now on that the person chose."""
        by_mouse = QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton
        if by_mouse and not self._is_fitting and self.view.horizontalHeader().underMouse():
            self._is_by_hand = True

    def _fit_again(self, _least: int, _most: int) -> None:
        self._fitting.start()

    def _wrap(self) -> None:
        header = self.view.horizontalHeader()
        sizes = [header.sectionSize(column) for column in range(self.order.columnCount())]
        taken = sum(size for place, size in enumerate(sizes) if place not in self._wrapping)
        shared = shared_out(self.view, self._wrapping, self.view.viewport().width() - taken)
        # Rows are measured without the padding of their cells: measure them that much narrower.
        for air in (CELL_AIR_PX, 0):
            for place, size in zip(self._wrapping, shared, strict=True):
                header.resizeSection(place, size - air)
            if air:
                fit_rows(self.view)

    # --- what happens -------------------------------------------------------

    def _row_at(self, index: QModelIndex) -> R | None:
        place = self.order.mapToSource(index).row()
        return self.model.rows[place] if 0 <= place < len(self.model.rows) else None

    def _index_of(self, key: Hashable) -> QModelIndex:
        place = self.model.place_of(key)
        if place is None:
            return QModelIndex()
        return self.order.mapFromSource(self.model.index(place, 0))

    def _restore(self, held: Sequence[Hashable], current: Hashable | None) -> None:
        picked = QItemSelection()
        for key in held:
            index = self._index_of(key)
            if index.isValid():
                picked.select(index, index.siblingAtColumn(self.order.columnCount() - 1))
        model, flag = self.view.selectionModel(), QItemSelectionModel.SelectionFlag
        index = QModelIndex() if current is None else self._index_of(current)
        if index.isValid():
            model.setCurrentIndex(index, flag.NoUpdate)
        elif current is not None:
            self.current_changed.emit(None)
        model.select(picked, flag.ClearAndSelect)

    def _narrow(self) -> None:
        self._typed.stop()
        self.order.narrow(self.filter.text())
        self._show_right_pane()

    def _show_right_pane(self) -> None:
        shown, known = self.order.rowCount(), len(self.model.rows)
        self._panes.setCurrentIndex(0 if shown else 1)
        if shown == known:
            self.count.setText(ngettext("{n} row", "{n} rows", known).format(n=known))
        else:
            self.count.setText(_("{n} of {all}").format(n=shown, all=known))
        typed = self.filter.text().strip()
        narrowed = known > 0 and shown == 0
        text = _("No row has “{typed}”.").format(typed=typed) if narrowed else self._empty.text
        step = _("Show all rows") if narrowed else self._empty.step_text
        self.empty_text.setText(text)
        self.empty_step.setText(step)
        self.empty_step.setVisible(bool(step))
        is_filter_shown = (self._filtered or self._is_narrowing) and known > 0
        self.filter.setVisible(is_filter_shown)
        self.count.setVisible(is_filter_shown)

    def _take_step(self) -> None:
        if self.model.rows:
            self.show_all()
            self.filter.setFocus()
        elif self._empty.step is not None:
            self._empty.step()

    def _to_first_row(self) -> None:
        self._narrow()
        if self.order.rowCount():
            self.view.setFocus()
            self.view.setCurrentIndex(self.order.index(0, 0))

    def _activate(self, index: QModelIndex) -> None:
        row = self._row_at(index)
        if row is not None:
            self.activated.emit(row)

    def _tell_current(self, index: QModelIndex, _before: QModelIndex) -> None:
        row: Any = self._row_at(index)
        self.current_changed.emit(row)
