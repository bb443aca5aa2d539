"""Write down that guests changed rooms: the case asks for the rooms that it ties."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit, QWidget

from hotelwatch.actions.links import record_guest_move
from hotelwatch.core.case_facts import GuestMoved
from hotelwatch.core.cases.case import Case
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import EntryForm
from hotelwatch.screens.forms.fields import ChoiceField, DayField, WhoField
from hotelwatch.wording.language import _


class GuestMoveForm(EntryForm):
    """From where to where, on which day, by whose word."""

    def __init__(self, context: Context) -> None:
        """No case yet."""
        super().__init__(context, _("&Write down the move"))
        self._case: Case | None = None
        self.title.setText(_("Guests changed rooms"))
        self.from_room = self.form.add(_("Fro&m"), ChoiceField())
        self.to_room = self.form.add(_("&To"), ChoiceField())
        self.on = self.form.add(_("&Day"), DayField(context.hotel.today()))
        self.booking = self.form.add(
            _("&Booking"), QLineEdit(), hint=_("Its number, if it is known; never a name.")
        )
        self.who = self.form.add(
            _("Wh&o moved them"), WhoField(context.people.names(), several=False)
        )
        self.caution.setText(
            _("Both rooms are looked at then, and every other room of that booking. Write no name.")
        )
        self.lay_out()
        self.setFocusProxy(self.to_room)

    def begin(self, case: Case, room: RoomNo) -> None:
        """Offer a move out of this room because of the case."""
        self._case = case
        self.form.clear()
        rooms = [(room, room) for room in self.context.hotel.house.rooms]
        self.from_room.offer(rooms)
        self.to_room.offer(rooms)
        self.from_room.choose(room)
        self.to_room.choose(None)
        self.on.set_day(self.context.hotel.today())
        self.booking.clear()
        self.who.offer(self.context.people.names())
        self.form.settle()

    def about(self) -> str | None:
        """Its case."""
        return self._case.no if self._case is not None else None

    def field_of(self, code: str) -> QWidget | None:
        """Where what is wrong is said."""
        return {
            "same_room": self.to_room,
            "day_to_come": self.on,
            "who_moved_missing": self.who,
            "unknown_booking": self.booking,
        }.get(code)

    def save(self) -> bool:
        """Write the move down."""
        for field in (self.from_room, self.to_room):
            if field.value() is None:
                self.form.say(field, _("Choose a room of the roster."))
        if self.form.has_problems() or self._case is None:
            return False
        names = self.who.names()
        record_guest_move(
            self.context.hotel,
            GuestMoved(
                RoomNo(self.from_room.value() or ""),
                RoomNo(self.to_room.value() or ""),
                self.on.day(),
                self.booking.text().strip(),
                names[0] if names else "",
                self._case.no,
            ),
        )
        self.context.people.remember(names)
        self.context.notices.done(_("The move is written down; the case asks for both rooms."))
        return True
