"""A floor as it lies, seen from above: rooms as polygons, each with label, sign and pattern.

It is a drawing only: it exposes no children to assistive technology, so the page puts
a table of the same rooms beside it, with the same selection. Arrows go to the nearest
room in that direction, Page Up and Page Down to another floor, Enter opens.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QToolTip, QWidget

from hotelwatch.core.building.rooms import Building, Corridor, RoomShape
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.screens.building.rows import GLYPHS, TONES, RoomRow, RoomState, state_text
from hotelwatch.screens.building.stair_signs import StairSign, paint_sign, plate_of, signs_of
from hotelwatch.screens.plans import (
    ARROWS,
    LEAST_LINES_PER_M,
    MOST_PX_PER_M,
    PATTERN_STRENGTH,
    SMALLEST_PT,
    bounds_of,
    fitting_font,
    next_that_way,
)
from hotelwatch.screens.theme import Colours, Tint, colours_of
from hotelwatch.wording.language import _

MARGIN_PX = 16
SHARE_OF_CORRIDOR = 0.9
"""How much of a corridor's width its wing's name may take."""

PATTERNS: Mapping[RoomState, Qt.BrushStyle] = {
    RoomState.QUARANTINE: Qt.BrushStyle.DiagCrossPattern,
    RoomState.TO_CHECK: Qt.BrushStyle.Dense7Pattern,
    RoomState.OVERDUE: Qt.BrushStyle.BDiagPattern,
    RoomState.DUE_SOON: Qt.BrushStyle.HorPattern,
}


@dataclass(frozen=True, slots=True)
class DrawnRoom:
    """A room on the drawing: its outline in pixels."""

    row: RoomRow
    outline: QPolygonF
    centre: QPointF


class FloorView(QWidget):
    """One floor's rooms, to look at and to choose from."""

    picked = Signal(object)
    """The room that has the place now."""
    opened = Signal(object)
    """Enter or double click on a room."""
    floor_wanted = Signal(int)
    """One floor up (1) or down (-1)."""

    def __init__(self) -> None:
        """An empty drawing."""
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(_("Drawing of the floor; the list beside it has the same rooms"))
        self.setMouseTracking(True)
        self._shapes: Sequence[RoomShape] = ()
        self._corridors: Sequence[Corridor] = ()
        self.signs: Sequence[StairSign] = ()
        """Stairs and lifts that open on the floor."""
        self._rows: Mapping[RoomNo, RoomRow] = {}
        self._drawn: tuple[DrawnRoom, ...] = ()
        self._bounds = QRectF()
        self._chosen: RoomNo | None = None

    # --- what is shown ------------------------------------------------------

    def show_floor(
        self,
        building: Building,
        floor: str,
        rows: Mapping[RoomNo, RoomRow],
        *,
        stairs: Iterable[StairPlaced] = (),
    ) -> None:
        """Show the rooms of a floor, and the stairs and lifts that open on it."""
        self._rows = rows
        self._shapes = [s for s in building.shapes.values() if s.floor == floor and s.room in rows]
        self._corridors = [c for c in building.corridors if c.floor == floor]
        self.signs = signs_of(building, floor, stairs)
        corners = [corner for shape in self._shapes for corner in shape.outline]
        corners += [sign.at for sign in self.signs]
        self._bounds = bounds_of(corners)
        self.setMinimumSize(self.minimumSizeHint())
        self._draw_rooms()
        self.update()

    def choose(self, room: RoomNo | None) -> None:
        """Mark a room; None marks none."""
        self._chosen = room
        drawn = self.drawn_of(room)
        if drawn is not None:
            self.setAccessibleDescription(_spoken(drawn.row))
        self.update()

    def drawn_of(self, room: RoomNo | None) -> DrawnRoom | None:
        """A room as drawn on this floor; None if it is not on it."""
        return next((drawn for drawn in self._drawn if drawn.row.room == room), None)

    def rooms(self) -> tuple[RoomNo, ...]:
        """Rooms drawn, in the order of the roster."""
        return tuple(drawn.row.room for drawn in self._drawn)

    def minimumSizeHint(self) -> QSize:
        """Large enough for labels to be read; a scroll area does the rest."""
        return self._size_at(self._least_scale())

    def _least_scale(self) -> float:
        return LEAST_LINES_PER_M * self._line_px()

    def sizeHint(self) -> QSize:
        """Comfortable."""
        return self._size_at(MOST_PX_PER_M)

    def _size_at(self, scale: float) -> QSize:
        width = self._bounds.width() * scale + 2 * MARGIN_PX
        height = self._bounds.height() * scale + 2 * MARGIN_PX
        return QSize(round(max(width, 200)), round(max(height, 120)))

    # --- geometry -----------------------------------------------------------

    def resizeEvent(self, event: QEvent) -> None:
        """Fit the drawing into its new size."""
        self._draw_rooms()

    def changeEvent(self, event: QEvent) -> None:
        """Keep rooms large enough for larger text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.setMinimumSize(self.minimumSizeHint())
            self._draw_rooms()

    def _scale(self) -> float:
        if self._bounds.isEmpty():
            return self._least_scale()
        across = (self.width() - 2 * MARGIN_PX) / self._bounds.width()
        along = (self.height() - 2 * MARGIN_PX) / self._bounds.height()
        return max(self._least_scale(), min(MOST_PX_PER_M, across, along))

    def _at(self, x: float, y: float) -> QPointF:
        """Where a point of the building lies on the drawing; north is up."""
        scale = self._scale()
        left = (self.width() - self._bounds.width() * scale) / 2
        top = (self.height() - self._bounds.height() * scale) / 2
        return QPointF(
            left + (x - self._bounds.left()) * scale, top + (self._bounds.bottom() - y) * scale
        )

    def _draw_rooms(self) -> None:
        self._drawn = tuple(
            DrawnRoom(
                self._rows[shape.room],
                QPolygonF([self._at(x, y) for x, y in shape.outline]),
                self._at(*shape.centre),
            )
            for shape in self._shapes
        )

    def _room_at(self, point: QPointF) -> DrawnRoom | None:
        rule = Qt.FillRule.WindingFill
        return next((d for d in self._drawn if d.outline.containsPoint(point, rule)), None)

    # --- painting -----------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint corridors, rooms, and the chosen room's frame last."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = colours_of(self.palette())
        self._paint_corridors(painter, colours)
        for drawn in self._drawn:
            self._paint_room(painter, drawn, tint=_tint_of(drawn, colours), colours=colours)
        for drawn in self._drawn:  # after all grounds: a label may reach over its wall
            self._paint_words(painter, drawn, _tint_of(drawn, colours))
        self._paint_signs(painter, colours)
        chosen = self.drawn_of(self._chosen)
        if chosen is not None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            width = 4 if self.hasFocus() else 3
            painter.setPen(QPen(QColor(colours.base), width + 4))
            painter.drawPolygon(chosen.outline)
            painter.setPen(QPen(QColor(colours.accent), width))
            painter.drawPolygon(chosen.outline)
        painter.end()

    def _paint_corridors(self, painter: QPainter, colours: Colours) -> None:
        pen = QPen(QColor(colours.hair))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        for corridor in self._corridors:
            pen.setWidthF(corridor.width_m * self._scale())
            painter.setPen(pen)
            painter.drawLine(self._at(*corridor.start), self._at(*corridor.end))
            self._paint_wing(painter, corridor, colours)

    def _paint_signs(self, painter: QPainter, colours: Colours) -> None:
        painter.setFont(self._sign_font())
        for sign, plate in self._plates():
            paint_sign(painter, sign, plate, colours)

    def _plates(self) -> list[tuple[StairSign, QRectF]]:
        font = self._sign_font()
        return [(sign, plate_of(sign, self._at(*sign.at), font)) for sign in self.signs]

    def _sign_font(self) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(max(SMALLEST_PT, font.pointSizeF() * SHARE_OF_CORRIDOR))
        return font

    def _paint_wing(self, painter: QPainter, corridor: Corridor, colours: Colours) -> None:
        """The wing's name along its corridor, with an arrow the way it runs."""
        line = QLineF(self._at(*corridor.start), self._at(*corridor.end))
        font = QFont(self.font())
        tall = corridor.width_m * self._scale() * SHARE_OF_CORRIDOR
        font.setPointSizeF(min(font.pointSizeF(), font.pointSizeF() * tall / self._line_px()))
        is_turned = line.dx() < 0
        text = f"← {corridor.wing}" if is_turned else f"{corridor.wing} →"
        wide = QFontMetricsF(font).horizontalAdvance(text)
        if not corridor.wing or font.pointSizeF() < SMALLEST_PT or wide > line.length():
            return
        painter.save()
        painter.translate(line.center())
        painter.rotate(-line.angle() + (180 if is_turned else 0))
        painter.setFont(font)
        painter.setPen(QColor(colours.text))
        box = QRectF(-wide, -tall, 2 * wide, 2 * tall)
        painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), text)
        painter.restore()

    def _line_px(self) -> float:
        return QFontMetricsF(self.font()).height()

    def _paint_room(
        self, painter: QPainter, drawn: DrawnRoom, *, tint: Tint, colours: Colours
    ) -> None:
        painter.setPen(QPen(QColor(colours.line), 1.2))
        painter.setBrush(QColor(tint.fill))
        painter.drawPolygon(drawn.outline)
        pattern = PATTERNS.get(drawn.row.state)
        if pattern is not None:
            ink = QColor(tint.ink)
            ink.setAlpha(PATTERN_STRENGTH)
            painter.setBrush(QBrush(ink, pattern))
            painter.drawPolygon(drawn.outline)

    def label_font(self, drawn: DrawnRoom) -> QFont:
        """A font in which the room's label fits into the room, if one can still be read."""
        return fitting_font(self.font(), str(drawn.row.room), drawn.outline.boundingRect().width())

    def _paint_words(self, painter: QPainter, drawn: DrawnRoom, tint: Tint) -> None:
        font = self.label_font(drawn)
        label, sign = str(drawn.row.room), GLYPHS[drawn.row.state]
        metrics = QFontMetricsF(font)
        lines = [line for line in (label, sign) if line]
        height = metrics.height() * len(lines)
        width = max(metrics.horizontalAdvance(line) for line in lines) + 4
        plate = QRectF(0, 0, width, height)
        plate.moveCenter(drawn.centre)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(tint.fill))
        painter.drawRoundedRect(plate, 3, 3)
        painter.setPen(QColor(tint.ink))
        painter.setFont(font)
        painter.drawText(plate, int(Qt.AlignmentFlag.AlignCenter), "\n".join(lines))

    # --- hands and keys -----------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the room under the pointer."""
        drawn = self._room_at(event.position())
        if drawn is not None:
            self._pick(drawn)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Open the room under the pointer."""
        drawn = self._room_at(event.position())
        if drawn is not None:
            self.opened.emit(drawn.row.room)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Say in words what the room, stair or lift under the pointer is."""
        drawn, at = self._room_at(event.position()), event.position()
        told = [sign.spoken for sign, plate in self._plates() if plate.contains(at)]
        text = "\n".join(told) or (_spoken(drawn.row) if drawn else "")
        QToolTip.showText(event.globalPosition().toPoint(), text, self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows go to the next room that way, Page Up and Down to another floor."""
        key = event.key()
        if key in ARROWS:
            self._step(ARROWS[key])
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.floor_wanted.emit(1 if key == Qt.Key.Key_PageUp else -1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.drawn_of(self._chosen):
            self.opened.emit(self._chosen)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QEvent) -> None:
        """With nothing chosen on this floor, choose its first room."""
        if self.drawn_of(self._chosen) is None and self._drawn:
            self._pick(self._drawn[0])
        self.update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Paint the frame thinner."""
        self.update()

    def _pick(self, drawn: DrawnRoom) -> None:
        self.choose(drawn.row.room)
        self.picked.emit(drawn.row.room)

    def _step(self, arrow: tuple[int, int]) -> None:
        here = self.drawn_of(self._chosen)
        if here is None:
            found = self._drawn[0] if self._drawn else None
        else:
            others = ((drawn, drawn.centre) for drawn in self._drawn)
            found = next_that_way(here.centre, others, arrow)
        if found is not None:
            self._pick(found)


def _tint_of(drawn: DrawnRoom, colours: Colours) -> Tint:
    tone = TONES[drawn.row.state]
    return colours.tones[tone] if tone else Tint(colours.base, colours.text)


def _spoken(row: RoomRow) -> str:
    return _("Room {room}: {state}. {why}").format(
        room=row.room, state=state_text(row.state), why=row.why
    )
