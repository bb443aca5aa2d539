"""Figures: every number with a meaning, how well it is known, and the hotel's own in its place."""

from __future__ import annotations

from dataclasses import fields

from PySide6.QtWidgets import QHBoxLayout, QWidget

from hotelwatch.core.parameters import Figure
from hotelwatch.core.standing import Standing
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.figure_card import FigureCard
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label


class FiguresPane(QWidget):
    """A table of figures; a form for the hotel's own value of one."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.table = _figures_table()
        self.table.current_changed.connect(self._show)
        self.card = FigureCard(
            context,
            value_label=_("Val&ue"),
            saved=_("The hotel's own figure counts from now on."),
        )
        self.card.chosen.connect(self.refresh)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(self.card)

    def bring(self, _holder: QWidget, about: object) -> None:
        """Put the figure of a form that was half entered into view; LookupError if it is gone."""
        self.refresh()
        if not self.table.select(about):
            raise LookupError(about)

    def refresh(self) -> None:
        """Read the figures anew; the hotel's own stand first."""
        known = self._context.hotel.house.rules.figures
        figures = [getattr(known, field.name) for field in fields(known)]
        figures.sort(key=lambda figure: figure.standing is not Standing.CHOSEN)
        self.table.show_rows(figures)
        if self.table.current() is None and figures:
            self.table.select(figures[0].key)
        self._show(self.table.current())

    def _show(self, figure: Figure | None) -> None:
        if figure is None:
            return
        shipped: Figure = getattr(self._context.hotel.house.shipped.figures, figure.key)
        self.card.show_figure(figure, shipped)
        self.card.value.setSuffix(f" {shipped.unit}")
        self.card.told.setText(
            _(
                "Shipped: {value:g} {unit}. Plausible from {low:g} to {high:g}. {standing}."
                " {source}."
            ).format(
                value=shipped.value,
                unit=shipped.unit,
                low=shipped.low,
                high=shipped.high,
                standing=label(shipped.standing),
                source=shipped.source,
            )
        )


def _figures_table() -> RowTable[Figure]:
    return RowTable(
        [
            Column[Figure](_("What it is"), lambda row: row.note, wraps=True),
            Column[Figure](
                _("Value"), lambda row: f"{row.value:g}", sort=lambda row: row.value, right=True
            ),
            Column[Figure](_("Unit"), lambda row: row.unit, wraps=True),
            Column[Figure](
                _("How well it is known"),
                lambda row: label(row.standing),
                tint=lambda row: Tone.DONE if row.standing is Standing.CHOSEN else None,
                wraps=True,
            ),
        ],
        key=lambda row: row.key,
        name=_("Figures"),
        empty=Empty(_("No figure is known.")),
    )
