"""What one writes down of dummies: one is hidden, its trial is over, it was a mistake."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.trials import TrialEnding, end_trial, hide_dummy
from hotelwatch.core.beds import Place
from hotelwatch.core.facts import BedNo, RoomNo
from hotelwatch.core.odds.learning.trials import Trial, hidden_now, trials
from hotelwatch.core.trial_facts import DummyFate, DummyHidden
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import EntryForm
from hotelwatch.screens.forms.fields import ChoiceField, DayField, WhoField
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label, label, place_label
from hotelwatch.wording.trials import (
    dummy_caution,
    found_elsewise_sentence,
    guests_sentence,
    lifting_caution,
    trial_sentence,
    where_text,
)

NO_BED = ""
FOUND, UNFOUND = "found", "unfound"


class TrialForm(EntryForm):
    """A form of blind trials; what was typed stays in it until it is saved."""

    def __init__(self, context: Context, save_text: str) -> None:
        """No field yet."""
        super().__init__(context, save_text)
        self._is_fresh = True
        self._lines: list[QLineEdit] = []
        self._at_first: tuple[str, ...] = ()

    def begin(self, trial: Trial | None) -> None:
        """Open it, for a trial where one is in view; what was typed before is still there."""
        self.offer()
        if not self.is_begun():
            self.empty(trial)
            self._lines = self._lines or self.findChildren(QLineEdit)
            self._at_first = self._typed()
            self.form.settle()
            self._is_fresh = False

    def offer(self) -> None:
        """Offer what can be chosen now; what is chosen stays."""
        raise NotImplementedError

    def empty(self, trial: Trial | None) -> None:
        """Every field as it is to be for whoever comes new."""
        raise NotImplementedError

    def is_begun(self) -> bool:
        """Whether anything stands there that a person put there and did not save."""
        return not self._is_fresh and self._typed() != self._at_first

    def _typed(self) -> tuple[str, ...]:
        return tuple(line.text() for line in self._lines)

    def _saved(self, text: str) -> bool:
        self._is_fresh = True
        self.context.notices.done(text)
        return True

    def offer_rooms(self, field: ChoiceField) -> None:
        """Offer the rooms of the roster."""
        field.offer((room, room) for room in self.context.hotel.house.rooms)

    def say_lacking(self, field: ChoiceField, text: str) -> None:
        """Say of a choice that it is lacking, or that what is typed is none."""
        if field.value() is None:
            self.form.say(field, _("Choose one of the list.") if field.typed() else text)

    def say_room_lacking(self, field: ChoiceField) -> None:
        """Say of a room's field that it is empty, or that there is no such room."""
        if field.value() is None:
            typed = field.typed()
            self.form.say(
                field,
                _("There is no room {room}. Type a number of the roster.").format(room=typed)
                if typed
                else _("Type the room's number."),
            )


