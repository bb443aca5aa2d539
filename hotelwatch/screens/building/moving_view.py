"""A picture larger than its frame: one moves over it, zooms into it, flies to a place on it.

Painting is done once into square pictures (``tiles``); while something moves they are copied.
"""

from __future__ import annotations

from PySide6.QtCore import (
    QEasingCurve,
    QEvent,
    QPointF,
    QRectF,
    QSize,
    QSizeF,
    Qt,
    QTimer,
    QVariantAnimation,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QGestureEvent, QPinchGesture, QStyle, QWidget

from hotelwatch.screens.building.camera import ZOOM_STEP, Camera, fitted
from hotelwatch.screens.building.room_paint import Frame
from hotelwatch.screens.building.tiles import Tiles
from hotelwatch.screens.look.theme import colours_of

FLY_MS = 280
REST_MS = 110
AHEAD_MS = 30
FRAME_MS = 6.0
"""While something moves, so long may painting take in one frame; the rest follows."""
WHEEL_NOTCH = 120.0
FITTED_PX_PER_M = 30.0


class MovingView(QWidget):
    """Where one looks from, and the pictures of what is seen; a drawing says what that is."""

    looked = Signal()
    """One looks from another place."""

    def __init__(self) -> None:
        """Nothing to see yet."""
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(220, 140)
        self.grabGesture(Qt.GestureType.PinchGesture)
        self.camera = Camera()
        self.motion_ms = FLY_MS
        self.is_fitted = True
        """Whether everything is in view, and stays so when the frame changes."""
        self.tiles = Tiles(self.paint_piece)
        self._goal: Camera | None = None
        self._start = Camera()
        self._flight = QVariantAnimation(self)
        self._flight.setEasingCurve(QEasingCurve.Type.InOutCubic)
        self._flight.setStartValue(0.0)
        self._flight.setEndValue(1.0)
        self._flight.valueChanged.connect(self._fly_on)
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._come_to_rest)
        self._ahead = QTimer(self, singleShot=True, interval=AHEAD_MS)
        self._ahead.timeout.connect(self._paint_ahead)
        self._following = QTimer(self, singleShot=True, interval=0)
        self._following.timeout.connect(self.update)
        self.is_moving = False

    # --- what a drawing says ----------------------------------------------------

    def bounds(self) -> QRectF:
        """What of the scene there is to see."""
        return QRectF()

    def middle(self) -> QPointF:
        """The point of the view about which one zooms without a pointer."""
        return QRectF(self.rect()).center()

    def paint_piece(self, painter: QPainter, frame: Frame, shown: QRectF) -> None:
        """Paint a piece of the scene."""

    def paint_over(self, painter: QPainter) -> None:
        """Paint what stays in its place, or follows at once, over the pictures."""

    def forget_pictures(self) -> None:
        """Paint everything anew."""
        self.tiles.forget()
        self.update()

    # --- where one looks from -----------------------------------------------------

    def at(self, point: QPointF) -> QPointF:
        """Where a point of the scene shows in the view."""
        return self.camera.at(self.view_size(), point.x(), point.y())

    def under(self, point: QPointF) -> QPointF:
        """The point of the scene under a point of the view."""
        return self.camera.under(self.view_size(), point)

    def fit(self) -> None:
        """Show everything."""
        self.is_fitted = True
        self.go(self._fitted())

    def zoom(self, times: float, about: QPointF | None = None) -> None:
        """Larger or smaller, about a point of the view; else about what counts there."""
        about = about or self.middle()
        self.is_fitted = False
        start = self._goal or self.camera
        self._look_from(start.zoomed(times, self.view_size(), about))

    def pan(self, by_px: QPointF) -> None:
        """Show what lies so many pixels further to the right and down."""
        self.is_fitted = False
        self._look_from(self.camera.panned(by_px).held_to(self.bounds()))

    def view_size(self) -> QSizeF:
        """How large the view is, in pixels."""
        return QSizeF(self.size())

    def _fitted(self) -> Camera:
        return fitted(self.bounds(), self.view_size(), FITTED_PX_PER_M)

    def fit_now(self) -> None:
        """Show everything at once."""
        self._flight.stop()
        self._goal = None
        self.camera = self._fitted()
        self._come_to_rest()
        self.looked.emit()

    def _look_from(self, camera: Camera) -> None:
        """Look from there at once; painting afresh waits for the hand to rest."""
        self._flight.stop()
        self._goal = None
        if camera.scale != self.camera.scale:
            self._rest.start()
        self.is_moving = True
        self.camera = camera
        self._ahead.start()
        self.looked.emit()
        self.update()

    def go(self, camera: Camera) -> None:
        """Fly there, or be there at once where movement is not wanted."""
        if not self.isVisible() or not self._moves():
            self._flight.stop()
            self._goal = None
            self.camera = camera
            self._come_to_rest()
            self.looked.emit()
            return
        self._start, self._goal = self.camera, camera
        self._flight.stop()
        self._flight.setDuration(self.motion_ms)
        self._flight.start()

    def _moves(self) -> bool:
        hint = QStyle.StyleHint.SH_Widget_Animation_Duration
        return self.motion_ms > 0 and self.style().styleHint(hint, None, self) > 0

    def _fly_on(self, share: float) -> None:
        if self._goal is None:
            return
        is_there = share >= 1.0
        self.camera = self._goal if is_there else self._start.between(self._goal, share)
        self.is_moving = not is_there
        if is_there:
            self._goal = None
            self._come_to_rest()
        self.looked.emit()
        self.update()

    def _come_to_rest(self) -> None:
        self._rest.stop()
        self.is_moving = False
        self._ahead.start()
        self.update()

    def _paint_ahead(self) -> None:
        """While nothing moves, paint what lies just outside the view."""
        if self._flight.state() == QVariantAnimation.State.Running or self._rest.isActive():
            return
        if self.is_moving:
            self.is_moving = False
            self.update()
        if self.isVisible() and self.tiles.ahead(self.camera, self.size()):
            self._ahead.start()

    # --- painting -----------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Copy the pictures, then what lies over them."""
        ground = QColor(colours_of(self.palette()).window)
        is_sized = self._rest.isActive() or self._flight.state() == self._flight.State.Running
        if not is_sized or not self.tiles.scale:
            self.tiles.use(self.camera.scale, ground, self.devicePixelRatioF())
        painter = QPainter(self)
        painter.fillRect(self.rect(), ground)
        within = FRAME_MS if self.is_moving else None
        if not self.tiles.show(painter, self.camera, self.size(), within_ms=within):
            self._following.start()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self.font())
        self.paint_over(painter)
        painter.end()

    # --- hands and frames -----------------------------------------------------------

    def wheelEvent(self, event: QWheelEvent) -> None:
        """A wheel zooms about the pointer; two fingers on a pad move, with Ctrl they zoom."""
        is_pad = not event.pixelDelta().isNull()
        if is_pad and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.pan(QPointF(-event.pixelDelta()))
        else:
            notches = event.angleDelta().y() / WHEEL_NOTCH
            self.zoom(ZOOM_STEP**notches, event.position())
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Take pinches of fingers."""
        if isinstance(event, QNativeGestureEvent):
            if event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
                self.zoom(1 + event.value(), event.position())
                return True
        elif event.type() == QEvent.Type.Gesture and isinstance(event, QGestureEvent):
            pinch = event.gesture(Qt.GestureType.PinchGesture)
            if isinstance(pinch, QPinchGesture):
                self.zoom(pinch.scaleFactor(), self.mapFromGlobal(pinch.centerPoint()))
                return True
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep everything in view if it was."""
        if self.is_fitted:
            self.fit_now()

    def changeEvent(self, event: QEvent) -> None:
        """Paint anew in another look or size of text."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange) and hasattr(
            self, "tiles"
        ):
            self.forget_pictures()

    def sizeHint(self) -> QSize:
        """As large as there is room."""
        return QSize(760, 520)
