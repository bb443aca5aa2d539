"""Bars by day: what is tried as filled bars, things as they are as outlines behind them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from hotelwatch.core.days import weekday
from hotelwatch.screens.theme import Colours, colours_of
from hotelwatch.wording.dates import day_and_month_text, short_day_text, weekday_short
from hotelwatch.wording.language import _

LEFT_PX = 12
GAP_SHARE = 0.3
LEAST_WIDE, LEAST_HIGH = 420, 300
OUTLINE_PX = 2.0
AIR_PX = 4


@dataclass(frozen=True, slots=True)
class DayBars:
    """A day's numbers as tried, and as they are."""

    on: date
    late: int
    """Beds overdue as the day begins."""
    late_now: int
    used: int
    """Minutes of all teams."""
    used_now: int
    minutes: int
    """What the teams have."""
    minutes_now: int
    rooms: int
    rooms_now: int


class WhatIfChart(QWidget):
    """Two rows of bars over the same days: beds overdue, and minutes used."""

    def __init__(self) -> None:
        """No days yet."""
        super().__init__()
        self._days: tuple[DayBars, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(_("Days as tried, beside days as they are"))

    def sizeHint(self) -> QSize:
        """Wide enough for four weeks."""
        return QSize(LEAST_WIDE, LEAST_HIGH)

    def minimumSizeHint(self) -> QSize:
        """Below this the numbers run into one another."""
        return QSize(LEAST_WIDE, LEAST_HIGH * 2 // 3)

    def show_days(self, days: Sequence[DayBars], said: str) -> None:
        """Show these days; ``said`` is what a screen reader says of them."""
        self._days = tuple(days)
        self.setAccessibleDescription(said)
        self.update()

    def day_at(self, x: float) -> DayBars | None:
        """The day whose bars stand there."""
        if not self._days:
            return None
        place = int((x - LEFT_PX) / self._step())
        return self._days[place] if 0 <= place < len(self._days) else None

    def event(self, event: QEvent) -> bool:
        """Say a day's numbers in full where the pointer rests."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            day = self.day_at(event.pos().x())
            QToolTip.showText(event.globalPos(), day_text(day) if day else "", self)
            return True
        return super().event(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint both rows, the days below them."""
        if not self._days:
            return
        colours = colours_of(self.palette())
        line = self.fontMetrics().height()
        foot = 2 * line + AIR_PX
        high = (self.height() - foot) / 2
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            panel = _Panel(painter, colours, line, self._step())
            late = [(float(day.late), float(day.late_now)) for day in self._days]
            panel.title(_("Beds overdue as the day begins"), 0.0, self.width())
            panel.bars(late, QRectF(LEFT_PX, line, self.width(), high - line - 3 * AIR_PX))
            used = [(float(day.used), float(day.used_now)) for day in self._days]
            most = [float(day.minutes) for day in self._days]
            panel.title(_("Minutes used; the line is what teams have"), high, self.width())
            area = QRectF(LEFT_PX, high + line, self.width(), high - line - AIR_PX)
            panel.bars(used, area, most)
            panel.days([day.on for day in self._days], 2 * high, LEFT_PX)

    def _step(self) -> float:
        return (self.width() - 2 * LEFT_PX) / max(1, len(self._days))


@dataclass(frozen=True, slots=True)
class _Panel:
    """Paints one row of bars."""

    painter: QPainter
    colours: Colours
    line: int
    step: float

    def title(self, text: str, y: float, width: int) -> None:
        self.painter.setPen(QColor(self.colours.muted))
        self.painter.drawText(
            QRectF(LEFT_PX, y, width - 2 * LEFT_PX, self.line), Qt.AlignmentFlag.AlignLeft, text
        )

    def bars(
        self,
        pairs: Sequence[tuple[float, float]],
        area: QRectF,
        lines: Sequence[float] = (),
    ) -> None:
        """Bars with their number above; outlines behind, a line where each could reach."""
        most = max([1.0, *(max(pair) for pair in pairs), *lines])
        room = area.height() - self.line - AIR_PX
        floor = area.bottom()
        wide = self.step * (1 - GAP_SHARE)
        every = self._every(f"{tried:.0f}" for tried, _as_is in pairs)
        for number, (tried, as_is) in enumerate(pairs):
            left = area.left() + number * self.step + self.step * GAP_SHARE / 2
            high, before = room * tried / most, room * as_is / most
            self._bar(QRectF(left, floor - high, wide, high), as_is=False)
            self._bar(QRectF(left, floor - before, wide, before), as_is=True)
            top = floor - max(high, before)
            if lines:
                reach = floor - room * lines[number] / most
                self.painter.setPen(QPen(QColor(self.colours.text), OUTLINE_PX))
                self.painter.drawLine(int(left - 2), int(reach), int(left + wide + 2), int(reach))
                top = min(top, reach)
            if number % every == 0:
                self._number(f"{tried:.0f}", left + wide / 2, top)
        self.painter.setPen(QColor(self.colours.line))
        end = area.left() + len(pairs) * self.step
        self.painter.drawLine(int(area.left()), int(floor), int(end), int(floor))

    def days(self, days: Sequence[date], y: float, left: float) -> None:
        """Weekdays and dates below the bars, as many as have room."""
        metrics = self.painter.fontMetrics()
        widest = max(metrics.horizontalAdvance(day_and_month_text(day)) for day in days)
        every = self._every(day_and_month_text(day) for day in days)
        self.painter.setPen(QColor(self.colours.text))
        for number, day in enumerate(days):
            if number % every:
                continue
            begins = max(0.0, left + number * self.step + (self.step - widest) / 2)
            box = QRectF(begins, y, widest, self.line)
            for text in (weekday_short(weekday(day)), day_and_month_text(day)):
                self.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
                box.translate(0, self.line)

    def _every(self, texts: Iterable[str]) -> int:
        """On each how many-th bar a text has room."""
        metrics = self.painter.fontMetrics()
        widest = max(metrics.horizontalAdvance(text) for text in texts)
        return max(1, ceil((widest + AIR_PX) / self.step))

    def _bar(self, box: QRectF, *, as_is: bool) -> None:
        if box.height() <= 0:
            return
        if as_is:
            self.painter.setPen(QPen(QColor(self.colours.line), OUTLINE_PX))
            self.painter.setBrush(Qt.BrushStyle.NoBrush)
        else:
            self.painter.setPen(Qt.PenStyle.NoPen)
            self.painter.setBrush(QColor(self.colours.accent))
        self.painter.drawRect(box)

    def _number(self, text: str, middle: float, top: float) -> None:
        wide = self.painter.fontMetrics().horizontalAdvance(text)
        self.painter.setPen(QColor(self.colours.text))
        box = QRectF(middle - wide, top - self.line - 1, 2 * wide, self.line)
        self.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def day_text(day: DayBars) -> str:
    """A day's numbers in full."""
    return _(
        "{day}: {late} beds overdue (as things are {late_now}), {used} of {minutes} min used"
        " (as things are {used_now} of {minutes_now}), {rooms} rooms (as things are {rooms_now})."
    ).format(
        day=short_day_text(day.on),
        late=day.late,
        late_now=day.late_now,
        used=day.used,
        minutes=day.minutes,
        used_now=day.used_now,
        minutes_now=day.minutes_now,
        rooms=day.rooms,
        rooms_now=day.rooms_now,
    )
