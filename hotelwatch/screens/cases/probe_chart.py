"""A log of probes, painted: temperatures above, the running dose of the deciding probe below.

Each line has a colour, a pattern of dashes and a letter of its own. Left and Right go from
reading to reading, Page Up and Page Down further, Home and End to the ends; the pointer
does the same. It is a drawing only: the table beside it lists the same readings.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta, tzinfo
from math import ceil, floor

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hotelwatch.core.lethal.curves import Curve, LogCurves, LogRow, Point, thinned
from hotelwatch.screens.theme import Colours, Tone, colours_of
from hotelwatch.wording.dates import clock_text
from hotelwatch.wording.language import _
from hotelwatch.wording.lethal import dose_text, floor_text

LEAST_WIDE, LEAST_HIGH = 360, 260
AIR_PX = 6
LINE_PX, DECIDING_PX = 1.6, 2.6
TEMPERATURE_SHARE = 0.66
LETTER_EVERY_PX = 170
PAGE = 12
"""Readings that Page Up and Page Down go over."""
TICKS_PX = 90
CELSIUS_STEPS = (2, 5, 10, 20, 50)
MINUTE_STEPS = (5, 10, 15, 30, 60, 120, 240, 480, 720, 1440, 2880)
PATTERNS: tuple[tuple[float, ...], ...] = (
    (),
    (6.0, 3.0),
    (1.5, 2.5),
    (8.0, 3.0, 1.5, 3.0),
    (3.0, 2.0),
    (10.0, 3.0, 3.0, 3.0),
    (8.0, 3.0, 1.5, 3.0, 1.5, 3.0),
)
KEYS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_PageUp: -PAGE,
    Qt.Key.Key_PageDown: PAGE,
}


def line_pen(place: int, colours: Colours) -> QPen:
    """How the line at a place is drawn: A thick and whole, each other in dashes of its own."""
    inks = (
        colours.accent,
        colours.tones[Tone.LATE].ink,
        colours.tones[Tone.ASKED].ink,
        colours.tones[Tone.DONE].ink,
        colours.tones[Tone.DUE].ink,
    )
    pen = QPen(QColor(inks[place % len(inks)]), DECIDING_PX if place == 0 else LINE_PX)
    pattern = PATTERNS[place % len(PATTERNS)]
    if pattern:
        pen.setDashPattern(pattern)
    return pen


@dataclass(frozen=True, slots=True)
class _Panel:
    """A part of the chart with its axes: minutes across, a value up."""

    area: QRectF
    lasts: float
    low: float
    high: float

    def x(self, minute: float) -> float:
        return self.area.left() + self.area.width() * minute / max(self.lasts, 1.0)

    def y(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.area.bottom() - self.area.height() * min(1.0, max(0.0, share))

    def line(self, points: Sequence[Point]) -> list[QPointF]:
        fine = thinned(points, max(1, int(self.area.width())))
        return [QPointF(self.x(minute), self.y(value)) for minute, value in fine]


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
        """Paint both parts, the clock between them, and where one stands."""
        curves = self._curves
        if curves is None:
            return
        colours = colours_of(self.palette())
        upper, lower = self._areas()
        lasts = curves.lasts_minutes
        warm = _Panel(upper, lasts, *_celsius_range(curves))
        dose = _Panel(lower, lasts, 0.0, _dose_top(curves))
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            draw = _Drawing(painter, colours, self.fontMetrics().height())
            for panel in (warm, dose):
                painter.fillRect(panel.area, QColor(colours.base))
            draw.grid(warm)
            for place in reversed(range(len(curves.curves))):
                draw.curve(curves.curves[place], place, warm)
            draw.floors(curves, warm)
            draw.dose(curves, dose)
            draw.clock(curves, (warm, dose), self._zone)
            if self._at is not None:
                draw.place(self._minutes[self._at], (warm, dose))
            if self.hasFocus():
                painter.setPen(QPen(QColor(colours.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))

    def _areas(self) -> tuple[QRectF, QRectF]:
        """Where temperatures and the dose are drawn."""
        metrics = self.fontMetrics()
        line = metrics.height()
        left = metrics.horizontalAdvance("-100") + 2 * AIR_PX
        wide = self.width() - left - 2 * AIR_PX
        # A title above each part, the clock below the lower one.
        free = self.height() - 3 * line - 4 * AIR_PX
        high = free * TEMPERATURE_SHARE
        upper = QRectF(left, line + AIR_PX, wide, high)
        lower = QRectF(left, upper.bottom() + line + 2 * AIR_PX, wide, free - high)
        return upper, lower


@dataclass(frozen=True, slots=True)
class _Drawing:
    """Paints the parts of a chart."""

    painter: QPainter
    colours: Colours
    line: int

    def grid(self, panel: _Panel) -> None:
        """Degrees at the left, and a hair line for each."""
        self._title(_("°C at each probe"), panel)
        span = panel.high - panel.low
        most = max(2.0, panel.area.height() / (1.8 * self.line))
        step = next((one for one in CELSIUS_STEPS if span / one <= most), CELSIUS_STEPS[-1])
        value = ceil(panel.low / step) * step
        while value <= panel.high:
            self._level(panel, value, f"{value:g}", QPen(QColor(self.colours.hair), 1))
            value += step

    def floors(self, curves: LogCurves, panel: _Panel) -> None:
        """From where on something is credited, and against whom."""
        pen = QPen(QColor(self.colours.text), 1)
        pen.setDashPattern((2.0, 3.0))
        for one in curves.floors:
            if not panel.low <= one.celsius <= panel.high:
                continue
            y = panel.y(one.celsius)
            self.painter.setPen(pen)
            self.painter.drawLine(QPointF(panel.area.left(), y), QPointF(panel.area.right(), y))
            below = one.whose == "adults"
            top = y + 1 if below else y - self.line - 1
            text = floor_text(one)
            wide = self.painter.fontMetrics().horizontalAdvance(text) + AIR_PX
            box = QRectF(panel.area.right() - wide, top, wide, self.line)
            self.painter.fillRect(box, QColor(self.colours.base))
            self.painter.setPen(QColor(self.colours.text))
            self.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def curve(self, curve: Curve, place: int, panel: _Panel) -> None:
        """A probe's line with its letter; a cross from where on it does not count."""
        pen = line_pen(place, self.colours)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        for part in curve.parts():
            self.painter.setPen(pen)
            line = panel.line(part)
            self.painter.drawPolyline(QPolygonF(line))
            if len(part) == 1:
                self.painter.drawEllipse(line[0], 2, 2)
        for minute, celsius in self._letters(curve, place, panel):
            self._letter(curve.letter, QPointF(panel.x(minute), panel.y(celsius)), pen.color())
        fell = curve.not_counted_from
        if fell is not None and (celsius_then := curve.at(fell)) is not None:
            self._cross(QPointF(panel.x(fell), panel.y(celsius_then)), pen.color())

    def dose(self, curves: LogCurves, panel: _Panel) -> None:
        """The running dose of the deciding probe, and the dose that is asked."""
        letter = curves.curves[0].letter
        if not curves.dose:
            self._title(_("No dose is known for this species"), panel)
            return
        self._title(_("Dose at {letter}, which decides").format(letter=letter), panel)
        self._level(panel, 0.0, "0", QPen(QColor(self.colours.line), 1))
        asked = QPen(QColor(self.colours.text), 1)
        asked.setDashPattern((6.0, 3.0))
        self._level(panel, curves.wanted, f"{curves.wanted:g}", asked)
        said = _("{dose} asked").format(dose=dose_text(curves.wanted))
        top = panel.y(curves.wanted) - self.line
        box = QRectF(panel.area.left() + AIR_PX, top, panel.area.width(), self.line)
        self.painter.drawText(box, Qt.AlignmentFlag.AlignLeft, said)
        last = (curves.lasts_minutes, curves.dose[-1][1])
        points = panel.line((*curves.dose, last))
        ground = QColor(self.colours.accent)
        ground.setAlphaF(0.18)
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(ground)
        feet = [QPointF(points[end].x(), panel.area.bottom()) for end in (-1, 0)]
        self.painter.drawPolygon(QPolygonF([*points, *feet]))
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.setPen(line_pen(0, self.colours))
        self.painter.drawPolyline(QPolygonF(points))

    def clock(self, curves: LogCurves, panels: Sequence[_Panel], zone: tzinfo) -> None:
        """Clock times below the lower part, and a hair line for each."""
        lower = panels[-1]
        most = max(1.0, lower.area.width() / TICKS_PX)
        steps = (one for one in MINUTE_STEPS if lower.lasts / one <= most)
        step = next(steps, MINUTE_STEPS[-1])
        begins = curves.begins_at.astimezone(zone)
        into_step = (begins.hour * 60 + begins.minute) % step
        minute = float(-into_step % step)
        while minute <= lower.lasts:
            x = lower.x(minute)
            self.painter.setPen(QPen(QColor(self.colours.hair), 1))
            for panel in panels:
                self.painter.drawLine(QPointF(x, panel.area.top()), QPointF(x, panel.area.bottom()))
            text = clock_text(curves.begins_at + timedelta(minutes=minute), zone)
            self._centred(text, x, lower.area)
            minute += step

    def place(self, minute: float, panels: Sequence[_Panel]) -> None:
        """A line through both parts where one stands."""
        self.painter.setPen(QPen(QColor(self.colours.text), 1.4))
        for panel in panels:
            x = panel.x(minute)
            self.painter.drawLine(QPointF(x, panel.area.top()), QPointF(x, panel.area.bottom()))

    def _letters(self, curve: Curve, place: int, panel: _Panel) -> Iterator[Point]:
        """Where a line bears its letter: now and then, each line elsewhere than the next."""
        apart = LETTER_EVERY_PX / max(1.0, panel.area.width()) * max(panel.lasts, 1.0)
        minute = apart * (0.25 + 0.17 * (place % 5))
        while minute <= panel.lasts:
            celsius = curve.at(minute)
            if celsius is not None:
                yield minute, celsius
            minute += apart

    def _letter(self, letter: str, at: QPointF, ink: QColor) -> None:
        wide = self.painter.fontMetrics().horizontalAdvance(letter) + AIR_PX
        box = QRectF(at.x() - wide / 2, at.y() - self.line / 2, wide, self.line)
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(QColor(self.colours.base))
        self.painter.drawRoundedRect(box, 3, 3)
        self.painter.setPen(ink)
        self.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, letter)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)

    def _cross(self, at: QPointF, ink: QColor) -> None:
        self.painter.setPen(QPen(ink, DECIDING_PX))
        for up in (-AIR_PX, AIR_PX):
            self.painter.drawLine(at + QPointF(-AIR_PX, -up), at + QPointF(AIR_PX, up))

    def _title(self, text: str, panel: _Panel) -> None:
        box = QRectF(AIR_PX, panel.area.top() - self.line - 2, panel.area.right(), self.line)
        self.painter.setPen(QColor(self.colours.muted))
        self.painter.drawText(box, Qt.AlignmentFlag.AlignLeft, text)

    def _level(self, panel: _Panel, value: float, text: str, pen: QPen) -> None:
        y = panel.y(value)
        self.painter.setPen(pen)
        self.painter.drawLine(QPointF(panel.area.left(), y), QPointF(panel.area.right(), y))
        box = QRectF(0, y - self.line / 2, panel.area.left() - AIR_PX, self.line)
        self.painter.setPen(QColor(self.colours.text))
        self.painter.drawText(box, Qt.AlignmentFlag.AlignRight, text)

    def _centred(self, text: str, x: float, area: QRectF) -> None:
        wide = self.painter.fontMetrics().horizontalAdvance(text)
        left = min(max(0.0, x - wide / 2), area.right() - wide + AIR_PX)
        self.painter.setPen(QColor(self.colours.text))
        box = QRectF(left, area.bottom() + 2, wide + 1, self.line)
        self.painter.drawText(box, Qt.AlignmentFlag.AlignLeft, text)


def _celsius_range(curves: LogCurves) -> tuple[float, float]:
    """From below the coldest reading or floor to above the warmest, in whole fives."""
    read = [celsius for curve in curves.curves for celsius in curve.celsius]
    read += [one.celsius for one in curves.floors]
    low, high = floor(min(read) / 5) * 5.0, ceil(max(read) / 5) * 5.0
    return (low, high if high > low else low + 5)


def _dose_top(curves: LogCurves) -> float:
    """High enough for the dose asked and for the dose reached."""
    reached = curves.dose[-1][1] if curves.dose else 0.0
    return max(curves.wanted, reached) * 1.15
