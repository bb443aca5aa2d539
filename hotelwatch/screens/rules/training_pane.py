"""Training: who was trained in what and when, who is due again, and a form to add one."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from hotelwatch.actions.trainings import record_training
from hotelwatch.core.people_facts import TrainingRecorded, TrainingTopic
from hotelwatch.core.problems import Refusal
from hotelwatch.core.trainings import TrainingState, training_states
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import DayField, Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.problems import refusal_sentence

CARD_PX = 420


class TrainingPane(QWidget):
    """Each topic that each person needs, with when it was last and when it comes again."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.table = _states_table()
        self.table.current_changed.connect(self._show)
        title = QLabel(_("Write down a training"))
        title.setProperty("role", "heading")
        why = QLabel(
            _(
                "At the start, with a new task, and again after the days set under Figures, in a"
                " language that the person understands. Which topics a role needs is common"
                " practice; local rules go before it."
            ),
            wordWrap=True,
        )
        why.setProperty("role", "muted")
        self._make_form()
        card = Card(CARD_PX)
        for widget in (title, why, self.form, self.for_others):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addWidget(self.table, 1)
        both.addWidget(card)

    def _make_form(self) -> None:
        self.form = Form()
        self.person = self.form.add(_("&Who"), QLineEdit())
        self.subject = self.form.add(_("In wha&t"), QComboBox())
        for topic in TrainingTopic:
            self.subject.addItem(label(topic), topic.value)
        self.language = self.form.add(_("In which &language"), QLineEdit())
        self.on = self.form.add(_("&Day"), DayField(self._context.hotel.today()))
        self.by = self.form.add(_("Trained &by"), QLineEdit())
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        for line in (self.person, self.language, self.by):
            line.returnPressed.connect(self._save)
        deed = Deed(_("Record a training"), (TrainingRecorded,), (self.save,))
        self.for_others = offer(self._context, deed)

    def refresh(self) -> None:
        """Read the trainings anew; what is being typed stays."""
        hotel = self._context.hotel
        self.table.show_rows(training_states(hotel.house, hotel.today()))

    def _show(self, row: TrainingState | None) -> None:
        if row is not None:
            self.person.setText(row.person)
            self.subject.setCurrentIndex(self.subject.findData(row.subject.value))

    def _save(self) -> None:
        told = TrainingRecorded(
            person=self.person.text(),
            subject=TrainingTopic(self.subject.currentData()),
            language=self.language.text(),
            on=self.on.day(),
            by=self.by.text(),
        )
        fields = {
            "training_needs_name": self.person,
            "training_needs_language": self.language,
            "training_needs_trainer": self.by,
            "day_to_come": self.on,
        }
        try:
            record_training(self._context.hotel, told)
        except Refusal as refused:
            if refused.code not in fields:
                self._context.notices.refuse(refused)
                return
            self.form.say(fields[refused.code], " ".join(refusal_sentence(refused)).strip())
            return
        self.form.settle()
        self.refresh()
        self._context.notices.done(_("The training is written down."))


def _states_table() -> RowTable[TrainingState]:
    return RowTable(
        [
            Column(_("Person"), lambda row: row.person),
            Column(_("In what"), lambda row: label(row.subject)),
            Column(
                _("Last on"),
                lambda row: day_text(row.last.on) if row.last else _("nothing written down"),
                sort=lambda row: row.last.on if row.last else None,
            ),
            Column(_("Language"), lambda row: row.last.language if row.last else ""),
            Column(
                _("Again by"),
                lambda row: day_text(row.due_on) if row.due_on else "",
                sort=lambda row: row.due_on,
            ),
            Column(
                _("State"),
                lambda row: _("overdue") if row.is_overdue else _("not due"),
                tint=lambda row: Tone.LATE if row.is_overdue else None,
            ),
        ],
        key=lambda row: (row.person, row.subject.value),
        name=_("Training"),
        empty=Empty(_("Nobody works here yet, as far as this file knows.")),
    )
