"""Curves with the range of their settings, painted; one point has the place.

A band says from where to
where the settings reach, a line what the central one says; lines differ by dashes as well.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from hotelwatch.screens.charts.chart import AIR_PX, DASHES, Chart, ink_of
from hotelwatch.screens.charts.scale import levels_to
from hotelwatch.screens.look.theme import Colours

LINE_PX = 2.4
BAND_ALPHA = 46


@dataclass(frozen=True, slots=True)
class Point:
    """A place across, with what the settings say of it, from the least to the most."""

    x: float
    low: float
    central: float
    high: float


@dataclass(frozen=True, slots=True)
class Curve:
    """A named line with its band; points by rising x."""

    name: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Axes:
    """What the chart's axes say."""

    up: str
    """Title above the chart: what goes up, in which unit."""
    x_text: Callable[[float], str]
    y_text: Callable[[float], str]
    value_text: Callable[[float], str] | None = None
    """Says a curve's value; None: as levels are said."""
    letters_at: tuple[float, ...] = ()
    """Where letters stand below; none: at the points of the first curve."""

    def value(self, value: float) -> str:
        """A curve's value in words."""
        return (self.value_text or self.y_text)(value)


@dataclass(frozen=True, slots=True)
class Mark:
    """A place across that stays in view, with its name."""

    x: float
    name: str


