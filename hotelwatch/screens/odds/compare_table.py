"""The numbers of a comparison of rules in one setting: today, as tried, and the change."""

from __future__ import annotations

from dataclasses import dataclass

from hotelwatch.core.odds.simulation.measures import Comparison, Estimate
from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _
from hotelwatch.wording.simulation import measure_cells

NO_TRIAL = ("–", "–")


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """A measure in words, and its numbers to sort by."""

    place: int
    cells: tuple[str, ...]
    """What, today, tried, change."""
    today: float | None
    tried: float | None
    change: float | None


def compared_rows(told: Comparison, stance: Stance) -> tuple[ComparedRow, ...]:
    """Every measure of a comparison in a setting."""
    rows = []
    for place, row in enumerate(told.rows):
        cells = measure_cells(row, stance)
        rows.append(
            ComparedRow(
                place=place,
                cells=cells if row.tried else (*cells, *NO_TRIAL),
                today=_value(row.usual[stance]),
                tried=_value(row.tried.get(stance)),
                change=_value(row.change.get(stance)),
            )
        )
    return tuple(rows)


def compared_table() -> RowTable[ComparedRow]:
    """An empty table for them."""
    return RowTable(
        [
            Column[ComparedRow](
                _("A year"), lambda row: row.cells[0], sort=lambda row: row.place, wraps=True
            ),
            Column[ComparedRow](
                _("Today"), lambda row: row.cells[1], sort=lambda row: row.today, wraps=True
            ),
            Column[ComparedRow](
                _("Tried"), lambda row: row.cells[2], sort=lambda row: row.tried, wraps=True
            ),
            Column[ComparedRow](
                _("Change"), lambda row: row.cells[3], sort=lambda row: row.change, wraps=True
            ),
        ],
        key=lambda row: row.place,
        name=_("Today's rule and the tried one, simulated"),
        empty=Empty(_("Nothing was simulated yet.")),
        filtered=False,
    )


def _value(told: Estimate | None) -> float | None:
    return None if told is None else told.value
