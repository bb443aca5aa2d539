"""The picture of a cycle: curves over its length, along which one goes day by day."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent

from hotelwatch.actions.cycle_worth import Weighed
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS
from hotelwatch.screens.charts.curves import Axes, CurveChart, Mark
from hotelwatch.screens.odds.cycle_measures import Measure
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _

SHORTEST, LONGEST = min(LENGTHS), max(LENGTHS)
FORTNIGHT = 14


class CycleChart(CurveChart):
    """Any day can have the place, not only those at which curves have points.

    Left and Right go a day, Page Up and Page Down a fortnight, Home and End to the ends.
    """

    days_wanted = Signal(int)
    """The cycle length in days to which the person goes."""

    def __init__(self) -> None:
        """Nothing yet."""
        super().__init__(_("What a cycle buys, by its length; the table has the same"))
        self._days = SHORTEST
        self._reach = (SHORTEST, LONGEST)
        self.setCursor(Qt.CursorShape.SizeHorCursor)

    def show_weighed(self, weighed: Weighed, measure: Measure) -> None:
        """Show one measure of what was weighed, with its length in place."""
        basis, days = weighed.asked.basis, weighed.asked.tried.cycle_days
        lengths = [row.cycle_days for row in weighed.tried]
        self._days, self._reach = days, (lengths[0], lengths[-1])
        today = basis.today.cycle_days
        axes = Axes(
            up=measure.up,
            x_text=lambda x: days_text(round(x)),
            y_text=measure.level_text,
            value_text=measure.value_text,
            letters_at=tuple(float(length) for length in (*LENGTHS, *lengths[-1:])),
        )
        marks = [Mark(float(today), _("today"))]
        if weighed.asked.against.cycle_days != today:
            marks.append(Mark(float(weighed.asked.against.cycle_days), _("to compare")))
        curves = tuple(line.curve(weighed) for line in measure.lines_of(weighed))
        self.show_curves(curves, axes, at=lengths.index(days), marks=marks)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along the days."""
        first, last = self._reach
        keys = {
            Qt.Key.Key_Left: self._days - 1,
            Qt.Key.Key_Right: self._days + 1,
            Qt.Key.Key_PageUp: self._days + FORTNIGHT,
            Qt.Key.Key_PageDown: self._days - FORTNIGHT,
            Qt.Key.Key_Home: first,
            Qt.Key.Key_End: last,
        }
        if event.key() in keys:
            self._want(keys[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def _go_to(self, position: QPointF) -> None:
        area, x = self._area, position.x()
        first, last = self._reach
        self._want(round(first + (last - first) * (x - area.left()) / max(1.0, area.width())))

    def _want(self, days: int) -> None:
        first, last = self._reach
        days = min(last, max(first, days))
        if days != self._days:
            self._days = days
            self.days_wanted.emit(days)
