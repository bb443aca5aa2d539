"""Line drawings of our own from resources/icons, in whatever colour the look asks for."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from hotelwatch import paths

_DRAWN_IN = "#000000"
_SIZES = (16, 24, 32, 48, 64)


def icon(name: str, colour: str) -> QIcon:
    """The drawing of that name, in a colour as "#rrggbb"."""
    drawing = (paths.resources() / "icons" / f"{name}.svg").read_text("utf-8")
    renderer = QSvgRenderer(QByteArray(drawing.replace(_DRAWN_IN, colour).encode()))
    made = QIcon()
    for size in _SIZES:
        picture = QPixmap(QSize(size, size))
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        renderer.render(painter, QRectF(0, 0, size, size))
        painter.end()
        made.addPixmap(picture)
    return made