class HideForm(TrialForm):
    """A dummy is hidden."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write it down"))
        self.title.setText(_("A dummy is hidden"))
        form = self.form
        self.dummy = form.add(
            _("&Label"), WhoField(several=False), hint=_("A number or a mark on the dummy.")
        )
        self.dummy.setPlaceholderText(_("As it is marked on the dummy"))
        self.room = form.add(_("&Room"), ChoiceField(prompt=_("Type its number")))
        self.bed = form.add(_("&Bed"), ChoiceField(prompt=_("Of the room above")))
        self.place = form.add(_("&Place"), ChoiceField(prompt=_("Type to choose")))
        self.who = form.add(_("Hidden b&y"), WhoField(several=False))
        self.day = form.add(_("D&ay"), DayField(context.hotel.today()))
        self.guests = QLabel(wordWrap=True)
        self.caution.setText(f"{dummy_caution()} {lifting_caution()}")
        self.lay_out(last=self.guests)
        self.room.chosen.connect(self._fit_to_room)
        self.bed.chosen.connect(self._fit_to_bed)
        self.day.chosen.connect(self._say_guests)
        self.setFocusProxy(self.dummy)

    def offer(self) -> None:
        """Rooms of the roster, and labels that are free again."""
        house = self.context.hotel.house
        used = {trial.hidden.dummy for trial in trials(house)}
        self.dummy.offer(sorted(used - set(hidden_now(house))))
        self.offer_rooms(self.room)
        self.who.offer(self.context.people.names())

    def empty(self, trial: Trial | None) -> None:
        """Nothing hidden yet; today, by whoever sits here."""
        self.dummy.clear()
        self.room.choose(None)
        self._fit_to_room()
        self.who.setText(self.context.hotel.by)
        self.day.set_day(self.context.hotel.today())

    def save(self) -> bool:
        """Write it down."""
        room, bed, place = self.room.value(), self.bed.value(), self.place.value()
        self.say_room_lacking(self.room)
        if room is not None:
            self.say_lacking(self.bed, _("Choose the bed, or the room beside its beds."))
            self.say_lacking(self.place, _("Choose the place where it lies."))
        if room is None or bed is None or place is None:
            return False
        who = " ".join(self.who.names())
        label_on_it = " ".join(self.dummy.names())
        hidden = DummyHidden(label_on_it, RoomNo(room), bed, place, self.day.day(), who)
        hide_dummy(self.context.hotel, hidden)
        self.context.people.remember((who,))
        return self._saved(
            _("Dummy {dummy} lies hidden: {where}. Collect it before the next guest.").format(
                dummy=hidden.dummy, where=where_text(hidden)
            )
        )

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "dummy_needs_label": self.dummy,
            "dummy_still_hidden": self.dummy,
            "dummy_needs_hider": self.who,
            "day_to_come": self.day,
            "unknown_room": self.room,
            "unknown_bed": self.bed,
            "unknown_place": self.place,
        }
        return fields.get(code)

    def _fit_to_room(self, _room: object = None) -> None:
        room = self.room.value()
        beds = () if room is None else self.context.hotel.house.beds_of(RoomNo(room))
        choices = [
            (str(bed.bed), _("{bed} ({kind})").format(bed=bed.bed, kind=bed_label(bed.kind)))
            for bed in beds
        ]
        if room is not None:
            choices.append((NO_BED, _("None: the room beside its beds")))
        self.bed.offer(choices)
        if self.bed.value() is None and choices:
            self.bed.choose(choices[0][0])
        self._fit_to_bed()
        self._say_guests()

    def _fit_to_bed(self, _bed: object = None) -> None:
        self.place.offer((place.code, place_label(place.code)) for place in self._places())

    def _places(self) -> Iterable[Place]:
        """Of the bed chosen, or of the room, in looking order."""
        house, chosen = self.context.hotel.house, self.bed.value()
        if chosen is None:
            return ()
        bed = house.beds.get(BedNo(chosen))
        if bed is None:
            return house.rules.room_places
        return house.rules.bed_kinds[bed.kind].places_of(encased=bed.encased)

    def _say_guests(self, _day: object = None) -> None:
        room, day = self.room.value(), self.day.day()
        self.guests.setVisible(room is not None)
        if room is None:
            return
        occupancy, no = self.context.hotel.occupancy(), RoomNo(room)
        self.guests.setText(
            guests_sentence(
                room,
                is_open=occupancy.opening(no, day) is not None,
                arrives_on=occupancy.next_arrival(no, day),
            )
        )


class EndForm(TrialForm):
    """A trial is over: found or not, and the dummy collected or lost."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("End the tr&ial"))
        self.title.setText(_("A trial is over"))
        form = self.form
        self.dummy = form.add(_("D&ummy"), ChoiceField(prompt=_("Type its label")))
        self.result = form.add(
            _("&Result"),
            ChoiceField(
                [(FOUND, _("A check found it")), (UNFOUND, _("No check found it"))],
                prompt=_("Found or not"),
            ),
        )
        self.who = form.add(_("Who &looked"), WhoField())
        self.fate = form.add(
            _("What be&came of it"),
            ChoiceField(((f.value, label(f)) for f in DummyFate), prompt=_("Collected or lost")),
        )
        self.day = form.add(
            _("D&ay"), DayField(context.hotel.today()), hint=_("Found, or collected unfound.")
        )
        self.note = form.add(_("N&ote"), QLineEdit())
        self.note.setPlaceholderText(_("No guest's name"))
        self.record = QLabel(wordWrap=True)
        self._offered_day = self.day.day()
        self.caution.setText(
            _(
                "Which check looked there first the record tells: record checks before you end the"
                " trial. A place that no check looked at says nothing of how well you look."
            )
        )
        self.lay_out(last=self.record)
        self.dummy.chosen.connect(self._fit)
        self.result.chosen.connect(self._fit)
        self.setFocusProxy(self.dummy)

    def offer(self) -> None:
        """Dummies that lie hidden."""
        self.dummy.offer(
            (
                one.hidden.dummy,
                _("{dummy}: {where}").format(
                    dummy=one.hidden.dummy, where=one.hidden.bed or one.hidden.room
                ),
            )
            for one in self._hidden()
        )
        self.who.offer(self.context.people.names())

    def empty(self, trial: Trial | None) -> None:
        """The trial in view, else the only one; nothing said of how it ended."""
        hidden = self._hidden()
        for choice in (self.dummy, self.result, self.fate):
            choice.choose(None)
        for line in (self.who, self.note):
            line.clear()
        self._offer_day(self.context.hotel.today())
        if trial is not None and trial.ended is None:
            self.dummy.choose(trial.hidden.dummy)
        elif len(hidden) == 1:
            self.dummy.choose(hidden[0].hidden.dummy)
        self._fit()

    def save(self) -> bool:
        """Write it down, and say what the record makes of it."""
        trial, result, fate = self._trial(), self.result.value(), self.fate.value()
        self.say_lacking(self.dummy, _("Choose the dummy."))
        self.say_lacking(self.result, _("Say whether a check found it."))
        if trial is None or result is None:
            return False
        hotel, names = self.context.hotel, self.who.names()
        ending = TrialEnding(
            dummy=trial.hidden.dummy,
            ended_on=self.day.day(),
            was_found=result == FOUND,
            fate=DummyFate(fate) if fate is not None else None,
            looked_by=names,
            noted=self.note.text().strip(),
        )
        end_trial(hotel, ending)
        self.context.people.remember(names)
        (ended,) = (one for one in trials(hotel.house) if one.entry == trial.entry)
        self._saved(trial_sentence(ended))
        if doubt := found_elsewise_sentence(ended):
            self.context.notices.warn(doubt)
        return True

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "unknown_dummy": self.dummy,
            "day_to_come": self.day,
            "trial_ends_before_hidden": self.day,
            "dummy_not_collected": self.fate,
        }
        return fields.get(code)

    def _hidden(self) -> list[Trial]:
        return [one for one in trials(self.context.hotel.house) if one.ended is None]

    def _trial(self) -> Trial | None:
        chosen = self.dummy.value()
        return next((one for one in self._hidden() if one.hidden.dummy == chosen), None)

    def _fit(self, _chosen: object = None) -> None:
        """What the record says of the looks there; who and when, while there was but one."""
        trial = self._trial()
        self.record.setVisible(trial is not None)
        if trial is None:
            return
        looks = [check for check in trial.checks if check.is_of_place]
        several = _("Several checks looked there: give the day of the one that found it.")
        said = trial_sentence(trial)
        self.record.setText(f"{said} {several}" if len(looks) > 1 else said)
        only = looks[0] if len(looks) == 1 else None
        if not self.who.isModified():
            self.who.set_names(only.by if only is not None else ())
        if self.day.day() == self._offered_day:
            if only is not None and self.result.value() == FOUND:
                self._offer_day(only.checked_on)
            else:
                self._offer_day(self.context.hotel.today())

    def _offer_day(self, day: date) -> None:
        """Put a day in the field that a person may change."""
        self._offered_day = day
        self.day.set_day(day)


