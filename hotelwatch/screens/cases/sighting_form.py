"""Logging a sighting with the keyboard alone: room, what was seen, Enter."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QLineEdit, QSpinBox, QWidget

from hotelwatch.actions.cases import log_sighting, preview_sighting
from hotelwatch.core.case_facts import LifeStage, Sighted, Sign
from hotelwatch.core.cases.notices import GUESTS_SIGNS
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.roles import Sight
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.answer_panel import AnswerPanel
from hotelwatch.screens.forms.entry_form import EntryForm, MomentField, PhotoField
from hotelwatch.screens.forms.fields import ChoiceField, WhoField
from hotelwatch.wording.cautions import caution_sentences, caution_text, no_blame_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label, label, place_label

MOST_COUNTED = 999
AGED = frozenset({Sign.LIVE_INSECT, Sign.DEAD_INSECT, Sign.CAST_SKIN})
"""Signs of which one can say how old the insect was."""
TYPING_PAUSE_MS = 80


class SightingForm(EntryForm):
    """The fields of a sighting."""

    logged = Signal(object)
    """It was written down: the number of its case."""
    changed = Signal()
    """Something that the proposal depends on was changed."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Save the sighting"))
        self.title.setText(_("Log a sighting"))
        self.not_asked: frozenset[RoomNo] = frozenset()
        self.last_room: RoomNo | None = None
        """Of the sighting written down last."""
        form = self.form
        self.room = form.add(_("&Room"), ChoiceField(prompt=_("Type its number")))
        self.sign = form.add(_("&What was seen"), ChoiceField(_signs(), prompt=_("Type to choose")))
        self.place = form.add(_("&Place"), ChoiceField(prompt=_("Not said")))
        self.bed = form.add(_("&Bed"), ChoiceField(prompt=_("Not said")))
        self.count = form.add(_("How &many"), QSpinBox())
        self.stage = form.add(_("&Age"), ChoiceField(_stages(), prompt=_("Not said")))
        self.by_guest = form.add(_("Told by"), QCheckBox(_("a g&uest, who waits for an answer")))
        self.who = form.add(_("Seen or reported b&y"), WhoField(several=False))
        self.when = form.add(_("Whe&n"), MomentField())
        self.photo = form.add(_("Ph&oto"), PhotoField(context))
        self.specimen = form.add(
            _("&Specimen"), QLineEdit(), hint=_("Its label, if one was kept on tape or in a tube.")
        )
        self.specimen.setPlaceholderText(_("Label on the bag or tube, if one was kept"))
        self.kept_at = form.add(_("&Kept where"), QLineEdit())
        self.note = form.add(_("No&te"), QLineEdit())
        self.note.setPlaceholderText(_("No guest's name"))
        self.count.setRange(0, MOST_COUNTED)
        self.count.setSpecialValueText(_("not counted"))
        self.no_blame = QLabel(no_blame_text(), wordWrap=True)
        self.no_blame.setProperty("role", "muted")
        self.lay_out(self.no_blame)
        self.take_drops(self.photo)
        self.room.chosen.connect(self._fit_to_room)
        self.sign.chosen.connect(self._fit_to_sign)
        self.when.dateTimeChanged.connect(self._tell)
        self.specimen.textChanged.connect(self._fit_to_specimen)
        self.setFocusProxy(self.room)
        self._fit_to_room()
        self._fit_to_sign()
        self._fit_to_specimen()

    def refresh(self) -> None:
        """Offer the rooms there are now; what was typed stays."""
        self.room.offer((room, room) for room in self.context.hotel.house.rooms)
        # Who finds and who reports is a detail of cases, that some roles do not see.
        self.who.offer(self.context.people.names() if self.context.sees(Sight.CASES) else ())
        if not self.who.names():
            self.who.setText(self.context.hotel.by)
        if not self.when.was_edited:
            self.when.show_moment(self.context.hotel.now(), self.context.hotel.zone)

    def begin(self, room: RoomNo | None) -> None:
        """Stand in the room's field, or behind it where the room is known."""
        self.refresh()
        if room is not None:
            self.room.choose(room)
        (self.room if self.room.value() is None else self.sign).setFocus()

    def sighted(self) -> Sighted | None:
        """The sighting as it stands in the fields; None while room or sign is lacking."""
        room, sign = self.room.value(), self.sign.value()
        if room is None or sign is None:
            return None
        hotel = self.context.hotel
        now = hotel.now()
        return Sighted(
            case=CaseNo(""),
            room=RoomNo(room),
            bed=self.bed.value() or "",
            place=self.place.value() or "",
            sign=Sign(sign),
            count=self.count.value(),
            seen_by=" ".join(self.who.names()),
            seen_at=self.when.moment(hotel.zone) if self.when.was_edited else now,
            noted=self.note.text().strip(),
            life_stage=(self.stage.value() or "") if sign in AGED else "",
            by_guest=self.by_guest.isChecked() or Sign(sign) in GUESTS_SIGNS,
        )

    def is_begun(self) -> bool:
        """Whether a room or a sign is chosen, or anything else typed."""
        chosen = self.room.value() is not None or self.sign.value() is not None
        return chosen or super().is_begun()

    def in_words(self) -> str:
        """What it is, in words, where it was left half entered."""
        room = self.room.value() or self.room.typed()
        return _("sighting in room {room}").format(room=room) if room else _("sighting")

    def save(self) -> bool:
        """Write the sighting down with its whole answer."""
        sighted = self.sighted()
        if sighted is None or self._strange_choices():
            self._say_what_lacks()
            return False
        name = self.specimen.text().strip()
        case = log_sighting(
            self.context.hotel,
            sighted,
            photos=self.photo.photos,
            not_asked=self.not_asked,
            specimen=(name, self.kept_at.text().strip()) if name else None,
        )
        self.context.people.remember((sighted.seen_by,))
        self.last_room = sighted.room
        self._empty()
        self.logged.emit(case)
        return True

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "unknown_room": self.room,
            "unknown_bed": self.bed,
            "who_saw_missing": self.who,
            "moment_to_come": self.when,
            "specimen_needs_place": self.kept_at,
            "no_such_file": self.photo,
            "not_a_photo": self.photo,
            "photo_too_large": self.photo,
        }
        return fields.get(code)

    def _say_what_lacks(self) -> None:
        if self.room.value() is None:
            typed = self.room.typed()
            self.form.say(
                self.room,
                _("There is no room {room}. Type a number of the roster.").format(room=typed)
                if typed
                else _("Type the room's number."),
            )
        if self.sign.value() is None:
            self.form.say(self.sign, _("Say what was seen or reported."))
        for field in self._strange_choices():
            self.form.say(field, _("Choose one of the list, or leave it empty."))

    def _strange_choices(self) -> list[ChoiceField]:
        """Fields with something typed that is not in their list."""
        asked = [self.place, self.bed]
        if self.sign.value() in AGED:
            asked.append(self.stage)
        return [field for field in asked if field.typed() and field.value() is None]

    def _empty(self) -> None:
        """Ready for the next sighting; who saw it stays."""
        self.not_asked = frozenset()
        for field in (self.room, self.sign, self.place, self.bed, self.stage):
            field.choose(None)
        for line in (self.specimen, self.kept_at):
            line.clear()
        self.by_guest.setChecked(False)
        self.count.setValue(0)
        self.photo.clear()
        self.note.clear()
        self.when.show_moment(self.context.hotel.now(), self.context.hotel.zone)

    # --- what follows from what ----------------------------------------------

    def _fit_to_room(self, _room: object = None) -> None:
        house = self.context.hotel.house
        room = self.room.value()
        beds = house.beds_of(RoomNo(room)) if room is not None else ()
        self.bed.offer(
            (bed.bed, _("{bed} ({kind})").format(bed=bed.bed, kind=bed_label(bed.kind)))
            for bed in beds
        )
        places = [
            place.code
            for bed in beds
            for place in house.rules.bed_kinds[bed.kind].places_of(encased=bed.encased)
        ]
        places += [place.code for place in house.rules.room_places]
        self.place.offer((code, place_label(code)) for code in dict.fromkeys(places))
        self.form.show_field(self.bed, visible=len(beds) > 1)
        self._tell()

    def _fit_to_specimen(self, _text: object = None) -> None:
        self.form.show_field(self.kept_at, visible=bool(self.specimen.text().strip()))

    def _fit_to_sign(self, _sign: object = None) -> None:
        sign = self.sign.value()
        is_bites = sign == Sign.BITES_REPORTED
        is_told = sign in GUESTS_SIGNS
        self.form.show_field(self.stage, visible=sign in AGED)
        self.form.show_field(self.by_guest, visible=sign is not None and not is_told)
        self.form.show_field(self.count, visible=not is_told)
        self.form.show_field(self.specimen, visible=not is_told)
        if is_told:
            self.specimen.clear()
        said = f"{caution_text('bites')} {caution_sentences('bites')[-1]}" if is_bites else ""
        self.caution.setText(said)
        self.caution.setVisible(is_bites)
        self._tell()

    def _tell(self) -> None:
        self.changed.emit()


