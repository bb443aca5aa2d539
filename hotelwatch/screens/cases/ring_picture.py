"""A ring floor by floor, the top one first, all drawn to one scale and above one another.

Only the part of the building around the ring is drawn. A broken outline shows on the
floors above and below where a room with a sign lies. It is a drawing only: the list
beside it has the same rooms, with the same selection. Arrows go from room to room, up and
down through the floors; Enter opens.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QToolTip, QWidget

from hotelwatch.core.building.inside import upright_about
from hotelwatch.core.building.rooms import Building, Corridor, Point, RoomShape
from hotelwatch.core.cases.ring_rooms import RingRoom
from hotelwatch.core.cases.ring_rule import LINKS
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.cases.ring_signs import PATTERNS, sign_of, tint_of
from hotelwatch.screens.layout.enter import ENTER
from hotelwatch.screens.look.plans import (
    ARROWS,
    LEAST_LINES_PER_M,
    MOST_PX_PER_M,
    PATTERN_STRENGTH,
    bounds_of,
    fitting_font,
    next_that_way,
)
from hotelwatch.screens.look.theme import Colours, colours_of
from hotelwatch.wording.language import _
from hotelwatch.wording.ring import reasons_text, state_text

MARGIN_PX, GAP_PX = 12, 10
AROUND_M = 5.0
"""How much of the building is drawn around the ring: about a room."""


@dataclass(frozen=True, slots=True)
class Band:
    """A floor of the picture."""

    floor: str
    shapes: tuple[RoomShape, ...]
    corridors: tuple[Corridor, ...]
    shadows: tuple[RoomShape, ...]
    """Rooms with a sign on the floor above or below."""


@dataclass(frozen=True, slots=True)
class DrawnRoom:
    """A room on the picture: its outline in pixels, and what room its label has."""

    room: RoomNo
    outline: QPolygonF
    centre: QPointF
    wide: float
    tall: float


class RingPicture(QWidget):
    """The floors of a ring, to look at and to choose from."""

    picked = Signal(object)
    """The room that has the place now."""
    opened = Signal(object)
    """Enter or double click on a room of the ring."""

    def __init__(self) -> None:
        """An empty picture."""
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(_("Picture of the ring; the list beside it has the same rooms"))
        self.setMouseTracking(True)
        self.bands: tuple[Band, ...] = ()
        self._rows: Mapping[RoomNo, RingRoom] = {}
        self._late: frozenset[RoomNo] = frozenset()
        self._bounds = QRectF()
        self._drawn: tuple[DrawnRoom, ...] = ()
        self._chosen: RoomNo | None = None

    # --- what is shown ------------------------------------------------------

    def show_ring(
        self, building: Building, rows: Sequence[RingRoom], late: Iterable[RoomNo]
    ) -> tuple[RoomNo, ...]:
        """Show these rooms; those that lie elsewhere and are only tied come back."""
        self._rows = {row.room: row for row in rows if row.room in building.shapes}
        self._late = frozenset(late)
        near = [row.room for row in self._rows.values() if _is_around(row)]
        corners = [corner for room in near for corner in building.shapes[room].outline]
        bounds = bounds_of(corners)
        around = bounds.adjusted(-AROUND_M, -AROUND_M, AROUND_M, AROUND_M)
        self.bands = _bands(building, self._rows, near, around) if near else ()
        shown = [corner for band in self.bands for s in band.shapes for corner in s.outline]
        self._bounds = bounds_of(shown)
        self._fit()
        inside = {shape.room for band in self.bands for shape in band.shapes}
        return tuple(room for room in self._rows if room not in inside)

    def choose(self, room: RoomNo | None) -> None:
        """Mark a room; None marks none."""
        self._chosen = room
        row = self._rows.get(room) if room is not None else None
        if row is not None:
            self.setAccessibleDescription(spoken(row))
        self.update()

    def drawn_of(self, room: RoomNo | None) -> DrawnRoom | None:
        """A room as drawn; None if it is not on the picture."""
        return next((drawn for drawn in self._drawn if drawn.room == room), None)

    def rooms(self) -> tuple[RoomNo, ...]:
        """Rooms drawn, floor by floor from the top."""
        return tuple(drawn.room for drawn in self._drawn)

    def minimumSizeHint(self) -> QSize:
        """Large enough for labels to be read; a scroll area does the rest."""
        return self._size_at(LEAST_LINES_PER_M * self._line_px())

    def sizeHint(self) -> QSize:
        """Comfortable."""
        return self._size_at(MOST_PX_PER_M / 2)

    # --- geometry -----------------------------------------------------------

    def resizeEvent(self, event: QEvent) -> None:
        """Fit the picture into its new size."""
        self._draw_rooms()

    def changeEvent(self, event: QEvent) -> None:
        """Keep rooms large enough for larger text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        self.setMinimumSize(self.minimumSizeHint())
        self._draw_rooms()
        self.update()

    def _line_px(self) -> float:
        return QFontMetricsF(self.font()).height()

    def _size_at(self, scale: float) -> QSize:
        wide = self._bounds.width() * scale + 2 * MARGIN_PX
        band = self._bounds.height() * scale + self._line_px() + GAP_PX
        tall = len(self.bands) * band + 2 * MARGIN_PX
        return QSize(round(max(wide, 200)), round(max(tall, 120)))

    def _scale(self) -> float:
        least = LEAST_LINES_PER_M * self._line_px()
        if self._bounds.isEmpty() or not self.bands:
            return least
        words = len(self.bands) * (self._line_px() + GAP_PX)
        across = (self.width() - 2 * MARGIN_PX) / self._bounds.width()
        along = (self.height() - 2 * MARGIN_PX - words) / (self._bounds.height() * len(self.bands))
        return max(least, min(MOST_PX_PER_M, across, along))

    def _top_of(self, place: int) -> float:
        band = self._bounds.height() * self._scale() + self._line_px() + GAP_PX
        return MARGIN_PX + place * band

    def _at(self, place: int, point: Point) -> QPointF:
        """Where a point of the building lies on a band; north is up."""
        scale, (x, y) = self._scale(), point
        left = max(MARGIN_PX, (self.width() - self._bounds.width() * scale) / 2)
        top = self._top_of(place) + self._line_px()
        return QPointF(
            left + (x - self._bounds.left()) * scale, top + (self._bounds.bottom() - y) * scale
        )

    def _outline(self, place: int, shape: RoomShape) -> QPolygonF:
        return QPolygonF([self._at(place, corner) for corner in shape.outline])

    def _draw_rooms(self) -> None:
        self._drawn = tuple(
            self._drawn_at(place, shape)
            for place, band in enumerate(self.bands)
            for shape in band.shapes
        )

    def _drawn_at(self, place: int, shape: RoomShape) -> DrawnRoom:
        outline = self._outline(place, shape)
        wide, tall = outline.boundingRect().width(), outline.boundingRect().height()
        if len(shape.parts) > 1:  # a label beside a corner that turns inward has less
            halves = upright_about(shape.parts, shape.outline, shape.centre)
            wide, tall = (2 * half * self._scale() for half in halves)
        return DrawnRoom(shape.room, outline, self._at(place, shape.centre), wide, tall)

    def _room_at(self, point: QPointF) -> DrawnRoom | None:
        rule = Qt.FillRule.WindingFill
        return next((d for d in self._drawn if d.outline.containsPoint(point, rule)), None)

    # --- painting -----------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint floor after floor, and the chosen room's frame last."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = colours_of(self.palette())
        for place, band in enumerate(self.bands):
            self._paint_ground(painter, place, band, colours)
        for drawn in self._drawn:
            self._paint_room(painter, drawn, colours)
        for place, band in enumerate(self.bands):
            self._paint_shadows(painter, place, band, colours)
        for drawn in self._drawn:
            self._paint_words(painter, drawn, colours)
        chosen = self.drawn_of(self._chosen)
        if chosen is not None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            width = 4 if self.hasFocus() else 3
            for pen in (QPen(QColor(colours.base), width + 4), QPen(QColor(colours.accent), width)):
                painter.setPen(pen)
                painter.drawPolygon(chosen.outline)
        painter.end()

    def _paint_ground(self, painter: QPainter, place: int, band: Band, colours: Colours) -> None:
        font = self.font()
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(QColor(colours.text))
        box = QRectF(MARGIN_PX, self._top_of(place), self.width(), self._line_px())
        painter.drawText(
            box, int(Qt.AlignmentFlag.AlignVCenter), _("Floor {floor}").format(floor=band.floor)
        )
        pen = QPen(QColor(colours.hair))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.save()
        bottom = self._at(place, (0.0, self._bounds.top())).y()
        top = self._at(place, (0.0, self._bounds.bottom())).y()
        left = self._at(place, (self._bounds.left(), 0.0)).x()
        right = self._at(place, (self._bounds.right(), 0.0)).x()
        painter.setClipRect(QRectF(left, top, right - left, bottom - top))
        for corridor in band.corridors:
            pen.setWidthF(corridor.width_m * self._scale())
            painter.setPen(pen)
            painter.drawLine(self._at(place, corridor.start), self._at(place, corridor.end))
        painter.restore()

    def _paint_room(self, painter: QPainter, drawn: DrawnRoom, colours: Colours) -> None:
        row = self._rows.get(drawn.room)
        painter.setPen(QPen(QColor(colours.line if row else colours.hair), 1.2))
        painter.setBrush(QColor(tint_of(row.state, colours).fill if row else colours.window))
        painter.drawPolygon(drawn.outline)
        if row is not None and row.state in PATTERNS:
            ink = QColor(tint_of(row.state, colours).ink)
            ink.setAlpha(PATTERN_STRENGTH)
            painter.setBrush(QBrush(ink, PATTERNS[row.state]))
            painter.drawPolygon(drawn.outline)

    def _paint_shadows(self, painter: QPainter, place: int, band: Band, colours: Colours) -> None:
        pen = QPen(QColor(colours.accent), 2.0, Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for shape in band.shadows:
            painter.drawPolygon(self._outline(place, shape))

    def _paint_words(self, painter: QPainter, drawn: DrawnRoom, colours: Colours) -> None:
        row = self._rows.get(drawn.room)
        sign = sign_of(row, is_late=drawn.room in self._late) if row else ""
        font = fitting_font(self.font(), max(str(drawn.room), sign, key=len), drawn.wide)
        font.setBold(row is not None)
        metrics = QFontMetricsF(font)
        lines = [line for line in (str(drawn.room), sign) if line]
        in_one = " ".join(lines)
        if metrics.height() * len(lines) > drawn.tall and (
            metrics.horizontalAdvance(in_one) <= drawn.wide
        ):
            lines = [in_one]
        widest = max(metrics.horizontalAdvance(line) for line in lines) + 4
        plate = QRectF(0, 0, widest, metrics.height() * len(lines))
        plate.moveCenter(drawn.centre)
        tint = tint_of(row.state, colours) if row else None
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(tint.fill if tint else colours.window))
        painter.drawRoundedRect(plate, 3, 3)
        painter.setPen(QColor(tint.ink if tint else colours.muted))
        painter.setFont(font)
        painter.drawText(plate, int(Qt.AlignmentFlag.AlignCenter), "\n".join(lines))

    # --- hands and keys -----------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the room under the pointer."""
        self._pick(self._room_at(event.position()))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Open the room under the pointer."""
        drawn = self._room_at(event.position())
        if drawn is not None and drawn.room in self._rows:
            self.opened.emit(drawn.room)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Say in words what the room under the pointer is."""
        drawn = self._room_at(event.position())
        row = self._rows.get(drawn.room) if drawn else None
        QToolTip.showText(event.globalPosition().toPoint(), spoken(row) if row else "", self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows go to the next room of the ring that way; Enter opens it."""
        if event.key() in ARROWS:
            self._step(ARROWS[event.key()])
        elif event.key() in ENTER and self._chosen in self._rows:
            self.opened.emit(self._chosen)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QEvent) -> None:
        """With nothing chosen, choose the first room of the ring."""
        if self.drawn_of(self._chosen) is None:
            self._pick(next(iter(self._of_ring()), None))
        self.update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Paint the frame thinner."""
        self.update()

    def _of_ring(self) -> tuple[DrawnRoom, ...]:
        return tuple(drawn for drawn in self._drawn if drawn.room in self._rows)

    def _pick(self, drawn: DrawnRoom | None) -> None:
        if drawn is not None and drawn.room in self._rows:
            self.choose(drawn.room)
            self.picked.emit(drawn.room)

    def _step(self, arrow: tuple[int, int]) -> None:
        here = self.drawn_of(self._chosen)
        if here is None:
            self._pick(next(iter(self._of_ring()), None))
            return
        others = ((drawn, drawn.centre) for drawn in self._of_ring() if drawn is not here)
        self._pick(next_that_way(here.centre, others, arrow))


def spoken(row: RingRoom) -> str:
    """A room of a ring in a sentence."""
    return _("Room {room}: {why}. {state}.").format(
        room=row.room, why=reasons_text(row.reasons), state=state_text(row)
    )


def _is_around(row: RingRoom) -> bool:
    return any(reason.code not in LINKS for reason in row.reasons)


def _bands(
    building: Building, rows: Mapping[RoomNo, RingRoom], near: Sequence[RoomNo], around: QRectF
) -> tuple[Band, ...]:
    """The floors on which rooms of the ring lie, the top one first."""
    floors = {building.shapes[room].floor for room in near}
    centres = [building.shapes[room] for room, row in rows.items() if row.is_centre]
    place = {level: number for number, level in enumerate(sorted(set(building.floors.values())))}
    by_floor: dict[str, list[RoomShape]] = {floor: [] for floor in floors}
    left, right, low, high = around.left(), around.right(), around.top(), around.bottom()
    for shape in building.shapes.values():
        x, y = shape.centre
        if left <= x <= right and low <= y <= high and shape.floor in floors:
            by_floor[shape.floor].append(shape)
    return tuple(
        Band(
            floor,
            tuple(by_floor[floor]),
            tuple(one for one in building.corridors if one.floor == floor),
            tuple(s for s in centres if abs(place[s.level] - place[building.floors[floor]]) == 1),
        )
        for floor in sorted(floors, key=building.floors.__getitem__, reverse=True)
    )