class MistakeForm(TrialForm):
    """A hiding was written down by mistake."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Take it &back"))
        self.title.setText(_("A trial was written down by mistake"))
        self.trial = self.form.add(_("Tr&ial"), ChoiceField())
        self.reason = self.form.add(_("Reaso&n"), QLineEdit())
        self.caution.setText(
            _(
                "The trial counts no more. What was written down stays in the file, and so does"
                " your reason. Nothing is to be left lying in the room."
            )
        )
        self.lay_out()
        self.setFocusProxy(self.trial)

    def offer(self) -> None:
        """Every trial at hand."""
        self.trial.offer(
            (
                str(one.entry),
                _("{dummy}: {where}, {day}").format(
                    dummy=one.hidden.dummy,
                    where=one.hidden.bed or one.hidden.room,
                    day=short_day_text(one.hidden.hidden_on),
                ),
            )
            for one in trials(self.context.hotel.house)
        )

    def empty(self, trial: Trial | None) -> None:
        """The trial in view, no reason yet."""
        self.trial.choose(str(trial.entry) if trial is not None else None)
        self.reason.clear()

    def save(self) -> bool:
        """Let the trial count no more."""
        entry, reason = self.trial.value(), self.reason.text().strip()
        self.say_lacking(self.trial, _("Choose the trial."))
        if not reason:
            self.form.say(self.reason, _("Say why it no longer counts."))
        if entry is None or not reason:
            return False
        take_back(self.context.hotel, int(entry), reason=reason)
        return self._saved(_("The trial is taken back. Entry and reason stay in the file."))
