"""A drawing of the house to look at and to choose from: a floor from above, or the upright cut.

It is a picture: it exposes no children to assistive technology. The page puts a list of the
same rooms beside it, with the same selection, and each step by keys is told. Arrows go to
the nearest room that way, with Shift they move the drawing; + and - zoom, Home shows all,
Page Up and Page Down go to another floor, Enter opens, a digit begins a room's number.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QColor,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QApplication, QToolTip

from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.building.backdrop import (
    paint_corridors,
    paint_cut,
    paint_marks,
    paint_signs,
    paint_storeys,
    sign_font,
)
from hotelwatch.screens.building.camera import MOST_PX_PER_M, ZOOM_STEP, Camera
from hotelwatch.screens.building.moving_view import MovingView
from hotelwatch.screens.building.overview import Overview
from hotelwatch.screens.building.room_paint import Dress, Frame, detail_at, paint_rooms
from hotelwatch.screens.building.rows import RoomRow, spoken
from hotelwatch.screens.building.scene import Item, Scene
from hotelwatch.screens.building.stair_signs import plate_of
from hotelwatch.screens.building.tool import Tool
from hotelwatch.screens.layout.enter import ENTER
from hotelwatch.screens.look.plans import ARROWS, next_that_way
from hotelwatch.screens.look.theme import colours_of
from hotelwatch.wording.language import _

PAN_KEY_PX = 80.0
NEAR_M = 60.0
NEAR_SHARE = 0.6
"""Once one flew to a room it takes at most so much of the view."""
WORDS_AIR = 1.1
ZOOMS: Mapping[int, float] = {
    Qt.Key.Key_Plus: ZOOM_STEP,
    Qt.Key.Key_Equal: ZOOM_STEP,
    Qt.Key.Key_Minus: 1 / ZOOM_STEP,
    Qt.Key.Key_Underscore: 1 / ZOOM_STEP,
}
FLOORS: Mapping[int, int] = {Qt.Key.Key_PageUp: 1, Qt.Key.Key_PageDown: -1}


class HouseView(MovingView):
    """One drawing, with its own place to look from."""

    picked = Signal(object)
    """The room that has the place now."""
    opened = Signal(object)
    """Enter or double click on a room."""
    floor_wanted = Signal(int)
    """One floor up (1) or down (-1)."""
    typed = Signal(str)
    """The person begins to type a room's number."""

    def __init__(self, name: str, *, is_plan: bool = True) -> None:
        """An empty drawing; ``name`` is what a screen reader calls it."""
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(name)
        self.setMouseTracking(True)
        self._is_plan = is_plan
        self.scene = Scene()
        self.tool: Tool | None = None
        self._rows: Mapping[RoomNo, RoomRow] = {}
        self._shown: frozenset[RoomNo] | None = None
        self._beside: Collection[RoomNo] = ()
        self._chosen: RoomNo | None = None
        self._is_space = False
        self._held: QPointF | None = None
        self._drag_from: QPointF | None = None
        self._overview = Overview()

    # --- what is shown ------------------------------------------------------

    def show_scene(self, scene: Scene, *, keeps_place: bool = False) -> None:
        """Show another drawing; all of it, unless one stays where one looks from."""
        self.scene = scene
        self.forget_pictures()
        if not keeps_place:
            self.is_fitted = True
        if self.is_fitted:
            self.fit_now()
        self.update()

    def show_rows(
        self, rows: Mapping[RoomNo, RoomRow], shown: frozenset[RoomNo] | None = None
    ) -> None:
        """Show how rooms stand, and which of them stand out; only what changed is painted."""
        before, self._rows, self._shown = self._dress(), rows, shown
        now = self._dress()
        changed = []
        for item in self.scene.items:
            detail = detail_at(item, self.tiles.scale, now)
            if before.look_of(item.room, detail) != now.look_of(item.room, detail):
                changed.append(item.box)
        if changed:
            self.tiles.forget(None if len(changed) == len(self.scene.items) else changed)
            self._overview.forget()
        self._describe()
        self.update()

    def choose(self, room: RoomNo | None, beside: Collection[RoomNo] = ()) -> None:
        """Mark a room, and its neighbours more lightly; None marks none."""
        self._chosen, self._beside = room, beside
        self._describe()
        self.update()

    @property
    def chosen(self) -> RoomNo | None:
        """The room that is marked."""
        return self._chosen

    def item_of(self, room: RoomNo | None) -> Item | None:
        """A room as drawn here; None if it is not on this drawing."""
        return None if room is None else self.scene.by_room.get(room)

    def rooms(self) -> tuple[RoomNo, ...]:
        """Rooms drawn, in the order of the roster."""
        return tuple(self.scene.by_room)

    def rect_of(self, room: RoomNo) -> QRectF | None:
        """Where a room shows in the view now; None if it is not on this drawing."""
        item = self.item_of(room)
        if item is None:
            return None
        return QRectF(self.at(item.box.topLeft()), self.at(item.box.bottomRight()))

    def _describe(self) -> None:
        row = self._rows.get(self._chosen) if self._chosen is not None else None
        self.setAccessibleDescription(spoken(row) if row else "")

    def _dress(self) -> Dress:
        return Dress(self._rows, self._shown, colours_of(self.palette()), self.font())

    # --- places -------------------------------------------------------------------

    def bounds(self) -> QRectF:
        """All rooms."""
        return self.scene.bounds

    def middle(self) -> QPointF:
        """The chosen room while it is in view, else the middle."""
        rect = self.rect_of(self._chosen) if self._chosen is not None else None
        if rect is not None and QRectF(self.rect()).contains(rect.center()):
            return rect.center()
        return super().middle()

    def fly_to(self, room: RoomNo) -> None:
        """Bring a room into the middle, large enough to be read."""
        item = self.item_of(room)
        if item is None:
            return
        self.is_fitted = False
        box = item.box
        # Near enough for words, yet with its neighbours around it.
        near = self._dress().words_px * WORDS_AIR / item.inner.width()
        most = NEAR_SHARE * min(self.width() / box.width(), self.height() / box.height())
        scale = max(self.camera.scale, min(MOST_PX_PER_M, near, most))
        self.go(Camera(box.center().x(), box.center().y(), scale))

    def bring_into_view(self, room: RoomNo | None) -> None:
        """Move just so far that a room is in view."""
        rect = self.rect_of(room) if room is not None else None
        inner = QRectF(self.rect()).adjusted(24, 24, -24, -24)
        if rect is None or inner.contains(rect) or self.is_fitted:
            return
        dx = min(0.0, rect.left() - inner.left()) or max(0.0, rect.right() - inner.right())
        dy = min(0.0, rect.top() - inner.top()) or max(0.0, rect.bottom() - inner.bottom())
        self.go(self.camera.panned(QPointF(dx, dy)))

    # --- painting -----------------------------------------------------------------

    def paint_over(self, painter: QPainter) -> None:
        """The cut or the storeys, marks, what a tool paints, the overview."""
        colours, size = colours_of(self.palette()), self.view_size()
        if self._is_plan:
            paint_cut(painter, self.scene, self.camera, size=size, colours=colours)
        else:
            paint_storeys(painter, self.scene, self.camera, size=size, colours=colours)
        near = [piece for room in self._beside for piece in self._pieces_in_px(room)]
        own = self._pieces_in_px(self._chosen)
        paint_marks(painter, near, own, has_focus=self.hasFocus(), colours=colours)
        if self.tool is not None:
            self.tool.paint(painter, self.at)
        self._overview.paint(
            painter, self.scene, self.camera, dress=self._dress(), is_moving=self.is_moving
        )
        painter.setBrush(Qt.BrushStyle.NoBrush)
        edge = colours.accent if self.hasFocus() else colours.hair
        painter.setPen(QPen(QColor(edge), 2 if self.hasFocus() else 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))

    def forget_pictures(self) -> None:
        """Paint everything anew, the small picture too."""
        self._overview.forget()
        super().forget_pictures()

    def paint_piece(self, painter: QPainter, frame: Frame, shown: QRectF) -> None:
        """Corridors, rooms over them, stairs and lifts over those."""
        dress = self._dress()
        paint_corridors(painter, self.scene, frame, font=self.font(), colours=dress.colours)
        paint_rooms(painter, self.scene.within(shown), frame, dress)
        paint_signs(painter, self.scene, frame, font=self.font(), colours=dress.colours)

    def _pieces_in_px(self, room: RoomNo | None) -> list[QPolygonF]:
        return [
            QPolygonF([self.at(corner) for corner in item.outline.toList()])
            for item in (self.scene.pieces.get(room, ()) if room is not None else ())
        ]

    # --- hands --------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the room under the pointer; pulling on moves the drawing."""
        point = event.position()
        jump = self._overview.rect(self.scene, self.camera, self.view_size())
        is_left = event.button() == Qt.MouseButton.LeftButton
        if jump is not None and is_left and jump.contains(point):
            self.is_fitted = False
            middle = self._overview.under(point, self.scene, jump)
            self.go(Camera(middle.x(), middle.y(), self.camera.scale))
            return
        by_hand = event.button() == Qt.MouseButton.MiddleButton or (is_left and self._is_space)
        if not by_hand and self.tool is not None and self.tool.press(self.under(point), event):
            return
        self._held = point
        self._drag_from = point if by_hand else None
        if by_hand:
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif is_left:
            item = self.scene.room_at(self.under(point))
            if item is not None:
                self._pick(item)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the drawing with the hand that holds it."""
        if self.tool is not None and self.tool.move(self.under(event.position()), event):
            return
        if self._held is None or event.buttons() == Qt.MouseButton.NoButton:
            return
        away = event.position() - self._held
        if self._drag_from is None and away.manhattanLength() < QApplication.startDragDistance():
            return
        self._drag_from = event.position()
        self.setCursor(Qt.CursorShape.ClosedHandCursor)
        self._held = event.position()
        self.pan(-away)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let the drawing go."""
        if self.tool is not None and self.tool.release(self.under(event.position()), event):
            return
        self._held = self._drag_from = None
        self._wear_cursor()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Open the room under the pointer."""
        item = self.scene.room_at(self.under(event.position()))
        if item is not None and self.tool is None:
            self.opened.emit(item.room)

    def event(self, event: QEvent) -> bool:
        """Say in words what is under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self.told_at(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def told_at(self, point: QPointF) -> str:
        """What lies under a point of the view, in words."""
        font = sign_font(self.font())
        for sign in self.scene.signs:
            at = self.at(QPointF(sign.at[0], -sign.at[1]))
            plate = plate_of(sign, at, font, self.camera.scale)
            if plate is not None and plate.box.contains(point):
                return sign.spoken
        item = self.scene.room_at(self.under(point))
        if item is None:
            return ""
        row = self._rows.get(item.room)
        if row is None:
            return _("Room {room}: not on the roster then.").format(room=item.room)
        return spoken(row)

    # --- keys ---------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from room to room, move and zoom the drawing, change floors, begin a number."""
        if self.tool is not None and self.tool.key(event):
            return
        key, modifier = event.key(), Qt.KeyboardModifier
        is_plain = not event.modifiers() & (modifier.ControlModifier | modifier.AltModifier)
        if key in ARROWS and event.modifiers() & modifier.ShiftModifier:
            right, down = ARROWS[key]
            self.pan(QPointF(right * PAN_KEY_PX, down * PAN_KEY_PX))
        elif key in ARROWS:
            self._step(ARROWS[key])
        elif key in ZOOMS:
            self.zoom(ZOOMS[key])
        elif key in FLOORS:
            self.floor_wanted.emit(FLOORS[key])
        elif event.text().isdigit() and is_plain:
            self.typed.emit(event.text())
        elif not self._other_key(event):
            super().keyPressEvent(event)

    def _other_key(self, event: QKeyEvent) -> bool:
        key = event.key()
        if key == Qt.Key.Key_Home:
            self.fit()
        elif key in ENTER and self.item_of(self._chosen) is not None:
            self.opened.emit(self._chosen)
        elif key == Qt.Key.Key_Space:
            self._is_space = True
            self._wear_cursor()
        else:
            return False
        return True

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Space let go: the pointer chooses again."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._is_space = False
            self._wear_cursor()
        else:
            super().keyReleaseEvent(event)

    def focusInEvent(self, event: QEvent) -> None:
        """With nothing chosen on this drawing, choose its first room."""
        if self.item_of(self._chosen) is None and self.scene.items and self.tool is None:
            self._pick(self.scene.items[0])
        self.update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Paint the frame thinner."""
        self._is_space = False
        self._wear_cursor()
        self.update()

    def _wear_cursor(self) -> None:
        hand, arrow = Qt.CursorShape.OpenHandCursor, Qt.CursorShape.ArrowCursor
        self.setCursor(hand if self._is_space else arrow)

    def _pick(self, item: Item) -> None:
        self.choose(item.room, self._beside)
        self.picked.emit(item.room)

    def _step(self, arrow: tuple[int, int]) -> None:
        here = self.item_of(self._chosen)
        if here is None:
            found = self.scene.nearest(QPointF(self.camera.x, self.camera.y))
        else:
            found = self._next(here, arrow)
        if found is None:
            return
        self._pick(found)
        self.bring_into_view(found.room)
        # A drawing has no parts that a screen reader could come to: it is told.
        said = QAccessibleAnnouncementEvent(self, self.accessibleDescription())
        QAccessible.updateAccessibility(said)

    def _next(self, here: Item, arrow: tuple[int, int]) -> Item | None:
        middle = here.inner.center()
        around = QRectF(middle.x() - NEAR_M, middle.y() - NEAR_M, 2 * NEAR_M, 2 * NEAR_M)
        for items in (self.scene.within(around), self.scene.items):
            others = ((item, item.inner.center()) for item in items if item.room != here.room)
            found = next_that_way(middle, others, arrow)
            if found is not None:
                return found
        return None
