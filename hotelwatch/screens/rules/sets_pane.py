"""Local rules: the sets there are, the one in force, and single choices over it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.choices import choose_profile, choose_rule
from hotelwatch.core.house import House
from hotelwatch.core.profile import CHOICES, Profile
from hotelwatch.screens.card import Card
from hotelwatch.screens.context import Context
from hotelwatch.screens.forms import Form
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.screens.theme import MAIN, Tone
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.profiles import choice_name, rule_lines, rule_name

CARD_PX = 480
SHORT = {
    "ring_radius": m("How &far"),
    "hold": m("&Meanwhile they are"),
    "release_by": m("&Given back by"),
    "species": m("S&pecies"),
    "clean_kinds": m("Checks tha&t count"),
    "full_check": m("Full chec&k"),
    "sign_off": m("S&igned by"),
}
USUAL_FIRST = frozenset({"species", "clean_kinds", "full_check", "sign_off"})
"""Rules that no set says anything about: the first choice is the usual one."""
SINGLE = tuple(rule for rule, known in CHOICES.items() if not known.several)


class SetsPane(QWidget):
    """A table of sets, what the chosen one says, and the hotel's single choices."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._in_force = ""
        self.table = _sets_table(self)
        self.table.current_changed.connect(self._tell)
        self.title = QLabel(wordWrap=True)
        self.title.setProperty("role", "heading")
        self.told = QLabel(wordWrap=True)
        self.told.setTextFormat(Qt.TextFormat.RichText)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.checked = QLineEdit()
        self.take = QPushButton(_("&Work under these rules"))
        self.take.setProperty("role", MAIN)
        self.take.clicked.connect(self._take)
        self.choices = Form()
        self.boxes: dict[str, QComboBox] = {}
        self.kinds: dict[str, QCheckBox] = {}
        self.save = QPushButton(_("&Save these choices"))
        self.save.clicked.connect(self._save)
        self._make_choices()
        self._lay_out()

    def is_in_force(self, profile: Profile) -> bool:
        """Whether the hotel works under this set."""
        return profile.key == self._in_force

    def refresh(self) -> None:
        """Read the rules anew."""
        house = self._context.hotel.house
        self._in_force = house.profile.key
        self.table.show_rows(tuple(house.shipped.profiles.values()))
        if self.table.current() is None:
            self.table.select(self._in_force)
        self._tell(self.table.current())
        self._show_choices(house)

    # --- making --------------------------------------------------------------

    def _make_choices(self) -> None:
        row = QWidget()
        row.setProperty("role", "plain")
        grid = QGridLayout(row)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(0)
        for number, kind in enumerate(CHOICES["ring_kinds"].values):
            self.kinds[kind] = QCheckBox(label(kind))
            grid.addWidget(self.kinds[kind], *divmod(number, 2))
        row.setFocusProxy(next(iter(self.kinds.values())))
        self.choices.add(_("&Neighbours"), row, hint=rule_name("ring_kinds"))
        for rule in SINGLE:
            box = QComboBox()
            choices = CHOICES[rule].values
            if rule in USUAL_FIRST:
                box.addItem(choice_name(rule, choices[0]), "")
                choices = choices[1:]
            else:
                box.addItem(_("As the local rules say"), "")
            for choice in choices:
                box.addItem(choice_name(rule, choice), choice)
            self.boxes[rule] = self.choices.add(_(SHORT[rule]), box, hint=rule_name(rule))

    def _lay_out(self) -> None:
        form = Form()
        hint = _("Rules change. Whoever compares the set with the law in force is named here.")
        form.add(_("&Compared with the law by"), self.checked, hint=hint)
        card = Card(CARD_PX)
        for widget in (self.title, self.told, form):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addStretch()
        card.foot.addWidget(self.take)
        heading = QLabel(_("This hotel's own choices"))
        heading.setProperty("role", "heading")
        below = QHBoxLayout()
        below.addStretch()
        below.addWidget(self.save)
        left = QVBoxLayout()
        left.addWidget(self.table, 1)
        left.addWidget(heading)
        left.addWidget(self.choices)
        left.addLayout(below)
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addLayout(left, 1)
        both.addWidget(card)

    # --- showing -------------------------------------------------------------

    def _tell(self, profile: Profile | None) -> None:
        if profile is None:
            return
        house = self._context.hotel.house
        in_force = self.is_in_force(profile)
        shown = house.profile if in_force else profile
        self.title.setText(
            _("{name}: in force").format(name=profile.name) if in_force else profile.name
        )
        lines = list(rule_lines(shown, house.choices))[1:]
        self.told.setText("".join(f"<p style='margin:3px 0'><b>{h}.</b> {t}</p>" for h, t in lines))
        self.take.setEnabled(not in_force)

    def _show_choices(self, house: House) -> None:
        for rule, box in self.boxes.items():
            box.setCurrentIndex(max(0, box.findData(house.choices.get(rule, ""))))
        for kind, check in self.kinds.items():
            check.setChecked(kind in house.profile.ring_kinds)

    # --- writing down --------------------------------------------------------

    def _take(self) -> None:
        profile = self.table.current()
        if profile is None:
            return
        hotel = self._context.hotel
        by = self.checked.text().strip()
        with self._context.notices.refusals():
            day = hotel.today() if by else None
            choose_profile(hotel, profile.key, checked_by=by, checked_on=day)
            self.refresh()
            told = _("From now on this hotel works under: {name}.").format(name=profile.name)
            self._context.notices.done(told)

    def _save(self) -> None:
        hotel = self._context.hotel
        kinds = tuple(kind for kind, check in self.kinds.items() if check.isChecked())
        local = hotel.house.shipped.profiles[self._in_force].ring_kinds
        with self._context.notices.refusals():
            choose_rule(hotel, "ring_kinds", "" if set(kinds) == set(local) else " ".join(kinds))
            for rule, box in self.boxes.items():
                choose_rule(hotel, rule, box.currentData())
            self.refresh()
            self._context.notices.done(_("The hotel's choices are written down."))


def _sets_table(pane: SetsPane) -> RowTable[Profile]:
    return RowTable(
        [
            Column[Profile](_("Local rules"), lambda row: row.name, wraps=True),
            Column[Profile](
                _("In force"),
                lambda row: _("in force") if pane.is_in_force(row) else "",
                tint=lambda row: Tone.DONE if pane.is_in_force(row) else None,
            ),
            Column[Profile](_("Neighbours meanwhile"), lambda row: label(row.hold), wraps=True),
        ],
        key=lambda row: row.key,
        name=_("Local rules"),
        empty=Empty(_("No set of rules is known.")),
        filtered=False,
    )
