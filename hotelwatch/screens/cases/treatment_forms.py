"""What one writes down about treatment: the work as reported, a visit ordered, a firm."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from hotelwatch.actions.treatment import (
    describe_firm,
    order_treatment,
    record_treatment,
    rooms_of_case,
)
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.treatment import doubts_of, firms, orders_to_come
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.treatment_facts import FirmDescribed, TreatmentOrdered, TreatmentRecorded
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.cases.rooms_field import RoomsField
from hotelwatch.screens.forms.entry_form import MomentField
from hotelwatch.screens.forms.fields import ChoiceField, DayField, WhoField
from hotelwatch.wording.cautions import caution_text
from hotelwatch.wording.language import _, join
from hotelwatch.wording.treatment import BEDDING, PREPARATION, doubt_sentence, heat_caution

NOT_SAID = ""


class VisitForm(CaseForm):
    """A form about a firm's visit to some of a case's rooms; it has a field ``rooms``."""

    rooms: RoomsField

    def begin(self, case: Case) -> None:
        """Offer the rooms that the case has to do with by now."""
        super().begin(case)
        self._offer_rooms(case)

    def follow(self, case: Case) -> None:
        """Rooms may have come to the case while the form is open."""
        super().follow(case)
        self._offer_rooms(case)

    def is_begun(self) -> bool:
        """Whether rooms were ticked or anything was typed."""
        return self.rooms.was_edited or super().is_begun()

    def _offer_rooms(self, case: Case) -> None:
        self.rooms.offer(rooms_of_case(self.context.hotel.house, case.no))

    def _start_at(self, case: Case) -> None:
        """Rooms with a sign that are in quarantine are ticked."""
        self._offer_rooms(case)
        signs = {sign.room for sign in case.sightings}
        self.rooms.choose(signs.intersection(case.quarantined) or (case.room,))


class TreatmentForm(VisitForm):
    """Licensed work, as the licensed firm reported it."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write down the treatment"))
        form = self.form
        self.rooms = form.add(_("Roo&ms"), RoomsField())
        self.method = form.add(_("Metho&d"), QLineEdit())
        self.method.setPlaceholderText(_("As the firm's report says"))
        self.firm = form.add(_("Licensed fi&rm"), WhoField(several=False))
        self.licence = form.add(_("&Licence number"), QLineEdit())
        self.technician = form.add(_("Techn&ician"), QLineEdit())
        self.day = form.add(_("Treated o&n"), DayField(context.hotel.today()))
        self.reenter = form.add(_("Re-entr&y from"), MomentField())
        self.product = form.add(_("&Product, if any"), QLineEdit())
        self.product.setPlaceholderText(_("Name in the firm's report"))
        self.registration = form.add(_("Regi&stration number"), QLineEdit())
        self.amount = form.add(_("Amo&unt used"), QLineEdit())
        self.amount.setPlaceholderText(_("As reported, with its unit"))
        self.receipt = form.add(_("Re&ceipt number"), QLineEdit())
        self.areas = form.add(_("P&arts treated"), QLineEdit())
        self.areas.setPlaceholderText(_("In the firm's words, with commas between"))
        self.preparation = form.add(_("Prepara&tion"), ChoiceField(_said(PREPARATION)))
        self.bedding = form.add(_("&Bedding"), ChoiceField(_said(BEDDING)))
        self.note = form.add(_("N&ote"), QLineEdit())
        self.caution.setText(
            " ".join((caution_text("chemicals"), caution_text("heat"), heat_caution()))
        )
        self.firm.editingFinished.connect(self._know_licence)
        # Above what scrolls: it stays in sight.
        self.lay_out().insertWidget(1, self.caution)
        self.setFocusProxy(self.method)

    def empty(self, case: Case) -> None:
        """Nothing recorded yet."""
        hotel = self.context.hotel
        self.title.setText(_("Treatment in case {case}").format(case=case.no))
        self._start_at(case)
        self.firm.offer(tuple(firms(hotel.house)))
        for line in self._lines():
            line.clear()
        for choice in (self.preparation, self.bedding):
            choice.choose(NOT_SAID)
        self.day.set_day(hotel.today())
        self.reenter.show_moment(hotel.now(), hotel.zone)
        for ordered in orders_to_come(hotel.house, case)[-1:]:
            self.rooms.choose(RoomNo(room) for room in ordered.rooms)
            self.firm.setText(ordered.firm)
            self._know_licence()

    def is_begun(self) -> bool:
        """Whether anything was typed or chosen."""
        chosen = (self.preparation, self.bedding)
        return any(one.value() for one in chosen) or super().is_begun()

    def save(self) -> bool:
        """Write the treatment down; the re-entry time must have been said by a person."""
        rooms = self.rooms.rooms()
        if not rooms:
            self.form.say(self.rooms, _("Tick the rooms that were treated."))
        for line in (self.method, self.firm, self.licence):
            if not line.text().strip():
                self.form.say(line, _("Copy it from the firm's report."))
        if not self.reenter.was_edited:
            said = _("Give the time from which the firm allows people in again.")
            self.form.say(self.reenter, said)
        if self.form.has_problems():
            return False
        treated = self._treated(rooms[0])
        record_treatment(self.context.hotel, treated, also=rooms[1:])
        said = _("Treatment of {rooms} written down.").format(rooms=join(list(rooms)))
        doubts = doubts_of(self.context.hotel.house, treated)
        return self._saved(" ".join((said, *(doubt_sentence(doubt) for doubt in doubts))))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "day_to_come": self.day,
            "reentry_before_treatment": self.reenter,
            "unknown_room": self.rooms,
            "room_not_of_case": self.rooms,
        }
        return fields.get(code)

    def _treated(self, room: RoomNo) -> TreatmentRecorded:
        assert self.case is not None  # the form is shown only for a case
        return TreatmentRecorded(
            case=self.case.no,
            room=room,
            treated_on=self.day.day(),
            method=self.method.text().strip(),
            firm=self.firm.text().strip(),
            licence=self.licence.text().strip(),
            reenter_at=self.reenter.moment(self.context.hotel.zone),
            noted=self.note.text().strip(),
            technician=self.technician.text().strip(),
            product=self.product.text().strip(),
            registration_no=self.registration.text().strip(),
            areas=_parts(self.areas.text()),
            preparation=self.preparation.value() or NOT_SAID,
            bedding=self.bedding.value() or NOT_SAID,
            amount=self.amount.text().strip(),
            receipt_no=self.receipt.text().strip(),
        )

    def _lines(self) -> tuple[QLineEdit, ...]:
        return (
            self.method,
            self.firm,
            self.licence,
            self.technician,
            self.product,
            self.registration,
            self.amount,
            self.receipt,
            self.areas,
            self.note,
        )

    def _know_licence(self) -> None:
        """A known firm's licence is filled in unless somebody typed one: the report goes first."""
        known = firms(self.context.hotel.house).get(self.firm.text().strip())
        typed = self.licence.isModified() and self.licence.text().strip()
        if known is not None and not typed:
            self.licence.setText(known.licence)


