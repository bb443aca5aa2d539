"""How a log of probes is drawn: lines with letters, floors, the running dose, the clock.

Each line has a colour, a pattern of dashes and a letter of its own. It is thin from where
on nothing of it is credited; a cross marks that place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta, tzinfo
from math import ceil, floor
from statistics import mean

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from hotelwatch.core.lethal.curves import Curve, LogCurves, Point, thinned
from hotelwatch.screens.look.theme import Colours, Tone
from hotelwatch.wording.dates import clock_text, day_and_month_text
from hotelwatch.wording.language import _
from hotelwatch.wording.lethal import dose_text, floor_text

AIR_PX = 6
LINE_PX, DECIDING_PX, THIN_PX = 1.6, 2.6, 0.7
LETTER_EVERY_PX = 170
FEW_LINES = 5
"""With more lines than this, each bears its letter less often."""
NEAR_END = 0.04
"""A line that ends within this share of the log bears its last letter in the margin."""
TICKS_PX = 90
A_DAY = 1440
"""Minutes."""
CELSIUS_STEPS = (2, 5, 10, 20, 50)
DOSE_STEPS = (0.5, 1, 2, 5, 10, 20, 50)
MINUTE_STEPS = (5, 10, 15, 30, 60, 120, 240, 480, 720, 1440, 2880)
DOSES_SHOWN = 5
"""So many times the dose asked are shown; beyond, the line asked would lie on the ground."""
SAMPLES = 12
PATTERNS: tuple[tuple[float, ...], ...] = (
    (),
    (6.0, 3.0),
    (1.5, 2.5),
    (8.0, 3.0, 1.5, 3.0),
    (3.0, 2.0),
    (10.0, 3.0, 3.0, 3.0),
    (8.0, 3.0, 1.5, 3.0, 1.5, 3.0),
)


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
class Panel:
    """A part of the chart with its axes: minutes across, a value up."""

    area: QRectF
    lasts: float
    low: float
    high: float

    def x(self, minute: float) -> float:
        """Where a minute lies."""
        return self.area.left() + self.area.width() * minute / max(self.lasts, 1.0)

    def minute(self, x: float) -> float:
        """The minute that lies at a place."""
        return (x - self.area.left()) / max(1.0, self.area.width()) * max(self.lasts, 1.0)

    def y(self, value: float) -> float:
        """Where a value lies; one beyond the axis lies at its end."""
        share = (value - self.low) / (self.high - self.low)
        return self.area.bottom() - self.area.height() * min(1.0, max(0.0, share))

    def line(self, points: Sequence[Point]) -> list[QPointF]:
        """Points to draw, no more than can be told apart."""
        fine = thinned(points, max(1, int(self.area.width())))
        return [QPointF(self.x(minute), self.y(value)) for minute, value in fine]


def by_worth(part: Sequence[Point], not_counted_from: float | None) -> Iterator[Sequence[Point]]:
    """A stretch as far as it counts, then what follows; they share the reading between."""
    if not_counted_from is None:
        yield part
        yield ()
        return
    yield [point for point in part if point[0] <= not_counted_from]
    yield [point for point in part if point[0] >= not_counted_from]


@dataclass(frozen=True, slots=True)
class Drawing:
    """Paints the parts of a chart."""

    painter: QPainter
    colours: Colours
    line: int

    def grid(self, panel: Panel) -> None:
        """Degrees at the left, and a hair line for each."""
        self._title(_("°C at each probe"), panel)
        step = self._step(panel, CELSIUS_STEPS)
        value = ceil(panel.low / step) * step
        while value <= panel.high:
            self._level(panel, value, f"{value:g}", QPen(QColor(self.colours.hair), 1))
            value += step

    def curve(self, curve: Curve, place: int, panel: Panel) -> None:
        """A probe's line, thin behind the cross from where on it does not count."""
        pen, thin = line_pen(place, self.colours), line_pen(place, self.colours)
        thin.setWidthF(THIN_PX)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        for part in curve.parts():
            worth = by_worth(part, curve.not_counted_from)
            for points, drawn_with in zip(worth, (pen, thin), strict=True):
                self.painter.setPen(drawn_with)
                self.painter.drawPolyline(QPolygonF(panel.line(points)))
            if len(part) == 1:
                alone = QPointF(panel.x(part[0][0]), panel.y(part[0][1]))
                self.painter.drawEllipse(alone, 2, 2)
        fell = curve.not_counted_from
        if fell is not None and (celsius_then := curve.at(fell)) is not None:
            self._cross(QPointF(panel.x(fell), panel.y(celsius_then)), pen.color())

    def letters(self, curves: LogCurves, panel: Panel) -> None:
        """Each line's letter along it now and then, and at its end."""
        many = max(1.0, len(curves.curves) / FEW_LINES)
        at_end: list[tuple[float, int]] = []
        taken: list[QRectF] = []
        for place, curve in enumerate(curves.curves):
            ink = line_pen(place, self.colours).color()
            for minute, celsius in along(curve, place, panel, many):
                at = QPointF(panel.x(minute), panel.y(celsius))
                box = self._box(curve.letter, at)
                if not any(box.intersects(one) for one in taken):
                    taken.append(box)
                    self._letter(curve.letter, at, ink)
            y = panel.y(curve.celsius[-1])
            if curve.minutes[-1] >= panel.lasts * (1 - NEAR_END):
                at_end.append((y, place))
            else:
                self._letter(curve.letter, QPointF(panel.x(curve.minutes[-1]), y), ink)
        self._end_letters(curves, sorted(at_end), panel)

    def floors(self, curves: LogCurves, panel: Panel) -> None:
        """From where on something is credited, and against whom."""
        pen = QPen(QColor(self.colours.text), 1)
        pen.setDashPattern((2.0, 3.0))
        for one in curves.floors:
            if not panel.low <= one.celsius <= panel.high:
                continue
            y = panel.y(one.celsius)
            self.painter.setPen(pen)
            self.painter.drawLine(QPointF(panel.area.left(), y), QPointF(panel.area.right(), y))
            top = y + 1 if one.whose == "adults" else y - self.line - 1
            text = floor_text(one)
            wide = self.painter.fontMetrics().horizontalAdvance(text) + AIR_PX
            box = freest(curves, panel, QRectF(0, top, wide, self.line))
            self.painter.fillRect(box, QColor(self.colours.base))
            self.painter.setPen(QColor(self.colours.text))
            self.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def dose(self, curves: LogCurves, panel: Panel) -> None:
        """The running dose of the deciding probe, and the dose that is asked."""
        letter = curves.curves[0].letter
        if not curves.dose:
            self._title(_("No dose is known for this species"), panel)
            return
        title = _("Dose at {letter}, which decides").format(letter=letter)
        if curves.dose[-1][1] > panel.high:
            title = _("Dose at {letter}, which decides; shown up to {most:g}").format(
                letter=letter, most=panel.high
            )
        self._title(title, panel)
        self._dose_levels(curves, panel)
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

    def clock(self, curves: LogCurves, panels: Sequence[Panel], zone: tzinfo) -> None:
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
            at = (curves.begins_at + timedelta(minutes=minute)).astimezone(zone)
            is_new_day = lower.lasts > A_DAY and at.hour == at.minute == 0
            text = day_and_month_text(at.date()) if is_new_day else clock_text(at, zone)
            self._centred(text, x, lower.area)
            minute += step

    def place(self, minute: float, panels: Sequence[Panel]) -> None:
        """A line through both parts where one stands."""
        self.painter.setPen(QPen(QColor(self.colours.text), 1.4))
        for panel in panels:
            x = panel.x(minute)
            self.painter.drawLine(QPointF(x, panel.area.top()), QPointF(x, panel.area.bottom()))

    def _end_letters(
        self, curves: LogCurves, at_end: Sequence[tuple[float, int]], panel: Panel
    ) -> None:
        """Letters in the margin, apart from one another, each led to by its line."""
        beside = panel.area.right() + 2 * AIR_PX
        heights = spread([y for y, _place in at_end], panel.area, self.line)
        for (y, place), shown_at in zip(at_end, heights, strict=True):
            curve = curves.curves[place]
            self.painter.setPen(QPen(line_pen(place, self.colours).color(), 1))
            end = QPointF(panel.x(curve.minutes[-1]), y)
            self.painter.drawLine(end, QPointF(beside - 1, shown_at))
            box = QRectF(beside, shown_at - self.line / 2, 3 * self.line, self.line)
            self.painter.drawText(box, Qt.AlignmentFlag.AlignLeft, curve.letter)

    def _dose_levels(self, curves: LogCurves, panel: Panel) -> None:
        step = self._step(panel, DOSE_STEPS)
        value = step
        while value <= panel.high:
            if abs(panel.y(value) - panel.y(curves.wanted)) >= self.line:
                self._level(panel, value, f"{value:g}", QPen(QColor(self.colours.hair), 1))
            value += step
        self._level(panel, 0.0, "0", QPen(QColor(self.colours.line), 1))
        asked = QPen(QColor(self.colours.text), 1)
        asked.setDashPattern((6.0, 3.0))
        self._level(panel, curves.wanted, f"{curves.wanted:g}", asked)
        said = _("{dose} asked").format(dose=dose_text(curves.wanted))
        top = panel.y(curves.wanted) - self.line
        box = QRectF(panel.area.left() + AIR_PX, top, panel.area.width(), self.line)
        self.painter.drawText(box, Qt.AlignmentFlag.AlignLeft, said)

    def _step(self, panel: Panel, steps: Sequence[float]) -> float:
        """The finest step whose numbers do not run into one another."""
        most = max(2.0, panel.area.height() / (1.8 * self.line))
        span = panel.high - panel.low
        return next((one for one in steps if span / one <= most), span)

    def _box(self, letter: str, at: QPointF) -> QRectF:
        wide = self.painter.fontMetrics().horizontalAdvance(letter) + AIR_PX
        return QRectF(at.x() - wide / 2, at.y() - self.line / 2, wide, self.line)

    def _letter(self, letter: str, at: QPointF, ink: QColor) -> None:
        box = self._box(letter, at)
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

    def _title(self, text: str, panel: Panel) -> None:
        box = QRectF(AIR_PX, panel.area.top() - self.line - 2, panel.area.right(), self.line)
        self.painter.setPen(QColor(self.colours.muted))
        self.painter.drawText(box, Qt.AlignmentFlag.AlignLeft, text)

    def _level(self, panel: Panel, value: float, text: str, pen: QPen) -> None:
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


