"""Blind trials: the dummies hidden so far, the forms for them, and what they showed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.odds import OddsView
from hotelwatch.core.odds.learning.estimates import Estimate
from hotelwatch.core.odds.learning.trials import Trial, TrialState, trials
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.layout.flow import Flow
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.odds.pair_form import PairForm
from hotelwatch.screens.odds.trial_forms import EndForm, HideForm, MistakeForm, TrialForm
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import place_label
from hotelwatch.wording.trials import (
    about_trials,
    finds_sentence,
    introductions_sentence,
    needed_sentence,
    no_insect,
    notice_sentence,
    pairs_sentence,
    people_lines,
    says_nothing_lines,
    span_text,
    stands_text,
    trial_sentence,
    where_text,
)

CARD_PX = 420
TONES = {TrialState.FOUND: Tone.DONE}
PlaceRow = tuple[str, Estimate]


class TrialsPane(QWidget):
    """Dummies and how places fared at the left; what was learned, or a form, at the right."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``show_view`` fills it."""
        super().__init__()
        self._context = context
        self._opener: QPushButton | None = None
        self.hide_form, self.end_form = HideForm(context), EndForm(context)
        self.pair_form, self.mistake_form = PairForm(context), MistakeForm(context)
        self.forms: tuple[TrialForm, ...] = (
            self.hide_form,
            self.end_form,
            self.pair_form,
            self.mistake_form,
        )
        self._buttons = Flow()
        self.to_hide = self._opens(_("Hide a &dummy…"), self.hide_form)
        self.to_hide.setProperty("role", MAIN)
        self.to_end = self._opens(_("E&nd a trial…"), self.end_form)
        self.to_pair = self._opens(_("&Two blind looks…"), self.pair_form)
        self.to_mistake = self._opens(_("Ta&ke one back…"), self.mistake_form)
        self.table = _trials_table(self._hide_first)
        self.table.activated.connect(self._end)
        self.table.current_changed.connect(self._tell)
        self.told = QLabel(wordWrap=True)
        self.by_place = _places_table()
        self._places_title = QLabel(
            _("How well a deep check sees, by place (right nine times in ten)")
        )
        self._places_title.setProperty("role", "heading")
        self._card = Card(CARD_PX)
        self._side = QStackedWidget()
        self._side.addWidget(self._card)
        for form in self.forms:
            self._side.addWidget(form)
            form.done.connect(self._show_learned)
        self._lay_out()

    def show_view(self, view: OddsView) -> None:
        """Show the trials on record, and what they showed."""
        self._show_trials()
        self._say_learned(view)
        places = sorted(view.learned.by_place.items(), key=lambda row: place_label(row[0]))
        self.by_place.show_rows(places)
        for widget in (self._places_title, self.by_place):
            widget.setVisible(bool(places))

    def unsaved(self) -> tuple[str, ...]:
        """Forms begun but not saved."""
        return tuple(
            _("Not saved: “{form}”.").format(form=form.title.text())
            for form in self.forms
            if form.is_begun()
        )

    def bring(self, holder: QWidget, _about: object) -> None:
        """Open a form that was half entered."""
        if isinstance(holder, TrialForm):
            self.show_form(holder)

    def show_form(self, form: TrialForm, opener: QPushButton | None = None) -> None:
        """Open a form at the side and stand in its first field."""
        self._opener = opener
        form.begin(self.table.current())
        self._side.setCurrentWidget(form)
        form.setFocus()

    def text(self) -> str:
        """Everything said of what was learned, line by line."""
        return "\n".join(said.text() for said in self._card.findChildren(QLabel))

    # --- what is shown --------------------------------------------------------

    def _show_trials(self) -> None:
        rows = trials(self._context.hotel.house)
        self.table.show_rows(rows)
        self._tell(self.table.current())
        self.to_end.setEnabled(any(row.ended is None for row in rows))
        self.to_mistake.setEnabled(bool(rows))

    def _say_learned(self, view: OddsView) -> None:
        learned, figures = view.learned, view.house.rules.odds.figures
        notice = figures.notice_deep
        clear_layout(self._card.body)
        self._say(_("What was learned so far"), role="heading")
        self._say(notice_sentence(learned, notice))
        self._say(needed_sentence(learned, notice))
        for line in says_nothing_lines(learned):
            self._say(line, role="muted")
        self._say(_("Who looked"), role="heading")
        people = list(people_lines(learned))
        for line in people or [_("No look has come across a dummy yet.")]:
            self._say(line)
        self._say(_("Beside the dummies"), role="heading")
        if learned.pairs is not None:
            self._say(pairs_sentence(learned.pairs))
        self._say(finds_sentence(view.by_finds, notice))
        rate = figures.introductions_per_room_year
        self._say(introductions_sentence(learned.introductions, rate))
        self._say(no_insect(), role="muted")
        self._card.body.addStretch()

    def _say(self, text: str, *, role: str = "") -> None:
        self._card.body.addWidget(text_label(text, role=role))

    def _show_learned(self) -> None:
        """A form was saved or left: back to what was learned, and to what opened it."""
        self._side.setCurrentWidget(self._card)
        self._show_trials()
        if self._opener is not None and self._opener.isEnabled():
            self._opener.setFocus()
        else:
            self.to_hide.setFocus()

    def _tell(self, row: Trial | None) -> None:
        """All that is known of the trial in view, below the list."""
        self.told.setVisible(row is not None)
        self.told.setText("" if row is None else trial_sentence(row))

    # --- what a person does ---------------------------------------------------

    def _hide_first(self) -> None:
        self.show_form(self.hide_form, self.to_hide)

    def _end(self, row: Trial) -> None:
        if row.ended is None:
            self.show_form(self.end_form, self.to_end)

    # --- making ---------------------------------------------------------------

    def _opens(self, text: str, form: TrialForm) -> QPushButton:
        button = QPushButton(text)
        button.setAutoDefault(True)
        button.clicked.connect(lambda: self.show_form(form, button))
        self._buttons.addWidget(button)
        return button

    def _lay_out(self) -> None:
        told = QLabel(
            _(
                "For whoever hides dummies: nobody who looks at beds should see this list. Trials"
                " measure the house and its ways, never a person."
            ),
            wordWrap=True,
        )
        told.setProperty("role", "muted")
        bar = QWidget()
        bar.setLayout(self._buttons)
        left = QVBoxLayout()
        for widget, share in (
            (told, 0),
            (bar, 0),
            (self.table, 3),
            (self.told, 0),
            (self._places_title, 0),
            (self.by_place, 2),
        ):
            left.addWidget(widget, share)
        self._side.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addLayout(left, 1)
        both.addWidget(self._side)
        for widget in (self._places_title, self.by_place):
            widget.hide()