class SightingPanel(QWidget):
    """The form and, beside it, what it would set going."""

    def __init__(self, context: Context) -> None:
        """An empty form with nothing proposed."""
        super().__init__()
        self._context = context
        self.form = SightingForm(context)
        self.answer = AnswerPanel(context)
        self._pause = QTimer(self, singleShot=True, interval=TYPING_PAUSE_MS)
        self._pause.timeout.connect(self.propose)
        self.form.changed.connect(self._pause.start)
        self.answer.struck_out.connect(self._strike)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(12)
        line.addWidget(self.form, 5)
        line.addWidget(self.answer, 6)
        self.setFocusProxy(self.form)

    def propose(self) -> None:
        """Show what the fields would set going as they stand."""
        sighted = self.form.sighted()
        if sighted is None:
            self.answer.show_nothing()
        else:
            try:
                self.answer.show_preview(preview_sighting(self._context.hotel, sighted))
            except Refusal:
                self.answer.show_nothing()  # it is said in words when the person saves
        self._strike()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter saves and Esc leaves from the ticks too."""
        self.form.keyPressEvent(event)

    def _strike(self) -> None:
        self.form.not_asked = self.answer.struck


def _stages() -> list[tuple[str, str]]:
    return [(stage.value, label(stage)) for stage in LifeStage]


def _signs() -> list[tuple[str, str]]:
    return [(sign.value, label(sign)) for sign in Sign]
