"""Figures: every number with a meaning, how well it is known, and the hotel's own in its place."""

from __future__ import annotations

from dataclasses import fields

from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from hotelwatch.actions.choices import choose_figure, follow_shipped_figure
from hotelwatch.core.parameters import Figure
from hotelwatch.core.standing import Standing
from hotelwatch.screens.card import Card
from hotelwatch.screens.context import Context
from hotelwatch.screens.forms import TEXT_AIR_PX, FigureField, Form
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.screens.theme import MAIN, Tone
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

CARD_PX = 420


class FiguresPane(QWidget):
    """A table of figures; a form for the hotel's own value of one."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._figure: Figure | None = None
        self.table = _figures_table()
        self.table.current_changed.connect(self._show)
        self.what = QLabel(wordWrap=True)
        self.what.setProperty("role", "heading")
        self.told = QLabel(wordWrap=True)
        self.told.setProperty("role", "muted")
        self.form = Form()
        self.value = self.form.add(_("&Value"), FigureField())
        self.value.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
        self.reason = self.form.add(_("Wh&y"), QLineEdit())
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.follow = QPushButton(_("F&ollow the shipped figure again"))
        self.follow.clicked.connect(self._follow)
        card = Card(CARD_PX)
        for widget in (self.what, self.told, self.form):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addWidget(self.follow)
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(card)

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
        fresh = self._figure is None or self._figure.key != figure.key
        self._figure = figure
        shipped: Figure = getattr(self._context.hotel.house.shipped.figures, figure.key)
        self.what.setText(figure.note)
        self.told.setText(
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
        self.value.setRange(shipped.low, shipped.high)
        self.value.setSuffix(f" {shipped.unit}")
        if fresh:
            self.form.clear()
            self.value.setValue(figure.value)
            self.reason.clear()
        self.follow.setVisible(figure.standing is Standing.CHOSEN)

    def _save(self) -> None:
        if self._figure is None:
            return
        if not self.reason.text().strip():
            self.form.say(self.reason, _("Say why the hotel's figure differs."))
            return
        key, value = self._figure.key, self.value.value()
        with self._context.notices.refusals():
            choose_figure(self._context.hotel, key, value, reason=self.reason.text().strip())
            self.refresh()
            self._context.notices.done(_("The hotel's own figure counts from now on."))

    def _follow(self) -> None:
        if self._figure is not None:
            with self._context.notices.refusals():
                follow_shipped_figure(self._context.hotel, self._figure.key)
                self.refresh()
                self._context.notices.done(_("The shipped figure counts again."))


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
