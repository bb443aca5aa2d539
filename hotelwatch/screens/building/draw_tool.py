"""Drawing by hand: a room is pulled, its corners and walls too; they snap to walls and the grid."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QApplication

from hotelwatch.core.building.inside import inward_corners
from hotelwatch.core.building.outlines import Outline, Point, signed_area
from hotelwatch.core.building.shaping import (
    moved,
    snapped_move,
    snapped_point,
    wall_length,
    with_corner,
    with_wall,
)
from hotelwatch.screens.building.draw_work import DrawWork, Tried
from hotelwatch.screens.building.house_view import HouseView
from hotelwatch.screens.look.plans import ARROWS
from hotelwatch.screens.look.theme import Colours, Tone, colours_of
from hotelwatch.wording.dates import number_text
from hotelwatch.wording.language import _

GRID_M = 0.1
SNAP_PX = 10.0
HANDLE_PX = 9.0
NUMBER_LINES = 0.8
"""Lines of text from a corner to the middle of its number, square to each wall."""
STEP_M = 0.1
LONG_STEP_M = 1.0


@dataclass(frozen=True, slots=True)
class Grip:
    """What the hand holds: the whole room, a corner or a wall, and where it took hold."""

    part: str
    """"room", "corner" or "wall"."""
    number: int
    begun: Point
    outline: Outline


class DrawTool:
    """Takes the hands on the plan while rooms are drawn."""

    def __init__(
        self,
        work: DrawWork,
        view: HouseView,
        wanted: Callable[[object], None],
        cut: Callable[[], tuple[Point, Point] | None],
    ) -> None:
        """For this drawing; ``wanted`` hears which room is pressed, ``cut`` is a wall to be."""
        self._work, self._view, self._wanted, self._cut = work, view, wanted, cut
        self._grip: Grip | None = None
        self._is_pulling = False

    # --- hands ----------------------------------------------------------------

    def press(self, point: QPointF, event: QMouseEvent) -> bool:
        """Take hold of a handle, or of the room under the pointer."""
        if event.button() != Qt.MouseButton.LeftButton:
            return False
        here = (point.x(), -point.y())
        grip = self._handle_at(here)
        if grip is None:
            item = self._view.scene.room_at(point)
            if item is None:
                return False
            if item.room != self._work.room:
                self._wanted(item.room)
            grip = Grip("room", 0, here, self._work.outline())
        self._grip, self._is_pulling = grip, False
        return True

    def move(self, point: QPointF, event: QMouseEvent) -> bool:
        """Pull what is held; the list of neighbours follows."""
        grip = self._grip
        if grip is None:
            return False
        here = (point.x(), -point.y())
        dx, dy = here[0] - grip.begun[0], here[1] - grip.begun[1]
        if not self._is_pulling:
            if hypot(dx, dy) * self._view.camera.scale < QApplication.startDragDistance():
                return True
            self._is_pulling = True
        is_free = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        self._work.try_outline(self._pulled(grip, (dx, dy), is_free=is_free))
        self._view.update()
        return True

    def release(self, point: QPointF, event: QMouseEvent) -> bool:
        """Let go: what was pulled is one step of the drawing."""
        if self._grip is None:
            return False
        if self._is_pulling:
            self._work.settle()
        self._grip, self._is_pulling = None, False
        return True

    def key(self, event: QKeyEvent) -> bool:
        """Ctrl with arrows moves the room; Ctrl+Z and Ctrl+Y go back and forth; Escape lets go."""
        key, modifiers = event.key(), event.modifiers()
        has_ctrl = bool(modifiers & Qt.KeyboardModifier.ControlModifier)
        has_shift = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
        if key == Qt.Key.Key_Escape and self._is_pulling:
            self._grip, self._is_pulling = None, False
            self._work.give_up()
        elif has_ctrl and key == Qt.Key.Key_Z:
            self._work.redo() if has_shift else self._work.undo()
        elif has_ctrl and key == Qt.Key.Key_Y:
            self._work.redo()
        elif has_ctrl and key in ARROWS and self._work.outline():
            right, down = ARROWS[key]
            step = LONG_STEP_M if has_shift else STEP_M
            self._work.draw(moved(self._work.outline(), (right * step, -down * step)))
        else:
            return False
        return True

    def wants(self, event: QKeyEvent) -> bool:
        """Whether a key belongs to the drawing before any menu has it."""
        has_ctrl = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        keys = {Qt.Key.Key_Z, Qt.Key.Key_Y, *ARROWS}
        return has_ctrl and event.key() in keys

    # --- what is pulled ---------------------------------------------------------

    def _handle_at(self, here: Point) -> Grip | None:
        outline = self._work.outline()
        reach = HANDLE_PX / self._view.camera.scale
        for number, (x, y) in enumerate(outline):
            if hypot(x - here[0], y - here[1]) <= reach:
                return Grip("corner", number, here, outline)
        for number, (x, y) in enumerate(_middles(outline)):
            if hypot(x - here[0], y - here[1]) <= reach:
                return Grip("wall", number, here, outline)
        return None

    def _pulled(self, grip: Grip, by: Point, *, is_free: bool) -> Outline:
        reach = 0.0 if is_free else SNAP_PX / self._view.camera.scale
        grid = 0.001 if is_free else GRID_M
        outline = grip.outline
        if grip.part == "corner":
            x, y = outline[grip.number]
            at = (x + by[0], y + by[1])
            near = self._work.near((*outline, at))
            return with_corner(
                outline, grip.number, snapped_point(at, near, reach_m=reach, grid_m=grid)
            )
        if grip.part == "wall":
            return with_wall(outline, grip.number, self._wall_out(grip, by, reach, grid))
        there = moved(outline, by)
        near = self._work.near(there)
        return snapped_move(there, near, reach_m=reach, grid_m=grid)

    def _wall_out(self, grip: Grip, by: Point, reach: float, grid: float) -> float:
        """How far a wall is pulled outward, so that it meets a corner of others within reach."""
        outline = grip.outline
        (ax, ay), (bx, by_) = outline[grip.number], outline[(grip.number + 1) % len(outline)]
        length = hypot(bx - ax, by_ - ay)
        nx, ny = (by_ - ay) / length, -(bx - ax) / length
        out = by[0] * nx + by[1] * ny
        near = self._work.near(with_wall(outline, grip.number, out))
        meets = [(x - ax) * nx + (y - ay) * ny for other in near for x, y in other]
        best = min(meets, key=lambda one: abs(one - out), default=None)
        if best is not None and abs(best - out) <= reach:
            return best
        return round(out / grid) * grid

    # --- painting -----------------------------------------------------------------

    def paint(self, painter: QPainter, at: Callable[[QPointF], QPointF]) -> None:
        """The room at hand with its handles, its measures, and lines to who comes and goes."""
        tried = self._work.tried()
        if tried is None or not tried.outline or self._work.room is None:
            return
        shape = self._work.shape_of(self._work.room)
        if shape is None or shape.floor not in self._floors():
            return
        colours = colours_of(self._view.palette())
        corners = [at(QPointF(x, -y)) for x, y in tried.outline]
        tint = colours.tones[Tone.LATE if tried.flaws else Tone.DONE]
        fill = QColor(tint.fill)
        fill.setAlpha(190)
        style = Qt.PenStyle.DashLine if tried.flaws else Qt.PenStyle.SolidLine
        painter.setBrush(fill)
        painter.setPen(QPen(QColor(tint.ink), 2.5, style))
        painter.drawPolygon(QPolygonF(corners))
        self._paint_lines(painter, tried, at, colours)
        cut = self._cut()
        if cut is not None:
            painter.setPen(QPen(QColor(colours.accent), 3, Qt.PenStyle.DashLine))
            painter.drawLine(*(at(QPointF(x, -y)) for x, y in cut))
        self._paint_measures(painter, tried, corners, colours)
        _paint_numbers(painter, corners, colours)
        painter.setPen(QPen(QColor(colours.accent), 2))
        painter.setBrush(QColor(colours.base))
        half = HANDLE_PX / 2
        for corner in corners:
            painter.drawRect(QRectF(corner.x() - half, corner.y() - half, 2 * half, 2 * half))
        for x, y in _middles(tried.outline):
            painter.drawEllipse(at(QPointF(x, -y)), half, half)

    def _floors(self) -> set[str]:
        """The floors whose rooms the plan shows."""
        rooms = self._view.scene.items
        shapes = (self._work.shape_of(item.room) for item in rooms[:1])
        return {shape.floor for shape in shapes if shape is not None}

    def _paint_lines(
        self,
        painter: QPainter,
        tried: Tried,
        at: Callable[[QPointF], QPointF],
        colours: Colours,
    ) -> None:
        for change in tried.changes:
            ends = [self._work.shape_of(room) for room in (change.room, change.other)]
            one, other = ends
            if one is None or other is None or one.level != other.level:
                continue
            is_gained = bool(change.gained)
            style = Qt.PenStyle.SolidLine if is_gained else Qt.PenStyle.DotLine
            line = QLineF(*(at(QPointF(s.centre[0], -s.centre[1])) for s in (one, other)))
            painter.setPen(QPen(QColor(colours.accent), 3 if is_gained else 2, style))
            painter.drawLine(line)
            _paint_plate(painter, line.pointAt(0.6), "+" if is_gained else "−", colours)

    def _paint_measures(
        self, painter: QPainter, tried: Tried, corners: list[QPointF], colours: Colours
    ) -> None:
        count, taken, room = len(corners), QPainterPath(), QPainterPath()
        room.addPolygon(QPolygonF(corners))
        is_ccw = signed_area(tried.outline) >= 0
        is_dented = next(inward_corners(tried.outline), None) is not None
        for number in range(count):
            line = QLineF(corners[number], corners[(number + 1) % count])
            text = _("{n} m").format(n=number_text(round(wall_length(tried.outline, number), 2)))
            if line.length() < QFontMetricsF(painter.font()).horizontalAdvance(text) + 24:
                continue
            plate = _plate(painter, line.pointAt(0.5), text)
            way = _inward(line, is_ccw=is_ccw)
            # Far enough in that the handle on the wall hides none of its figures.
            depth = (abs(way.x()) * plate.width() + abs(way.y()) * plate.height()) / 2
            away = way * (depth + HANDLE_PX)
            plate.moveCenter(line.pointAt(0.5) + away)
            if is_dented and not room.contains(plate):  # an arm too narrow for words
                plate.moveCenter(line.pointAt(0.5) - away)
            if not taken.intersects(plate):
                taken.addRect(plate)
                _paint_plate(painter, plate.center(), text, colours)


def _middles(outline: Outline) -> list[Point]:
    closed = (*outline[1:], *outline[:1])
    return [
        ((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in zip(outline, closed, strict=True)
    ]


def _inward(wall: QLineF, *, is_ccw: bool) -> QPointF:
    """The direction into the room, square to a wall on the drawing (length 1)."""
    square = wall.normalVector().unitVector()
    way = QPointF(square.dx(), square.dy())
    return way if is_ccw else -way


def _paint_numbers(painter: QPainter, corners: list[QPointF], colours: Colours) -> None:
    """Each corner's number on the outer side of its handle."""
    is_ccw = signed_area([(corner.x(), -corner.y()) for corner in corners]) >= 0
    tall = QFontMetricsF(painter.font()).height()
    for number, corner in enumerate(corners):
        before = QLineF(corners[number - 1], corner)
        after = QLineF(corner, corners[(number + 1) % len(corners)])
        if not before.length() or not after.length():
            continue
        out = -(_inward(before, is_ccw=is_ccw) + _inward(after, is_ccw=is_ccw))
        _paint_plate(painter, corner + out * (NUMBER_LINES * tall), str(number + 1), colours)


def _plate(painter: QPainter, at: QPointF, text: str) -> QRectF:
    metrics = QFontMetricsF(painter.font())
    plate = QRectF(0, 0, metrics.horizontalAdvance(text) + 8, metrics.height())
    plate.moveCenter(at)
    return plate


def _paint_plate(painter: QPainter, at: QPointF, text: str, colours: Colours) -> None:
    plate = _plate(painter, at, text)
    painter.fillRect(plate, QColor(colours.base))
    painter.setPen(QColor(colours.text))
    painter.drawText(plate, int(Qt.AlignmentFlag.AlignCenter), text)
