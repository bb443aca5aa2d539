"""What signs and patterns on the drawing mean."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QEvent, QSize
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from hotelwatch.screens.building.floor_view import PATTERNS
from hotelwatch.screens.building.rows import GLYPHS, TONES, RoomState, state_text
from hotelwatch.screens.state_sample import StateSample, explained
from hotelwatch.screens.theme import Colours, Tint

GAP_PX = 10


class Legend(QWidget):
    """Every state with its sample and its word."""

    def __init__(self) -> None:
        """Show all states in a row."""
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._items = [_item(state) for state in RoomState]
        self._lines = QGridLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setHorizontalSpacing(GAP_PX)
        self._lines.setVerticalSpacing(2)
        self._columns = 0
        self._fill(len(self._items))

    def resizeEvent(self, event: QEvent) -> None:
        """Use two lines where one is too narrow."""
        needed = sum(item.sizeHint().width() + GAP_PX for item in self._items)
        self._fill(len(self._items) if needed <= self.width() else (len(self._items) + 1) // 2)

    def minimumSizeHint(self) -> QSize:
        """Wide enough for two lines."""
        widths = [item.sizeHint().width() + GAP_PX for item in self._items]
        return QSize(sum(widths) // 2 + max(widths) // 2, self._items[0].sizeHint().height())

    def _fill(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._lines.setColumnStretch(self._columns, 0)
        self._columns = columns
        for place, item in enumerate(self._items):
            self._lines.addWidget(item, place // columns, place % columns)
        self._lines.setColumnStretch(columns, 1)


def _item(state: RoomState) -> QWidget:
    sample = StateSample(GLYPHS[state], partial(_tint_of, state), PATTERNS.get(state))
    return explained(sample, state_text(state))


def _tint_of(state: RoomState, colours: Colours) -> Tint:
    tone = TONES[state]
    return colours.tones[tone] if tone else Tint(colours.base, colours.text)