def celsius_range(curves: LogCurves) -> tuple[float, float]:
    """From below the coldest reading or floor to above the warmest, in whole fives."""
    read = [celsius for curve in curves.curves for celsius in curve.celsius]
    read += [one.celsius for one in curves.floors]
    low, high = floor(min(read) / 5) * 5.0, ceil(max(read) / 5) * 5.0
    return (low, high if high > low else low + 5)


def dose_top(curves: LogCurves) -> float:
    """High enough for the dose asked and for the dose reached, within what can be read."""
    reached = curves.dose[-1][1] if curves.dose else 0.0
    if reached > curves.wanted * DOSES_SHOWN:
        return curves.wanted * DOSES_SHOWN
    return max(curves.wanted * 1.4, reached * 1.1)


def along(curve: Curve, place: int, panel: Panel, many: float) -> Iterator[Point]:
    """Where a line bears its letter: now and then, each line elsewhere than the next."""
    apart = LETTER_EVERY_PX * many / max(1.0, panel.area.width()) * max(panel.lasts, 1.0)
    minute = apart * (0.25 + 0.17 * (place % FEW_LINES) / many)
    while minute <= panel.lasts * (1 - NEAR_END):
        celsius = curve.at(minute)
        if celsius is not None:
            yield minute, celsius
        minute += apart


