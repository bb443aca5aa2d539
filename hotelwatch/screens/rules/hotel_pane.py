"""What the hotel is called, where it is, when guests leave and arrive, on what it prints."""

from __future__ import annotations

from zoneinfo import available_timezones

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from hotelwatch.actions.hotel import PAPERS, clock_kept, describe_hotel
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.problems import Refusal
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.forms.fields import ChoiceField, Form
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _

CARD_PX = 520


class HotelPane(QWidget):
    """The form that was filled in when the hotel was started, and its hours."""

    def __init__(self, context: Context) -> None:
        """Nothing yet; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._read: HotelDescribed | None = None
        title = QLabel(_("The hotel"))
        title.setProperty("role", "heading")
        why = QLabel(
            _(
                "Where one guest leaves and another comes on the same day, the room can be"
                " entered between these two hours. A change counts from now on: plan the round"
                " again after it."
            ),
            wordWrap=True,
        )
        why.setProperty("role", "muted")
        self.form = Form()
        self.name = self.form.add(_("&Name of the hotel"), QLineEdit())
        self.zone = self.form.add(
            _("&Time zone"),
            ChoiceField((name, name.replace("_", " ")) for name in sorted(available_timezones())),
            hint=_("By it the record tells its days. It stays once a month is closed."),
        )
        self.leave_by = self.form.add(_("Guests &leave by"), QLineEdit())
        self.arrive_from = self.form.add(_("Guests &arrive from"), QLineEdit())
        self.paper = self.form.add(_("&Paper"), QComboBox())
        self.paper.addItems(PAPERS)
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.for_others = offer(
            context, Deed(_("Describe the hotel"), (HotelDescribed,), (self.save,))
        )
        card = Card(CARD_PX)
        for widget in (title, why, self.form, self.for_others):
            card.body.addWidget(widget)
        card.body.addStretch()
        card.foot.addStretch()
        card.foot.addWidget(self.save)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 8, 0, 0)
        line.addWidget(card)
        line.addStretch(1)

    def refresh(self) -> None:
        """Read the description anew; what was changed and not saved stays."""
        if self._read is not None and self.is_begun():
            return
        self._read = known = self._context.hotel.house.hotel
        if known is None:
            return
        self.form.clear()
        self.name.setText(known.name)
        self.zone.choose(known.zone)
        self.leave_by.setText(known.leave_by)
        self.arrive_from.setText(known.arrive_from)
        self.paper.setCurrentText(known.paper)

    def is_begun(self) -> bool:
        """Whether something was changed and not saved."""
        return self._read is not None and self._typed() != self._read

    def _typed(self) -> HotelDescribed:
        return HotelDescribed(
            name=" ".join(self.name.text().split()),
            zone=self.zone.value() or "",
            paper=self.paper.currentText(),
            leave_by=self.leave_by.text().strip(),
            arrive_from=self.arrive_from.text().strip(),
        )

    def _save(self) -> None:
        self.form.clear()
        typed = self._typed()
        if not typed.name:
            self.form.say(self.name, _("A hotel needs a name."))
        if not typed.zone:
            self.form.say(self.zone, _("There is no such time zone. Type a large city near you."))
        for field in (self.leave_by, self.arrive_from):
            if not _is_clock(field.text().strip()):
                self.form.say(field, _("Type a time of day, as 11:00."))
        if self.form.has_problems():
            return
        with self._context.notices.refusals():
            describe_hotel(self._context.hotel, typed)
            self._read = typed
            self.form.settle()
            self._context.notices.done(_("The hotel is described so from now on."))


def _is_clock(text: str) -> bool:
    try:
        clock_kept(text)
    except Refusal:
        return False
    return True