class OrderForm(VisitForm):
    """A visit ordered from a firm, with what it told the hotel to prepare."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write down the order"))
        self.rooms = self.form.add(_("Roo&ms"), RoomsField())
        self.firm = self.form.add(_("Licensed fi&rm"), WhoField(several=False))
        self.at = self.form.add(_("&Comes"), MomentField())
        self.preparation = self.form.add(_("&Preparation"), QLineEdit())
        self.preparation.setPlaceholderText(_("As the firm wrote it"))
        self.who = self.form.add(_("&Ordered by"), WhoField(several=False))
        self.caution.setText(
            _("What is to be prepared is the firm's to say; nothing is moved out before it is.")
        )
        self.lay_out()
        self.setFocusProxy(self.firm)

    def empty(self, case: Case) -> None:
        """Nothing ordered yet."""
        hotel = self.context.hotel
        self.title.setText(_("A visit ordered in case {case}").format(case=case.no))
        self._start_at(case)
        known = tuple(firms(hotel.house))
        self.firm.offer(known)
        self.firm.setText(known[0] if len(known) == 1 else "")
        self.preparation.clear()
        self.who.clear()
        self.who.offer(self.context.people.names())
        self.at.show_moment(hotel.now(), hotel.zone)

    def save(self) -> bool:
        """Write the order down; the moment must have been said by a person."""
        assert self.case is not None  # the form is shown only for a case
        who = " ".join(self.who.names())
        if not self.at.was_edited:
            self.form.say(self.at, _("Give the day and the time that the firm named."))
        if not who:
            self.form.say(self.who, _("Name who ordered it."))
        if self.form.has_problems():
            return False
        hotel = self.context.hotel
        ordered = TreatmentOrdered(
            self.case.no,
            self.rooms.rooms(),
            self.firm.text().strip(),
            self.at.moment(hotel.zone),
            self.preparation.text().strip(),
            who,
        )
        order_treatment(hotel, ordered)
        self.context.people.remember((who,))
        return self._saved(_("The visit of {firm} is written down.").format(firm=ordered.firm))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "order_needs_rooms": self.rooms,
            "unknown_room": self.rooms,
            "room_not_of_case": self.rooms,
            "firm_needs_name": self.firm,
        }
        return fields.get(code)


class FirmForm(CaseForm):
    """A licensed firm, as it described itself; it is the hotel's, not the case's alone."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write down the firm"))
        self.title.setText(_("A licensed firm"))
        self.firm = self.form.add(_("Na&me"), WhoField(several=False))
        self.licence = self.form.add(_("Lice&nce number"), QLineEdit())
        self.expires = self.form.add(_("It runs &out"), QCheckBox(_("On the day below")))
        self.day = self.form.add(_("Da&y"), DayField(context.hotel.today()))
        self.scope = self.form.add(_("&Covers"), QLineEdit())
        self.scope.setPlaceholderText(_("In the firm's words"))
        self.gone = self.form.add(_("No &longer used"), QCheckBox(_("Offer it no more")))
        self.caution.setText(
            _("Look the licence up with the office that gave it; this program can't.")
        )
        self.expires.toggled.connect(self._show_day)
        self.firm.editingFinished.connect(self._fill_in)
        self.lay_out()
        self.setFocusProxy(self.firm)

    def empty(self, case: Case) -> None:
        """No firm yet."""
        self.firm.offer(tuple(firms(self.context.hotel.house)))
        for line in (self.firm, self.licence, self.scope):
            line.clear()
        self.expires.setChecked(False)
        self.gone.setChecked(False)
        self.day.set_day(self.context.hotel.today())
        self._show_day(is_shown=False)

    def save(self) -> bool:
        """Write the firm down."""
        described = FirmDescribed(
            self.firm.text().strip(),
            self.licence.text().strip(),
            self.day.day() if self.expires.isChecked() else None,
            self.scope.text().strip(),
            in_use=not self.gone.isChecked(),
        )
        describe_firm(self.context.hotel, described)
        return self._saved(_("{firm} is written down.").format(firm=described.firm))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        return {"firm_needs_name": self.firm, "firm_needs_licence": self.licence}.get(code)

    def _show_day(self, is_shown: bool) -> None:
        self.form.show_field(self.day, visible=is_shown)

    def _fill_in(self) -> None:
        """A known firm's words, to be changed where they have changed."""
        known = firms(self.context.hotel.house).get(self.firm.text().strip())
        if known is None or self.licence.text():
            return
        self.licence.setText(known.licence)
        self.scope.setText(known.scope)
        self.expires.setChecked(known.expires_on is not None)
        if known.expires_on is not None:
            self.day.set_day(known.expires_on)


def _said(table: dict[str, str]) -> list[tuple[str, str]]:
    return [(NOT_SAID, _("Not said")), *((code, _(text)) for code, text in table.items())]


def _parts(typed: str) -> tuple[str, ...]:
    return tuple(part for one in typed.split(",") if (part := " ".join(one.split())))
