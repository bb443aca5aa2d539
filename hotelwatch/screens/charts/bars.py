"""Bars that stand side by side: stacked fillings, an outline behind them, a line above them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto
from math import ceil

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from hotelwatch.screens.charts.chart import AIR_PX, Chart, brush_of, ink_of
from hotelwatch.screens.charts.scale import levels_to
from hotelwatch.screens.look.theme import Colours

LEAST_WIDE, LEAST_LINES = 230, 9
GAP_SHARE = 0.3
LEGEND_APART_PX = 16
FILLED_WIDE = 0.8
"""Of the width of an outline, which stands around it."""
OUTLINE_PX = 1.6
LEVELS_APART = 2.6
"""Levels stand at least so many lines of text apart."""


class Shape(Enum):
    """How a series is drawn."""

    FILLED = auto()
    """Bars stacked on those of the series before it, or beside them."""
    OUTLINE = auto()
    """A hollow bar, wider, behind the filled ones."""
    LINE = auto()
    """A short line across, where the bar could reach."""


@dataclass(frozen=True, slots=True)
class Series:
    """A named row of values, one for each bar."""

    name: str
    values: tuple[float, ...]
    shape: Shape = Shape.FILLED


@dataclass(frozen=True, slots=True)
class Bars:
    """What stands where."""

    up: str
    """What goes up, in which unit."""
    names: tuple[str, ...]
    """Below each bar; as many are shown as have room."""
    series: tuple[Series, ...]
    said: tuple[str, ...]
    """Each bar in words."""
    is_counted: bool = True
    """Whether values are whole numbers."""
    is_stacked: bool = True
    """Whether filled bars stand on one another, else side by side."""
    room_for: float = 0.0
    """A value of another chart above or below: levels of both begin at the same place."""
    line_before: int | None = None
    """A line between two bars, before this one."""
    line_name: str = ""


class BarChart(Chart):
    """Bars over one axis."""

    def __init__(self, name: str) -> None:
        """Nothing yet; ``name`` is what a screen reader calls it."""
        super().__init__(name)
        self._bars: Bars | None = None
        self._highest = 1.0

    def show_bars(self, bars: Bars, *, at: int | None = None) -> None:
        """Show these bars; ``at`` is the one that has the place."""
        self._bars = bars
        self._highest = max([0.0, *self._tops()]) or 1.0
        self.stand_at(at)

    def minimumSizeHint(self) -> QSize:
        """Low enough to stand beside others; as high as so many lines of its letters."""
        return QSize(LEAST_WIDE, self.fontMetrics().height() * LEAST_LINES)

    def sizeHint(self) -> QSize:
        """As low as it may be: it grows with what holds it."""
        return self.minimumSizeHint()

    def count(self) -> int:
        """How many bars there are."""
        return len(self._bars.names) if self._bars else 0

    def said_of(self, place: int) -> str:
        """A bar in words."""
        return self._bars.said[place] if self._bars else ""

    def place_at(self, position: QPointF) -> int | None:
        """The bar above or below which a position lies."""
        area = self._area
        if not self.count() or not area.left() <= position.x() <= area.right():
            return None
        return min(self.count() - 1, int((position.x() - area.left()) / self._step))

    # --- where things lie -----------------------------------------------------------

    def _tops(self) -> list[float]:
        bars = self._bars
        if bars is None:
            return []
        filled = [one.values for one in bars.series if one.shape is Shape.FILLED]
        together = sum if bars.is_stacked else max
        stacked = [together(values) for values in zip(*filled, strict=True)] if filled else []
        others = [max(one.values, default=0.0) for one in bars.series if one.shape != Shape.FILLED]
        return [*stacked, *others]

    @property
    def _levels(self) -> tuple[float, ...]:
        fits = int(self._area.height() / (self.fontMetrics().height() * LEVELS_APART))
        is_counted = self._bars is not None and self._bars.is_counted
        return levels_to(self._highest, max(1, min(6, fits)), whole=is_counted)

    @property
    def _area(self) -> QRectF:
        metrics = self.fontMetrics()
        line = metrics.height()
        widest = max(self._highest, self._bars.room_for if self._bars else 0.0)
        left = metrics.horizontalAdvance(f"{widest * 10:,.0f}") + AIR_PX
        top = (1 + self._legend_lines) * line + 2 * AIR_PX
        width = max(1.0, self.width() - left - AIR_PX)
        return QRectF(left, top, width, max(1.0, self.height() - top - line - AIR_PX))

    @property
    def _step(self) -> float:
        return self._area.width() / max(1, self.count())

    def _box(self, place: int, low: float, high: float, *, wide: float = 1.0) -> QRectF:
        area, step, most = self._area, self._step, self._levels[-1]
        width = step * (1 - GAP_SHARE) * wide
        left = area.left() + place * step + (step - width) / 2
        top, foot = (area.bottom() - area.height() * value / most for value in (high, low))
        return QRectF(left, top, width, foot - top)

    # --- painting --------------------------------------------------------------------

    def paint_chart(self, painter: QPainter, colours: Colours) -> None:
        """Paint levels, bars, the names below, and which bar has the place."""
        bars = self._bars
        if bars is None or not bars.names:
            return
        painter.fillRect(self._area, QColor(colours.base))
        self._paint_levels(painter, bars, colours)
        self._paint_place(painter, colours)
        self._paint_fillings(painter, bars, colours)
        self._paint_outlines(painter, bars, colours)
        self._paint_line_between(painter, bars, colours)
        self._paint_names(painter, bars, colours)
        self._paint_legend(painter, bars, colours)

    def _paint_levels(self, painter: QPainter, bars: Bars, colours: Colours) -> None:
        area, line, levels = self._area, self.fontMetrics().height(), self._levels
        painter.setPen(QColor(colours.text))
        box = QRectF(0, 0, self.width(), line + AIR_PX / 2)
        said = self.fontMetrics().elidedText(bars.up, Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, said)
        for level in levels:
            y = area.bottom() - area.height() * level / levels[-1]
            painter.setPen(QPen(QColor(colours.hair), 1))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            painter.setPen(QColor(colours.muted))
            beside = QRectF(0, y - line / 2, area.left() - AIR_PX / 2, line)
            text = f"{level:,.0f}" if level >= 1 or not level else f"{level:g}"
            painter.drawText(beside, Qt.AlignmentFlag.AlignRight, text)

    def _paint_place(self, painter: QPainter, colours: Colours) -> None:
        if self._at is None or not 0 <= self._at < self.count():
            return
        area = self._area
        column = QRectF(area.left() + self._at * self._step, area.top(), self._step, area.height())
        painter.fillRect(column, QColor(colours.band))
        painter.setPen(QPen(QColor(colours.accent), 2))
        painter.drawLine(column.bottomLeft(), column.bottomRight())

    def _paint_fillings(self, painter: QPainter, bars: Bars, colours: Colours) -> None:
        feet = [0.0] * len(bars.names)
        filled = self._of(Shape.FILLED)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for number, one in enumerate(filled):
            painter.setPen(QPen(ink_of(number, colours), 1))
            for place, value in enumerate(one.values):
                if value <= 0:
                    continue
                box = self._box(place, feet[place], feet[place] + value, wide=FILLED_WIDE)
                if bars.is_stacked:
                    feet[place] += value
                else:
                    wide = box.width() / len(filled)
                    box = QRectF(box.left() + number * wide, box.top(), wide, box.height())
                painter.fillRect(box, QColor(colours.base))
                painter.fillRect(box, brush_of(number, colours))
                painter.drawRect(box)

    def _paint_outlines(self, painter: QPainter, bars: Bars, colours: Colours) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for one in bars.series:
            if one.shape is Shape.FILLED:
                continue
            for place, value in enumerate(one.values):
                box = self._box(place, 0.0, value)
                if one.shape is Shape.OUTLINE and value > 0:
                    painter.setPen(QPen(QColor(colours.text), OUTLINE_PX))
                    painter.drawRect(box)
                elif one.shape is Shape.LINE:
                    painter.setPen(QPen(QColor(colours.text), 2 * OUTLINE_PX))
                    painter.drawLine(box.topLeft() - QPointF(3, 0), box.topRight() + QPointF(3, 0))

    def _paint_line_between(self, painter: QPainter, bars: Bars, colours: Colours) -> None:
        if bars.line_before is None:
            return
        area, metrics = self._area, self.fontMetrics()
        x = area.left() + bars.line_before * self._step
        painter.setPen(QPen(QColor(colours.text), 1, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
        painter.setPen(QColor(colours.text))
        wide = metrics.horizontalAdvance(bars.line_name)
        left = min(x + AIR_PX / 2, area.right() - wide)
        box = QRectF(left, area.top(), wide, metrics.height())
        painter.fillRect(box, QColor(colours.base))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, bars.line_name)

    def _paint_names(self, painter: QPainter, bars: Bars, colours: Colours) -> None:
        metrics, area = self.fontMetrics(), self._area
        widest = max(metrics.horizontalAdvance(name) for name in bars.names)
        every = max(1, ceil((widest + AIR_PX) / self._step))
        painter.setPen(QColor(colours.muted))
        for place in range(0, len(bars.names), every):
            middle = area.left() + (place + 0.5) * self._step
            wide = metrics.horizontalAdvance(bars.names[place])
            left = max(0.0, min(middle - wide / 2, self.width() - wide))
            foot = area.bottom() + AIR_PX / 2 + metrics.ascent()
            painter.drawText(QPointF(left, foot), bars.names[place])

    # --- the legend -------------------------------------------------------------------

    def _of(self, shape: Shape) -> Sequence[Series]:
        return [one for one in self._bars.series if one.shape is shape] if self._bars else []

    def _legend_places(self) -> list[tuple[Series, float, int]]:
        """Each name with its left edge and its line; a line goes on where it has room."""
        metrics, found = self.fontMetrics(), []
        left, line = 0.0, 0
        for one in self._bars.series if self._bars and len(self._bars.series) > 1 else ():
            wide = metrics.horizontalAdvance(one.name) + metrics.height() + AIR_PX
            if left and left + wide > self.width():
                left, line = 0.0, line + 1
            found.append((one, left, line))
            left += wide + LEGEND_APART_PX
        return found

    @property
    def _legend_lines(self) -> int:
        return max((line + 1 for _one, _left, line in self._legend_places()), default=0)

    def _paint_legend(self, painter: QPainter, bars: Bars, colours: Colours) -> None:
        metrics = self.fontMetrics()
        high, fillings = metrics.height(), self._of(Shape.FILLED)
        for one, left, line in self._legend_places():
            top = (line + 1) * high + AIR_PX / 2
            box = QRectF(left + 1, top + high * 0.2, high * 0.7, high * 0.6)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            if one.shape is Shape.FILLED:
                number = fillings.index(one)
                painter.setPen(QPen(ink_of(number, colours), 1))
                painter.fillRect(box, brush_of(number, colours))
                painter.drawRect(box)
            elif one.shape is Shape.OUTLINE:
                painter.setPen(QPen(QColor(colours.text), OUTLINE_PX))
                painter.drawRect(box)
            else:
                painter.setPen(QPen(QColor(colours.text), 2 * OUTLINE_PX))
                middle = box.center().y()
                painter.drawLine(QPointF(box.left(), middle), QPointF(box.right(), middle))
            painter.setPen(QColor(colours.text))
            painter.drawText(QPointF(left + high, top + metrics.ascent()), one.name)
