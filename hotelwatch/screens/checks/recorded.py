"""Checks recorded lately: to read, to correct, to take back."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.corrections import take_back
from hotelwatch.core.checks.recorded import RecordedRow, entry_scope, recorded_rows
from hotelwatch.core.facts import BedChecked
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.checks.words import found_text, unseen_text
from hotelwatch.screens.look.theme import MAIN, QUIET, Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label


class RecordedPane(QWidget):
    """The checks of the last weeks in a table, and what can be done with one."""

    correction_wanted = Signal(object)
    """The RecordedRow whose room is to be corrected."""

    def __init__(self, context: Context) -> None:
        """An empty table; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._entry: int | None = None
        self.table = _table()
        self.correct = QPushButton(_("&Correct…"))
        self.take_back = QPushButton(_("&Take back…"))
        self.line = QFrame()
        self.asked = QLabel(wordWrap=True)
        self.reason = QLineEdit()
        self.confirm = QPushButton(_("Take it back"))
        self.leave = QPushButton(_("Leave it"))
        self.correct.clicked.connect(self._correct)
        self.take_back.clicked.connect(self._ask_reason)
        self.confirm.clicked.connect(self._take_back)
        self.reason.returnPressed.connect(self._take_back)
        self.leave.clicked.connect(self._put_away)
        self.table.activated.connect(self._correct)
        self.table.current_changed.connect(self._follow)
        leaving = QShortcut(QKeySequence(Qt.Key.Key_Escape), self.line)
        leaving.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        leaving.activated.connect(self._put_away)
        self._lay_out()
        self._follow()

    def refresh(self) -> None:
        """Read the record anew."""
        hotel = self._context.hotel
        rows = recorded_rows(hotel.house, hotel.today())
        self.table.show_rows(rows)
        if self._entry is not None and self._entry not in {row.entry for row in rows}:
            self._hide_line()
        self._follow()

    def select(self, entry: int) -> None:
        """Give an entry's first row the place."""
        for row in self.table.model.rows:
            if row.entry == entry:
                self.table.select((row.entry, row.room, row.bed))
                return

    # --- making -------------------------------------------------------------

    def _lay_out(self) -> None:
        self.line.setProperty("role", "notice")
        self.line.setProperty("tone", "asked")
        self.reason.setAccessibleName(_("Why it is taken back"))
        self.reason.setPlaceholderText(_("Why? It stays on record."))
        self.confirm.setProperty("role", MAIN)
        self.leave.setProperty("role", QUIET)
        inner = QVBoxLayout(self.line)
        inner.setContentsMargins(12, 6, 12, 8)
        inner.addWidget(self.asked)
        answer = QHBoxLayout()
        for widget in (self.reason, self.confirm, self.leave):
            answer.addWidget(widget)
        inner.addLayout(answer)
        self.line.hide()
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.correct)
        buttons.addWidget(self.take_back)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self.line)
        lines.addWidget(self.table, 1)
        lines.addLayout(buttons)
        correcting = (self.correct, self.take_back)
        deed = Deed(_("Record or correct a check"), (BedChecked,), correcting)
        self.for_others = offer(self._context, deed)
        lines.addWidget(self.for_others)

    # --- what one does --------------------------------------------------------

    def _follow(self) -> None:
        has_row = self.table.current() is not None
        for button in (self.correct, self.take_back):
            button.setEnabled(has_row)
            button.setToolTip("" if has_row else _("Choose a check first."))

    def _correct(self) -> None:
        row = self.table.current()
        if row is not None:
            self._hide_line()
            self.correction_wanted.emit(row)

    def _ask_reason(self) -> None:
        row = self.table.current()
        if row is None:
            return
        self._entry = row.entry
        scope = entry_scope(self._context.hotel.house, row.entry)
        said = [
            ngettext(
                "Take back entry {entry}, the check of room {rooms}?",
                "Take back entry {entry} whole? It holds the checks of rooms {rooms}.",
                len(scope.rooms),
            ).format(entry=row.entry, rooms=join([str(room) for room in scope.rooms]))
        ]
        if scope.cases:
            said.append(
                _("Its finds go with it, and so does what they set going in case {cases}.").format(
                    cases=join([str(case) for case in scope.cases])
                )
            )
        self.asked.setText(" ".join(said))
        self.line.show()
        self.reason.setFocus()

    def _take_back(self) -> None:
        entry, context = self._entry, self._context
        if entry is None:
            return
        try:
            take_back(context.hotel, entry, reason=self.reason.text().strip())
        except Refusal as refusal:
            context.notices.refuse(refusal)
            self.reason.setFocus()
            return
        self._put_away()
        context.notices.done(_("Entry {entry} counts no more.").format(entry=entry))

    def _put_away(self) -> None:
        self._hide_line()
        self.table.view.setFocus()

    def _hide_line(self) -> None:
        self._entry = None
        self.reason.clear()
        self.line.hide()


def _table() -> RowTable[RecordedRow]:
    return RowTable(
        [
            Column[RecordedRow](
                _("Day"),
                lambda row: short_day_text(row.checked_on),
                sort=lambda row: (row.checked_on, row.entry),
            ),
            Column[RecordedRow](_("Bed or room"), _where),
            Column[RecordedRow](_("Kind"), lambda row: label(row.kind)),
            Column[RecordedRow](_("Who"), lambda row: join(list(row.by))),
            Column[RecordedRow](
                _("Entry"),
                lambda row: str(row.entry),
                sort=lambda row: row.entry,
                hint=lambda row: _("Written down by {name}").format(name=row.recorded_by),
            ),
            Column[RecordedRow](
                _("Underside"), _counts_text, tint=lambda row: _counts_tone(row.counts)
            ),
            Column[RecordedRow](
                _("What was found, where"),
                lambda row: found_text(row.found),
                tint=lambda row: Tone.LATE if row.found else None,
                hint=lambda row: found_text(row.found),
            ),
            Column[RecordedRow](
                _("Not looked at, and why"),
                lambda row: unseen_text(row.unseen),
                hint=lambda row: unseen_text(row.unseen),
            ),
        ],
        key=lambda row: (row.entry, row.room, row.bed),
        name=_("Checks recorded lately"),
        empty=Empty(_("No check was recorded in the last weeks.")),
    )


def _where(row: RecordedRow) -> str:
    return row.bed or _("{room}, other places").format(room=row.room)


def _counts_text(row: RecordedRow) -> str:
    if row.counts is None:
        return ""
    return _("✓ Counts") if row.counts else _("– Does not count")


def _counts_tone(counts: bool | None) -> Tone | None:
    return Tone.DUE if counts is False else None
