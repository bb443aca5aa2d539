"""Keys that every table knows: typing narrows it, Ctrl+Up and Ctrl+Down sort it, Ctrl+C copies.

Letters typed in the table go into its filter line, which shows itself where it was hidden;
Esc empties the line and leads back. The arrows choose the column to sort by.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QAction,
    QKeyEvent,
    QKeySequence,
)
from PySide6.QtWidgets import QLineEdit, QTableView

from hotelwatch.wording.language import _

Show = Callable[[bool], object]
WITH_COMMAND = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class TableKeys(QObject):
    """Watches a table's view and its filter line."""

    def __init__(
        self, view: QTableView, line: QLineEdit, *, copy: Callable[[], object], show: Show
    ) -> None:
        """``show(True)`` brings the filter line forward, ``show(False)`` puts it away."""
        super().__init__(view)
        self._view, self._line, self._show = view, line, show
        view.installEventFilter(self)
        line.installEventFilter(self)
        up, down = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder
        for text, keys, act in (
            (_("Copy rows"), QKeySequence(QKeySequence.StandardKey.Copy), copy),
            (_("Select all rows"), QKeySequence("Ctrl+A"), view.selectAll),
            (_("Sort by this column"), QKeySequence("Ctrl+Down"), partial(self.sort, up)),
            (_("Sort by it the other way"), QKeySequence("Ctrl+Up"), partial(self.sort, down)),
            (_("Narrow the list"), QKeySequence("Ctrl+F"), partial(self.narrow, "")),
        ):
            self._add(text, keys, act)
        view.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def sort(self, order: Qt.SortOrder) -> None:
        """Sort by the column that the cursor is in; once more in the same way: no longer."""
        header, column = self._view.horizontalHeader(), max(self._view.currentIndex().column(), 0)
        was = (header.sortIndicatorSection(), header.sortIndicatorOrder())
        title = self._view.model().headerData(column, Qt.Orientation.Horizontal)
        if was == (column, order):
            self._view.sortByColumn(-1, Qt.SortOrder.AscendingOrder)
            said = _("Not sorted")
        else:
            self._view.sortByColumn(column, order)
            is_up = order is Qt.SortOrder.AscendingOrder
            least, most = _("Sorted by {column}, least first"), _("Sorted by {column}, most first")
            text = least if is_up else most
            said = text.format(column=title)
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self._view, said))

    def narrow(self, typed: str) -> None:
        """Go on typing in the filter line."""
        self._show(True)
        self._line.setText(typed)
        self._line.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take letters typed in the view, and Esc in the line."""
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            if watched is self._view and _is_letter(event):
                self.narrow(event.text())
                return True
            if watched is self._line and event.key() == Qt.Key.Key_Escape and self._line.text():
                self._line.clear()
                self._show(False)
                self._view.setFocus(Qt.FocusReason.ShortcutFocusReason)
                return True
        return super().eventFilter(watched, event)

    def _add(self, text: str, keys: QKeySequence, act: Callable[[], object]) -> None:
        action = QAction(text, self._view)
        action.setShortcut(keys)
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        action.triggered.connect(partial(_call, act))
        self._view.addAction(action)


def _is_letter(event: QKeyEvent) -> bool:
    """Whether a key writes something that can be looked for; Space ticks and presses."""
    text = event.text()
    return bool(text) and text.isprintable() and not text.isspace() and not _has_command(event)


def _has_command(event: QKeyEvent) -> bool:
    return bool(event.modifiers() & WITH_COMMAND)


def _call(act: Callable[[], object], _checked: bool = False) -> None:
    act()
