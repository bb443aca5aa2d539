"""What one writes down about a release: a trap, its reading, the word given, the closing."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QLineEdit, QSpinBox, QWidget

from hotelwatch.actions.release import (
    close_case,
    note_release_word,
    place_monitor,
    read_monitor,
    take_monitor,
)
from hotelwatch.core.case_facts import NoticeGiven
from hotelwatch.core.cases.case import Case
from hotelwatch.core.checks.monitors import Monitor, monitors_in
from hotelwatch.core.checks.watching import watch_of
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.forms.entry_form import MomentField, text_label
from hotelwatch.screens.forms.fields import ChoiceField, DayField, WhoField
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.release import monitor_sentence, watch_lines
from hotelwatch.wording.sheet_cautions import limit_text

MOST_CAUGHT = 999


def standing_traps(context: Context, case: Case) -> tuple[Monitor, ...]:
    """Traps that stand in a case's rooms."""
    house = context.hotel.house
    return tuple(one for room in case.rooms for one in monitors_in(house, room) if one.is_there)


class PlaceTrapForm(CaseForm):
    """A trap is put into a room of the case."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write down the trap"))
        self.title.setText(_("A trap is put into a room"))
        self.label = self.form.add(_("&Label"), QLineEdit(), hint=_("A number or a name on it."))
        self.room = self.form.add(_("Roo&m"), ChoiceField())
        self.where = self.form.add(_("Whe&re"), QLineEdit())
        self.where.setPlaceholderText(_("As under a leg of bed A"))
        self.day = self.form.add(_("Da&y"), DayField(context.hotel.today()))
        self.who = self.form.add(_("&Placed by"), WhoField(several=False))
        self.caution.setText(
            _("An empty trap is no proof that nothing is there; one that caught is a find.")
        )
        self.lay_out()
        self.setFocusProxy(self.label)

    def empty(self, case: Case) -> None:
        """The case's first room, today."""
        for line in (self.label, self.where):
            line.clear()
        self.room.offer((room, room) for room in case.rooms)
        self.room.choose(case.rooms[0])
        self.day.set_day(self.context.hotel.today())
        self.who.offer(self.context.people.names())

    def save(self) -> bool:
        """Write it down."""
        room = self.room.value()
        if room is None:
            self.form.say(self.room, _("Choose the room."))
            return False
        who = " ".join(self.who.names())
        placed = MonitorPlaced(
            self.label.text().strip(),
            RoomNo(room),
            self.where.text().strip(),
            self.day.day(),
            who,
        )
        place_monitor(self.context.hotel, placed)
        self.context.people.remember((who,))
        return self._saved(
            _("Trap {monitor} stands in {room}.").format(monitor=placed.monitor, room=room)
        )

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "monitor_needs_label": self.label,
            "who_placed_missing": self.who,
            "unknown_room": self.room,
            "day_to_come": self.day,
        }
        return fields.get(code)


class ReadTrapForm(CaseForm):
    """Somebody looked into a trap, or took it away."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write down the reading"))
        self.title.setText(_("A trap is looked into"))
        self.trap = self.form.add(_("&Trap"), ChoiceField())
        self.caught = self.form.add(_("&Insects in it"), QSpinBox(maximum=MOST_CAUGHT))
        self.day = self.form.add(_("Da&y"), DayField(context.hotel.today()))
        self.who = self.form.add(_("&Read by"), WhoField(several=False))
        self.replaced = self.form.add(_("&Afterwards"), QCheckBox(_("A fresh one stands there")))
        self.taken = self.form.add(_("Ta&ken"), QCheckBox(_("No trap stands there now")))
        self.note = self.form.add(_("N&ote"), QLineEdit())
        self.caution.setText(
            _(
                "Anything in it is a find at once: its room is closed until a competent person has "
                "judged it. Keep what was caught. An empty trap is no proof."
            )
        )
        self.lay_out()
        self.setFocusProxy(self.trap)

    def empty(self, case: Case) -> None:
        """The first trap of the case's rooms, nothing caught."""
        traps = standing_traps(self.context, case)
        today = self.context.hotel.today()
        self.trap.offer((one.monitor, monitor_sentence(one, today)) for one in traps)
        self.trap.choose(traps[0].monitor if traps else None)
        self.caught.setValue(0)
        self.replaced.setChecked(False)
        self.taken.setChecked(False)
        self.note.clear()
        self.day.set_day(today)
        self.who.offer(self.context.people.names())

    def is_begun(self) -> bool:
        """Whether a catch was typed, or anything else."""
        return self.caught.value() > 0 or super().is_begun()

    def save(self) -> bool:
        """Write it down; the trap that was taken away as well."""
        trap, who = self.trap.value(), " ".join(self.who.names())
        if trap is None:
            self.form.say(self.trap, _("Choose the trap."))
            return False
        hotel = self.context.hotel
        read = MonitorRead(
            trap,
            RoomNo(""),
            self.day.day(),
            who,
            self.caught.value(),
            self.replaced.isChecked(),
            self.note.text().strip(),
        )
        read_monitor(hotel, read)
        if self.taken.isChecked():
            take_monitor(hotel, trap, on=read.read_on, by=who)
        self.context.people.remember((who,))
        if read.caught:
            return self._saved(_("The catch is written down as a find; its room is closed."))
        return self._saved(_("Trap {monitor} was empty. That is no proof.").format(monitor=trap))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "unknown_monitor": self.trap,
            "who_placed_missing": self.who,
            "read_before_placed": self.day,
            "day_to_come": self.day,
        }
        return fields.get(code)


