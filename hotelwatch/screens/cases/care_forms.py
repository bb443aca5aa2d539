"""What one writes down about things: linen, luggage and tools taken care of, or thrown away."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QDoubleSpinBox, QLineEdit, QSpinBox, QWidget

from hotelwatch.actions.treatment import discard_item, note_care, rooms_of_case
from hotelwatch.core.cases.case import Case
from hotelwatch.core.cases.treatment import doubts_of_case
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.treatment_facts import CareDone, CareStep, ItemDiscarded
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.forms.entry_form import MomentField
from hotelwatch.screens.forms.fields import ChoiceField, DayField, WhoField
from hotelwatch.wording.care import INSTRUCTIONS
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.treatment import doubt_sentence

HOTTEST_WASH, LONGEST_MINUTES = 120.0, 1440


class CareForm(CaseForm):
    """Luggage, linen, a cart, a vacuum cleaner or clothes were taken care of."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write it down"))
        form = self.form
        steps = [(step.value, label(step)) for step in CareStep]
        self.step = form.add(_("Wha&t"), ChoiceField(steps))
        self.room = form.add(_("Of roo&m"), ChoiceField())
        self.at = form.add(_("Whe&n"), MomentField())
        self.celsius = form.add(
            _("Wash or dryer, °&C"), QDoubleSpinBox(maximum=HOTTEST_WASH, decimals=0)
        )
        self.minutes = form.add(_("M&inutes"), QSpinBox(maximum=LONGEST_MINUTES))
        for box in (self.celsius, self.minutes):
            box.setSpecialValueText(_("none"))
        self.who = form.add(_("Done &by"), WhoField(several=False))
        self.note = form.add(_("N&ote"), QLineEdit())
        self.step.chosen.connect(self._show_step)
        self.lay_out()
        self.setFocusProxy(self.step)

    def empty(self, case: Case) -> None:
        """Nothing done yet."""
        hotel = self.context.hotel
        self.title.setText(_("Things of a room taken care of"))
        self.step.choose(None)
        self.room.offer((room, room) for room in sorted(rooms_of_case(hotel.house, case.no)))
        self.room.choose(case.room)
        self.at.show_moment(hotel.now(), hotel.zone)
        self.celsius.setValue(0)
        self.minutes.setValue(0)
        self.note.clear()
        self.who.offer(self.context.people.names())
        self._show_step(None)

    def is_begun(self) -> bool:
        """Whether anything was chosen or typed."""
        return self.step.value() is not None or super().is_begun()

    def save(self) -> bool:
        """Write it down, and say what a wash or a dryer lacked."""
        assert self.case is not None  # the form is shown only for a case
        step, room, who = self.step.value(), self.room.value(), " ".join(self.who.names())
        if step is None:
            self.form.say(self.step, _("Choose what was taken care of."))
        if room is None:
            self.form.say(self.room, _("Choose the room that it came from."))
        if step is None or room is None:
            return False
        hotel = self.context.hotel
        done = CareDone(
            self.case.no,
            RoomNo(room),
            CareStep(step),
            self.at.moment(hotel.zone),
            who,
            self.celsius.value(),
            self.minutes.value(),
            self.note.text().strip(),
        )
        before = doubts_of_case(hotel.house, done.case)
        note_care(hotel, [done])
        self.context.people.remember((who,))
        after = doubts_of_case(hotel.house, done.case)
        new = [doubt_sentence(doubt) for doubt in after if doubt not in before]
        said = _("{step} of room {room}: written down.").format(step=label(done.step), room=room)
        return self._saved(" ".join((said, *new)))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "care_needs_name": self.who,
            "moment_to_come": self.at,
            "room_not_of_case": self.room,
        }
        return fields.get(code)

    def _show_step(self, step: object) -> None:
        """How such a thing is cared for; heat only where it is washed or dried."""
        known = CareStep(str(step)) if step else None
        self.caution.setText(_(INSTRUCTIONS[known]) if known else "")
        self.caution.setVisible(known is not None)
        heated = known in (None, CareStep.LINEN, CareStep.LUGGAGE, CareStep.STAFF_CLOTHES)
        for box in (self.celsius, self.minutes):
            self.form.show_field(box, visible=heated)


class DiscardForm(CaseForm):
    """A thing is thrown away so that nobody takes it."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write it down"))
        self.title.setText(_("A thing is thrown away"))
        form = self.form
        self.what = form.add(_("Wha&t"), QLineEdit())
        self.what.setPlaceholderText(_("As armchair, mattress of bed A"))
        self.room = form.add(_("Of roo&m"), ChoiceField())
        self.day = form.add(_("Da&y"), DayField(context.hotel.today()))
        self.unusable = form.add(_("U&nusable"), QCheckBox(_("Cut or broken: nobody can use it")))
        self.labelled = form.add(_("&Labelled"), QCheckBox(_("Wrapped, with a label that warns")))
        self.who = form.add(_("Done &by"), WhoField(several=False))
        self.caution.setText(
            _(
                "Throwing things away is seldom needed; the firm says what can be treated. Nothing "
                "leaves the room unwrapped."
            )
        )
        self.lay_out()
        self.setFocusProxy(self.what)

    def empty(self, case: Case) -> None:
        """Nothing thrown away yet."""
        hotel = self.context.hotel
        self.what.clear()
        self.room.offer((room, room) for room in sorted(rooms_of_case(hotel.house, case.no)))
        self.room.choose(case.room)
        self.day.set_day(hotel.today())
        for box in (self.unusable, self.labelled):
            box.setChecked(False)
        self.who.offer(self.context.people.names())

    def save(self) -> bool:
        """Write it down."""
        assert self.case is not None  # the form is shown only for a case
        room, who = self.room.value(), " ".join(self.who.names())
        if room is None:
            self.form.say(self.room, _("Choose the room that it came from."))
        if not who:
            self.form.say(self.who, _("Name who did it."))
        if room is None or not who:
            return False
        item = ItemDiscarded(
            self.case.no,
            RoomNo(room),
            self.what.text().strip(),
            self.day.day(),
            self.unusable.isChecked(),
            self.labelled.isChecked(),
            who,
        )
        discard_item(self.context.hotel, item)
        self.context.people.remember((who,))
        said = _("{what} of room {room}: written down.")
        return self._saved(said.format(what=item.what, room=room))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        return {"item_needs_name": self.what, "day_to_come": self.day}.get(code)
