"""Two people looked at one room, neither knowing what the other found."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit, QWidget

from hotelwatch.actions.trials import note_blind_pair
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.learning.trials import Trial
from hotelwatch.core.trial_facts import BlindPair
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import MomentField
from hotelwatch.screens.forms.fields import ChoiceField, WhoField
from hotelwatch.screens.odds.trial_forms import FOUND, UNFOUND, TrialForm
from hotelwatch.wording.language import _


class PairForm(TrialForm):
    """Two people looked at one room, neither knowing what the other found."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write it down"))
        self.title.setText(_("Two blind looks at one room"))
        form = self.form
        found = [(FOUND, _("Found something")), (UNFOUND, _("Found nothing"))]
        self.room = form.add(_("Roo&m"), ChoiceField(prompt=_("Type its number")))
        self.first = form.add(_("First &looked"), WhoField(several=False))
        self.first_at = form.add(_("First, whe&n"), MomentField())
        self.first_found = form.add(_("First, &result"), ChoiceField(found))
        self.second = form.add(_("&Second looked"), WhoField(several=False))
        self.second_at = form.add(_("Se&cond, when"), MomentField())
        self.second_found = form.add(_("Second, res&ult"), ChoiceField(found))
        self.note = form.add(_("N&ote"), QLineEdit())
        self.note.setPlaceholderText(_("No guest's name"))
        self.caution.setText(
            _(
                "Neither knows what the other found, and nothing is moved in between. A find is"
                " recorded as a check or a sighting besides, as always."
            )
        )
        self.lay_out()
        self.setFocusProxy(self.room)

    def offer(self) -> None:
        """Rooms of the roster and known names."""
        self.offer_rooms(self.room)
        for field in (self.first, self.second):
            field.offer(self.context.people.names())

    def empty(self, trial: Trial | None) -> None:
        """Nothing said yet, both looks now."""
        hotel = self.context.hotel
        for choice in (self.room, self.first_found, self.second_found):
            choice.choose(None)
        for line in (self.first, self.second, self.note):
            line.clear()
        for moment in (self.first_at, self.second_at):
            moment.show_moment(hotel.now(), hotel.zone)

    def save(self) -> bool:
        """Write it down."""
        room, first, second = (
            field.value() for field in (self.room, self.first_found, self.second_found)
        )
        self.say_room_lacking(self.room)
        for field in (self.first_found, self.second_found):
            self.say_lacking(field, _("Say whether anything was found."))
        if room is None or first is None or second is None:
            return False
        hotel = self.context.hotel
        names = " ".join(self.first.names()), " ".join(self.second.names())
        pair = BlindPair(
            room=RoomNo(room),
            first_by=names[0],
            first_at=self.first_at.moment(hotel.zone),
            first_found=first == FOUND,
            second_by=names[1],
            second_at=self.second_at.moment(hotel.zone),
            second_found=second == FOUND,
            noted=self.note.text().strip(),
        )
        note_blind_pair(hotel, pair)
        self.context.people.remember(names)
        return self._saved(_("Two blind looks at room {room}: written down.").format(room=room))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        is_first_later = self.first_at.dateTime() > self.second_at.dateTime()
        fields: dict[str, QWidget] = {
            "unknown_room": self.room,
            "blind_pair_needs_two": self.second if self.first.names() else self.first,
            "named_twice": self.second,
            "moment_to_come": self.first_at if is_first_later else self.second_at,
            "blind_looks_too_far_apart": self.second_at,
        }
        return fields.get(code)
