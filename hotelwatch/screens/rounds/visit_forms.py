"""Three short forms: a guest agreed to a look, a room to be kept free, furniture that moved."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, timedelta

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.by_hand import arrange_visit, ask_nights, decline_visit
from hotelwatch.actions.calendar import move_furniture
from hotelwatch.core.clock_text import clock_said
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import FurnitureMoved, NightAsked, VisitArranged, VisitDeclined
from hotelwatch.core.rounds.days_ahead import day_to_propose
from hotelwatch.core.rounds.doubts import doubts
from hotelwatch.core.rounds.to_arrange import ToArrange
from hotelwatch.core.stays.agreed import ArrangedVisit, AskedNight, arranged_visits, asked_nights
from hotelwatch.core.stays.kept_nights import nights_as_booked
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.fields import ChoiceField, DayField, Form, WhoField
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.tables.hug import Hug
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.asked import answer_text, law_sentence
from hotelwatch.wording.dates import day_text, days_text, minutes_text, short_day_text
from hotelwatch.wording.doubts import doubt_sentence
from hotelwatch.wording.language import _
from hotelwatch.wording.rounds import night_sentence

USUAL_FROM, USUAL_UNTIL = "10:00", "12:00"
MOST_NIGHTS = 6
"""Of more nights asked for the list scrolls."""


class RoomForm(QWidget):
    """What the three have in common: a title, a room, a note, Save and a way back."""

    saved = Signal()
    """Something was written down."""

    def __init__(self, context: Context, save: str, undo: str = "") -> None:
        """An empty form; ``undo`` takes back what was written down before."""
        super().__init__()
        self.context = context
        self.form = Form()
        self.note = QLabel(wordWrap=True)
        self.note.setProperty("role", "muted")
        self.below = QVBoxLayout()
        """What a form has below its note."""
        self.save = QPushButton(save)
        self.save.setProperty("role", MAIN)
        self.undo = QPushButton(undo)
        self.undo.setVisible(False)
        self.buttons = QHBoxLayout()
        self.buttons.addStretch()
        self.buttons.addWidget(self.save)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 8, 0, 0)
        lines.addWidget(self.form)
        lines.addWidget(self.note)
        lines.addLayout(self.below)
        lines.addStretch()
        # Above the others: three beside one another are wider than the card.
        lines.addWidget(self.undo, alignment=Qt.AlignmentFlag.AlignRight)
        lines.addLayout(self.buttons)

    def room_of(self, field: ChoiceField) -> RoomNo | None:
        """The room chosen; says so below the field where there is none."""
        room = field.value()
        if room is None:
            self.form.say(field, _("Choose a room of the house."))
            return None
        return RoomNo(room)

    def words_of(self, field: QLineEdit, lack: str) -> str:
        """What is typed; says what lacks below the field where nothing is."""
        words = " ".join(field.text().split())
        if not words:
            self.form.say(field, lack)
        return words


class VisitForm(RoomForm):
    """A guest who stays agreed to a look: which room, which day, which hours, who asked."""

    def __init__(self, context: Context) -> None:
        """A look on the next day on which a team works."""
        super().__init__(context, _("Guest &agreed"), _("Call it &off"))
        self.no = QPushButton(_("Guest sa&id no"))
        self.buttons.insertWidget(self.buttons.count() - 1, self.no)
        self.room = self.form.add(_("&Room"), ChoiceField())
        self.day = self.form.add(_("&Day"), DayField(self._proposed()))
        self.begins = self.form.add(_("&Not before"), QLineEdit(USUAL_FROM))
        self.ends = self.form.add(_("Done b&y"), QLineEdit(USUAL_UNTIL))
        self.who = self.form.add(_("&Who asked"), WhoField(context.people.names(), several=False))
        self._hours_of: str | None = None
        self.room.chosen.connect(self._take_room)
        self.day.chosen.connect(self.tell)
        self.save.clicked.connect(self._save)
        self.undo.clicked.connect(self._call_off)
        self.no.clicked.connect(self._say_no)
        self.who.returnPressed.connect(self._save)
        self.tell()

    def offer(self, house: House) -> None:
        """Offer the rooms of the house."""
        self.room.offer((room, room) for room in house.rooms)
        self.who.offer(self.context.people.names())
        self.tell()

    def take(self, row: ToArrange) -> None:
        """Fill in a room that is to be arranged, with what was agreed if anything was."""
        self.form.clear()
        self.room.choose(row.room)
        if row.visit is not None:
            self.day.set_day(row.visit.on)
            self.begins.setText(row.visit.from_clock)
            self.ends.setText(row.visit.until_clock)
            self.who.set_names([row.visit.agreed_by])
        else:
            self.day.set_day(self._proposed(row.due_on))
        self.tell(minutes=row.minutes)

    def _take_room(self, room: str | None) -> None:
        """Hours are one guest's word: those of the next room begin as usual."""
        if room is not None:
            if self._hours_of not in (None, room):
                self.begins.setText(USUAL_FROM)
                self.ends.setText(USUAL_UNTIL)
            self._hours_of = room
        self.tell()

    def _proposed(self, due_on: date | None = None) -> date:
        """A day on which a team works: in time if there is one, else the next."""
        hotel = self.context.hotel
        return day_to_propose(hotel.house, hotel.today(), due_on)

    def tell(self, _what: object = None, *, minutes: int = 0) -> None:
        """Say what is not asked, and offer to call off what was agreed."""
        said = _(
            "The guest is never named. After a no nobody goes in, and the room remains due. {law}"
        ).format(law=law_sentence())
        if minutes:
            said = _("The look takes {minutes}. {said}").format(
                minutes=minutes_text(minutes), said=said
            )
        known = self._known()
        if known is not None:
            # Before the rest: a team's leave may have come after the guest's word.
            said = " ".join((*_doubts(self.context, known.room, [known.on], is_agreed=True), said))
        self.note.setText(said)
        self.undo.setVisible(known is not None)

    def _known(self) -> ArrangedVisit | None:
        room = self.room.value()
        held = arranged_visits(self.context.hotel.house)
        return held.get((RoomNo(room), self.day.day())) if room is not None else None

    def _save(self) -> None:
        self.form.clear()
        room = self.room_of(self.room)
        names = self._asked_by()
        hours = self._clock_of(self.begins), self._clock_of(self.ends)
        if room is None or self.form.has_problems():
            return
        with self.context.notices.refusals():
            arrange_visit(self.context.hotel, VisitArranged(room, self.day.day(), *hours, names[0]))
            self.context.people.remember(names)
            self._told(_("{room}, {day}: a look is agreed. Draft the round again."), room)
            _warn(self.context, room, [self.day.day()], is_agreed=True)

    def _clock_of(self, field: QLineEdit) -> str:
        """What is typed as "HH:MM"; says below the field what is no clock time."""
        with suppress(Refusal):
            if clock := clock_said(field.text()):
                return clock
        self.form.say(field, _("Say when, as 10:00."))
        return ""

    def _say_no(self) -> None:
        """Write down that the guest was asked today and said no, whatever day is filled in."""
        self.form.clear()
        room = self.room_of(self.room)
        names = self._asked_by()
        if room is None or not names:
            return
        hotel = self.context.hotel
        with self.context.notices.refusals():
            decline_visit(hotel, VisitDeclined(room, hotel.today(), names[0]))
            self.context.people.remember(names)
            self._told(_("{room}: the guest said no today. The room remains due."), room)

    def _asked_by(self) -> tuple[str, ...]:
        names = self.who.names()
        if not names:
            self.form.say(self.who, _("Say who of the staff asked the guest."))
        return names

    def _call_off(self) -> None:
        known = self._known()
        if known is None:
            return
        off = VisitArranged(
            known.room, known.on, known.from_clock, known.until_clock, known.agreed_by, holds=False
        )
        with self.context.notices.refusals():
            arrange_visit(self.context.hotel, off)
            self._told(_("{room}, {day}: the look is called off."), known.room)

    def _told(self, said: str, room: RoomNo) -> None:
        self.form.settle()
        self.context.notices.done(said.format(room=room, day=day_text(self.day.day())))
        self.tell()
        self.saved.emit()


