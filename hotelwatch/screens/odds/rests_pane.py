"""What the odds rest on: every figure with its three values, how well it is known, from where."""

from __future__ import annotations

from dataclasses import fields

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from hotelwatch.actions.odds import OddsView
from hotelwatch.core.odds_figures import OddsFigure, OddsFigures
from hotelwatch.core.standing import Standing
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.figure_card import FigureCard
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import figure_text, known_text

TONES = {Standing.CHOSEN: Tone.DONE, Standing.MEASURED: Tone.DONE, Standing.ASSUMPTION: Tone.DUE}


class RestsPane(QWidget):
    """A table of figures; a form for the hotel's own value of one."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``show_view`` fills it."""
        super().__init__()
        self._context = context
        told = QLabel(
            _(
                "Most of these figures nobody has measured in hotels. Each has a central, a"
                " cautious and an optimistic value; every result is shown as the range of the"
                " three. Your record replaces some of them once enough stands behind it."
            ),
            wordWrap=True,
        )
        told.setProperty("role", "muted")
        self.table = _figures_table()
        self.table.current_changed.connect(self._show)
        self.card = FigureCard(
            context,
            value_label=_("&Central value"),
            saved=_("The hotel's own figure counts from now on; its range moved with it."),
        )
        both = QHBoxLayout()
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(self.card)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(told)
        lines.addLayout(both, 1)

    def bring(self, _holder: QWidget, about: object) -> None:
        """Put the figure of a form that was half entered into view; LookupError if it is gone."""
        if self.table.current() is None:
            self._show_figures(self._context.hotel.house.rules.odds.figures)
        if not self.table.select(about):
            raise LookupError(about)

    def show_view(self, view: OddsView) -> None:
        """Show the figures that count; those measured or chosen here stand first."""
        self._show_figures(view.reckoning.rules.figures)

    def _show_figures(self, known: OddsFigures) -> None:
        figures: list[OddsFigure] = [getattr(known, field.name) for field in fields(known)]
        own = (Standing.MEASURED, Standing.CHOSEN)
        figures.sort(key=lambda figure: figure.standing not in own)
        self.table.show_rows(figures)
        if self.table.current() is None and figures:
            self.table.select(figures[0].key)
        self._show(self.table.current())

    def _show(self, figure: OddsFigure | None) -> None:
        if figure is None:
            return
        shipped: OddsFigure = getattr(self._context.hotel.house.shipped.odds.figures, figure.key)
        self.card.show_figure(figure, shipped)
        self.card.told.setText(
            _(
                "Shipped: {value:g}, cautious {cautious:g}, optimistic {optimistic:g} {unit}."
                " Plausible from {low:g} to {high:g}. {source}."
            ).format(
                value=shipped.value,
                cautious=shipped.cautious,
                optimistic=shipped.optimistic,
                unit=shipped.unit,
                low=shipped.low,
                high=shipped.high,
                source=shipped.source,
            )
        )


def _figures_table() -> RowTable[OddsFigure]:
    return RowTable(
        [
            Column[OddsFigure](_("What it is"), lambda row: row.note, wraps=True),
            Column[OddsFigure](_("Values"), figure_text, sort=lambda row: row.value, wraps=True),
            Column[OddsFigure](
                _("Known"),
                lambda row: known_text(row.standing),
                tint=lambda row: TONES.get(row.standing),
            ),
        ],
        key=lambda row: row.key,
        name=_("Figures of the odds"),
        empty=Empty(_("No figure is known.")),
    )
