"""What signs and patterns on the drawing mean; pressing one shows only rooms that stand so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QIcon, QPainter, QPen, QPixmap
from PySide6.QtWidgets import QPushButton

from hotelwatch.core.cases.room_stands import RoomStanding
from hotelwatch.screens.building.room_paint import PATTERNS
from hotelwatch.screens.building.rows import GLYPHS, TONES, RoomRow, chip_text, state_text
from hotelwatch.screens.layout.flow import FlowRow
from hotelwatch.screens.look.plans import PATTERN_STRENGTH
from hotelwatch.screens.look.theme import Colours, Tint, colours_of
from hotelwatch.wording.language import _, ngettext

SAMPLE_LINES = (1.3, 1.05)
GAP_PX = 4


class Legend(FlowRow):
    """Every state with its sample, its word and how many rooms stand so."""

    chosen = Signal(object)
    """The states that are pressed, a frozenset; empty: all rooms."""

    def __init__(self) -> None:
        """Show all states in a row, in the next line where there is no room."""
        super().__init__(GAP_PX)
        self.buttons: dict[RoomStanding, QPushButton] = {}
        for state in RoomStanding:
            button = QPushButton()
            button.setCheckable(True)
            button.setProperty("role", "chip")
            button.toggled.connect(self._tell)
            self.flow.addWidget(button)
            self.buttons[state] = button
        self.show_counts(())

    def show_counts(self, rows: Iterable[RoomRow]) -> None:
        """Say how many rooms stand in each way."""
        counted = Counter(row.state for row in rows)
        for state, button in self.buttons.items():
            n = counted[state]
            button.setText(f"{chip_text(state)} {n}")
            button.setAccessibleName(
                ngettext("Show only: {state}, {n} room", "Show only: {state}, {n} rooms", n).format(
                    state=state_text(state), n=n
                )
            )
            button.setToolTip(_("Show only these rooms"))
        # A house in which every room has a bed need not be told what no bed looks like.
        self.buttons[RoomStanding.NO_BED].setVisible(bool(counted[RoomStanding.NO_BED]))
        self._draw_samples()

    def states(self) -> frozenset[RoomStanding]:
        """The states that are pressed."""
        return frozenset(state for state, button in self.buttons.items() if button.isChecked())

    def clear(self) -> None:
        """Show all rooms."""
        for button in self.buttons.values():
            button.blockSignals(True)
            button.setChecked(False)
            button.blockSignals(False)
        self._tell()

    def changeEvent(self, event: QEvent) -> None:
        """Draw the samples anew in another look or size of text."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange) and hasattr(
            self, "buttons"
        ):
            self._draw_samples()

    def _draw_samples(self) -> None:
        line = self.fontMetrics().height()
        size = QSize(round(line * SAMPLE_LINES[0]), round(line * SAMPLE_LINES[1]))
        colours = colours_of(self.palette())
        for state, button in self.buttons.items():
            button.setIconSize(size)
            button.setIcon(QIcon(self._sample(state, size, colours)))

    def _sample(self, state: RoomStanding, size: QSize, colours: Colours) -> QPixmap:
        tone = TONES[state]
        tint = colours.tones[tone] if tone else Tint(colours.base, colours.text)
        ratio = self.devicePixelRatioF()
        picture = QPixmap(size * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        box = QRectF(0, 0, size.width(), size.height()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter = QPainter(picture)
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.setBrush(QColor(tint.fill))
        painter.drawRect(box)
        pattern = PATTERNS.get(state)
        if pattern is not None:
            ink = QColor(tint.ink)
            ink.setAlpha(PATTERN_STRENGTH)
            painter.fillRect(box, QBrush(ink, pattern))
        if GLYPHS[state]:
            plate = QRectF(0, 0, box.height() * 0.75, box.height() - 2)
            plate.moveCenter(box.center())
            painter.fillRect(plate, QColor(tint.fill))
            font = self.font()
            font.setBold(True)
            painter.setFont(font)
            painter.setPen(QColor(tint.ink))
            painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), GLYPHS[state])
        painter.end()
        return picture

    def _tell(self, *_what: object) -> None:
        self.chosen.emit(self.states())