class NightForm(RoomForm):
    """Front desk is asked to keep a room free for a night."""

    def __init__(self, context: Context) -> None:
        """A night from tomorrow on."""
        super().__init__(context, _("&Ask front desk"), _("With&draw it"))
        self.room = self.form.add(_("&Room"), ChoiceField())
        tomorrow = context.hotel.today() + timedelta(days=1)
        self.night = self.form.add(_("&Night of"), DayField(tomorrow))
        self.reason = self.form.add(_("Wh&y"), QLineEdit())
        self.note.setText(
            _(
                "Front desk reads the room, the night, what it costs and saves. What is typed"
                " here stays with housekeeping."
            )
        )
        self.asked = _asked_table()
        # Not by having the place: who tabs past the list must not fill the fields.
        self.asked.activated.connect(self._take)
        self.asked.view.clicked.connect(self._take_clicked)
        self.below.addWidget(self.asked)
        Hug(self.asked, MOST_NIGHTS)
        self.room.chosen.connect(self.tell)
        self.night.chosen.connect(self.tell)
        self.save.clicked.connect(self._save)
        self.undo.clicked.connect(self._withdraw)
        self.reason.returnPressed.connect(self._save)

    def offer(self, house: House) -> None:
        """Offer the rooms of the house."""
        self.room.offer((room, room) for room in house.rooms)
        hotel = self.context.hotel
        self.asked.show_rows(nights_as_booked(house, hotel.occupancy(), hotel.today()))
        self.tell()

    def tell(self, _what: object = None) -> None:
        """Offer to withdraw what was asked."""
        hotel = self.context.hotel
        asked = {(one.room, one.night) for one in asked_nights(hotel.house, hotel.today())}
        self.undo.setVisible((self.room.value(), self.night.day()) in asked)

    def _take_clicked(self, *_where: object) -> None:
        self._take(self.asked.current())

    def _take(self, row: AskedNight | None) -> None:
        """Put a night asked for into the fields, to be withdrawn or asked again."""
        if row is not None and not self.form.is_typed():
            self.room.choose(row.room)
            self.night.set_day(row.night)
            self.reason.setText(row.reason)
            self.form.settle()
            self.tell()

    def _save(self) -> None:
        self.form.clear()
        room = self.room_of(self.room)
        reason = self.words_of(self.reason, _("Say in a few words why."))
        if room is not None and not self.form.has_problems():
            night = NightAsked(room, self.night.day(), reason)
            self._ask(night, _("{room}, night of {day}: front desk is asked."))

    def _withdraw(self) -> None:
        night = NightAsked(RoomNo(self.room.value() or ""), self.night.day(), "", holds=False)
        self._ask(night, _("{room}, night of {day}: no longer asked."))

    def _ask(self, night: NightAsked, said: str) -> None:
        with self.context.notices.refusals():
            ask_nights(self.context.hotel, [night])
            self.form.settle()
            self.context.notices.done(said.format(room=night.room, day=day_text(night.night)))
            if night.holds:
                _warn(self.context, night.room, [night.night, night.night + timedelta(days=1)])
            self.tell()
            self.saved.emit()


