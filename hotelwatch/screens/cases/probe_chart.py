"""A log of probes, painted: temperatures above, the running dose of the deciding probe below.

Left and Right go from reading to reading, Page Up and Page Down further, Home and End to
the ends; the pointer does the same. It is a drawing only: the table beside it lists the
same readings. Lines are drawn once for a size and a look; going along paints only where
one stands.
"""

from __future__ import annotations

from bisect import bisect_left
from datetime import tzinfo

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget

from hotelwatch.core.lethal.curves import LogCurves, LogRow
from hotelwatch.screens.cases.probe_drawing import (
    AIR_PX,
    Drawing,
    Panel,
    celsius_range,
    dose_top,
)
from hotelwatch.screens.look.theme import Colours, colours_of
from hotelwatch.wording.language import _

LEAST_WIDE, LEAST_HIGH = 360, 260
TEMPERATURE_SHARE = 0.66
PAGE = 12
"""Readings that Page Up and Page Down go over."""
KEYS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_PageUp: -PAGE,
    Qt.Key.Key_PageDown: PAGE,
}


class ProbeChart(QWidget):
    """The lines of one log."""

    reading_changed = Signal(object)
    """The LogRow that one stands on."""

    def __init__(self, zone: tzinfo) -> None:
        """No log yet; clock times are those of ``zone``."""
        super().__init__()
        self._zone = zone
        self._curves: LogCurves | None = None
        self._minutes: tuple[float, ...] = ()
        self._at: int | None = None
        self._drawn: tuple[object, QPixmap] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(_("Chart of the log; the table has the same readings"))

    def sizeHint(self) -> QSize:
        """Room for both parts."""
        return QSize(2 * LEAST_WIDE, LEAST_HIGH + LEAST_HIGH // 3)

    def minimumSizeHint(self) -> QSize:
        """Below this the letters run into one another."""
        return QSize(LEAST_WIDE, LEAST_HIGH)

    # --- what is shown --------------------------------------------------------

    def show_curves(self, curves: LogCurves | None) -> None:
        """Show this log; its last reading has the place."""
        self._curves = curves
        self._minutes = curves.minutes() if curves is not None else ()
        self._at = None
        self._drawn = None
        self.setAccessibleDescription("")
        self.update()

    def tell(self, said: str) -> None:
        """Say to a screen reader where one stands."""
        self.setAccessibleDescription(said)

    def row(self) -> LogRow | None:
        """What stands at the reading that has the place."""
        if self._curves is None or self._at is None:
            return None
        return self._curves.row_at(self._minutes[self._at])

    # --- going along ------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along the readings."""
        last = len(self._minutes) - 1
        if event.key() in KEYS and last >= 0:
            here = last if self._at is None else self._at
            self._go(min(last, max(0, here + KEYS[Qt.Key(event.key())])))
        elif event.key() == Qt.Key.Key_Home and last >= 0:
            self._go(0)
        elif event.key() == Qt.Key.Key_End and last >= 0:
            self._go(last)
        else:
            super().keyPressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Stand on the reading under the pointer."""
        if self._curves is None:
            return
        area = self._areas()[0]
        share = (event.position().x() - area.left()) / max(1.0, area.width())
        minute = share * self._curves.lasts_minutes
        place = min(bisect_left(self._minutes, minute), len(self._minutes) - 1)
        if place and minute - self._minutes[place - 1] < self._minutes[place] - minute:
            place -= 1
        self._go(place)

    def focusInEvent(self, event: QEvent) -> None:
        """With nothing chosen, stand on the last reading."""
        if self._at is None and self._minutes:
            self._go(len(self._minutes) - 1)
        self.update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Paint without the frame."""
        self.update()

    def _go(self, place: int) -> None:
        if place != self._at:
            self._at = place
            self.reading_changed.emit(self.row())
            self.update()

    # --- painting -----------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the log, where one stands, and the frame of the focus."""
        curves = self._curves
        if curves is None:
            return
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.drawPixmap(0, 0, self._lines(curves, colours))
            if self._at is not None:
                draw = Drawing(painter, colours, self.fontMetrics().height())
                draw.place(self._minutes[self._at], self._panels(curves))
            if self.hasFocus():
                painter.setPen(QPen(QColor(colours.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))

    def _lines(self, curves: LogCurves, colours: Colours) -> QPixmap:
        """Everything but where one stands, painted once for a size, a look and a font."""
        ratio = self.devicePixelRatioF()
        known_by = (self.width(), self.height(), ratio, id(colours), self.font().toString())
        if self._drawn is not None and self._drawn[0] == known_by:
            return self._drawn[1]
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        warm, dose = self._panels(curves)
        with QPainter(picture) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(self.font())
            draw = Drawing(painter, colours, self.fontMetrics().height())
            for panel in (warm, dose):
                painter.fillRect(panel.area, QColor(colours.base))
            draw.clock(curves, (warm, dose), self._zone)
            draw.grid(warm)
            for place in reversed(range(len(curves.curves))):
                draw.curve(curves.curves[place], place, warm)
            draw.letters(curves, warm)
            draw.floors(curves, warm)
            draw.dose(curves, dose)
        self._drawn = (known_by, picture)
        return picture

    def _panels(self, curves: LogCurves) -> tuple[Panel, Panel]:
        """Temperatures above, the dose below."""
        upper, lower = self._areas()
        lasts = curves.lasts_minutes
        warm = Panel(upper, lasts, *celsius_range(curves))
        return warm, Panel(lower, lasts, 0.0, dose_top(curves))

    def _areas(self) -> tuple[QRectF, QRectF]:
        """Where temperatures and the dose are drawn."""
        metrics = self.fontMetrics()
        line = metrics.height()
        left = metrics.horizontalAdvance("-100") + 2 * AIR_PX
        right = metrics.horizontalAdvance("M") + 4 * AIR_PX
        wide = self.width() - left - right
        # A title above each part, the clock below the lower one.
        free = self.height() - 3 * line - 4 * AIR_PX
        high = free * TEMPERATURE_SHARE
        upper = QRectF(left, line + AIR_PX, wide, high)
        lower = QRectF(left, upper.bottom() + line + 2 * AIR_PX, wide, free - high)
        return upper, lower
