"""Logging what was reported, for a role that does not see cases: the form, and what to do now.

Front desk blocks the room and moves its guests; what else a sighting sets going, and what is
known of it, is not told here.
"""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from hotelwatch.actions.desk import front_desk
from hotelwatch.core.facts import CaseNo, RoomNo, Topic
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.sighting_form import SightingForm
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.layout.card import Card
from hotelwatch.wording.desk import touched_sentence
from hotelwatch.wording.language import _, ngettext

CARD_PX = 440
DESK_PAGE = "desk"


class ReportPage(QWidget):
    """The form for a sighting, and beside it what happens next, in front desk's words."""

    topics = frozenset({Topic.ROSTER})

    def __init__(self, context: Context) -> None:
        """An empty form."""
        super().__init__()
        self._context = context
        self.form = SightingForm(context)
        self.form.logged.connect(self._tell)
        self.form.done.connect(self._leave)
        heading = QLabel(_("What happens then"))
        heading.setProperty("role", "heading")
        card = Card(CARD_PX)
        card.body.addWidget(heading)
        for text in (
            _("The room is not to be sold from that moment on: block it in your booking system."),
            _("Give its guests another room; front desk's page proposes one."),
            _("Housekeeping sees what you write here and goes on from there."),
            _("Luggage leaves the room only as housekeeping says: closed and sealed."),
        ):
            card.body.addWidget(text_label(text))
        card.body.addStretch()
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(12)
        line.addWidget(self.form, 1)
        line.addWidget(card)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(line)
        self.setFocusProxy(self.form)

    def refresh(self) -> None:
        """Offer the rooms there are now; what was typed stays."""
        self.form.refresh()

    def log_sighting(self, room: RoomNo | None) -> None:
        """Stand in the form's first field, or behind it where the room is known."""
        self.form.begin(room)

    def unsaved(self) -> tuple[str, ...]:
        """A sighting begun but not saved."""
        return (_("A sighting is begun, but not saved."),) if self.form.is_begun() else ()

    def _tell(self, _case: CaseNo) -> None:
        """Say which room is not to be sold and which guests move; nothing of the case."""
        hotel = self._context.hotel
        room = self.form.last_room
        shown = front_desk(hotel)
        said = [_("Written down; housekeeping knows.")]
        if any(row.block.room == room for row in shown.blocks):
            said.append(_("Room {room} is not to be sold: block it now.").format(room=room))
        guests = [row for row in shown.arrivals if row.room == room]
        said += [touched_sentence(row) for row in guests[:1]]
        more = len(guests) - 1
        if more > 0:
            counted = ngettext(
                "And {n} booking more, below.", "And {n} bookings more, below.", more
            )
            said.append(counted.format(n=more))
        self._context.notices.done(" ".join(said))

    def _leave(self) -> None:
        if DESK_PAGE in self._context.pages:
            self._context.go_to(DESK_PAGE)
