"""The days ahead across, the hotel and its teams down; one chooses days of one of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from hotelwatch.core.days import WEEKDAYS, weekday
from hotelwatch.core.facts import TeamName
from hotelwatch.core.rounds.days_ahead import DayAhead, DayKind, RowOfDays
from hotelwatch.screens.look.theme import LIGHT, TARGET_PX, Colours, Tone, colours_of
from hotelwatch.wording.dates import month_short, weekday_short
from hotelwatch.wording.days import day_ahead_sentence, who_text
from hotelwatch.wording.language import _, ngettext

Role = Qt.ItemDataRole
Index = QModelIndex | QPersistentModelIndex
NARROWEST_PX = 34
CELL_AIR_PX = 10
SIDES_PX = 24
"""Left and right of a number, as the style sets cells."""
HEAD_LINES = 3
LEAST_ROWS, MOST_ROWS = 3, 7
AWAY_SIGN, CLOSED_SIGN, CHANGED_SIGN = "–", "×", "*"


class DaysModel(QAbstractTableModel):
    """One row for the hotel and each team, one column a day."""

    def __init__(self) -> None:
        """No days yet."""
        super().__init__()
        self.rows: tuple[RowOfDays, ...] = ()
        self.colours: Colours = LIGHT

    def show(self, rows: Sequence[RowOfDays]) -> None:
        """Show these days from now on."""
        same = [(row.team, len(row.days)) for row in rows] == [
            (row.team, len(row.days)) for row in self.rows
        ]
        if same and rows and rows[0].days[0].on == self.rows[0].days[0].on:
            self.rows = tuple(rows)
            last = self.index(self.rowCount() - 1, self.columnCount() - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def day_at(self, index: Index) -> tuple[TeamName, DayAhead] | None:
        """Whose day, and which, a cell shows."""
        if not index.isValid() or not 0 <= index.row() < len(self.rows):
            return None
        row = self.rows[index.row()]
        return row.team, row.days[index.column()]

    def row_of(self, team: TeamName) -> int | None:
        """The row of a team; None if it has none."""
        return next((n for n, row in enumerate(self.rows) if row.team == team), None)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 as Qt has it
        """The hotel and its teams."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 as Qt has it
        """Days."""
        return 0 if parent.isValid() or not self.rows else len(self.rows[0].days)

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:  # noqa: ANN401 as Qt has it
        """What a cell says, in short and in full, and its colours."""
        told = self.day_at(index)
        if told is None:
            return None
        team, day = told
        if role == Role.DisplayRole:
            return cell_text(day)
        if role in (Role.ToolTipRole, Role.AccessibleTextRole):
            return day_ahead_sentence(team, day)
        if role == Role.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignCenter
        if role == Role.BackgroundRole:
            return self._ground(day)
        if role == Role.ForegroundRole:
            return self._ink(day)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole
    ) -> Any:  # noqa: ANN401 as Qt has it
        """Names of teams; weekday and day of the month."""
        if role != Role.DisplayRole or not self.rows:
            return None
        if orientation is Qt.Orientation.Vertical:
            return who_text(self.rows[section].team)
        day = self.rows[0].days[section].on
        is_named = section == 0 or day.day == 1
        month = month_short(day) if is_named else ""
        return f"{month}\n{weekday_short(weekday(day))}\n{day.day}"

    def _ground(self, day: DayAhead) -> QColor | None:
        if day.kind is DayKind.CLOSED:
            return QColor(self.colours.hair)
        if day.kind is DayKind.FREE:
            return QColor(self.colours.window)
        if day.kind is DayKind.USUAL:
            return None
        return QColor(self.colours.tones[Tone.DUE].fill)

    def _ink(self, day: DayAhead) -> QColor | None:
        if day.kind in (DayKind.AWAY, DayKind.CHANGED):
            return QColor(self.colours.tones[Tone.DUE].ink)
        return None


def cell_text(day: DayAhead) -> str:
    """A day in one sign or number: minutes, away, closed, other minutes than usual."""
    return {
        DayKind.USUAL: "{minutes}",
        DayKind.FREE: "",
        DayKind.AWAY: AWAY_SIGN,
        DayKind.CHANGED: "{minutes}" + CHANGED_SIGN,
        DayKind.CLOSED: CLOSED_SIGN,
    }[day.kind].format(minutes=day.minutes)


def legend_text() -> str:
    """What the signs in the cells mean."""
    return _(
        "Numbers are minutes that plans may use. {away} away, {closed} no rounds,"
        " {changed} other minutes than usual."
    ).format(away=AWAY_SIGN, closed=CLOSED_SIGN, changed=CHANGED_SIGN)