class FurnitureForm(RoomForm):
    """Furniture went from one room to another: both are wanted sooner."""

    def __init__(self, context: Context) -> None:
        """Moved today."""
        super().__init__(context, _("&Save"))
        self.from_room = self.form.add(_("Fro&m room"), ChoiceField())
        self.to_room = self.form.add(_("&To room"), ChoiceField())
        self.day = self.form.add(_("&Day"), DayField(context.hotel.today()))
        self.what = self.form.add(_("Wh&at"), QLineEdit())
        self.what.setPlaceholderText(_("headboard, armchair"))
        self.bed = self.form.add(
            _("Of &bed"), ChoiceField(), hint=_("Only where it is part of a bed.")
        )
        days = int(context.hotel.house.rules.figures.furniture_check_days.value)
        self.note.setText(
            _(
                "Both rooms are then wanted within {days} (an assumption): what lives in"
                " furniture moves with it."
            ).format(days=days_text(days))
        )
        self.from_room.chosen.connect(self._offer_beds)
        self.to_room.chosen.connect(self._offer_beds)
        self.save.clicked.connect(self._save)
        self.what.returnPressed.connect(self._save)

    def offer(self, house: House) -> None:
        """Offer the rooms of the house."""
        for field in (self.from_room, self.to_room):
            field.offer((room, room) for room in house.rooms)

    def _offer_beds(self, _room: object) -> None:
        house = self.context.hotel.house
        rooms = [self.from_room.value(), self.to_room.value()]
        beds = [bed for room in rooms if room for bed in house.beds_of(RoomNo(room))]
        self.bed.offer((bed.bed, bed.bed) for bed in beds)

    def _save(self) -> None:
        self.form.clear()
        rooms = self.room_of(self.from_room), self.room_of(self.to_room)
        what = self.words_of(self.what, _("Say what was moved."))
        source, target = rooms
        if source is not None and source == target:
            self.form.say(self.to_room, _("That is the room it came from."))
        if source is None or target is None or self.form.has_problems():
            return
        day: date = self.day.day()
        moved = FurnitureMoved(source, target, day, what, self.bed.value() or "")
        with self.context.notices.refusals():
            move_furniture(self.context.hotel, moved)
            self.what.clear()
            self.context.notices.done(
                _("{what}, {source} to {target}: both rooms are wanted sooner.").format(
                    what=what, source=source, target=target
                )
            )
            self.saved.emit()


def _asked_table() -> RowTable[AskedNight]:
    return RowTable(
        [
            Column[AskedNight](_("Room"), lambda row: row.room),
            Column[AskedNight](
                _("Night of"), lambda row: short_day_text(row.night), sort=lambda row: row.night
            ),
            Column[AskedNight](
                _("Front desk"),
                answer_text,
                tint=_answer_tone,
                hint=night_sentence,
                wraps=True,
            ),
        ],
        key=lambda row: (row.room, row.night),
        name=_("Nights asked of front desk"),
        empty=Empty(_("Front desk is asked for no night.")),
        filtered=False,
    )


def _answer_tone(row: AskedNight) -> Tone | None:
    return Tone.LATE if row.is_sold else {None: Tone.DUE, True: Tone.DONE}.get(row.is_kept)


def _warn(context: Context, room: RoomNo, days: list[date], *, is_agreed: bool = False) -> None:
    """Say what stands against a look on the days of what was just written down."""
    for said in _doubts(context, room, days, is_agreed=is_agreed):
        context.notices.warn(said)


def _doubts(
    context: Context, room: RoomNo, days: list[date], *, is_agreed: bool = False
) -> list[str]:
    hotel = context.hotel
    seen = hotel.occupancy() if is_agreed else None
    found = doubts(hotel.house, room, days, now=hotel.now(), seen=seen)
    return [doubt_sentence(doubt) for doubt in found]
