"""How a room of a ring looks in the picture: a sign, a colour and a pattern for each state."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget

from hotelwatch.core.cases.ring_rooms import RingRoom, RoomState
from hotelwatch.screens.layout.flow import Flow
from hotelwatch.screens.look.state_sample import StateSample, explained
from hotelwatch.screens.look.theme import Colours, Tint, Tone
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
        lines = Flow(apart_px=16)
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


def _item(state: RoomState) -> QWidget:
    sample = StateSample(GLYPHS[state], partial(tint_of, state), PATTERNS.get(state))
    return explained(sample, label(state))