class ReleaseWordForm(CaseForm):
    """The word of the licensed firm, or of the health officer."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Write down the word"))
        self.title.setText(_("The word that a room may be let was given"))
        self.giver = self.form.add(_("G&iven by"), QLineEdit(), hint=_("A firm or an office."))
        self.room = self.form.add(_("Roo&m"), ChoiceField())
        self.at = self.form.add(_("Whe&n"), MomentField())
        self.receipt = self.form.add(_("&Receipt"), QLineEdit(), hint=_("Number of the paper."))
        self.lay_out()
        self.setFocusProxy(self.giver)

    def empty(self, case: Case) -> None:
        """Who is to give it, for every room of the case."""
        hotel = self.context.hotel
        profile = hotel.house.profile
        self.giver.clear()
        self.giver.setPlaceholderText(profile.authority or label(profile.release_by))
        self.receipt.clear()
        rooms = [(room, room) for room in case.quarantined]
        self.room.offer([("", _("Every room of the case")), *rooms])
        self.room.choose("")
        self.at.show_moment(hotel.now(), hotel.zone)

    def save(self) -> bool:
        """Write it down."""
        assert self.case is not None  # the form is shown only for a case
        hotel = self.context.hotel
        given_at = self.at.moment(hotel.zone) if self.at.was_edited else hotel.now()
        word = NoticeGiven(
            self.case.no,
            "",
            self.giver.text().strip(),
            given_at,
            hotel.by,
            self.receipt.text().strip(),
            room=self.room.value() or "",
        )
        note_release_word(hotel, word)
        return self._saved(_("Written down: {who} gave the word.").format(who=word.to))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {"word_needs_giver": self.giver, "moment_to_come": self.at}
        return fields.get(code)


class CloseForm(CaseForm):
    """The watch is ended by a named person."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("&Close the case"))
        self.told = text_label("")
        self.is_over = False
        self.who = self.form.add(_("Closed b&y"), WhoField(several=False))
        self.reason = self.form.add(_("Reaso&n"), QLineEdit())
        self.reason.setPlaceholderText(_("Why it is closed all the same"))
        self.caution.setText(limit_text())
        self.lay_out(self.told)
        self.setFocusProxy(self.who)

    def empty(self, case: Case) -> None:
        """How far the watch is, nobody named."""
        hotel = self.context.hotel
        self.title.setText(_("Close case {case}").format(case=case.no))
        watch = watch_of(hotel.house, case.no, hotel.today())
        self.is_over = watch.is_over
        self.told.setText("\n".join(watch_lines(watch)))
        self.who.offer(self.context.people.names())
        self.who.setText(hotel.by)
        self.reason.clear()
        self.form.show_field(self.reason, visible=not self.is_over)

    def save(self) -> bool:
        """End the watch."""
        assert self.case is not None  # the form is shown only for a case
        who, case = " ".join(self.who.names()), self.case.no
        reason = "" if self.is_over else self.reason.text().strip()
        if not self.is_over and not reason:
            self.form.say(self.reason, _("The watch is not over: a reason is required."))
            return False
        close_case(self.context.hotel, case, by=who, reason=reason)
        self.context.people.remember((who,))
        return self._saved(
            _("Case {case} is closed. {limit}").format(case=case, limit=limit_text())
        )

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "ending_needs_name": self.who,
            "ending_needs_reason": self.reason,
        }
        return fields.get(code)