def spread(wanted: Sequence[float], area: QRectF, line: float) -> list[float]:
    """Heights from above down, a line apart where there is room, and as near as can be."""
    apart = min(line, area.height() / max(1, len(wanted)))
    # Of heights that may not rise once a line is taken off for each before it, those
    # nearest to the wanted ones are the means of the stretches that would rise.
    stretches: list[list[float]] = []
    for place, y in enumerate(wanted):
        stretches.append([y - place * apart])
        while len(stretches) > 1 and mean(stretches[-2]) > mean(stretches[-1]):
            last = stretches.pop()
            stretches[-1] += last
    placed = [mean(one) for one in stretches for _y in one]
    lowest = area.bottom() - apart * max(0, len(wanted) - 1)
    return [min(max(y, area.top()), lowest) + place * apart for place, y in enumerate(placed)]


def freest(curves: LogCurves, panel: Panel, box: QRectF) -> QRectF:
    """The place along a floor where the fewest lines run through its words."""
    area = panel.area
    free = max(0.0, area.width() - box.width() - AIR_PX)
    lefts = [area.right() - box.width() - free * step / SAMPLES for step in range(SAMPLES + 1)]

    def met(left: float) -> int:
        xs = (left + box.width() * step / SAMPLES for step in range(SAMPLES + 1))
        read = (curve.at(panel.minute(x)) for x in xs for curve in curves.curves)
        heights = (panel.y(celsius) for celsius in read if celsius is not None)
        return sum(box.top() - 2 <= y <= box.bottom() + 2 for y in heights)

    return QRectF(min(lefts, key=met), box.top(), box.width(), box.height())
