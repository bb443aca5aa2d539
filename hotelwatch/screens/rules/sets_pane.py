"""Local rules: the sets there are, and the one in force."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from hotelwatch.actions.rule_sets import choose_profile
from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.profile import Profile
from hotelwatch.screens.card import Card
from hotelwatch.screens.context import Context
from hotelwatch.screens.forms import Form
from hotelwatch.screens.only_if import only_if
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.screens.theme import MAIN, Tone
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.profiles import rule_lines

CARD_PX = 480


class SetsPane(QWidget):
    """A table of sets, and what the chosen one says."""

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
        self._lay_out()
        only_if(context.may(ProfileChosen), self.take)

    def is_in_force(self, profile: Profile) -> bool:
        """Whether the hotel works under this set."""
        return profile.key == self._in_force

    def refresh(self) -> None:
        """Read the rules anew."""
        house = self._context.hotel.house
        self._in_force = house.profile.key
        self.table.show_rows(tuple(house.rule_sets.values()))
        if self.table.current() is None:
            self.table.select(self._in_force)
        self._tell(self.table.current())

    # --- making --------------------------------------------------------------

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
        both = QHBoxLayout(self)
        both.setContentsMargins(0, 8, 0, 0)
        both.setSpacing(12)
        both.addWidget(self.table, 1)
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

    # --- writing down --------------------------------------------------------

    def _take(self) -> None:
        profile = self.table.current()
        if profile is None:
            return
        hotel = self._context.hotel
        by = self.checked.text().strip()
        with self._context.notices.refusals():
            choose_profile(hotel, profile.key, compared_by=by)
            self.refresh()
            told = _("From now on this hotel works under: {name}.").format(name=profile.name)
            self._context.notices.done(told)


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
