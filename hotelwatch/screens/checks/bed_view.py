"""The drawn bed on which places are pressed, or gone through by keys in looking order.

It is a drawing only: the list beside it has the same places and shares its place, and each
step by keys is told to screen readers. Right and Down go to the next place, Left and Up back,
Home and End to the first and last of the bed. Space, L, N and F say how a place stands, as
in the list; A says that all of the bed was looked at. A press shows what can be said there.
"""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QColor,
    QContextMenuEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QToolTip, QWidget

from hotelwatch.core.checks.place_looks import PlaceLook
from hotelwatch.printing.bed_drawing.painting import at, fitted, paint_marks, paint_pieces
from hotelwatch.printing.bed_drawing.picture import HEIGHT, BedPicture
from hotelwatch.printing.bed_drawing.style import BedStyle
from hotelwatch.screens.checks.bed_style import said_of, style_of
from hotelwatch.screens.checks.place_keys import KEYS
from hotelwatch.screens.checks.words import spoken_place
from hotelwatch.screens.look.theme import colours_of
from hotelwatch.wording.bed_drawing import lift_text, one_way_text, picture_name
from hotelwatch.wording.language import _

STEPS: Mapping[int, int] = {
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Up: -1,
}
BEST_PX = QSize(560, 370)
LEAST_LINES = 9
"""Height in lines of text that leaves its numbers legible."""
EDGE_PX = 6
LIFT_REACH = 0.04
"""Around the people who lift, in widths of the picture, for what is told of them."""


