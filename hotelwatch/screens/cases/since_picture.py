"""The days in which a find most likely came in: a bar for each setting along one line of days.

A mark stands on each bar's middle day; below are the looks that found nothing, and a line
stands on the day of the find. Days before the record are hatched. It is a drawing only: the
sentences beside it say the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hotelwatch.core.odds_figures import Stance
from hotelwatch.screens.look.theme import Colours, colours_of
from hotelwatch.wording.dates import day_text, month_short
from hotelwatch.wording.language import _
from hotelwatch.wording.since import stance_text

if TYPE_CHECKING:
    from hotelwatch.core.odds.since import FindSince

AIR_PX = 8
BAR_AIR = 0.28
"""Of a row's height, above and below its bar."""
MARK_PX = 3
LEAST_WIDE, LINES = 300, 6.5
DAYS_AROUND = 7
MORE_THAN_A_MONTH = timedelta(days=32)
FAINT = 90


@dataclass(frozen=True, slots=True)
class Scale:
    """Days along, from the left edge to the right one."""

    first: date
    last: date
    left: float
    right: float

    def x(self, day: date) -> float:
        """Where a day lies."""
        share = (day - self.first).days / max(1, (self.last - self.first).days)
        return self.left + share * (self.right - self.left)


class SincePicture(QWidget):
    """One find's window of days."""

    def __init__(self) -> None:
        """Nothing to draw yet."""
        super().__init__()
        self._found: FindSince | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_find(self, found: FindSince | None) -> None:
        """Draw a find's days; None draws nothing."""
        self._found = found
        self.setVisible(found is not None)
        if found is not None:
            self.setAccessibleName(_("Days in which it most likely came in, drawn"))
            said = "; ".join(
                _("{stance}: {first} to {last}").format(
                    stance=stance_text(stance), first=day_text(first), last=day_text(last)
                )
                for stance, (first, last) in found.window.items()
            )
            self.setAccessibleDescription(said)
            self.setToolTip(said)
        self.update()

    def sizeHint(self) -> QSize:
        """A line for each setting, one for looks, and two of words."""
        return QSize(LEAST_WIDE, round(LINES * self._line) + 2 * AIR_PX)

    def minimumSizeHint(self) -> QSize:
        """As high as it is; narrower than it would like."""
        return self.sizeHint()

    @property
    def _line(self) -> float:
        return self.fontMetrics().height() * 1.15

    def _scale(self, found: FindSince) -> Scale:
        metrics = self.fontMetrics()
        words = [*map(stance_text, Stance), _("looks")]
        left = max(metrics.horizontalAdvance(word) for word in words) + 2 * AIR_PX
        around = timedelta(days=DAYS_AROUND)
        return Scale(found.span[0] - around, found.found_on + around, left, self.width() - AIR_PX)

    # --- painting -------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint months, bars, looks and the day of the find."""
        found = self._found
        if found is None:
            return
        colours, scale = colours_of(self.palette()), self._scale(found)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_ground(painter, scale, colours)
            self._paint_before(painter, found, scale, colours)
            self._paint_months(painter, scale, colours)
            for row, stance in enumerate(Stance):
                self._paint_bar(painter, found, stance, row, (scale, colours))
            self._paint_looks(painter, found, scale, colours)
            self._paint_find(painter, found, scale, colours)

    def _row(self, row: int) -> QRectF:
        top = AIR_PX + self._line * (1 + row)
        return QRectF(0, top, self.width(), self._line)

    @property
    def _area(self) -> tuple[float, float]:
        return self._row(0).top(), self._row(len(Stance)).bottom()

    def _paint_ground(self, painter: QPainter, scale: Scale, colours: Colours) -> None:
        top, bottom = self._area
        box = QRectF(scale.left, top, scale.right - scale.left, bottom - top)
        painter.fillRect(box, QColor(colours.base))
        painter.setPen(QPen(QColor(colours.hair), 1))
        painter.drawRect(box)

    def _paint_before(
        self, painter: QPainter, found: FindSince, scale: Scale, colours: Colours
    ) -> None:
        """Hatch the days before the record, of which nothing is known."""
        end = min(scale.x(found.before.record_from), scale.right)
        if end <= scale.left:
            return
        top, bottom = self._area
        ink = QColor(colours.line)
        ink.setAlpha(FAINT)
        box = QRectF(scale.left, top, end - scale.left, bottom - top)
        painter.fillRect(box, QBrush(ink, Qt.BrushStyle.BDiagPattern))

    def _paint_months(self, painter: QPainter, scale: Scale, colours: Colours) -> None:
        top, bottom = self._area
        line, metrics = self._line, self.fontMetrics()
        free_from = scale.left
        for month in _months(scale.first, scale.last):
            x = scale.x(month)
            painter.setPen(QPen(QColor(colours.hair), 1))
            painter.drawLine(QPointF(x, top), QPointF(x, bottom))
            said = month_short(month)
            wide = metrics.horizontalAdvance(said)
            if x >= free_from and x + wide <= scale.right:
                painter.setPen(QColor(colours.muted))
                painter.drawText(QPointF(x, bottom + line * 0.8), said)
                free_from = x + wide + AIR_PX

    def _paint_bar(
        self,
        painter: QPainter,
        found: FindSince,
        stance: Stance,
        row: int,
        on: tuple[Scale, Colours],
    ) -> None:
        scale, colours = on
        box = self._row(row)
        first, last = found.window[stance]
        self._name(painter, stance_text(stance), box, scale, colours)
        ink = QColor(colours.accent)
        if stance is not Stance.CENTRAL:
            ink.setAlpha(2 * FAINT)
        left, right = scale.x(first), scale.x(last + timedelta(days=1))
        bar = QRectF(left, box.top() + BAR_AIR * box.height(), right - left, 0)
        bar.setHeight((1 - 2 * BAR_AIR) * box.height())
        painter.fillRect(bar, ink)
        middle = scale.x(found.middle_on[stance])
        painter.fillRect(
            QRectF(middle - MARK_PX / 2, bar.top() - 3, MARK_PX, bar.height() + 6),
            QColor(colours.text),
        )

    def _paint_looks(
        self, painter: QPainter, found: FindSince, scale: Scale, colours: Colours
    ) -> None:
        box = self._row(len(Stance))
        self._name(painter, _("looks"), box, scale, colours)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(colours.text))
        size = box.height() * 0.24
        for day in found.looks:
            at = QPointF(scale.x(day), box.center().y())
            corners = [QPointF(-size, size), QPointF(size, size), QPointF(0, -size)]
            painter.drawPolygon(QPolygonF([at + corner for corner in corners]))

    def _paint_find(
        self, painter: QPainter, found: FindSince, scale: Scale, colours: Colours
    ) -> None:
        top, bottom = self._area
        x = scale.x(found.found_on)
        painter.setPen(QPen(QColor(colours.text), 1.5, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, top), QPointF(x, bottom))
        said = _("seen {day}").format(day=day_text(found.found_on))
        wide = self.fontMetrics().horizontalAdvance(said)
        painter.setPen(QColor(colours.text))
        painter.drawText(QPointF(min(x, scale.right - wide), AIR_PX + self._line * 0.75), said)

    def _name(
        self, painter: QPainter, said: str, box: QRectF, scale: Scale, colours: Colours
    ) -> None:
        painter.setPen(QColor(colours.text))
        place = QRectF(0, box.top(), scale.left - AIR_PX, box.height())
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(place, int(flags), said)


def _months(first: date, last: date) -> Iterator[date]:
    """First days of the months between."""
    day = first.replace(day=1)
    while (day := (day + MORE_THAN_A_MONTH).replace(day=1)) <= last:
        yield day
