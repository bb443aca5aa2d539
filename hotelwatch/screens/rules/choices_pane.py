"""Single choices of the hotel over the local rules: ring, hold, release, species, checks."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from hotelwatch.actions.choices import choose_rule
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.house import House
from hotelwatch.core.profile import CHOICES
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.layout.flow import Flow
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.profiles import choice_name, rule_name

CARD_PX = 680
APART_PX = 18
CHOICE_CHARS = 22
SHORT = {
    "ring_radius": m("How &far"),
    "hold": m("Until &looked at"),
    "release_by": m("&Given back by"),
    "species": m("S&pecies"),
    "clean_kinds": m("Checks tha&t count"),
    "full_check": m("Full chec&k"),
    "sign_off": m("S&igned by"),
    "rounds_by": m("Ro&unds go by"),
    "back_up": m("&Backups are made"),
    "names_outside": m("Staff names &outside"),
}
USUAL_FIRST = frozenset(
    {"species", "clean_kinds", "full_check", "sign_off", "rounds_by", "back_up", "names_outside"}
)
"""Rules that no set says anything about: the first choice is the usual one."""
SINGLE = tuple(rule for rule in CHOICES if rule in SHORT)


class ChoicesPane(QWidget):
    """A form with each rule that a hotel may choose beside its local set."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self.choices = Form()
        self.boxes: dict[str, QComboBox] = {}
        self.kinds: dict[str, QCheckBox] = {}
        self.save = QPushButton(_("&Save these choices"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        deed = Deed(_("Make the hotel's own choices"), (RuleChosen,), (self.save,))
        self.for_others = offer(context, deed)
        self._make_choices()
        heading = QLabel(_("This hotel's own choices"))
        heading.setProperty("role", "heading")
        why = QLabel(
            _("They count over the local rules, and stand in the month's book."), wordWrap=True
        )
        why.setProperty("role", "muted")
        card = Card(CARD_PX)
        for widget in (heading, why, self.choices, self.for_others):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.addWidget(card)
        both.addStretch()

    def refresh(self) -> None:
        """Read the choices anew."""
        self._show_choices(self._context.hotel.house)

    def _make_choices(self) -> None:
        row = QWidget()
        row.setProperty("role", "plain")
        kinds = Flow(APART_PX)
        row.setLayout(kinds)
        for kind in CHOICES["ring_kinds"].values:
            self.kinds[kind] = QCheckBox(label(kind))
            kinds.addWidget(self.kinds[kind])
        row.setFocusProxy(next(iter(self.kinds.values())))
        self.choices.add(_("&Neighbours"), row, hint=rule_name("ring_kinds"))
        for rule in SINGLE:
            box = QComboBox()
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setMinimumContentsLength(CHOICE_CHARS)
            choices = CHOICES[rule].values
            if rule in USUAL_FIRST:
                box.addItem(choice_name(rule, choices[0]), "")
                choices = choices[1:]
            else:
                box.addItem(_("As the local rules say"), "")
            for choice in choices:
                box.addItem(choice_name(rule, choice), choice)
            self.boxes[rule] = self.choices.add(_(SHORT[rule]), box, hint=rule_name(rule))
            box.setToolTip(box.currentText())  # large text may cut it
            box.currentTextChanged.connect(box.setToolTip)

    def _show_choices(self, house: House) -> None:
        for rule, box in self.boxes.items():
            box.setCurrentIndex(max(0, box.findData(house.choices.get(rule, ""))))
        for kind, check in self.kinds.items():
            check.setChecked(kind in house.profile.ring_kinds)

    def _save(self) -> None:
        hotel = self._context.hotel
        kinds = tuple(kind for kind, check in self.kinds.items() if check.isChecked())
        local = hotel.house.rule_sets[hotel.house.profile.key].ring_kinds
        with self._context.notices.refusals():
            choose_rule(hotel, "ring_kinds", "" if set(kinds) == set(local) else " ".join(kinds))
            for rule, box in self.boxes.items():
                choose_rule(hotel, rule, box.currentData())
            self.refresh()
            self._context.notices.done(_("The hotel's choices are written down."))
