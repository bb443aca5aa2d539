"""Visits of a firm's dog: what became of each alert, and a form to write a visit down."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from hotelwatch.actions.dogs import record_dog_visit
from hotelwatch.core.cases.treatment import firms
from hotelwatch.core.checks.dogs import AlertFate, AlertRow, alert_rows
from hotelwatch.core.facts import CaseNo
from hotelwatch.core.treatment_facts import DogVisit
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.entry_form import EntryForm, MomentField
from hotelwatch.screens.forms.fields import ChoiceField, WhoField
from hotelwatch.screens.forms.rooms_typed import rooms_named
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.dogs import (
    dog_rule,
    dog_trial_text,
    dog_worth_text,
    fate_text,
    visit_sentence,
)
from hotelwatch.wording.language import _, join, ngettext

TABLE_SHARE, FORM_SHARE = 3, 2


class DogPane(QWidget):
    """A list of alerts and visits beside the form for a visit."""

    case_wanted = Signal(object)
    """The case of an alert."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.table = _table()
        self.table.activated.connect(self._enter)
        self.said = QLabel(wordWrap=True)
        self.said.setProperty("role", "muted")
        self.form = DogForm(context)
        left = QVBoxLayout()
        left.addWidget(self.table, 1)
        left.addWidget(self.said)
        self.for_others = offer(context, Deed(_("Write down a dog's visit"), (DogVisit,)))
        left.addWidget(self.for_others)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 4, 0, 0)
        both.setSpacing(12)
        both.addLayout(left, TABLE_SHARE)
        both.addWidget(self.form, FORM_SHARE)
        # Only now: shown before it has a place, it would be a window of its own.
        self.form.setVisible(context.may(DogVisit))
        self.setFocusProxy(self.table.view)

    def refresh(self) -> int:
        """Read the visits anew; how many alerts are open. What is being typed stays."""
        house = self._context.hotel.house
        rows = alert_rows(house)
        self.table.show_rows(rows)
        figures = house.rules.figures
        told = (
            dog_rule(),
            dog_trial_text(figures.dog_detection, figures.dog_false_positive),
            dog_worth_text(house),
        )
        self.said.setText(" ".join(told))
        self.form.refresh()
        return sum(row.alert is not None and row.alert.fate is AlertFate.OPEN for row in rows)

    def _enter(self, row: AlertRow) -> None:
        if row.alert is not None and row.alert.case:
            self.case_wanted.emit(CaseNo(row.alert.case))


