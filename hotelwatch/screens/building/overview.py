"""The whole drawing small in a corner, with a frame around what is in view."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from hotelwatch.screens.building.camera import Camera
from hotelwatch.screens.building.room_paint import Dress, Frame, paint_rooms
from hotelwatch.screens.building.scene import Scene

SIDE_PX = 150.0
SHARE = 0.25
"""Of the view's width and height: it hides so little of the rooms below it."""
LEAST_PX = 40.0
EDGE_PX = 10.0


class Overview:
    """A small picture, kept until something on it changes."""

    def __init__(self) -> None:
        """No picture yet."""
        self._picture: QPixmap | None = None
        self._scale = 1.0
        self._corner = QPointF()

    def forget(self) -> None:
        """Paint it anew when it is next shown."""
        self._picture = None

    def rect(self, scene: Scene, camera: Camera, size: QSizeF) -> QRectF | None:
        """Where it lies in a view of that size; None while everything is in view anyway."""
        bounds = scene.bounds
        if bounds.isEmpty() or camera.seen(size).contains(bounds):
            return None
        most_wide = min(SIDE_PX, size.width() * SHARE)
        most_tall = min(SIDE_PX, size.height() * SHARE)
        if min(most_wide, most_tall) < LEAST_PX:
            return None
        scale = min(most_wide / bounds.width(), most_tall / bounds.height())
        wide, tall = max(LEAST_PX, bounds.width() * scale), max(LEAST_PX, bounds.height() * scale)
        return QRectF(size.width() - wide - EDGE_PX, size.height() - tall - EDGE_PX, wide, tall)

    def paint(
        self, painter: QPainter, scene: Scene, camera: Camera, *, dress: Dress, is_moving: bool
    ) -> None:
        """Paint the picture and the frame; a new picture waits until nothing moves."""
        size = QSizeF(painter.window().size())
        rect = self.rect(scene, camera, size)
        if rect is None:
            return
        if self._picture is None or self._picture.size() != rect.size().toSize():
            if is_moving:
                return
            self._make(scene, rect, dress)
        if self._picture is not None:
            painter.drawPixmap(rect.topLeft().toPoint(), self._picture)
        colours = dress.colours
        painter.setBrush(QColor(0, 0, 0, 0))
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.drawRect(rect)
        seen = camera.seen(size)
        frame = QRectF(self._small(seen.topLeft(), rect), self._small(seen.bottomRight(), rect))
        painter.setPen(QPen(QColor(colours.accent), 2))
        painter.drawRect(frame.intersected(rect))

    def under(self, point: QPointF, scene: Scene, rect: QRectF) -> QPointF:
        """The point of the scene that a point of the picture stands for."""
        away = (point - rect.center()) / self._scale
        return scene.bounds.center() + away

    def _small(self, point: QPointF, rect: QRectF) -> QPointF:
        return rect.center() + (point - self._corner) * self._scale

    def _make(self, scene: Scene, rect: QRectF, dress: Dress) -> None:
        bounds = scene.bounds
        self._scale = min(rect.width() / bounds.width(), rect.height() / bounds.height())
        self._corner = bounds.center()
        picture = QPixmap(rect.size().toSize())
        picture.fill(QColor(dress.colours.window))
        painter = QPainter(picture)
        left = bounds.center().x() - rect.width() / 2 / self._scale
        top = bounds.center().y() - rect.height() / 2 / self._scale
        paint_rooms(painter, scene.items, Frame(left, top, self._scale), dress)
        painter.end()
        self._picture = picture
