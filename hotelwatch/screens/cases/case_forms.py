"""What one writes down in a case: a judgement, a photo, an entry taken back."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QWidget

from hotelwatch.actions.cases import add_photo, judge_case
from hotelwatch.actions.corrections import take_back
from hotelwatch.core.case_facts import CaseJudged, Outcome
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.story import entries_to_take_back
from hotelwatch.core.parameters import Lookalike
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import EntryForm, PhotoField
from hotelwatch.screens.forms.fields import ChoiceField, DayField, WhoField
from hotelwatch.wording.language import _, join
from hotelwatch.wording.names import label
from hotelwatch.wording.story import days_line, story_sentence


class CaseForm(EntryForm):
    """A form that belongs to the case in view."""

    def __init__(self, context: Context, save_text: str) -> None:
        """No case yet."""
        super().__init__(context, save_text)
        self.case: Case | None = None

    def begin(self, case: Case) -> None:
        """Take the case in view; what was typed for another one is not kept."""
        if self.case is None or self.case.no != case.no:
            self.empty(case)
            self.form.settle()
        self.case = case

    def follow(self, case: Case) -> None:
        """The case changed while the form is open."""
        self.case = case

    def about(self) -> str | None:
        """Its case."""
        return self.case.no if self.case is not None else None

    def empty(self, case: Case) -> None:
        """Every field as it is to be for a case that comes new."""
        raise NotImplementedError

    def _saved(self, text: str) -> bool:
        self.case = None
        self.context.notices.done(text)
        return True


class JudgeForm(CaseForm):
    """A named competent person's judgement."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Write down the judgement"))
        form = self.form
        outcomes = [(outcome.value, label(outcome)) for outcome in Outcome]
        self.outcome = form.add(_("&Judgement"), ChoiceField(outcomes))
        self.was = form.add(_("It &was"), QComboBox())
        self.was.setEditable(True)
        self.marks = QLabel(wordWrap=True)
        self.marks.setProperty("role", "muted")
        self.who = form.add(_("Judged &by"), WhoField(several=False))
        self.competence = form.add(_("&Competence"), QLineEdit())
        self.competence.setPlaceholderText(_("Licence, training or office"))
        self.day = form.add(_("Da&y"), DayField(context.hotel.today()))
        self.note = form.add(_("No&te"), QLineEdit())
        self.caution.setText(
            _(
                "A competent person decides with the specimen in hand; until then the case stays"
                " suspected. Marks of look-alikes are from memory of what extension services"
                " teach, and no key for laymen."
            )
        )
        self.lay_out(last=self.marks)
        self.setFocusProxy(self.outcome)
        self.outcome.currentIndexChanged.connect(self._ask_what)
        self.outcome.chosen.connect(self._ask_what)
        self.was.currentTextChanged.connect(self._tell_marks)

    def empty(self, case: Case) -> None:
        """Nothing judged yet."""
        self.title.setText(_("Judge case {case}").format(case=case.no))
        self.outcome.choose(None)
        self.was.clear()
        self.was.addItems([one.name for one in self._lookalikes()])
        self.was.setCurrentIndex(-1)
        self.was.clearEditText()
        self._ask_what()
        self.who.offer(self.context.people.names())
        for line in (self.who, self.competence, self.note):
            line.clear()
        today = self.context.hotel.today()
        self.day.set_day(today)

    def is_begun(self) -> bool:
        """Whether an outcome is chosen, or anything else typed."""
        return self.outcome.value() is not None or super().is_begun()

    def save(self) -> bool:
        """Write the judgement down."""
        assert self.case is not None  # the form is shown only for a case
        outcome = self.outcome.value()
        if outcome is None:
            self.form.say(self.outcome, _("Choose what was judged."))
            return False
        judged = CaseJudged(
            case=self.case.no,
            outcome=Outcome(outcome),
            judged_by=" ".join(self.who.names()),
            competence=self.competence.text().strip(),
            judged_on=self.day.day(),
            noted=self.note.text().strip(),
            was=self.was.currentText().strip() if self._is_no_bed_bug() else "",
        )
        judge_case(self.context.hotel, judged)
        self.context.people.remember((judged.judged_by,))
        return self._saved(
            _("Case {case}: {outcome}, judged by {who}.").format(
                case=judged.case, outcome=label(judged.outcome).lower(), who=judged.judged_by
            )
        )

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "what_was_it_missing": self.was,
            "who_judged_missing": self.who,
            "competence_missing": self.competence,
            "day_to_come": self.day,
        }
        return fields.get(code)

    def _lookalikes(self) -> tuple[Lookalike, ...]:
        return tuple(self.context.hotel.house.rules.lookalikes.values())

    def _is_no_bed_bug(self) -> bool:
        return self.outcome.value() == Outcome.NOT_BED_BUG

    def _ask_what(self, _chosen: object = None) -> None:
        was_hidden = self.was.isHidden()
        self.form.show_field(self.was, visible=self._is_no_bed_bug())
        self._tell_marks()
        if was_hidden and self._is_no_bed_bug():
            # Tab chose, and went on before there was this field to go to.
            QTimer.singleShot(0, self._go_to_what)

    def _go_to_what(self) -> None:
        if self.who.hasFocus() and not self.who.text():
            self.was.setFocus(Qt.FocusReason.TabFocusReason)

    def _tell_marks(self, _text: str = "") -> None:
        """Marks of the one chosen; of all of them while none is."""
        chosen = self.was.currentText() if self._is_no_bed_bug() else ""
        known = self._lookalikes()
        told = [one for one in known if one.name == chosen] or list(known)
        self.marks.setText("\n".join(f"{one.name}: {one.marks}" for one in told))


