"""What all charts share: one value has the place, keys and pointer move it, it is told aloud.

Arrows go from value to value, Home and End to the ends, Enter presses; the pointer stands on
a value where it rests and presses it where it clicks. A chart is a drawing only: a table
beside it, or in its place, has the same numbers.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QBrush,
    QColor,
    QHelpEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from hotelwatch.screens.look.theme import LIGHT, Colours, Tone, colours_of

LEAST_WIDE, LEAST_HIGH = 320, 180
AIR_PX = 8
SHARPER = 2
"""Pictures of charts have so many times the pixels of the screen."""
INKS = (None, Tone.ASKED, Tone.DUE, Tone.DONE)
"""The accent first, then inks of tones; patterns, dashes and words tell them apart as well."""
PATTERNS = (
    Qt.BrushStyle.SolidPattern,
    Qt.BrushStyle.BDiagPattern,
    Qt.BrushStyle.Dense6Pattern,
    Qt.BrushStyle.CrossPattern,
)
DASHES: tuple[tuple[float, ...], ...] = ((), (6.0, 3.0), (1.5, 2.5), (8.0, 3.0, 1.5, 3.0))


def ink_of(number: int, colours: Colours) -> QColor:
    """The ink of the number-th of a chart's series."""
    tone = INKS[number % len(INKS)]
    return QColor(colours.accent if tone is None else colours.tones[tone].ink)


def brush_of(number: int, colours: Colours) -> QBrush:
    """Its filling: each has a pattern of its own."""
    return QBrush(ink_of(number, colours), PATTERNS[number % len(PATTERNS)])


class Chart(QWidget):
    """A chart whose values stand in a row; subclasses say and paint them."""

    point_changed = Signal(int)
    """The number of the value that has the place."""
    pressed = Signal(int)
    """The number of a value that was pressed."""
    keys_back: tuple[Qt.Key, ...] = (Qt.Key.Key_Left,)
    keys_on: tuple[Qt.Key, ...] = (Qt.Key.Key_Right,)

    def __init__(self, name: str) -> None:
        """Nothing yet; ``name`` is what a screen reader calls it."""
        super().__init__()
        self._at: int | None = None
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    # --- what subclasses say ------------------------------------------------------

    def count(self) -> int:
        """How many values stand in the row."""
        raise NotImplementedError

    def said_of(self, place: int) -> str:
        """A value in words."""
        raise NotImplementedError

    def place_at(self, position: QPointF) -> int | None:
        """The value under a position."""
        raise NotImplementedError

    def paint_chart(self, painter: QPainter, colours: Colours) -> None:
        """Paint everything but the frame of the focus."""
        raise NotImplementedError

    # --- size --------------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Room enough for the letters."""
        return QSize(LEAST_WIDE * 2, LEAST_HIGH * 2)

    def minimumSizeHint(self) -> QSize:
        """Below this the letters run into one another."""
        return QSize(LEAST_WIDE, LEAST_HIGH)

    # --- where one stands ----------------------------------------------------------

    @property
    def at(self) -> int | None:
        """The number of the value that has the place."""
        return self._at

    def stand_at(self, place: int | None) -> None:
        """Give a value the place, and say so to nobody."""
        self._at = place
        has_place = place is not None and 0 <= place < self.count()
        self.setAccessibleDescription(
            self.said_of(place) if has_place and place is not None else ""
        )
        self.update()

    def _go(self, place: int) -> None:
        if place != self._at:
            self.stand_at(place)
            self.point_changed.emit(place)
            if self.hasFocus():
                told = QAccessibleAnnouncementEvent(self, self.accessibleDescription())
                QAccessible.updateAccessibility(told)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along the values, or press the one that has the place."""
        last, key = self.count() - 1, event.key()
        if last < 0:
            super().keyPressEvent(event)
            return
        here = last if self._at is None else self._at
        if key in self.keys_back:
            self._go(max(0, here - 1))
        elif key in self.keys_on:
            self._go(min(last, here + 1))
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self._go(0 if key == Qt.Key.Key_Home else last)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.pressed.emit(here)
        else:
            super().keyPressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Stand on the value under a pressed pointer."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._go_to(event.position())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Stand on the value under the pointer."""
        self._go_to(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Press the value on which the pointer went down and up."""
        place = self.place_at(event.position())
        if event.button() == Qt.MouseButton.LeftButton and place is not None and place == self._at:
            self.pressed.emit(place)

    def _go_to(self, position: QPointF) -> None:
        place = self.place_at(position)
        if place is not None:
            self._go(place)

    def event(self, event: QEvent) -> bool:
        """Say a value where the pointer rests."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            place = self.place_at(QPointF(event.pos()))
            said = "" if place is None else self.said_of(place)
            QToolTip.showText(event.globalPos(), said, self)
            return True
        return super().event(event)

    def focusInEvent(self, event: QEvent) -> None:
        """Show the frame of the focus."""
        self.update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Hide it again."""
        self.update()

    # --- painting ------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the chart and, where one stands in it, the frame of the focus."""
        colours = colours_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self.paint_chart(painter, colours)
            if self.hasFocus():
                painter.setPen(QPen(QColor(colours.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))

    def picture(self) -> QImage:
        """The chart as a picture for paper, whatever look the window wears."""
        picture = QImage(self.size() * SHARPER, QImage.Format.Format_RGB32)
        picture.setDevicePixelRatio(SHARPER)
        picture.fill(QColor("white"))
        with QPainter(picture) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(self.font())
            self.paint_chart(painter, LIGHT)
        return picture
