"""How a room of a ring looks in the picture: a sign, a colour and a pattern for each state."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from hotelwatch.core.cases.ring_rooms import RingRoom, RoomState
from hotelwatch.screens.cases.flow import Flow
from hotelwatch.screens.plans import PATTERN_STRENGTH
from hotelwatch.screens.theme import Colours, Tint, Tone, colours_of
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

GLYPHS: Mapping[RoomState, str] = {
    RoomState.FOUND: "●",
    RoomState.OPEN: "○",
    RoomState.LEFT_OVER: "◐",
    RoomState.NOT_ASKED: "?",
    RoomState.CLEAN: "✓",
    RoomState.STRUCK_OUT: "✕",
    RoomState.WITHDRAWN: "–",
}
TONES: Mapping[RoomState, Tone] = {
    RoomState.FOUND: Tone.QUARANTINE,
    RoomState.OPEN: Tone.ASKED,
    RoomState.LEFT_OVER: Tone.DUE,
    RoomState.NOT_ASKED: Tone.DUE,
    RoomState.CLEAN: Tone.DONE,
}
PATTERNS: Mapping[RoomState, Qt.BrushStyle] = {
    RoomState.FOUND: Qt.BrushStyle.DiagCrossPattern,
    RoomState.OPEN: Qt.BrushStyle.Dense7Pattern,
    RoomState.LEFT_OVER: Qt.BrushStyle.HorPattern,
    RoomState.NOT_ASKED: Qt.BrushStyle.BDiagPattern,
}
LATE = "!"
SAMPLE_PX = QSize(30, 22)


def sign_of(row: RingRoom, *, is_late: bool) -> str:
    """The sign of a room's state with its wave, and a mark where it is late."""
    return f"{GLYPHS[row.state]} {row.wave}{LATE if is_late else ''}"


def tint_of(state: RoomState, colours: Colours) -> Tint:
    """Ground and ink of a state."""
    tone = TONES.get(state)
    return colours.tones[tone] if tone else Tint(colours.base, colours.text)


class RingLegend(QWidget):
    """Every state with its sample and its word, and what the number means."""

    def __init__(self) -> None:
        """Show all of them, in as many lines as it takes."""
        super().__init__()
        lines = Flow()
        self.setLayout(lines)
        order = (RoomState.FOUND, *(one for one in RoomState if one is not RoomState.FOUND))
        self._items = {state: _item(state) for state in order}
        for item in self._items.values():
            lines.addWidget(item)
        number = QLabel(_("Number: ring around the first find; ! late"))
        number.setToolTip(
            _("0: where it began; 1: around it; 2: around a room found there; and so on.")
        )
        lines.addWidget(number)

    def show_states(self, states: Collection[RoomState]) -> None:
        """Explain these states only."""
        for state, item in self._items.items():
            item.setVisible(state in states)


class _Sample(QWidget):
    """A small room as the picture has it in one state."""

    def __init__(self, state: RoomState) -> None:
        super().__init__()
        self._state = state
        self.setFixedSize(SAMPLE_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, pattern and sign."""
        colours = colours_of(self.palette())
        tint = tint_of(self._state, colours)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter = QPainter(self)
        painter.setPen(QPen(QColor(colours.line), 1.2))
        painter.setBrush(QColor(tint.fill))
        painter.drawRect(box)
        if self._state in PATTERNS:
            ink = QColor(tint.ink)
            ink.setAlpha(PATTERN_STRENGTH)
            painter.fillRect(box, QBrush(ink, PATTERNS[self._state]))
        plate = QRectF(0, 0, 14, 18)
        plate.moveCenter(box.center())
        painter.fillRect(plate, QColor(tint.fill))
        font = self.font()
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(QColor(tint.ink))
        painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), GLYPHS[self._state])
        painter.end()


def _item(state: RoomState) -> QWidget:
    item = QWidget()
    line = QHBoxLayout(item)
    line.setContentsMargins(0, 0, 8, 0)
    line.setSpacing(6)
    line.addWidget(_Sample(state))
    line.addWidget(QLabel(label(state)))
    return item
