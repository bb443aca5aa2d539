"""Samples of the hatching, for the words beside a drawn bed."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from hotelwatch.printing.bed_drawing.hatching import hatch
from hotelwatch.printing.bed_drawing.style import BedStyle

RANKS = (1, 2, 3, 4, 5)
GAP = 0.25
"""Between samples, of their height."""


def scale_width(height: float) -> float:
    """How wide the five samples are, one beside the other."""
    return height * (len(RANKS) * (1 + GAP) - GAP)


def paint_scale(painter: QPainter, rect: QRectF, style: BedStyle) -> None:
    """Five samples from unlikely to likeliest, as high as the rectangle, from its left."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    side = rect.height()
    for rank in RANKS:
        box = QRectF(rect.left() + (rank - 1) * side * (1 + GAP), rect.top(), side, side)
        paint_sample(painter, box, rank=rank, style=style)
    painter.restore()


def paint_sample(painter: QPainter, box: QRectF, *, rank: int, style: BedStyle) -> None:
    """One sample of the hatching."""
    path = QPainterPath()
    path.addRect(box)
    painter.fillPath(path, QColor(style.glow[rank - 1]))
    if rank > 1:
        hatch(painter, path, rank=rank, style=style)
    pen = QPen(QColor(style.ink), style.line)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.strokePath(path, pen)
