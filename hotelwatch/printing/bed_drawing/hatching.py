"""Hatching that is denser and heavier the likelier a place is, in lines a printer keeps."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from hotelwatch.printing.bed_drawing.style import BedStyle


@dataclass(frozen=True, slots=True)
class Weave:
    """How one rank is hatched, in widths of an edge."""

    gap: float
    width: float
    is_crossed: bool = False
    is_dotted: bool = False


WEAVES = MappingProxyType(
    {
        2: Weave(7.0, 1.1, is_dotted=True),
        3: Weave(6.5, 0.55),
        4: Weave(3.8, 0.7),
        5: Weave(5.0, 0.6, is_crossed=True),
    }
)
"""Rank 1 stays plain. Which rank a place has is common practice, no measure."""


def hatch(painter: QPainter, path: QPainterPath, *, rank: int, style: BedStyle) -> None:
    """Hatch an area by its rank, 2 to 5."""
    weave = WEAVES[rank]
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    pen = QPen(QColor(style.hatch), weave.width * style.line)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.setPen(pen)
    box, gap = path.boundingRect(), weave.gap * style.line
    if weave.is_dotted:
        _dots(painter, box, gap)
    else:
        _lines(painter, box, gap, rises=False)  # across both edges of a drawn bed
        if weave.is_crossed:
            _lines(painter, box, gap, rises=True)
    painter.restore()


def _lines(painter: QPainter, box: QRectF, gap: float, *, rises: bool) -> None:
    """Lines at 45 degrees; their beginnings lie on one grid, so neighbours run on."""
    step = gap * 2**0.5
    reach = box.height()
    start = (box.left() + (box.top() if rises else -box.top())) // step * step
    shift = box.top() if rises else -box.top()
    x = start - shift - step
    end = box.right() + reach + step
    x -= 0.0 if rises else reach
    while x < end:
        if rises:
            painter.drawLine(QPointF(x, box.top()), QPointF(x - reach, box.bottom()))
        else:
            painter.drawLine(QPointF(x, box.top()), QPointF(x + reach, box.bottom()))
        x += step


def _dots(painter: QPainter, box: QRectF, gap: float) -> None:
    y, is_odd = box.top() // gap * gap, False
    while y <= box.bottom() + gap:
        x = box.left() // gap * gap + (gap / 2 if is_odd else 0.0)
        while x <= box.right() + gap:
            painter.drawPoint(QPointF(x, y))
            x += gap
        y, is_odd = y + gap * 0.7, not is_odd