class DaysView(QTableView):
    """Shows the days; Shift and the arrows, or the pointer, choose days in a row."""

    chosen = Signal(object, object, object)
    """Whose days (a team's name, or HOUSE), the first and the last one."""
    moved = Signal()
    """Other days are in view."""

    def __init__(self) -> None:
        """No days yet."""
        super().__init__()
        self._is_choosing = False
        self.days = DaysModel()
        self.days.setParent(self)
        self.setModel(self.days)
        self.setAccessibleName(_("Days of the hotel and its teams"))
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setStyleSheet("QHeaderView::section { padding: 0; }")
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setHighlightSections(False)
        self.horizontalScrollBar().valueChanged.connect(self._tell_moved)
        self._wear()

    def show_days(self, rows: Sequence[RowOfDays]) -> None:
        """Show these days; what is chosen stays where it is still shown."""
        self.days.show(rows)
        self._fit()

    def choose(self, team: TeamName, first: date, last: date) -> None:
        """Choose a team's days, as far as they are shown, and bring the first into view."""
        row = self.days.row_of(team)
        if row is None or not self.days.rows[row].days:
            return
        begins = self.days.rows[row].days[0].on
        most = self.days.columnCount() - 1
        left, right = ((day - begins).days for day in (first, last))
        if left > most or right < 0 or left > right:
            self.clearSelection()
            return
        self._select(row, max(0, left), min(most, right))
        self.scrollTo(self.days.index(row, max(0, left)))

    def scroll_days(self, days: int) -> None:
        """Move on by so many days, or back by less than none."""
        bar = self.horizontalScrollBar()
        bar.setValue(bar.value() + days * self.columnWidth(0))

    def first_shown(self) -> date | None:
        """The first day in view."""
        told = self.days.day_at(self.days.index(0, max(0, self.columnAt(0))))
        return told[1].on if told is not None else None

    def last_shown(self) -> date | None:
        """The last day in view."""
        column = self.columnAt(self.viewport().width() - 1)
        last = self.days.columnCount() - 1 if column < 0 else column
        told = self.days.day_at(self.days.index(0, max(0, last)))
        return told[1].on if told is not None else None

    def selectionChanged(self, selected: QItemSelection, deselected: QItemSelection) -> None:
        """Keep to one row, and tell what is chosen."""
        super().selectionChanged(selected, deselected)
        indexes = self.selectedIndexes()
        if self._is_choosing or not indexes:
            return
        row = self.currentIndex().row()
        if row < 0:
            row = indexes[0].row()
        columns = [index.column() for index in indexes]
        if any(index.row() != row for index in indexes):
            self._select(row, min(columns), max(columns))
        days = self.days.rows[row].days
        self.chosen.emit(self.days.rows[row].team, days[min(columns)].on, days[max(columns)].on)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """More or fewer days are in view."""
        super().resizeEvent(event)
        self.moved.emit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of look and of text size."""
        super().changeEvent(event)
        worn = event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange)
        if worn and hasattr(self, "days"):
            self._wear()

    def _tell_moved(self, _value: int) -> None:
        self.moved.emit()

    def _select(self, row: int, first: int, last: int) -> None:
        flag = QItemSelectionModel.SelectionFlag
        picked = QItemSelection(self.days.index(row, first), self.days.index(row, last))
        self._is_choosing = True
        self.selectionModel().select(picked, flag.ClearAndSelect)
        if self.currentIndex().row() != row or not first <= self.currentIndex().column() <= last:
            self.selectionModel().setCurrentIndex(self.days.index(row, last), flag.NoUpdate)
        self._is_choosing = False

    def _wear(self) -> None:
        self.days.colours = colours_of(self.palette())
        self._fit()

    def _fit(self) -> None:
        metrics = self.fontMetrics()
        bold = QFont(self.font())
        bold.setBold(True)
        head = QFontMetrics(bold)
        widest = max(
            metrics.horizontalAdvance("1800"),
            *(head.horizontalAdvance(weekday_short(code)) for code in WEEKDAYS),
        )
        self.horizontalHeader().setDefaultSectionSize(max(NARROWEST_PX, widest + SIDES_PX))
        row_px = max(TARGET_PX, metrics.height() + CELL_AIR_PX)
        self.verticalHeader().setDefaultSectionSize(row_px)
        rows = min(MOST_ROWS, max(LEAST_ROWS, self.days.rowCount()))
        top = HEAD_LINES * head.height() + CELL_AIR_PX
        self.horizontalHeader().setFixedHeight(top)
        bar = self.horizontalScrollBar().sizeHint().height()
        self.setFixedHeight(rows * row_px + top + bar + 4)


def chosen_text(team: TeamName, first: date, last: date) -> str:
    """What is chosen, for whoever listens: "Early: 5 days"."""
    days = (last - first) // timedelta(days=1) + 1
    return ngettext("{who}: {n} day", "{who}: {n} days", days).format(who=who_text(team), n=days)