class BedView(QWidget):
    """One bed, opened in its layers."""

    stand_wanted = Signal(str)
    """A place was pressed: its code."""
    step_wanted = Signal(int)
    """To the next place (1) or the one before (-1), in looking order."""
    edge_wanted = Signal(int)
    """To the first (0) or the last (-1) place of the bed."""
    said = Signal(object)
    """A Saying about the current place."""
    menu_wanted = Signal(QPoint)
    """Where on the screen to offer what can be said of the current place."""

    def __init__(self) -> None:
        """No bed yet."""
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.picture: BedPicture | None = None
        self.looks: dict[str, PlaceLook] = {}
        self.current = ""
        self.following = ""
        self._painted: tuple[object, QPixmap] | None = None

    # --- what is shown ------------------------------------------------------

    def show_bed(
        self, picture: BedPicture | None, name: str, looks: Mapping[str, PlaceLook]
    ) -> None:
        """Show a bed and how its places stand; who listens is told if the current one changed."""
        before = self.looks.get(self.current)
        self.picture, self.looks = picture, dict(looks)
        self.setAccessibleName(picture_name(name))
        now = self.looks.get(self.current)
        if now != before and now is not None and before is not None:
            self._tell()
        self.update()

    def stand_on(self, place: str, following: str) -> None:
        """Frame the current place and outline the next one."""
        is_other = place != self.current
        self.current, self.following = place, following
        if is_other:
            self._tell()
        self.update()

    def text(self) -> str:
        """The current place in one sentence, with its number."""
        look = self.looks.get(self.current)
        mark = self.picture.mark_of(self.current) if self.picture else None
        if look is None or mark is None:
            return ""
        return _("{n}: {place}").format(n=mark.number, place=spoken_place(look))

    def point_of(self, place: str) -> QPoint:
        """Where a place's number is, in pixels of the widget."""
        mark = self.picture.mark_of(place) if self.picture else None
        return at(self._box(), mark.label).toPoint() if mark else QPoint(-1, -1)

    def place_at(self, point: QPointF) -> str:
        """The place drawn at a point of the widget; empty where none is."""
        box = self._box()
        if self.picture is None or not box.width():
            return ""
        return self.picture.place_at(
            ((point.x() - box.x()) / box.width(), (point.y() - box.y()) / box.width())
        )

    # --- geometry -------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Room for numbers that are easily pressed."""
        return BEST_PX

    def minimumSizeHint(self) -> QSize:
        """Small, where the window is: the list has the same places."""
        height = LEAST_LINES * self.fontMetrics().height()
        return QSize(round(height / HEIGHT), height)

    def _box(self) -> QRectF:
        return fitted(QRectF(self.rect()).adjusted(EDGE_PX, EDGE_PX, -EDGE_PX, -EDGE_PX))

    # --- keys and presses -------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from place to place, say how one stands."""
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        key = event.key()
        if held != Qt.KeyboardModifier.NoModifier or self.picture is None:
            super().keyPressEvent(event)
        elif key in STEPS:
            self.step_wanted.emit(STEPS[Qt.Key(key)])
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self.edge_wanted.emit(0 if key == Qt.Key.Key_Home else -1)
        elif key in KEYS:
            self.said.emit(KEYS[Qt.Key(key)])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Menu):
            self.menu_wanted.emit(self.mapToGlobal(self.point_of(self.current)))
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Stand on what was pressed and offer what can be said of it."""
        place = self.place_at(event.position())
        if event.button() is Qt.MouseButton.LeftButton and place:
            self.stand_wanted.emit(place)
            self.menu_wanted.emit(event.globalPosition().toPoint())

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be said of the place under the pointer, or of the current one."""
        if event.reason() is QContextMenuEvent.Reason.Mouse:
            place = self.place_at(QPointF(event.pos()))
            if not place:
                return
            self.stand_wanted.emit(place)
            self.menu_wanted.emit(event.globalPos())
        else:
            self.menu_wanted.emit(self.mapToGlobal(self.point_of(self.current)))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """A hand over what can be pressed."""
        is_place = bool(self.place_at(event.position()))
        shape = Qt.CursorShape.PointingHandCursor if is_place else Qt.CursorShape.ArrowCursor
        self.setCursor(shape)

    def event(self, event: QEvent) -> bool:
        """Say of a place what the list says of it, and of people what they lift."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            text = self.tip_at(QPointF(event.pos()))
            if text:
                QToolTip.showText(event.globalPos(), text, self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)

    def tip_at(self, point: QPointF) -> str:
        """What is told of a point: a place, or who lifts a piece."""
        look = self.looks.get(self.place_at(point))
        if look is not None:
            parts = [spoken_place(look)]
            if look.place.one_way:
                parts.append(one_way_text())
            return "\n".join(parts)
        box = self._box()
        for lift in self.picture.lifts if self.picture else ():
            middle = at(box, lift.at)
            reach = LIFT_REACH * box.width()
            if abs(middle.x() - point.x()) < reach and abs(middle.y() - point.y()) < reach:
                return lift_text(people=lift.people, move=lift.move, caution=lift.caution)
        return ""

    def _tell(self) -> None:
        """A drawing has no parts that a screen reader could come to: it is told."""
        text = self.text()
        self.setAccessibleDescription(text)
        if text and self.hasFocus():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))

    # --- painting -----------------------------------------------------------------

    def focusInEvent(self, event: QEvent) -> None:
        """Show the frame of focus, and tell where one stands."""
        self._tell()
        self.update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Take the frame of focus away."""
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the bed, and a frame where keys go to it."""
        colours = colours_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        frame = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        has_focus = self.hasFocus()
        painter.setPen(QPen(QColor(colours.accent if has_focus else colours.hair), 1 + has_focus))
        painter.setBrush(QColor(colours.base))
        painter.drawRoundedRect(frame, 6, 6)
        if self.picture is not None:
            said = said_of(self.looks.values(), current=self.current, following=self.following)
            style = style_of(self.palette(), self.font())
            painter.drawPixmap(0, 0, self._pieces(self.picture, style))
            paint_marks(painter, self._box(), picture=self.picture, style=style, said=said)
        painter.end()

    def _pieces(self, picture: BedPicture, style: BedStyle) -> QPixmap:
        """The bed without its numbers, painted once for each size and look."""
        ratio = self.devicePixelRatioF()
        worn = (picture, style, self.size(), ratio)
        if self._painted is None or self._painted[0] != worn:
            pixmap = QPixmap(self.size() * ratio)
            pixmap.setDevicePixelRatio(ratio)
            pixmap.fill(Qt.GlobalColor.transparent)
            painter = QPainter(pixmap)
            paint_pieces(painter, self._box(), picture=picture, style=style)
            painter.end()
            self._painted = (worn, pixmap)
        return self._painted[1]