def _trials_table(step: Callable[[], object]) -> RowTable[Trial]:
    return RowTable(
        [
            Column[Trial](_("Dummy"), lambda row: row.hidden.dummy),
            Column[Trial](_("Where"), lambda row: where_text(row.hidden), wraps=True),
            Column[Trial](
                _("Hidden on"),
                lambda row: short_day_text(row.hidden.hidden_on),
                sort=lambda row: row.hidden.hidden_on,
            ),
            Column[Trial](_("By"), lambda row: row.hidden.by),
            Column[Trial](_("How it stands"), stands_text, tint=_tone),
        ],
        key=lambda row: row.entry,
        name=_("Dummies"),
        empty=Empty(
            _("No dummy was hidden yet.") + "\n\n" + about_trials(),
            _("Hide the first dummy…"),
            step,
        ),
    )


def _tone(row: Trial) -> Tone | None:
    """A dummy that was looked for and still lies there waits to be collected."""
    if row.state is TrialState.HIDDEN:
        return Tone.DUE if row.first_look is not None else None
    return TONES.get(row.state)


def _places_table() -> RowTable[PlaceRow]:
    return RowTable(
        [
            Column[PlaceRow](_("Place"), lambda row: place_label(row[0])),
            Column[PlaceRow](
                _("Dummies found"), _found, sort=lambda row: row[1].found / row[1].trials
            ),
            Column[PlaceRow](
                _("Lies within (9 times in 10)"),
                lambda row: span_text(row[1].low, row[1].high),
                sort=lambda row: row[1].value,
            ),
        ],
        key=lambda row: row[0],
        name=_("Chance that a deep check finds a dummy, by place"),
        empty=Empty(_("No trial counts yet.")),
        filtered=False,
    )


def _found(row: PlaceRow) -> str:
    return _("{found} of {trials}").format(found=row[1].found, trials=row[1].trials)
