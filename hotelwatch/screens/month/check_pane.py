"""Comparing a book from months ago with the hotel's file, line by line."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QTabWidget, QVBoxLayout, QWidget

from hotelwatch.actions.book_check import BookCheck, Difference, check_book
from hotelwatch.actions.book_reasons import ReasonLine
from hotelwatch.core.month.rows import ChangeRow
from hotelwatch.papers.month_words import change_kind, fact_kind, new_values, old_values
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.book_check import (
    difference_kind,
    difference_sentence,
    reason_sentence,
    reasons_told,
    remark_lines,
    rests_on_text,
    verdict,
)
from hotelwatch.wording.dates import moment_text, short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.verification import fault_sentence


class CheckPane(QWidget):
    """Choose a workbook; what differs, and what was written down since."""

    def __init__(self, context: Context) -> None:
        """Nothing compared yet."""
        super().__init__()
        self._context = context
        self.found: BookCheck | None = None
        self.about = QLabel(wordWrap=True)
        self.about.setProperty("role", "muted")
        self.about.setText(
            _(
                "Takes a workbook of a month, a quarter or a year that was written earlier, cuts"
                " the record to the entry that the workbook names, makes the workbook anew from"
                " it, and compares every cell, formula and page. Nothing is changed."
            )
        )
        self.choose = QPushButton(_("Choose the &workbook…"))
        self.choose.setProperty("role", MAIN)
        self.choose.clicked.connect(self._ask)
        self.told = QLabel(wordWrap=True)
        self.differences = _differences_table()
        self.reasons = _reasons_table()
        self.later = _later_table(context)
        top = QHBoxLayout()
        top.addWidget(self.about, 1)
        top.addWidget(self.choose)
        self.parts = QTabWidget(documentMode=True)
        self.parts.tabBar().setAccessibleName(_("What the comparison showed"))
        self.parts.addTab(self.differences, _("Where they differ"))
        self.parts.addTab(self.reasons, _("Why beds were late, line by line"))
        self.parts.addTab(self.later, _("Written down since, about its months"))
        # Empty lists would say that nothing differs before anything was compared.
        self.parts.hide()
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addLayout(top)
        lines.addWidget(self.told)
        lines.addWidget(self.parts, 1)
        lines.addStretch()

    def compare(self, book: Path) -> None:
        """Compare a workbook, away from the window's thread; it can be stopped."""
        hotel = self._context.hotel
        self.told.setText(_("Comparing {file}…").format(file=book.name))
        self.parts.hide()
        self._context.jobs.run(
            check_book,
            hotel.path,
            hotel.house.shipped,
            book,
            label=_("Comparing book and record"),
            on_done=self._show,
            on_stopped=self._stopped,
        )

    def _ask(self) -> None:
        title = _("Choose a workbook to compare")
        self._context.files.open(title, "Excel (*.xlsx)", self.compare)

    def _show(self, found: BookCheck) -> None:
        self.found = found
        said = [
            verdict(
                count=found.count,
                cells=found.cells,
                is_same_file=found.is_same_file,
                has_faults=bool(found.faults),
            ),
            *(fault_sentence(fault) for fault in found.faults),
            *reasons_told(found.reasons),
            *remark_lines(
                later=len(found.later),
                bookings=found.has_later_bookings,
                program=found.other_program,
                differs=bool(found.count),
            ),
        ]
        self.told.setText("\n".join(said))
        self.differences.show_rows(found.differences)
        self.reasons.show_rows(found.reasons)
        self.later.show_rows(found.later)
        only_reasons = not found.count and any(not line.agrees for line in found.reasons)
        self.parts.setCurrentWidget(self.reasons if only_reasons else self.differences)
        self.parts.show()

    def _stopped(self) -> None:
        self.told.setText(_("Stopped; nothing was compared."))


def _differences_table() -> RowTable[Difference]:
    return RowTable(
        [
            Column(_("Page"), lambda row: row.sheet),
            Column(_("Cell"), lambda row: row.cell),
            Column(_("What"), difference_kind),
            Column(_("The book says"), lambda row: row.book, hint=difference_sentence),
            Column(_("The record says"), lambda row: row.record, hint=difference_sentence),
        ],
        key=lambda row: (row.why, row.sheet, row.cell),
        name=_("Where they differ"),
        empty=Empty(_("No difference to show.")),
    )


def _reasons_table() -> RowTable[ReasonLine]:
    return RowTable(
        [
            Column(_("Bed"), lambda row: row.bed),
            Column(_("Due"), lambda row: short_day_text(row.due_on), sort=lambda row: row.due_on),
            Column(
                _("Do both agree"),
                lambda row: _("agrees") if row.agrees else _("differs"),
                hint=reason_sentence,
            ),
            Column(_("The book says"), lambda row: row.book, hint=reason_sentence),
            Column(_("The record says"), lambda row: row.record, hint=rests_on_text),
        ],
        key=lambda row: (row.month, row.bed, row.due_on),
        name=_("Why beds were late, line by line"),
        empty=Empty(_("No bed was late.")),
    )


def _later_table(context: Context) -> RowTable[ChangeRow]:
    return RowTable(
        [
            Column(_("Entry"), lambda row: str(row.entry), sort=lambda row: row.entry, right=True),
            Column(
                _("Written down"),
                lambda row: moment_text(row.recorded_at, context.hotel.zone),
                sort=lambda row: row.recorded_at,
            ),
            Column(_("By"), lambda row: row.by),
            Column(_("Kind"), lambda row: fact_kind(row.kind)),
            Column(_("About"), lambda row: row.subject),
            Column(_("What happened"), change_kind),
            Column(_("Old"), old_values, hint=old_values),
            Column(_("New"), new_values, hint=new_values),
        ],
        key=lambda row: (row.entry, row.month, row.kind, row.subject),
        name=_("Written down since, about its months"),
        empty=Empty(_("Nothing was written down since.")),
    )
