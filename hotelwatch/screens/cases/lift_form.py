"""Giving a room back: what is missing in words, and who answers for it."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit, QWidget

from hotelwatch.actions.release import lift_quarantine
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.release import missing_for_release, needs_competence
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.forms.fields import ChoiceField, WhoField
from hotelwatch.wording.language import _
from hotelwatch.wording.sheet_cautions import limit_text
from hotelwatch.wording.steps import missing_sentence


class LiftForm(CaseForm):
    """The quarantine of one room of the case."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Lift the quarantine"))
        self.is_missing = False
        self.needs_competence = False
        self.told = text_label("")
        self.room = self.form.add(_("Roo&m"), ChoiceField())
        self.who = self.form.add(_("&Lifted by"), WhoField(several=False))
        self.competence = self.form.add(_("&Competence"), QLineEdit())
        self.competence.setPlaceholderText(_("Licence, training or office"))
        self.reason = self.form.add(_("Reaso&n"), QLineEdit())
        self.reason.setPlaceholderText(_("Why it is lifted all the same"))
        self.caution.setText(limit_text())
        self.lay_out(self.told)
        self.room.chosen.connect(self._tell)

    def empty(self, case: Case) -> None:
        """The first room in quarantine, nobody named."""
        several = len(case.quarantined) > 1
        self.title.setText(_("Lift a quarantine of case {case}").format(case=case.no))
        self.who.offer(self.context.people.names())
        self.who.setText(self.context.hotel.by)
        self.reason.clear()
        self.competence.clear()
        self.form.show_field(self.room, visible=several)
        self.setFocusProxy(self.room if several else self.who)
        self.follow(case)

    def follow(self, case: Case) -> None:
        """Say anew what is missing, since a check or a judgement may have come in."""
        super().follow(case)
        self.room.offer((room, room) for room in case.quarantined)
        if self.room.value() is None and case.quarantined:
            self.room.choose(case.quarantined[0])
        self._tell()

    def begin(self, case: Case) -> None:
        """Take the case, and say what is missing now."""
        super().begin(case)
        self.follow(case)

    def _tell(self, _room: object = None) -> None:
        room = self.room.value()
        if self.case is None or room is None:
            return
        hotel = self.context.hotel
        missing = missing_for_release(hotel.house, self.case.no, RoomNo(room), now=hotel.now())
        self.is_missing = bool(missing)
        if missing:
            said = [
                _("Room {room} lacks:").format(room=room),
                *(f"–  {missing_sentence(one, hotel.zone)}" for one in missing),
                _(
                    "It can be lifted all the same: then somebody answers for it by name, with a "
                    "reason, and the month's book shows both."
                ),
            ]
        else:
            said = [_("The conditions for room {room} are met.").format(room=room)]
        self.told.setText("\n".join(said))
        self.form.show_field(self.reason, visible=self.is_missing)
        self.needs_competence = not self.is_missing and needs_competence(
            hotel.house, self.case.no, RoomNo(room)
        )

    def save(self) -> bool:
        """Give the room back."""
        assert self.case is not None  # the form is shown only for a case
        room, who = self.room.value(), " ".join(self.who.names())
        reason = self.reason.text().strip() if self.is_missing else ""
        if room is None:
            self.form.say(self.room, _("Choose the room."))
            return False
        if self.is_missing and not reason:
            self.form.say(self.reason, _("Conditions are missing: a reason is required."))
        if not who:
            self.form.say(self.who, _("Name who answers for it."))
        if self.needs_competence and not self.competence.text().strip():
            self.form.say(self.competence, _("Say what makes that person competent."))
        if self.form.has_problems():
            return False
        lift_quarantine(
            self.context.hotel,
            RoomNo(room),
            self.case.no,
            by=who,
            reason=reason,
            competence=self.competence.text().strip(),
        )
        self.context.people.remember((who,))
        given = (
            _("Room {room} is given back on {who}'s word, though conditions are missing. {limit}")
            if reason
            else _("Room {room} is given back. {limit}")
        )
        return self._saved(given.format(room=room, who=who, limit=limit_text()))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "lifting_needs_name": self.who,
            "lifting_needs_reason": self.reason,
            "lifting_needs_competence": self.competence,
            "not_in_quarantine": self.room,
        }
        return fields.get(code)
