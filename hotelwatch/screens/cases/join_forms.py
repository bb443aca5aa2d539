"""Forms that join cases, split one, and say where a specimen is."""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QLineEdit, QWidget

from hotelwatch.actions.joining import join_cases, note_specimen, split_case
from hotelwatch.core.case_facts import CasesJoined, Sighted, SpecimenNoted, SpecimenStep
from hotelwatch.core.cases.case import Case, cases
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.printing.specimen_label import LabelWish
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.cases.label_button import LabelButton
from hotelwatch.screens.forms.entry_form import MomentField
from hotelwatch.screens.forms.fields import ChoiceField
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.story import case_heading, sighting_sentence


class JoinForm(CaseForm):
    """The case in view goes into another open one."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Join them"))
        self.into = self.form.add(_("&Into case"), ChoiceField())
        self.reason = self.form.add(_("Reaso&n"), QLineEdit())
        self.caution.setText(
            _("Everything written down stays; taking the entry back parts the cases again.")
        )
        self.lay_out()
        self.setFocusProxy(self.into)

    def empty(self, case: Case) -> None:
        """Nothing chosen yet."""
        self.title.setText(_("Let case {case} go into another one").format(case=case.no))
        others = [one for one in cases(self.context.hotel.house) if one.is_open]
        self.into.offer((o.no, case_heading(o.rooms, o.no)) for o in others if o.no != case.no)
        self.into.choose(None)
        self.reason.clear()

    def save(self) -> bool:
        """Join the cases."""
        assert self.case is not None  # the form is shown only for a case
        into = self.into.value()
        if into is None:
            self.form.say(self.into, _("Choose the case that it goes into."))
            return False
        hotel, gone = self.context.hotel, self.case.no
        reason = self.reason.text().strip()
        join_cases(hotel, CasesJoined(gone, CaseNo(into), hotel.by, reason))
        told = _("Case {case} went into case {other}.").format(case=gone, other=into)
        return self._saved(told)

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        return {"joining_needs_reason": self.reason, "case_not_open": self.into}.get(code)


class SplitForm(CaseForm):
    """A sign of the case goes into a case of its own, with what it set going."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Split it off"))
        self.sign = self.form.add(_("&Sign"), ChoiceField())
        self.reason = self.form.add(_("Reaso&n"), QLineEdit())
        self.caution.setText(
            _("Its quarantine and the checks that it asked for go along into the new case.")
        )
        self.lay_out()
        self.setFocusProxy(self.sign)

    def empty(self, case: Case) -> None:
        """Nothing chosen yet."""
        hotel = self.context.hotel
        self.title.setText(_("Split a sign off case {case}").format(case=case.no))
        rows = hotel.house.kept_of_case(Sighted, case.no)
        self.sign.offer(
            (str(row.entry), f"{moment_text(row.fact.seen_at, hotel.zone)}: "
             f"{sighting_sentence(row.fact)}")
            for row in rows
        )  # fmt: skip
        self.sign.choose(None)
        self.reason.clear()

    def save(self) -> bool:
        """Split the sign off."""
        assert self.case is not None  # the form is shown only for a case
        entry = self.sign.value()
        if entry is None:
            self.form.say(self.sign, _("Choose the sign that leaves the case."))
            return False
        reason = self.reason.text().strip()
        made = split_case(self.context.hotel, self.case.no, [int(entry)], reason=reason)
        return self._saved(_("The sign stands in case {case} now.").format(case=made))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "splitting_needs_reason": self.reason,
            "nothing_left": self.sign,
        }
        return fields.get(code)


class SpecimenForm(CaseForm):
    """Where a specimen is: kept, sent, back, thrown away."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Write it down"))
        form = self.form
        self.label = form.add(_("La&bel"), QLineEdit(), hint=_("As on the bag or the tube."))
        self.room = form.add(_("Of roo&m"), ChoiceField())
        steps = [(step.value, label(step)) for step in SpecimenStep]
        self.step = form.add(_("It &was"), ChoiceField(steps))
        self.where = form.add(_("Whe&re"), QLineEdit(), hint=_("The place, or to whom it went."))
        self.at = form.add(_("When"), MomentField())
        self.print_labels = LabelButton(context)
        # Above what scrolls: it stays in sight.
        self.lay_out().insertWidget(1, self.print_labels)
        self.setFocusProxy(self.label)

    def empty(self, case: Case) -> None:
        """A specimen kept now, in the room of the first sign."""
        hotel = self.context.hotel
        self.title.setText(_("Specimen of case {case}").format(case=case.no))
        self.print_labels.show_case(case.no)
        self.room.offer((room, room) for room in case.rooms)
        self.room.choose(case.room)
        self.step.choose(SpecimenStep.KEPT.value)
        for line in (self.label, self.where):
            line.clear()
        known = hotel.house.kept_of_case(SpecimenNoted, case.no)
        if known:
            self.label.setText(known[-1].fact.label)
        self.at.show_moment(hotel.now(), hotel.zone)

    def follow(self, case: Case) -> None:
        """A specimen may have come to the case while the form is open."""
        super().follow(case)
        self.print_labels.show_case(case.no)

    def save(self) -> bool:
        """Write it down."""
        assert self.case is not None  # the form is shown only for a case
        hotel = self.context.hotel
        step, room = self.step.value(), self.room.value()
        if step is None or room is None:
            field = self.step if step is None else self.room
            self.form.say(field, _("Choose one of the list."))
            return False
        at = self.at.moment(hotel.zone) if self.at.was_edited else hotel.now()
        noted = SpecimenNoted(
            self.case.no,
            self.label.text().strip(),
            RoomNo(room),
            SpecimenStep(step),
            self.where.text().strip(),
            hotel.by,
            at,
        )
        note_specimen(hotel, noted)
        self.case = None
        self.context.notices.done(
            _("Specimen {label}: written down.").format(label=noted.label),
            _("Print its label"),
            partial(self.print_labels.print, LabelWish(noted.case, (noted.label,))),
        )
        return True

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "specimen_needs_label": self.label,
            "specimen_needs_place": self.where,
            "moment_to_come": self.at,
        }
        return fields.get(code)
