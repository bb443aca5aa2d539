"""Curves with the range of their settings, painted; one point has the place.

Left and Right go from point to point, Home and End to the ends; the pointer does the same.
It is a drawing only: a table beside it lists the same numbers. A band says from where to
where the settings reach, a line what the central one says; lines differ by dashes as well.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import log10

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hotelwatch.screens.theme import Colours, Tone, colours_of

LEAST_WIDE, LEAST_HIGH = 320, 180
AIR_PX = 8
LINE_PX = 2.4
BAND_ALPHA = 46
STEPS = (1, 2, 5)
LINES_AT_MOST = 6
DASHES: tuple[tuple[float, ...], ...] = ((), (6.0, 3.0), (1.5, 2.5), (8.0, 3.0, 1.5, 3.0))


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


def levels_to(highest: float) -> tuple[float, ...]:
    """Even steps from 0 to a value or just above it, few enough to read."""
    size = 10.0 ** int(log10(highest) - 2)
    while True:
        for step in STEPS:
            if highest / (step * size) <= LINES_AT_MOST:
                count = int(highest / (step * size) + 1e-9) + 1
                return tuple(number * step * size for number in range(count + 1))
        size *= 10.0


class CurveChart(QWidget):
    """Curves over one axis."""

    point_changed = Signal(int)
    """The number of the point of the first curve that has the place."""

    def __init__(self, name: str) -> None:
        """Nothing yet; ``name`` is what a screen reader calls it."""
        super().__init__()
        self._curves: tuple[Curve, ...] = ()
        self._axes: Axes | None = None
        self._marks: tuple[Mark, ...] = ()
        self._levels: tuple[float, ...] = (0.0, 1.0)
        self._span = (0.0, 1.0)
        self._at: int | None = None
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Room enough for the letters."""
        return QSize(LEAST_WIDE * 2, LEAST_HIGH * 2)

    def minimumSizeHint(self) -> QSize:
        """Below this the letters run into one another."""
        return QSize(LEAST_WIDE, LEAST_HIGH)

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
        self._at = at
        self._tell()
        self.update()

    def stand_at(self, place: int) -> None:
        """Give a point the place, and say so to nobody."""
        self._at = place
        self._tell()
        self.update()

    @property
    def at(self) -> int | None:
        """The number of the point that has the place."""
        return self._at

    def _tell(self) -> None:
        if self._axes is None or self._at is None or not self._curves:
            self.setAccessibleDescription("")
            return
        said = [
            f"{curve.name}: {self._axes.value(curve.points[self._at].central)}"
            for curve in self._curves
            if self._at < len(curve.points)
        ]
        where = self._axes.x_text(self._curves[0].points[self._at].x)
        self.setAccessibleDescription(f"{where} – {'; '.join(said)}")

    # --- going along ----------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along the points."""
        last = len(self._curves[0].points) - 1 if self._curves else -1
        here = last if self._at is None else self._at
        keys = {
            Qt.Key.Key_Left: here - 1,
            Qt.Key.Key_Right: here + 1,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if last >= 0 and event.key() in keys:
            self._go(min(last, max(0, keys[Qt.Key(event.key())])))
        else:
            super().keyPressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Stand on the point under a pressed pointer."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._go_to_x(event.position().x())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Stand on the point under the pointer."""
        self._go_to_x(event.position().x())

    def focusInEvent(self, event: QEvent) -> None:
        """Show the frame of the focus."""
        self.update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Hide it again."""
        self.update()

    def _go_to_x(self, x: float) -> None:
        if not self._curves or not self._curves[0].points:
            return
        places = [self._x(point.x) for point in self._curves[0].points]
        right = min(bisect_left(places, x), len(places) - 1)
        nearer_left = right and x - places[right - 1] < places[right] - x
        self._go(right - 1 if nearer_left else right)

    def _go(self, place: int) -> None:
        if place != self._at:
            self.stand_at(place)
            self.point_changed.emit(place)

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

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the axes, the curves, and where one stands."""
        if self._axes is None or not any(curve.points for curve in self._curves):
            return
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.fillRect(self._area, QColor(colours.base))
            self._paint_axes(painter, self._axes, colours)
            for number, curve in enumerate(self._curves):
                self._paint_band(painter, curve, self._ink(number, colours))
            self._paint_marks(painter, colours)
            for number, curve in enumerate(self._curves):
                self._paint_line(painter, curve, number, colours)
            self._paint_names(painter, colours)
            self._paint_place(painter, colours)
            if self.hasFocus():
                painter.setPen(QPen(QColor(colours.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))

    def _ink(self, number: int, colours: Colours) -> QColor:
        inks = (
            colours.accent,
            colours.tones[Tone.ASKED].ink,
            colours.tones[Tone.DUE].ink,
            colours.tones[Tone.DONE].ink,
        )
        return QColor(inks[number % len(inks)])

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
        pen = QPen(self._ink(number, colours), LINE_PX)
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
            painter.setPen(self._ink(number, colours))
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
                painter.setBrush(self._ink(number, colours))
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
