"""A room's mark for scanners on a sheet: a QR code of a short text of our own.

Source: ISO/IEC 18004: a border of four light modules around it; level M or better restores
15 % of what is soiled.
"""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from hotelwatch.core.checks.room_mark import RoomMark, mark_text

BORDER = 4


def paint_mark(mark: RoomMark, painter: QPainter, place: QRectF) -> None:
    """Paint a room's mark, border and all, as large as a place allows."""
    paint_text(mark_text(mark), painter, place)


def paint_text(text: str, painter: QPainter, place: QRectF) -> None:
    """Paint a mark that says a text, border and all, as large as a place allows."""
    modules = _modules(text)
    side = min(place.width(), place.height())
    module = side / (len(modules) + 2 * BORDER)
    painter.fillRect(QRectF(place.x(), place.y(), side, side), Qt.GlobalColor.white)
    for down, row in enumerate(modules):
        for start, length in _runs(row):
            left = place.x() + (start + BORDER) * module
            top = place.y() + (down + BORDER) * module
            painter.fillRect(QRectF(left, top, length * module, module), Qt.GlobalColor.black)


@lru_cache(maxsize=512)
def _modules(text: str) -> tuple[tuple[bool, ...], ...]:
    # Loaded where a mark is painted, not where the window starts.
    import segno

    code = segno.make(text, error="m", micro=False)
    return tuple(tuple(bool(module) for module in row) for row in code.matrix)


def _runs(row: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Where dark modules begin in a row, and how many stand together."""
    runs: list[tuple[int, int]] = []
    for at, is_dark in enumerate(row):
        if not is_dark:
            continue
        if runs and sum(runs[-1]) == at:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        else:
            runs.append((at, 1))
    return runs
