"""Seasons and events: days on which cycles run faster. How much is the hotel's assumption."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.calendar import MOST_FASTER_PERCENT, note_season
from hotelwatch.core.round_facts import SeasonNoted
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.fields import DayField, Form
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.rounds import season_sentence

USUAL_LENGTH_DAYS = 89
USUAL_FASTER_PERCENT = 50
STEP_PERCENT = 10


class SeasonForm(QWidget):
    """One season: its name, its days, and how much faster cycles run on them."""

    done = Signal()
    """Something was written down."""

    def __init__(self, context: Context) -> None:
        """A new season from today on."""
        super().__init__()
        self._context = context
        today = context.hotel.today()
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.form = Form()
        self.name = self.form.add(_("Na&me"), QLineEdit())
        self.name.setPlaceholderText(_("Warm nights, after the fair"))
        self.first = self.form.add(_("F&rom"), DayField(today))
        self.last = self.form.add(_("&Until"), DayField(today + timedelta(days=USUAL_LENGTH_DAYS)))
        self.faster = self.form.add(_("F&aster by"), QSpinBox())
        self.faster.setRange(1, MOST_FASTER_PERCENT)
        self.faster.setSingleStep(STEP_PERCENT)
        self.faster.setSuffix(_(" %"))
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.drop = QPushButton(_("Take it &back"))
        for changed in (self.first.chosen, self.last.chosen, self.faster.valueChanged):
            changed.connect(self._tell)
        self.name.textChanged.connect(self._tell)
        self.save.clicked.connect(self._save)
        self.drop.clicked.connect(self._drop)
        self._lay_out()
        self.take(None)

    def take(self, season: SeasonNoted | None) -> None:
        """Offer this season, or a new one."""
        self.form.clear()
        self.title.setText(_("A new season") if season is None else season.name)
        self.name.setReadOnly(season is not None)
        self.drop.setVisible(season is not None)
        if season is None:
            self.name.clear()
            self.faster.setValue(USUAL_FASTER_PERCENT)
        else:
            self.name.setText(season.name)
            self.first.set_day(season.from_on)
            self.last.set_day(season.until_on)
            self.faster.setValue(season.faster_percent)
        self.form.settle()
        self._tell()

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.addWidget(self.drop)
        buttons.addStretch()
        buttons.addWidget(self.save)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.title)
        lines.addWidget(self.form)
        lines.addWidget(self.note)
        lines.addStretch()
        lines.addLayout(buttons)

    def _told(self, *, holds: bool = True) -> SeasonNoted:
        name = " ".join(self.name.text().split())
        return SeasonNoted(name, self.first.day(), self.last.day(), self.faster.value(), holds)

    def _tell(self, *_what: object) -> None:
        told = self._told()
        self.note.setText(season_sentence(replace(told, name=told.name or _("A new season"))))

    def _save(self) -> None:
        self.form.clear()
        told = self._told()
        if not told.name:
            self.form.say(self.name, _("A season needs a name."))
        if told.until_on < told.from_on:
            self.form.say(self.last, _("The last day comes before the first."))
        if not self.form.has_problems():
            self._note(told, _("{season} is noted: due dates move at once."))

    def _drop(self) -> None:
        self._note(self._told(holds=False), _("{season} is taken back: due dates move at once."))

    def _note(self, told: SeasonNoted, said: str) -> None:
        with self._context.notices.refusals():
            note_season(self._context.hotel, told)
            self._context.notices.done(said.format(season=told.name))
            self.take(told if told.holds else None)
            self.done.emit()


def seasons_table() -> RowTable[SeasonNoted]:
    """Seasons that hold, by their first day."""
    return RowTable(
        [
            Column[SeasonNoted](_("Season"), lambda row: row.name, hint=season_sentence),
            Column[SeasonNoted](
                _("From"), lambda row: day_text(row.from_on), sort=lambda row: row.from_on
            ),
            Column[SeasonNoted](
                _("Until"), lambda row: day_text(row.until_on), sort=lambda row: row.until_on
            ),
            Column[SeasonNoted](
                _("Faster by"),
                lambda row: _("{percent} % (assumption)").format(percent=row.faster_percent),
                sort=lambda row: row.faster_percent,
            ),
        ],
        key=lambda row: row.name,
        name=_("Seasons and events"),
        empty=Empty(_("No season is noted: every day counts as one day of a cycle.")),
        filtered=False,
    )
