"""The numbers of the picture of cycles as tables, one for each thing it can show."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtWidgets import QStackedWidget

from hotelwatch.actions.cycle_worth import Weighed
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.odds.cycle_measures import Measure
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class LengthRow:
    """A cycle length with what each line says of it."""

    days: int
    is_today: bool
    is_chosen: bool
    texts: tuple[str, ...]
    values: tuple[float, ...]
    """Central ones, by which columns sort."""


class MeasureTables(QStackedWidget):
    """A table for each measure; the one in view has the same numbers as the picture."""

    def __init__(self, measures: Sequence[Measure]) -> None:
        """Nothing weighed yet."""
        super().__init__()
        self._measures = tuple(measures)
        self.tables = tuple(_table(measure) for measure in self._measures)
        for table in self.tables:
            self.addWidget(table)

    def show_weighed(self, weighed: Weighed, place: int) -> None:
        """Show what was weighed, of the measure at a place, the length chosen in view."""
        table = self.tables[place]
        table.show_rows(length_rows(self._measures[place], weighed))
        table.select(weighed.asked.tried.cycle_days)
        self.setCurrentIndex(place)


def length_rows(measure: Measure, weighed: Weighed) -> tuple[LengthRow, ...]:
    """Every cycle length that was weighed, as a measure says it."""
    asked = weighed.asked
    by_line = [
        tuple(
            (line.said(row, weighed), line.valued(row, weighed)[Stance.CENTRAL])
            for row in line.rows(weighed)
        )
        for line in measure.lines
    ]
    return tuple(
        LengthRow(
            days=row.cycle_days,
            is_today=row.cycle_days == asked.basis.today.cycle_days,
            is_chosen=row.cycle_days == asked.tried.cycle_days,
            texts=tuple(cells[place][0] for cells in by_line),
            values=tuple(cells[place][1] for cells in by_line),
        )
        for place, row in enumerate(weighed.tried)
    )


def _table(measure: Measure) -> RowTable[LengthRow]:
    def cell(place: int, name: str) -> Column[LengthRow]:
        return Column(
            name[:1].upper() + name[1:],
            lambda row: row.texts[place],
            sort=lambda row: row.values[place],
            wraps=True,
        )

    return RowTable(
        [
            Column(_("A look every"), _days_text, sort=lambda row: row.days),
            *(cell(place, line.name) for place, line in enumerate(measure.lines)),
        ],
        key=lambda row: row.days,
        name=measure.up,
        empty=Empty(_("Nothing was worked out yet.")),
        filtered=False,
    )


def _days_text(row: LengthRow) -> str:
    said = days_text(row.days)
    if row.is_today:
        return _("{days}, today").format(days=said)
    return _("{days}, chosen").format(days=said) if row.is_chosen else said