class CurveChart(Chart):
    """Curves over one axis; the points of the first one can have the place."""

    def __init__(self, name: str) -> None:
        """Nothing yet; ``name`` is what a screen reader calls it."""
        super().__init__(name)
        self._curves: tuple[Curve, ...] = ()
        self._axes: Axes | None = None
        self._marks: tuple[Mark, ...] = ()
        self._levels: tuple[float, ...] = (0.0, 1.0)
        self._span = (0.0, 1.0)

    # --- what is shown ----------------------------------------------------------

    def show_curves(
        self,
        curves: Sequence[Curve],
        axes: Axes,
        *,
        at: int | None = None,
        marks: Sequence[Mark] = (),
    ) -> None:
        """Show these curves; ``at`` is the point of the first one that has the place."""
        self._curves, self._axes, self._marks = tuple(curves), axes, tuple(marks)
        points = [point for curve in self._curves for point in curve.points]
        across = [point.x for point in points] or [0.0, 1.0]
        self._levels = levels_to(max((point.high for point in points), default=1.0) or 1.0)
        self._span = (min(across), max(across))
        self.stand_at(at)

    def count(self) -> int:
        """Points of the first curve."""
        return len(self._curves[0].points) if self._curves else 0

    def said_of(self, place: int) -> str:
        """A point of every curve."""
        if self._axes is None:
            return ""
        said = [
            f"{curve.name}: {self._axes.value(curve.points[place].central)}"
            for curve in self._curves
            if place < len(curve.points)
        ]
        where = self._axes.x_text(self._curves[0].points[place].x)
        return f"{where} – {'; '.join(said)}"

    def place_at(self, position: QPointF) -> int | None:
        """The point nearest across."""
        if not self.count():
            return None
        places = [self._x(point.x) for point in self._curves[0].points]
        right = min(bisect_left(places, position.x()), len(places) - 1)
        nearer_left = right and position.x() - places[right - 1] < places[right] - position.x()
        return right - 1 if nearer_left else right

    # --- where things lie ---------------------------------------------------------------

    @property
    def _area(self) -> QRectF:
        line = self.fontMetrics().height()
        left = self._widest_y() + AIR_PX
        top = 2 * line + AIR_PX
        return QRectF(
            left, top, self.width() - left - 3 * AIR_PX, self.height() - top - line - 2 * AIR_PX
        )

    def _widest_y(self) -> int:
        if self._axes is None:
            return 0
        metrics = self.fontMetrics()
        return max(
            (metrics.horizontalAdvance(self._axes.y_text(y)) for y in self._levels), default=0
        )

    def _x(self, x: float) -> float:
        first, last = self._span
        area = self._area
        return area.left() + area.width() * (x - first) / ((last - first) or 1.0)

    def _y(self, y: float) -> float:
        area = self._area
        return area.bottom() - area.height() * min(1.0, y / self._levels[-1])

    # --- painting ---------------------------------------------------------------------------

    def paint_chart(self, painter: QPainter, colours: Colours) -> None:
        """Paint the axes, the curves, and where one stands."""
        if self._axes is None or not any(curve.points for curve in self._curves):
            return
        painter.fillRect(self._area, QColor(colours.base))
        self._paint_axes(painter, self._axes, colours)
        for number, curve in enumerate(self._curves):
            self._paint_band(painter, curve, ink_of(number, colours))
        self._paint_marks(painter, colours)
        for number, curve in enumerate(self._curves):
            self._paint_line(painter, curve, number, colours)
        self._paint_names(painter, colours)
        self._paint_place(painter, colours)

    def _paint_axes(self, painter: QPainter, axes: Axes, colours: Colours) -> None:
        area, line = self._area, self.fontMetrics().height()
        painter.setPen(QColor(colours.text))
        painter.drawText(QPointF(AIR_PX, line), axes.up)
        for level in self._levels:
            y = self._y(level)
            painter.setPen(QPen(QColor(colours.hair), 1))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            painter.setPen(QColor(colours.muted))
            box = QRectF(0, y - line / 2, area.left() - AIR_PX / 2, line)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight, axes.y_text(level))
        free_from = -float(AIR_PX)
        for place in axes.letters_at or tuple(point.x for point in self._curves[0].points):
            said = axes.x_text(place)
            wide = self.fontMetrics().horizontalAdvance(said)
            left = min(max(self._x(place) - wide / 2, 0.0), self.width() - wide - AIR_PX / 2)
            if left >= free_from:
                painter.drawText(QPointF(left, area.bottom() + line), said)
                free_from = left + wide + 2 * AIR_PX

    def _paint_band(self, painter: QPainter, curve: Curve, ink: QColor) -> None:
        upper = [QPointF(self._x(p.x), self._y(p.high)) for p in curve.points]
        lower = [QPointF(self._x(p.x), self._y(p.low)) for p in reversed(curve.points)]
        shade = QColor(ink)
        shade.setAlpha(BAND_ALPHA)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(shade)
        painter.drawPolygon(QPolygonF([*upper, *lower]))

    def _paint_line(self, painter: QPainter, curve: Curve, number: int, colours: Colours) -> None:
        pen = QPen(ink_of(number, colours), LINE_PX)
        if dashes := DASHES[number % len(DASHES)]:
            pen.setDashPattern(dashes)
        painter.setPen(pen)
        line = [QPointF(self._x(p.x), self._y(p.central)) for p in curve.points]
        painter.drawPolyline(QPolygonF(line))

    def _paint_names(self, painter: QPainter, colours: Colours) -> None:
        """Name the lines at their ends, none over another."""
        if len(self._curves) < 2:  # noqa: PLR2004 one needs no name
            return
        high, area = self.fontMetrics().height(), self._area
        ends = [(self._y(c.points[-1].central), n) for n, c in enumerate(self._curves) if c.points]
        feet: list[float] = []
        for y, _number in sorted(ends):
            feet.append(max(y - AIR_PX / 2, (feet[-1] if feet else area.top()) + high))
        highest_foot = area.bottom() - AIR_PX / 2
        for place in reversed(range(len(feet))):
            feet[place] = min(feet[place], highest_foot)
            highest_foot = feet[place] - high
        for foot, (_y, number) in zip(feet, sorted(ends), strict=True):
            name = self._curves[number].name
            wide = self.fontMetrics().horizontalAdvance(name)
            painter.setPen(ink_of(number, colours))
            painter.drawText(QPointF(area.right() - wide - AIR_PX / 2, foot), name)

    def _paint_marks(self, painter: QPainter, colours: Colours) -> None:
        area, metrics = self._area, self.fontMetrics()
        for mark in self._marks:
            x = self._x(mark.x)
            painter.setPen(QPen(QColor(colours.muted), 1, Qt.PenStyle.DotLine))
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
            painter.setPen(QColor(colours.muted))
            left = min(x + AIR_PX / 2, area.right() - metrics.horizontalAdvance(mark.name))
            painter.drawText(QPointF(left, area.bottom() - metrics.descent() - 2), mark.name)

    def _paint_place(self, painter: QPainter, colours: Colours) -> None:
        if self._at is None or self._axes is None:
            return
        area, line = self._area, self.fontMetrics().height()
        x = self._x(self._curves[0].points[self._at].x)
        painter.setPen(QPen(QColor(colours.line), 1, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        for number, curve in reversed(tuple(enumerate(self._curves))):
            if self._at < len(curve.points):
                painter.setBrush(ink_of(number, colours))
                painter.drawEllipse(QPointF(x, self._y(curve.points[self._at].central)), 5, 5)
        painter.setPen(QColor(colours.text))
        said = self._said_at(self._axes, with_range=True)
        if self.fontMetrics().horizontalAdvance(said) > area.width():
            said = self._said_at(self._axes, with_range=False)
        wide = self.fontMetrics().horizontalAdvance(said)
        left = max(min(x - wide / 2, area.right() - wide), area.left())
        painter.drawText(QPointF(left, 2 * line), said)

    def _said_at(self, axes: Axes, *, with_range: bool) -> str:
        """What the point with the place says, of every curve."""
        said = []
        for curve in self._curves:
            if self._at is None or self._at >= len(curve.points):
                continue
            point = curve.points[self._at]
            one = axes.value(point.central)
            if with_range and (point.low, point.high) != (point.central, point.central):
                one = f"{one} ({axes.value(point.low)} – {axes.value(point.high)})"
            said.append(f"{curve.name} {one}" if len(self._curves) > 1 else one)
        where = axes.x_text(self._curves[0].points[self._at or 0].x)
        return f"{where}: {', '.join(said)}"
