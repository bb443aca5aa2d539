"""Beside the sighting form: what it would set going, live, with ticks to strike rooms out."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QGridLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.cases import Preview
from hotelwatch.core.case_facts import CheckAsked
from hotelwatch.core.cases.touched import Touched
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.reasons import neighbour_reasons

MOST_ARRIVALS = 6


class AnswerPanel(QFrame):
    """What a sighting would set going, before anything is written down."""

    struck_out = Signal()
    """A room was struck out, or taken in again."""

    def __init__(self, context: Context) -> None:
        """Nothing proposed yet."""
        super().__init__()
        self.setProperty("role", "card")
        self._context = context
        self.preview: Preview | None = None
        self.struck: frozenset[RoomNo] = frozenset()
        self.ticks: dict[RoomNo, QCheckBox] = {}
        self.title = QLabel(_("What this sets going"))
        self.title.setProperty("role", "heading")
        self._inside = QWidget()
        self._inside.setProperty("role", "plain")
        self._lines = QVBoxLayout(self._inside)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._scroll = HeldScroll()
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.viewport().setAutoFillBackground(False)
        self._scroll.setWidget(self._inside)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(16, 12, 8, 12)
        lines.addWidget(self.title)
        lines.addWidget(self._scroll, 1)
        self.show_nothing()

    def show_nothing(self) -> None:
        """Say what is needed before anything can be proposed."""
        self.preview = None
        self.struck, self.ticks = frozenset(), {}
        clear_layout(self._lines)
        self._say(
            _(
                "Give the room and what was seen. Then the rooms to close, the neighbours to "
                "look at and the guests it touches stand here. Nothing is written down before "
                "you save."
            ),
            role="muted",
        )
        self._lines.addStretch()

    def show_preview(self, preview: Preview) -> None:
        """Show what is proposed; a room struck out stays so while it is proposed."""
        if preview == self.preview:
            return
        before = self.preview
        same = before is not None and before.answer.sighted.room == preview.answer.sighted.room
        offered = {asked.room for asked in preview.answer.asked}
        self.struck = self.struck & offered if same else frozenset()
        self.preview, self.ticks = preview, {}
        clear_layout(self._lines)
        self._tell_case(preview)
        self._tell_quarantine(preview)
        self._tell_looks(preview)
        self._tell_desk(preview)
        self._lines.addStretch()

    def text(self) -> str:
        """Everything said, line by line."""
        found = self._inside.findChildren(QLabel)
        return "\n".join(said.text() for said in found)

    # --- what is told --------------------------------------------------------

    def _say(self, text: str, *, role: str = "") -> None:
        self._lines.addWidget(text_label(text, role=role))

    def _tell_case(self, preview: Preview) -> None:
        case = preview.answer.sighted.case
        if preview.answer.joins:
            self._say(_("Joins case {case}, which is open.").format(case=case))
        else:
            self._say(_("Opens case {case}, suspected until judged.").format(case=case))

    def _tell_quarantine(self, preview: Preview) -> None:
        rooms = [str(placed.room) for placed in preview.answer.quarantine]
        self._say(_("Into quarantine at once"), role="heading")
        if rooms:
            self._say(
                ngettext("Room {rooms}", "Rooms {rooms}", len(rooms)).format(rooms=join(rooms))
            )
        else:
            self._say(_("No room more: the case has its rooms in quarantine already."))

    def _tell_looks(self, preview: Preview) -> None:
        asked = preview.answer.asked
        self._say(_("To be looked at"), role="heading")
        if not asked:
            self._say(_("No room more: the case has asked for its neighbours already."))
            return
        first = asked[0].by_at
        deadline = moment_text(first, self._context.hotel.zone)
        self._say(_("By {moment}. Untick a neighbour to leave it out.").format(moment=deadline))
        held = QWidget()
        grid = QGridLayout(held)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(0)
        grid.setColumnStretch(1, 1)
        for row, one in enumerate(asked):
            self._add_tick(grid, row, one, first)
        self._lines.addWidget(held)

    def _add_tick(self, grid: QGridLayout, row: int, asked: CheckAsked, usual_by: datetime) -> None:
        assert self.preview is not None  # ticks stand for what it proposes
        source = self.preview.answer.sighted.room
        why = neighbour_reasons(asked.reasons, source=source)
        if asked.by_at != usual_by:
            by_when = moment_text(asked.by_at, self._context.hotel.zone)
            why = _("{why}, by {moment}").format(why=why, moment=by_when)
        tick = QCheckBox(str(asked.room))
        tick.setAccessibleName(_("Look at {room}: {why}").format(room=asked.room, why=why))
        tick.setChecked(asked.room not in self.struck)
        tick.setProperty("room", str(asked.room))
        if asked.room == source:
            tick.setEnabled(False)
            tick.setToolTip(_("The room itself is always looked at."))
        tick.toggled.connect(self._strike)
        self.ticks[asked.room] = tick
        grid.addWidget(tick, row, 0)
        grid.addWidget(text_label(why), row, 1)

    def _strike(self) -> None:
        out = (room for room, tick in self.ticks.items() if not tick.isChecked())
        self.struck = frozenset(out)
        self.struck_out.emit()

    def _tell_desk(self, preview: Preview) -> None:
        self._say(_("For front desk"), role="heading")
        for block in preview.blocks:
            self._say(self._block_text(block.room, block.earliest_until is None))
        if not preview.blocks:
            self._say(_("Nothing more to block."))
        elif not preview.arrivals:
            self._say(_("No guest known to us is touched."))
        for arrival in preview.arrivals[:MOST_ARRIVALS]:
            if arrival.touched is Touched.IN_HOUSE:
                said = _("Room {room}: guest in house until {day}, to be moved {where}.")
            else:
                said = _("Room {room}: guest comes {from_day}, leaves {day}, to go {where}.")
            to_room, nowhere = _("to {room}"), _("elsewhere: no room is free")
            where = to_room.format(room=arrival.move.room) if arrival.move else nowhere
            self._say(
                said.format(
                    room=arrival.room,
                    from_day=day_text(arrival.from_on),
                    day=day_text(arrival.stay.leaves_on),
                    where=where,
                )
            )
        more = len(preview.arrivals) - MOST_ARRIVALS
        if more > 0:
            self._say(ngettext("And {n} guest more.", "And {n} guests more.", more).format(n=more))

    def _block_text(self, room: RoomNo, no_day: bool) -> str:
        assert self.preview is not None
        block = next(one for one in self.preview.blocks if one.room == room)
        since = moment_text(block.from_at, self._context.hotel.zone)
        if no_day or block.earliest_until is None:
            return _(
                "Room {room}: not to be sold from {since}; nobody knows yet until when."
            ).format(room=room, since=since)
        return _("Room {room}: not to be sold from {since}, not before {day} ({why}).").format(
            room=room,
            since=since,
            day=day_text(block.earliest_until),
            why=label(block.condition).lower(),
        )