class DogForm(EntryForm):
    """A visit as the firm told it."""

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__(context, _("Write the visit down"))
        self.title.setText(_("A dog was led through rooms"))
        form = self.form
        self.firm = form.add(_("F&irm"), WhoField(several=False))
        self.handler = form.add(_("Han&dler"), QLineEdit())
        self.certified = form.add(_("&Certification"), QLineEdit())
        self.certified.setPlaceholderText(_("As the firm told it; by whom, until when"))
        self.when = form.add(_("Whe&n"), MomentField())
        self.rooms = form.add(_("&Rooms"), QLineEdit(), hint=_("All of them, silent ones too."))
        self.rooms.setPlaceholderText(_("Every room it was led through"))
        self.floor = form.add(
            _("&Add all of"), ChoiceField(), hint=_("Puts the floor's rooms into the line above.")
        )
        self.alerts = form.add(_("A&lerts in"), QLineEdit())
        self.alerts.setPlaceholderText(_("Rooms; empty for none"))
        self.who = form.add(_("&Was there"), WhoField(several=False))
        self.note = form.add(_("N&ote"), QLineEdit())
        self.note.setPlaceholderText(_("No guest's name"))
        self.caution.setText(
            _("Each alert closes its room on suspicion and asks for a look at it.")
        )
        self.lay_out()
        self.floor.chosen.connect(self._add_floor)
        self.setFocusProxy(self.firm)

    def refresh(self) -> None:
        """Offer firms, floors and people there are now; what was typed stays."""
        hotel = self.context.hotel
        self.firm.offer(tuple(firms(hotel.house)))
        self.floor.offer(
            (floor, _("Floor {floor}").format(floor=floor)) for floor in hotel.house.rooms_by_floor
        )
        self.who.offer(self.context.people.names())
        if not self.who.names():
            self.who.setText(hotel.by)
        if not self.when.was_edited:
            self.when.show_moment(hotel.now(), hotel.zone)

    def save(self) -> bool:
        """Write the visit down with what its alerts set going."""
        hotel = self.context.hotel
        rooms, strange = rooms_named(self.rooms.text(), hotel.house.rooms)
        alerts, elsewhere = rooms_named(self.alerts.text(), hotel.house.rooms)
        for field, lost in ((self.rooms, strange), (self.alerts, elsewhere)):
            if lost:
                said = _("No such room: {rooms}.").format(rooms=join(list(lost)))
                self.form.say(field, said)
                return False
        visit = DogVisit(
            visited_at=self.when.moment(hotel.zone) if self.when.was_edited else hotel.now(),
            firm=self.firm.text().strip(),
            handler=self.handler.text().strip(),
            certified=self.certified.text().strip(),
            rooms=rooms,
            alerts=alerts,
            by=" ".join(self.who.names()),
            noted=self.note.text().strip(),
        )
        record_dog_visit(hotel, visit)
        self._empty()
        told = ngettext(
            "The visit is written down. {n} room waits for a look.",
            "The visit is written down. {n} rooms wait for a look.",
            len(alerts),
        )
        done = _("The visit is written down. No alert; that is no look.")
        self.context.notices.done(told.format(n=len(alerts)) if alerts else done)
        return True

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "firm_needs_name": self.firm,
            "dog_needs_rooms": self.rooms,
            "unknown_room": self.rooms,
            "alert_elsewhere": self.alerts,
            "moment_to_come": self.when,
            "who_led_missing": self.who,
        }
        return fields.get(code)

    def _empty(self) -> None:
        for line in (self.firm, self.handler, self.certified, self.rooms, self.alerts, self.note):
            line.clear()
        self.when.show_moment(self.context.hotel.now(), self.context.hotel.zone)

    def _add_floor(self, floor: str | None) -> None:
        if floor is None:
            return
        more = self.context.hotel.house.rooms_by_floor.get(floor, ())
        named, strange = rooms_named(self.rooms.text(), self.context.hotel.house.rooms)
        self.rooms.setText(", ".join(dict.fromkeys((*named, *strange, *more))))
        self.rooms.setModified(True)
        self.floor.choose(None)


def _table() -> RowTable[AlertRow]:
    return RowTable(
        [
            Column[AlertRow](
                _("Day"), lambda line: short_day_text(line.row.on), sort=lambda line: line.row.on
            ),
            Column[AlertRow](_("Alert in"), lambda line: line.alert.room if line.alert else "–"),
            Column[AlertRow](_("What became of it"), fate_text, tint=_tone),
            Column[AlertRow](_("Case"), lambda line: line.alert.case if line.alert else ""),
            Column[AlertRow](
                _("Rooms"),
                lambda line: str(len(line.row.visit.rooms)),
                sort=lambda line: len(line.row.visit.rooms),
                hint=lambda line: join([str(room) for room in line.row.visit.rooms]),
            ),
            Column[AlertRow](
                _("Firm"),
                lambda line: line.row.visit.firm,
                hint=lambda line: visit_sentence(line.row),
            ),
            Column[AlertRow](
                _("Certification, as told"),
                lambda line: line.row.visit.certified or _("not told"),
            ),
        ],
        key=lambda line: line.key,
        name=_("Dogs' visits and alerts"),
        empty=Empty(_("No visit of a dog is written down.")),
        filtered=False,
    )


def _tone(line: AlertRow) -> Tone | None:
    if line.alert is None:
        return None
    return {AlertFate.OPEN: Tone.ASKED, AlertFate.CONFIRMED: Tone.LATE}.get(line.alert.fate)
