"""Public holidays, which clocks in business days leave out."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from hotelwatch.actions.choices import note_holiday
from hotelwatch.core.choice_facts import PublicHoliday
from hotelwatch.core.clocks import holidays
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import DayField, Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _

CARD_PX = 420
Row = tuple[date, str]


class HolidaysPane(QWidget):
    """A list of days, and a form to add one or to take one back."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.table: RowTable[Row] = RowTable(
            [
                Column(_("Day"), lambda row: day_text(row[0]), sort=lambda row: row[0]),
                Column(_("Holiday"), lambda row: row[1]),
            ],
            key=lambda row: row[0],
            name=_("Public holidays"),
            empty=Empty(_("No public holiday is written down yet.")),
            filtered=False,
        )
        self.table.current_changed.connect(self._show)
        title = QLabel(_("Add a public holiday"))
        title.setProperty("role", "heading")
        why = QLabel(
            _(
                "Some local rules count business days: Mondays to Fridays without these days."
                " Days on which nobody looks at beds stand under Rounds, Days."
            ),
            wordWrap=True,
        )
        why.setProperty("role", "muted")
        self.form = Form()
        self.on = self.form.add(_("&Day"), DayField(context.hotel.today()))
        self.name = self.form.add(_("&Name"), QLineEdit())
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.name.returnPressed.connect(self._save)
        self.drop = QPushButton(_("&Take it back"))
        self.drop.clicked.connect(self._drop)
        deed = Deed(_("Name public holidays"), (PublicHoliday,), (self.save, self.drop))
        self.for_others = offer(context, deed)
        card = Card(CARD_PX)
        for widget in (title, why, self.form, self.for_others):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addWidget(self.drop)
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(card)

    def refresh(self) -> None:
        """Read the holidays anew; what is being typed stays."""
        self.table.show_rows(tuple(holidays(self._context.hotel.house).items()))
        self.drop.setEnabled(self.table.current() is not None)

    def _show(self, row: Row | None) -> None:
        self.drop.setEnabled(row is not None)
        if row is not None:
            self.on.set_day(row[0])
            self.name.setText(row[1])

    def _save(self) -> None:
        if not self.name.text().strip():
            self.form.say(self.name, _("Name the holiday."))
            return
        with self._context.notices.refusals():
            note_holiday(self._context.hotel, self.on.day(), self.name.text().strip())
            self.name.clear()
            self.form.settle()
            self.refresh()
            self._context.notices.done(_("The holiday is written down."))

    def _drop(self) -> None:
        row = self.table.current()
        if row is not None:
            with self._context.notices.refusals():
                note_holiday(self._context.hotel, row[0], row[1], holds=False)
                self.refresh()
                self._context.notices.done(_("The day is a business day again."))
