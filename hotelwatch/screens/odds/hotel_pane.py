"""The hotel: how many infested rooms to expect, floor by floor, and how that went over time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QLabel, QTabWidget, QVBoxLayout, QWidget

from hotelwatch.actions.odds import OddsView
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.charts.curves import Axes, Curve, CurveChart, Point
from hotelwatch.screens.odds.check_pane import CheckPane
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_and_month_text, day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import hotel_lines, level_text, numbers_text, percents_text

if TYPE_CHECKING:
    from hotelwatch.core.odds.rows import GroupRow, PastPoint


class HotelPane(QWidget):
    """Sentences, the floors and wings, and a chart with its table."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``show_view`` fills it."""
        super().__init__()
        self.expected = QLabel(wordWrap=True)
        self.expected.setProperty("role", "heading")
        self.told = QLabel(wordWrap=True)
        self.floors = _groups_table(_("Floor"), _("Floors"))
        self.wings = _groups_table(_("Wing"), _("Wings"))
        self.past = _past_table()
        self.chart = CurveChart(_("Expected infested rooms over time; the table has the same"))
        tables = QTabWidget(documentMode=True)
        tables.tabBar().setAccessibleName(_("Parts of the hotel"))
        tables.addTab(self.floors, _("Floors"))
        tables.addTab(self.wings, _("Wings"))
        tables.addTab(self.past, _("Over time"))
        self.check = CheckPane(context)
        tables.addTab(self.check, _("Do they come true?"))
        both = QHBoxLayout()
        both.setSpacing(12)
        both.addWidget(tables, 1)
        both.addWidget(self.chart, 1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self.expected)
        lines.addWidget(self.told)
        lines.addLayout(both, 1)

    def show_view(self, view: OddsView) -> None:
        """Show the hotel of these odds."""
        first, *others = hotel_lines(view.hotel, view.reckoning.rules)
        self.expected.setText(first)
        self.told.setText(" ".join(others))
        self.check.show_view(view)
        self.floors.show_rows(view.floors)
        self.wings.show_rows(view.wings)
        self.past.show_rows(reversed(view.past))
        points = tuple(
            Point(
                float(number),
                min(row.expected.values()),
                row.expected[Stance.CENTRAL],
                max(row.expected.values()),
            )
            for number, row in enumerate(view.past)
        )
        axes = Axes(
            up=_("Expected infested rooms that nobody knew of, as the record then stood"),
            x_text=lambda x: day_and_month_text(view.past[int(x)].on),
            y_text=level_text,
        )
        curve = Curve(_("expected"), points)
        self.chart.show_curves((curve,) if points else (), axes, at=len(points) - 1)


def _groups_table(title: str, name: str) -> RowTable[GroupRow]:
    return RowTable(
        [
            Column(title, lambda row: row.name),
            Column(_("Rooms"), lambda row: str(row.rooms), sort=lambda row: row.rooms, right=True),
            Column(
                _("Expected infested"),
                lambda row: numbers_text(row.expected),
                sort=lambda row: row.expected[Stance.CENTRAL],
                wraps=True,
            ),
            Column(
                _("None there (assumed)"),
                lambda row: percents_text(row.none),
                sort=lambda row: row.none[Stance.CENTRAL],
                wraps=True,
            ),
        ],
        key=lambda row: row.name,
        name=name,
        empty=Empty(_("No room is known yet. Load a roster first.")),
        filtered=False,
    )


def _past_table() -> RowTable[PastPoint]:
    return RowTable(
        [
            Column(_("Day"), lambda row: day_text(row.on), sort=lambda row: row.on.toordinal()),
            Column(
                _("Expected infested"),
                lambda row: numbers_text(row.expected),
                sort=lambda row: row.expected[Stance.CENTRAL],
                wraps=True,
            ),
        ],
        key=lambda row: row.on,
        name=_("Expected infested rooms over time"),
        empty=Empty(_("No record yet.")),
        filtered=False,
    )
