"""What drawings of floors share: keys that go from room to room, labels that fit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import hypot
from typing import TypeVar

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF

from hotelwatch.core.building.rooms import Point

K = TypeVar("K")
PATTERN_STRENGTH = 70
SMALLEST_PT = 7.0
LABEL_AIR_PX = 3
LEAST_LINES_PER_M = 0.45
"""Lines of text on a metre: with less, a label does not fit into a room of the usual width."""
MOST_PX_PER_M = 22.0
SIDEWAYS = 2.5
"""How much more a step aside counts than a step in the arrow's direction."""
ARROWS: Mapping[int, tuple[int, int]] = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


def next_that_way(
    here: QPointF, others: Iterable[tuple[K, QPointF]], arrow: tuple[int, int]
) -> K | None:
    """Which of these is nearest in the arrow's direction; None if none lies there."""
    right, down = arrow
    best: tuple[float, K] | None = None
    for key, place in others:
        away = place - here
        ahead = away.x() * right + away.y() * down
        aside = abs(away.x() * down) + abs(away.y() * right)
        if ahead <= 1 or aside > SIDEWAYS * ahead:
            continue
        distance = hypot(ahead, SIDEWAYS * aside)
        if best is None or distance < best[0]:
            best = (distance, key)
    return None if best is None else best[1]


def fitting_font(usual: QFont, text: str, wide: float) -> QFont:
    """A bold font in which a text fits into so many pixels, if it can still be read."""
    font = QFont(usual)
    font.setBold(True)
    widest = wide - 2 * LABEL_AIR_PX
    needed = QFontMetricsF(font).horizontalAdvance(text)
    if needed > widest > 0:
        font.setPointSizeF(max(SMALLEST_PT, font.pointSizeF() * widest / needed))
    return font


def bounds_of(corners: Iterable[Point]) -> QRectF:
    """The rectangle around points, in metres."""
    points = list(corners)
    if not points:
        return QRectF()
    xs, ys = [x for x, _y in points], [y for _x, y in points]
    return QRectF(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))
