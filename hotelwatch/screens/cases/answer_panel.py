"""Beside the sighting form: what it would set going, live, with ticks to strike rooms out."""

from __future__ import annotations

from collections.abc import Sequence
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
from hotelwatch.core.cases.blocks import Block, BlockKind
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.desk import touched_sentence
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
        self._desk_lines = QVBoxLayout()
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
        self._say(_("For front desk"), role="heading")
        desk = QWidget()
        self._desk_lines = QVBoxLayout(desk)
        self._desk_lines.setContentsMargins(0, 0, 0, 0)
        self._lines.addWidget(desk)
        self._tell_desk()
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
        self._tell_desk()
        self.struck_out.emit()

    def _tell_desk(self) -> None:
        """Front desk's page as it would be; anew whenever a room is struck out."""
        clear_layout(self._desk_lines)
        if self.preview is None:
            return
        # A room that nobody is asked to look at is not held for a look either.
        blocks = [
            block
            for block in self.preview.blocks
            if block.kind is BlockKind.CLOSED or block.room not in self.struck
        ]
        rooms = {block.room for block in blocks}
        arrivals = [row for row in self.preview.arrivals if row.room in rooms]
        said = [self._closed_text(block) for block in blocks if block.kind is BlockKind.CLOSED]
        said += self._held_text([block for block in blocks if block.kind is BlockKind.HELD])
        if not blocks:
            said.append(_("Nothing more to block."))
        elif not arrivals:
            said.append(_("No guest known to us is touched."))
        said += [touched_sentence(row) for row in arrivals[:MOST_ARRIVALS]]
        more = len(arrivals) - MOST_ARRIVALS
        if more > 0:
            counted = ngettext("And {n} guest more.", "And {n} guests more.", more)
            said.append(counted.format(n=more))
        for text in said:
            self._desk_lines.addWidget(text_label(text))

    def _closed_text(self, block: Block) -> str:
        since = moment_text(block.from_at, self._context.hotel.zone)
        if block.earliest_until is None:
            return _(
                "Room {room}: not to be sold from {since}; nobody knows yet until when."
            ).format(room=block.room, since=since)
        return _("Room {room}: not to be sold from {since}, not before {day} ({why}).").format(
            room=block.room,
            since=since,
            day=day_text(block.earliest_until),
            why=label(block.condition).lower(),
        )

    def _held_text(self, blocks: Sequence[Block]) -> list[str]:
        if not blocks:
            return []
        rooms = [str(block.room) for block in blocks]
        said = ngettext(
            "Room {rooms}: not to be sold until somebody has looked at it.",
            "Rooms {rooms}: none to be sold until somebody has looked at it.",
            len(rooms),
        )
        return [said.format(rooms=join(rooms))]
