"""The card beside a table of figures: one figure in words, and the hotel's own value of it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton

from hotelwatch.actions.choices import choose_figure, follow_shipped_figure
from hotelwatch.core.choice_facts import FigureChosen
from hotelwatch.core.odds_figures import OddsFigure
from hotelwatch.core.parameters import Figure
from hotelwatch.core.standing import Standing
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import TEXT_AIR_PX, Form
from hotelwatch.screens.forms.figure_field import FigureField
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _

CARD_PX = 420


class FigureCard(Card):
    """A figure's meaning and source, a field for the hotel's own value, and its reason."""

    chosen = Signal()
    """The hotel's own value was written down, or taken back."""

    def __init__(self, context: Context, *, value_label: str, saved: str) -> None:
        """No figure yet; ``saved`` is told once the hotel's own value counts."""
        super().__init__(CARD_PX)
        self._context = context
        self._saved = saved
        self._key = ""
        self._value: float | None = None
        self.what = QLabel(wordWrap=True)
        self.what.setProperty("role", "heading")
        self.told = QLabel(wordWrap=True)
        self.told.setProperty("role", "muted")
        self.form = Form()
        self.value = self.form.add(value_label, FigureField())
        self.value.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
        self.reason = self.form.add(_("Wh&y"), QLineEdit())
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.follow = QPushButton(_("F&ollow the shipped figure again"))
        self.follow.clicked.connect(self._follow)
        changing = (self.form, self.save, self.follow)
        self.for_others = offer(context, Deed(_("Choose a figure"), (FigureChosen,), changing))
        for widget in (self.what, self.told, self.form, self.for_others):
            self.body.addWidget(widget)
        self.body.addStretch()
        self.foot.addWidget(self.follow)
        self.foot.addStretch()
        self.foot.addWidget(self.save)

    def about(self) -> str:
        """The figure in view."""
        return self._key

    def show_figure(self, figure: Figure | OddsFigure, shipped: Figure | OddsFigure) -> bool:
        """Put a figure in view beside its shipped values; True where it is another than before."""
        fresh = self._key != figure.key
        is_as_before = not fresh and self._value == figure.value
        self._key, self._value = figure.key, figure.value
        self.what.setText(figure.note)
        self.value.setRange(shipped.low, shipped.high)
        if not is_as_before:
            # Saved, or the shipped one again: what was typed for the one before is done with.
            self.form.clear()
            self.value.setValue(figure.value)
            self.reason.clear()
            self.form.settle()
        self.follow.setVisible(figure.standing is Standing.CHOSEN)
        return fresh

    def _save(self) -> None:
        reason = self.reason.text().strip()
        if not self._key:
            return
        if not reason:
            self.form.say(self.reason, _("Say why the hotel's figure differs."))
            return
        with self._context.notices.refusals():
            choose_figure(self._context.hotel, self._key, self.value.value(), reason=reason)
            self.reason.clear()
            self.form.settle()
            self._context.notices.done(self._saved)
            self.chosen.emit()

    def _follow(self) -> None:
        if self._key:
            with self._context.notices.refusals():
                follow_shipped_figure(self._context.hotel, self._key)
                self._context.notices.done(_("The shipped figure counts again."))
                self.chosen.emit()
