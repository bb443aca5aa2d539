"""People: who works here in which role, with which PIN; and what was refused to whom."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.people import describe_person, leave_hotel
from hotelwatch.core.people import RefusedRow, people, refused_rows
from hotelwatch.core.people_facts import PersonDescribed, StaffRole
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.forms.pin_form import pin_field, same_twice
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.people import (
    refused_what,
    refused_when,
    refused_who,
    refused_why,
    role_does,
)
from hotelwatch.wording.problems import refusal_sentence

CARD_PX = 440


class PeoplePane(QWidget):
    """The people, what was refused, and a form to add somebody or to change something."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._was_shown = ""
        self.table = _people_table()
        self.table.current_changed.connect(self._show)
        self.refused = _refused_table(context)
        self.begin = QLabel(wordWrap=True)
        self.begin.setText(
            _(
                "Nobody is written down yet: whoever opens this file may see and do everything."
                " Begin with the executive housekeeper; from then on everybody needs a PIN."
            )
        )
        self.title = QLabel()
        self.title.setProperty("role", "heading")
        self.does = QLabel(wordWrap=True)
        self.does.setProperty("role", "muted")
        self.limit = QLabel(wordWrap=True)
        self.limit.setProperty("role", "muted")
        self.idle = QLabel(wordWrap=True)
        self.idle.setProperty("role", "muted")
        self.limit.setText(
            _(
                "Roles keep people to their work and mistakes small. They protect nothing from"
                " somebody who has a copy of the file, or who saw a PIN being typed."
            )
        )
        self._make_form()
        self._lay_out()
        self._start_new()

    def refresh(self) -> None:
        """Read people and refusals anew; what is being typed stays."""
        house = self._context.hotel.house
        known = people(house)
        self.begin.setVisible(not known)
        idle = house.rules.figures.idle_lock_minutes
        self.idle.setText(
            _(
                "A desk that nobody touches locks after {minutes:g} minutes ({standing}; House"
                " rules, Figures). Ctrl+Shift+L locks it at once."
            ).format(minutes=idle.value, standing=label(idle.standing).lower())
        )
        self.table.show_rows(tuple(known.values()))
        self.refused.show_rows(refused_rows(house))
        self._fit()

    # --- making -------------------------------------------------------------

    def _make_form(self) -> None:
        self.form = Form()
        self.name = self.form.add(_("&Name"), QLineEdit())
        self.name.setPlaceholderText(_("As it stands beside what is written down"))
        self.role = self.form.add(_("&Role"), QComboBox())
        for role in StaffRole:
            self.role.addItem(label(role), role.value)
        self.pin = self.form.add(_("&PIN"), pin_field())
        self.again = self.form.add(_("PIN &again"), pin_field())
        self.add = QPushButton(_("Somebody ne&w"))
        self.add.clicked.connect(self._start_new)
        self.leave = QPushButton(_("Has &left"))
        self.leave.clicked.connect(self._leave)
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.role.currentIndexChanged.connect(self._fit)
        self.name.textEdited.connect(self._fit)
        for line in (self.name, self.pin, self.again):
            line.returnPressed.connect(self._save)

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.addWidget(self.begin)
        left.addWidget(self.table, 3)
        heading = QLabel(_("What was refused"))
        heading.setProperty("role", "heading")
        left.addWidget(heading)
        left.addWidget(self.refused, 2)
        card = Card(CARD_PX)
        for widget in (self.title, self.form, self.does, self.idle, self.limit):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addWidget(self.add)
        card.foot.addWidget(self.leave)
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        deed = Deed(_("Describe people and their PINs"), (PersonDescribed,), (card,))
        self.for_others = offer(self._context, deed)
        left.addWidget(self.for_others)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addLayout(left, 1)
        both.addWidget(card)

    # --- what is shown --------------------------------------------------------

    def _show(self, row: PersonDescribed | None) -> None:
        if row is None:
            return
        self.form.clear()
        self.name.setText(row.person)
        self.role.setCurrentIndex(self.role.findData(row.role.value))
        self.pin.clear()
        self.again.clear()
        self._fit()

    def _start_new(self) -> None:
        self.form.clear()
        self.table.let_go()
        for line in (self.name, self.pin, self.again):
            line.clear()
        is_first = not people(self._context.hotel.house)
        first = StaffRole.EXECUTIVE if is_first else StaffRole.HOUSEKEEPER
        self.role.setCurrentIndex(self.role.findData(first.value))
        self._fit()
        self.name.setFocus()

    def _fit(self, _changed: object = None) -> None:
        known = people(self._context.hotel.house)
        name = self.name.text().strip()
        is_known = name in known
        self.title.setText(name if is_known else _("Somebody new"))
        self.does.setText(role_does(self.role.currentData()))
        self.role.setEnabled(bool(known))
        self.leave.setVisible(is_known)
        kept = _("Empty: stays as it is") if is_known else ""
        self.pin.setPlaceholderText(kept)

    # --- what one does ----------------------------------------------------------

    def _save(self) -> None:
        self.form.clear()
        hotel, name = self._context.hotel, self.name.text().strip()
        is_first = not people(hotel.house)
        try:
            same_twice(self.pin.text(), self.again.text())
            describe_person(hotel, name, StaffRole(self.role.currentData()), pin=self.pin.text())
        except Refusal as refusal:
            self._say(refusal)
            return
        said = _("{name} is written down.").format(name=name)
        if is_first:
            said += " " + _("From now on everybody here needs a PIN; you sit at the desk.")
        self._context.notices.done(said)
        self.refresh()
        self._start_new()

    def _leave(self) -> None:
        name = self.name.text().strip()
        with self._context.notices.refusals():
            leave_hotel(self._context.hotel, name)
            self._context.notices.done(_("{name} works here no more.").format(name=name))
            self.refresh()
            self._start_new()

    def _say(self, refusal: Refusal) -> None:
        if refusal.code.startswith("pin") or refusal.code == "person_needs_pin":
            field: QWidget = self.pin
        elif refusal.code in {"person_needs_name", "person_known_otherwise"}:
            field = self.name
        elif refusal.code in {"first_is_executive", "last_executive"}:
            field = self.role
        else:
            self._context.notices.refuse(refusal)
            return
        self.form.say(field, " ".join(refusal_sentence(refusal)).strip())
        field.setFocus()


def _people_table() -> RowTable[PersonDescribed]:
    return RowTable(
        [
            Column[PersonDescribed](_("Name"), lambda row: row.person),
            Column[PersonDescribed](_("Role"), lambda row: label(row.role)),
        ],
        key=lambda row: row.person,
        name=_("People"),
        empty=Empty(_("Nobody is written down.")),
        filtered=False,
    )


def _refused_table(context: Context) -> RowTable[RefusedRow]:
    zone = context.hotel.zone
    return RowTable(
        [
            Column[RefusedRow](
                _("When"), lambda row: refused_when(row, zone), sort=lambda row: row.at
            ),
            Column[RefusedRow](_("Who"), refused_who),
            Column[RefusedRow](_("What"), refused_what, hint=refused_what),
            Column[RefusedRow](_("Why"), refused_why),
        ],
        key=lambda row: row.entry,
        name=_("What was refused"),
        empty=Empty(_("Nothing was refused yet.")),
        filtered=False,
    )