class PhotoForm(CaseForm):
    """Photos with what they show."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Keep the photo"))
        self.photo = self.form.add(_("Ph&oto"), PhotoField(context))
        self.caption = self.form.add(_("Ca&ption"), QLineEdit())
        self.caption.setPlaceholderText(_("What it shows and where"))
        self.lay_out()
        self.take_drops(self.photo)
        self.setFocusProxy(self.photo)

    def empty(self, case: Case) -> None:
        """No photo yet."""
        self.title.setText(_("Photo for case {case}").format(case=case.no))
        self.photo.clear()
        self.caption.clear()

    def save(self) -> bool:
        """Keep a copy of the photos beside the hotel's file."""
        assert self.case is not None  # the form is shown only for a case
        photos = self.photo.photos
        if not photos:
            self.form.say(self.photo, _("Choose a photo, or drag one onto the form."))
            return False
        for photo in photos:
            add_photo(self.context.hotel, self.case.no, photo, self.caption.text().strip())
        names = join([photo.name for photo in photos])
        return self._saved(_("Kept with the case: {photos}.").format(photos=names))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        return self.photo if code in ("no_such_file", "not_a_photo", "photo_too_large") else None


class TakeBackForm(CaseForm):
    """Something written down by mistake: it stays in the file, with why it no longer counts."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Take it back"))
        self.entry = self.form.add(_("En&try"), ChoiceField())
        self.reason = self.form.add(_("Reaso&n"), QLineEdit())
        self.caution.setText(
            _(
                "Everything that the entry set going goes with it: quarantine and wanted checks. "
                "The entry and your reason stay in the file."
            )
        )
        self.lay_out()
        self.setFocusProxy(self.entry)

    def empty(self, case: Case) -> None:
        """Nothing chosen yet."""
        self.title.setText(_("Take back an entry of case {case}").format(case=case.no))
        hotel = self.context.hotel
        lines = entries_to_take_back(hotel.house, case.no, now=hotel.now())
        self.entry.offer(
            (str(line.entry), f"{days_line(line, hotel.zone)}: {story_sentence(line, hotel.zone)}")
            for line in lines
        )
        self.entry.choose(None)
        self.reason.clear()

    def save(self) -> bool:
        """Let the entry count no more."""
        entry, reason = self.entry.value(), self.reason.text().strip()
        if entry is None:
            self.form.say(self.entry, _("Choose what was written down by mistake."))
        if not reason:
            self.form.say(self.reason, _("Say why it no longer counts."))
        if entry is None or not reason:
            return False
        take_back(self.context.hotel, int(entry), reason=reason)
        return self._saved(_("Taken back. The entry and the reason stay in the file."))
