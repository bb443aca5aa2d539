"""A log of heat or cold in the window: what it shows, its chart or table, what is missing."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.house import House
from hotelwatch.core.lethal.curves import LogCurves, LogRow, curves_of
from hotelwatch.core.lethal.verdict import LogVerdict
from hotelwatch.screens.cases.probe_chart import ProbeChart
from hotelwatch.screens.cases.probe_drawing import line_pen
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.look.theme import colours_of
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.lethal import (
    celsius_text,
    curve_text,
    dose_text,
    doses_text,
    explanation,
    headline,
    lack_sentence,
    plain_rule_text,
    row_text,
    stretch_text,
)

SAMPLE_PX = 44
TABLE_PX = 300


class LineSample(QWidget):
    """A piece of a line as the chart draws it."""

    def __init__(self, place: int) -> None:
        """The line at this place of the log."""
        super().__init__()
        self._place = place
        self.setFixedSize(QSize(SAMPLE_PX, 14))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the line."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(line_pen(self._place, colours_of(self.palette())))
            middle = self.height() // 2
            painter.drawLine(0, middle, self.width(), middle)


class LogView(QWidget):
    """One log: in a sentence, as a chart or as a table, probe by probe, and what it lacks."""

    def __init__(self, house: House) -> None:
        """No log yet."""
        super().__init__()
        self._house = house
        self.curves: LogCurves | None = None
        self.headline = text_label("", role="heading")
        self.chart = ProbeChart(house.zone)
        self.chart.reading_changed.connect(self._say_reading)
        self.reading = text_label("", role="muted")
        self._table_place = QVBoxLayout()
        self.table: RowTable[LogRow] | None = None
        self.as_table = QPushButton(_("Show as table"))
        self.as_table.setAutoDefault(True)
        self.as_table.clicked.connect(self._turn)
        self._legend_place, self._told = QVBoxLayout(), QVBoxLayout()
        self._lay_out()

    def show_log(self, verdict: LogVerdict, house: House) -> None:
        """Show what a log shows by the hotel's figures."""
        self._house = house
        figures, method = house.rules.figures, verdict.method
        self.curves = curves_of(verdict, figures)
        self.headline.setText(headline(verdict))
        self.chart.show_curves(self.curves)
        self._reading_hint()
        self._make_table()
        clear_layout(self._legend_place)
        clear_layout(self._told)
        if self.curves is not None:
            self._legend_place.addWidget(self._legend(verdict, self.curves))
            if any(curve.not_counted_from is not None for curve in self.curves.curves):
                said = _("Behind its cross a line is thin: nothing of it counts there.")
                self._legend_place.addWidget(text_label(said, role="muted"))
        if verdict.lacks:
            self._told.addWidget(text_label(_("What it does not show"), role="heading"))
        for lack in verdict.lacks:
            self._told.addWidget(text_label("•  " + lack_sentence(lack, house.zone)))
        for said in (explanation(figures, method), plain_rule_text(figures, method)):
            if said:
                self._told.addWidget(text_label(said, role="muted"))

    def text(self) -> str:
        """Everything said, line by line."""
        return "\n".join(said.text() for said in self.findChildren(QLabel) if said.text())

    # --- making -----------------------------------------------------------------

    def _lay_out(self) -> None:
        table = QWidget()
        table.setLayout(self._table_place)
        self._table_place.setContentsMargins(0, 0, 0, 0)
        self._ways = QStackedWidget()
        self._ways.addWidget(self.chart)
        self._ways.addWidget(table)
        self._ways.setMinimumHeight(TABLE_PX)
        below = QHBoxLayout()
        below.addWidget(self.reading, 1)
        below.addWidget(self.as_table, alignment=Qt.AlignmentFlag.AlignTop)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(6)
        lines.addWidget(self.headline)
        lines.addWidget(self._ways)
        lines.addLayout(below)
        lines.addLayout(self._legend_place)
        lines.addLayout(self._told)

    def _turn(self) -> None:
        to_table = self._ways.currentIndex() == 0
        self._ways.setCurrentIndex(1 if to_table else 0)
        self.as_table.setText(_("Show as chart") if to_table else _("Show as table"))
        self.reading.setVisible(not to_table)
        shown = self.table.view if to_table and self.table is not None else self.chart
        shown.setFocus()

    def _make_table(self) -> None:
        clear_layout(self._table_place)
        self.table = None
        if self.curves is None:
            return
        curves, zone = self.curves, self._house.zone
        columns = [
            Column[LogRow](_("When"), lambda row: moment_text(row.at, zone), lambda row: row.minute)
        ]
        columns += [
            Column[LogRow](
                _("{letter}  {probe}").format(letter=curve.letter, probe=curve.name),
                partial(_reading_of, place),
                partial(_value_of, place),
                right=True,
            )
            for place, curve in enumerate(curves.curves)
        ]
        if curves.dose:
            letter = curves.curves[0].letter
            columns.append(
                Column[LogRow](
                    _("Dose at {letter}").format(letter=letter),
                    lambda row: "" if row.dose is None else dose_text(row.dose),
                    lambda row: row.dose,
                    right=True,
                )
            )
        self.table = RowTable(
            columns,
            key=lambda row: row.minute,
            name=_("Readings of the log in °C"),
            empty=Empty(_("The log has no readings.")),
            filtered=False,
        )
        self.table.show_rows(curves.rows())
        self._table_place.addWidget(self.table)

    def _legend(self, verdict: LogVerdict, curves: LogCurves) -> QWidget:
        legend = QWidget()
        legend.setProperty("role", "plain")
        grid = QGridLayout(legend)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(1, 1)
        read = [one for one in verdict.probes if one.probe.minutes]
        figures = self._house.rules.figures
        top = Qt.AlignmentFlag.AlignTop
        for place, (curve, one) in enumerate(zip(curves.curves, read, strict=True)):
            said = [curve_text(curve)]
            if verdict.is_known:
                said.append(doses_text(one, verdict.method))
            if stretch := stretch_text(one, figures, verdict.method):
                said.append(stretch)
            grid.addWidget(LineSample(place), place, 0, top)
            grid.addWidget(text_label("; ".join(said)), place, 1)
        return legend

    # --- where one stands -----------------------------------------------------------

    def _reading_hint(self) -> None:
        self.reading.setText(
            _("Point at the chart, or go along it with Left and Right, to read it.")
        )

    def _say_reading(self, row: LogRow | None) -> None:
        if row is None or self.curves is None:
            return
        said = row_text(row, self.curves, self._house.zone)
        self.reading.setText(said)
        self.chart.tell(said)


def _reading_of(place: int, row: LogRow) -> str:
    return celsius_text(row.celsius[place])


def _value_of(place: int, row: LogRow) -> float | None:
    return row.celsius[place]
