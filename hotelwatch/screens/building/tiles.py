"""A scene kept as square pictures: panning only copies them, and painting is done once.

All pictures are of one size of the scene. Another size keeps the old ones as a backdrop,
stretched, until those of the new size are painted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from math import floor
from time import perf_counter

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPixmap

from hotelwatch.screens.building.camera import Camera
from hotelwatch.screens.building.room_paint import Frame

TILE_PX = 192
MOST_TILES = 260
REACH_PX = 4.0
"""Frames of rooms that begin outside a picture reach so far into it."""

Place = tuple[int, int]
PaintPiece = Callable[[QPainter, Frame, QRectF], None]
"""Paints a piece of the scene: the painter, the piece, what of the scene it shows."""


class Tiles:
    """Pictures of a scene, painted when first needed."""

    def __init__(self, paint: PaintPiece) -> None:
        """No picture yet; ``paint`` makes one."""
        self._paint = paint
        self._scale = 0.0
        self._ratio = 1.0
        self._ground = QColor()
        self._at_hand: dict[Place, QPixmap] = {}
        self._before: dict[Place, QPixmap] = {}
        self._before_scale = 0.0

    def forget(self, boxes: Iterable[QRectF] | None = None) -> None:
        """Paint anew what lies in these boxes of the scene; None: everything."""
        if boxes is None:
            self._at_hand.clear()
            self._before.clear()
            return
        for box in boxes:
            for place in self._places(box, self._scale):
                self._at_hand.pop(place, None)

    def use(self, scale: float, ground: QColor, ratio: float) -> None:
        """Show the scene in this size from now on; what is at hand becomes the backdrop."""
        if ratio != self._ratio or ground != self._ground:
            self.forget()
        self._ratio, self._ground = ratio, ground
        if scale != self._scale:
            if self._at_hand:
                self._before, self._before_scale = self._at_hand, self._scale
            self._at_hand, self._scale = {}, scale

    @property
    def scale(self) -> float:
        """The size of the scene that is painted."""
        return self._scale

    def show(
        self, painter: QPainter, camera: Camera, size: QSize, *, within_ms: float | None
    ) -> bool:
        """Copy what is in view; paint what is missing, for so long at most. False: not all yet."""
        if camera.scale != self._scale:
            self._stretch(painter, camera, size, self._at_hand, self._scale)
            return True
        left, top = self._corner(camera, size)
        wanted = list(self._in_view(left, top, size))
        missing = [place for place in wanted if place not in self._at_hand]
        begun = perf_counter()
        painted = 0
        for place in missing:
            if within_ms is not None and painted and (perf_counter() - begun) * 1000 > within_ms:
                break
            self._at_hand[place] = self._make(place)
            painted += 1
        is_whole = painted == len(missing)
        if not is_whole and self._before:
            self._stretch(painter, camera, size, self._before, self._before_scale)
        elif is_whole:
            self._before = {}
        for place in wanted:
            picture = self._at_hand.get(place)
            if picture is not None:
                painter.drawPixmap(
                    QPoint(place[0] * TILE_PX - left, place[1] * TILE_PX - top), picture
                )
        self._drop_far(wanted)
        return is_whole

    def ahead(self, camera: Camera, size: QSize) -> bool:
        """Paint one picture just outside the view, if one is missing; False: none is."""
        if camera.scale != self._scale:
            return False
        left, top = self._corner(camera, size)
        grown = QSize(size.width() + 2 * TILE_PX, size.height() + 2 * TILE_PX)
        for place in self._in_view(left - TILE_PX, top - TILE_PX, grown):
            if place not in self._at_hand:
                self._at_hand[place] = self._make(place)
                return True
        return False

    # --- pictures -------------------------------------------------------------

    def _corner(self, camera: Camera, size: QSize) -> Place:
        return (
            round(camera.x * self._scale - size.width() / 2),
            round(camera.y * self._scale - size.height() / 2),
        )

    def _in_view(self, left: int, top: int, size: QSize) -> Iterator[Place]:
        for row in range(top // TILE_PX, (top + size.height() - 1) // TILE_PX + 1):
            for column in range(left // TILE_PX, (left + size.width() - 1) // TILE_PX + 1):
                yield column, row

    def _places(self, box: QRectF, scale: float) -> Iterator[Place]:
        reach = REACH_PX
        for column in range(
            floor((box.left() * scale - reach) / TILE_PX),
            floor((box.right() * scale + reach) / TILE_PX) + 1,
        ):
            for row in range(
                floor((box.top() * scale - reach) / TILE_PX),
                floor((box.bottom() * scale + reach) / TILE_PX) + 1,
            ):
                yield column, row

    def _make(self, place: Place) -> QPixmap:
        side = round(TILE_PX * self._ratio)
        picture = QPixmap(side, side)
        picture.setDevicePixelRatio(self._ratio)
        picture.fill(self._ground)
        frame = Frame(
            place[0] * TILE_PX / self._scale, place[1] * TILE_PX / self._scale, self._scale
        )
        reach = REACH_PX / self._scale
        shown = QRectF(frame.left, frame.top, TILE_PX / self._scale, TILE_PX / self._scale)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        # Patterns go on from one picture into the next.
        painter.setBrushOrigin(QPointF(-place[0] * TILE_PX, -place[1] * TILE_PX))
        self._paint(painter, frame, shown.adjusted(-reach, -reach, reach, reach))
        painter.end()
        return picture

    def _stretch(
        self,
        painter: QPainter,
        camera: Camera,
        size: QSize,
        pictures: dict[Place, QPixmap],
        scale: float,
    ) -> None:
        """Copy pictures of another size, larger or smaller than they were painted."""
        if not pictures or not scale:
            return
        times = camera.scale / scale
        side = TILE_PX * times
        left = size.width() / 2 - camera.x * camera.scale
        top = size.height() / 2 - camera.y * camera.scale
        view = QRectF(0, 0, size.width(), size.height())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
        for place, picture in pictures.items():
            target = QRectF(left + place[0] * side, top + place[1] * side, side, side)
            if target.intersects(view):
                painter.drawPixmap(target, picture, QRectF(picture.rect()))

    def _drop_far(self, wanted: Iterable[Place]) -> None:
        if len(self._at_hand) <= MOST_TILES:
            return
        keep = set(wanted)
        for place in list(self._at_hand):
            if place not in keep:
                del self._at_hand[place]
            if len(self._at_hand) <= MOST_TILES:
                return
