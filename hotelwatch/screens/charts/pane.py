"""A chart with its title, a table of the same numbers in its place, and a picture of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QMarginsF, QRectF, Qt
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
)

from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import show_file
from hotelwatch.screens.charts.chart import Chart
from hotelwatch.screens.look.theme import QUIET
from hotelwatch.screens.tables.row_table import RowTable
from hotelwatch.wording.language import _

PAPER_MARGIN_MM = 15.0
FILE_NAME_LETTERS = 40


class ChartPane(QFrame):
    """One chart on a card."""

    def __init__(self, context: Context, title: str, chart: Chart, *, table: RowTable[Any]) -> None:
        """The chart shows first; As table puts the table in its place."""
        super().__init__()
        self.setProperty("role", "card")
        self._context = context
        self.chart, self.table = chart, table
        self.title = QLabel(title, wordWrap=True)
        self.title.setProperty("role", "heading")
        self.told = QLabel(wordWrap=True)
        self.told.setProperty("role", "muted")
        self.as_table = QPushButton(_("As table"))
        self.as_table.setCheckable(True)
        self.save = QPushButton(_("Picture…"))
        for button in (self.as_table, self.save):
            button.setProperty("role", QUIET)
        self.as_table.setAccessibleName(_("Show as table: {title}").format(title=title))
        self.save.setAccessibleName(_("Save picture: {title}").format(title=title))
        self.as_table.toggled.connect(self._turn)
        self.save.clicked.connect(self._ask_where)
        self._lay_out()
        self.show_empty("")

    def show_empty(self, text: str) -> None:
        """Say why there is nothing to draw; empty: there is something."""
        self._why.setText(text)
        self._turn(self.as_table.isChecked())

    def _lay_out(self) -> None:
        self._why = QLabel(wordWrap=True, alignment=Qt.AlignmentFlag.AlignCenter)
        self._both = QStackedWidget()
        for one in (self.chart, self.table, self._why):
            # The chart alone says how large the card is.
            if one is not self.chart:
                ignored = QSizePolicy.Policy.Ignored
                one.setSizePolicy(ignored, ignored)
            self._both.addWidget(one)
        top = QHBoxLayout()
        top.setSpacing(0)
        top.addWidget(self.title, 1)
        top.addWidget(self.as_table)
        top.addWidget(self.save)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(12, 4, 12, 8)
        lines.setSpacing(2)
        lines.addLayout(top)
        lines.addWidget(self.told)
        lines.addWidget(self._both, 1)

    def _turn(self, is_table: bool) -> None:
        is_empty = bool(self._why.text())
        shown = self._why if is_empty else self.table if is_table else self.chart
        self._both.setCurrentWidget(shown)
        self.as_table.setEnabled(not is_empty)
        self.as_table.setText(_("As chart") if is_table else _("As table"))
        self.save.setEnabled(not is_empty)

    # --- on paper ------------------------------------------------------------------

    def _ask_where(self) -> None:
        path = self._context.hotel.path
        letters = [one if one.isalnum() else "-" for one in self.title.text().lower()]
        name = "".join(letters)[:FILE_NAME_LETTERS].strip("-")
        self._context.files.save(
            _("Save the chart"),
            _("Pictures and papers ({patterns})").format(patterns="*.png *.pdf"),
            path.with_name(f"{path.stem}-{name}.png"),
            self._save_to,
        )

    def _save_to(self, target: Path) -> None:
        with self._context.notices.refusals():
            if target.suffix.lower() == ".pdf":
                was_written = self._write_pdf(target)
            else:
                was_written = self.chart.picture().save(str(target))
            if not was_written:
                raise Refusal("read_only_folder", path=str(target))
            self._context.notices.done(
                _("The chart is saved: {file}").format(file=target.name),
                _("Open"),
                lambda: show_file(self._context, target),
            )

    def _write_pdf(self, target: Path) -> bool:
        writer = QPdfWriter(str(target))
        writer.setTitle(self.title.text())
        margins = QMarginsF(*[PAPER_MARGIN_MM] * 4)
        page = QPageLayout(
            QPageSize(QPageSize.PageSizeId.A4),
            QPageLayout.Orientation.Landscape,
            margins,
            QPageLayout.Unit.Millimeter,
        )
        writer.setPageLayout(page)
        painter = QPainter()
        if not painter.begin(writer):
            return False
        picture = self.chart.picture()
        wide = float(painter.viewport().width())
        line = painter.fontMetrics().height()
        painter.drawText(QRectF(0, 0, wide, 2 * line), Qt.AlignmentFlag.AlignLeft, self._headed())
        high = min(
            wide * picture.height() / picture.width(), painter.viewport().height() - 4 * line
        )
        into = QRectF(0, 3 * line, high * picture.width() / picture.height(), high)
        painter.drawImage(into, picture)
        return bool(painter.end())

    def _headed(self) -> str:
        described = self._context.hotel.house.hotel
        if described is None:
            return self.title.text()
        return _("{hotel}: {title}").format(hotel=described.name, title=self.title.text())
