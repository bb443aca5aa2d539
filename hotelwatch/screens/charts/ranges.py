"""Named rows, one below the other: a bar to a value, or a value with the range around it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from hotelwatch.screens.charts.chart import AIR_PX, Chart, brush_of, ink_of
from hotelwatch.screens.charts.scale import levels_to
from hotelwatch.screens.look.theme import Colours

LEAST_WIDE = 230
NAMES_SHARE = 0.4
"""Names take no more of the width."""
BAR_SHARE, CAP_SHARE = 0.5, 0.35
LEVELS = 3


@dataclass(frozen=True, slots=True)
class Ranged:
    """A row: its value, and from where to where it may lie."""

    name: str
    low: float
    central: float
    high: float
    said: str
    """The row in words."""


class RangeChart(Chart):
    """Rows from top to bottom; Up and Down go along them."""

    keys_back = (Qt.Key.Key_Up, Qt.Key.Key_Left)
    keys_on = (Qt.Key.Key_Down, Qt.Key.Key_Right)

    def __init__(self, name: str) -> None:
        """Nothing yet; ``name`` is what a screen reader calls it."""
        super().__init__(name)
        self._rows: tuple[Ranged, ...] = ()
        self._across = ""
        self._level_text: Callable[[float], str] = str
        self._is_counted = False

    def show_rows(
        self,
        rows: Sequence[Ranged],
        across: str,
        *,
        level_text: Callable[[float], str],
        is_counted: bool = False,
    ) -> None:
        """Show these rows; ``across`` says what grows to the right, in which unit."""
        self._rows, self._across = tuple(rows), across
        self._level_text, self._is_counted = level_text, is_counted
        self.updateGeometry()
        self.stand_at(None)

    def minimumSizeHint(self) -> QSize:
        """Each row keeps a line of text."""
        line = self.fontMetrics().height()
        return QSize(LEAST_WIDE, (len(self._rows) + 3) * (line + 2))

    def sizeHint(self) -> QSize:
        """As low as it may be: it grows with what holds it."""
        return self.minimumSizeHint()

    def count(self) -> int:
        """How many rows there are."""
        return len(self._rows)

    def said_of(self, place: int) -> str:
        """A row in words."""
        return self._rows[place].said

    def place_at(self, position: QPointF) -> int | None:
        """The row at a position."""
        area = self._area
        if not self._rows or not area.top() <= position.y() <= area.bottom():
            return None
        return min(len(self._rows) - 1, int((position.y() - area.top()) / self._step))

    # --- where things lie ---------------------------------------------------------------

    @property
    def _levels(self) -> tuple[float, ...]:
        highest = max((row.high for row in self._rows), default=0.0) or 1.0
        return levels_to(highest, LEVELS, whole=self._is_counted)

    @property
    def _names_px(self) -> float:
        metrics = self.fontMetrics()
        widest = max((metrics.horizontalAdvance(row.name) for row in self._rows), default=0)
        return min(float(widest), self.width() * NAMES_SHARE)

    @property
    def _area(self) -> QRectF:
        line = self.fontMetrics().height()
        left, top = self._names_px + AIR_PX, line + AIR_PX
        last = self.fontMetrics().horizontalAdvance(self._level_text(self._levels[-1]))
        wide = self.width() - left - max(AIR_PX, last / 2 + 2)
        return QRectF(left, top, max(1.0, wide), max(1.0, self.height() - top - line - AIR_PX))

    @property
    def _step(self) -> float:
        return self._area.height() / max(1, len(self._rows))

    def _x(self, value: float) -> float:
        area = self._area
        return area.left() + area.width() * min(1.0, value / self._levels[-1])

    # --- painting ------------------------------------------------------------------------

    def paint_chart(self, painter: QPainter, colours: Colours) -> None:
        """Paint levels, names, bars with their ranges, and which row has the place."""
        if not self._rows:
            return
        area, metrics = self._area, self.fontMetrics()
        painter.fillRect(area, QColor(colours.base))
        painter.setPen(QColor(colours.text))
        said = metrics.elidedText(self._across, Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(QPointF(0, metrics.ascent()), said)
        for level in self._levels:
            x, text = self._x(level), self._level_text(level)
            painter.setPen(QPen(QColor(colours.hair), 1))
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
            painter.setPen(QColor(colours.muted))
            left = x - metrics.horizontalAdvance(text) / 2
            painter.drawText(QPointF(left, area.bottom() + AIR_PX / 2 + metrics.ascent()), text)
        for place, row in enumerate(self._rows):
            self._paint_row(painter, place, row, colours)

    def _paint_row(self, painter: QPainter, place: int, row: Ranged, colours: Colours) -> None:
        area, step, metrics = self._area, self._step, self.fontMetrics()
        top, middle = area.top() + place * step, area.top() + (place + 0.5) * step
        if place == self._at:
            painter.fillRect(QRectF(0, top, self.width(), step), QColor(colours.band))
            painter.setPen(QPen(QColor(colours.accent), 2))
            painter.drawLine(QPointF(1, top), QPointF(1, top + step))
        painter.setPen(QColor(colours.text))
        name = metrics.elidedText(row.name, Qt.TextElideMode.ElideRight, ceil(self._names_px) + 1)
        box = QRectF(0, top, self._names_px, step)
        painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, name)
        high = min(step * BAR_SHARE, metrics.height())
        if row.low < row.high:
            self._paint_range(painter, row, QRectF(0, middle - high / 2, 0, high), colours)
        elif row.central > 0:
            wide = self._x(row.central) - area.left()
            painter.fillRect(
                QRectF(area.left(), middle - high / 2, wide, high), brush_of(0, colours)
            )

    def _paint_range(
        self, painter: QPainter, row: Ranged, beside: QRectF, colours: Colours
    ) -> None:
        """A line from the least to the most, with a square at the value itself."""
        middle, cap = beside.center().y(), beside.height() * CAP_SHARE
        painter.setPen(QPen(ink_of(1, colours), 2.0))
        painter.drawLine(QPointF(self._x(row.low), middle), QPointF(self._x(row.high), middle))
        for x in (self._x(row.low), self._x(row.high)):
            painter.drawLine(QPointF(x, middle - cap), QPointF(x, middle + cap))
        square = QRectF(self._x(row.central) - cap, middle - cap, 2 * cap, 2 * cap)
        painter.fillRect(square, brush_of(0, colours))
