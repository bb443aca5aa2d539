"""What lies around the rooms of a drawing: corridors, stairs, storeys, scale, north, overview."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import floor, log10

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from hotelwatch.core.building.rooms import Corridor
from hotelwatch.screens.building.camera import Camera
from hotelwatch.screens.building.room_paint import Frame
from hotelwatch.screens.building.scene import Scene
from hotelwatch.screens.building.stair_signs import paint_sign, plate_of
from hotelwatch.screens.look.plans import SMALLEST_PT
from hotelwatch.screens.look.theme import Colours
from hotelwatch.wording.language import _

SHARE_OF_CORRIDOR = 0.9
"""How much of a corridor's width its wing's name may take."""
SIGN_SHARE = 0.9
"""Letters of stairs and lifts against the usual text."""
EDGE_PX = 12.0
BAR_PX = 6.0
SCALE_RIM_PX = 4.0
STEPS = (5.0, 2.0, 1.0)
STOREY_SHARE = 0.8
"""Of a line of text: a storey that shows lower than that has no name beside it."""


def paint_corridors(
    painter: QPainter, scene: Scene, frame: Frame, *, font: QFont, colours: Colours
) -> None:
    """Corridors under the rooms, with their wing's name where it can be read."""
    to_px = frame.transform()
    pen = QPen(QColor(colours.hair))
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    for corridor in scene.corridors:
        start, end = _ends(corridor)
        line = QLineF(to_px.map(start), to_px.map(end))
        pen.setWidthF(corridor.width_m * frame.scale)
        painter.setPen(pen)
        painter.drawLine(line)
        _paint_wing(painter, corridor, line, scale=frame.scale, font=font, colours=colours)


def paint_signs(
    painter: QPainter, scene: Scene, frame: Frame, *, font: QFont, colours: Colours
) -> None:
    """Stairs and lifts in their corridors, from near enough."""
    to_px, own = frame.transform(), sign_font(font)
    painter.setFont(own)
    for sign in scene.signs:
        at = to_px.map(QPointF(sign.at[0], -sign.at[1]))
        plate = plate_of(sign, at, own, frame.scale)
        if plate is not None:
            paint_sign(painter, plate, colours)


def sign_font(font: QFont) -> QFont:
    """Letters of stairs and lifts."""
    own = QFont(font)
    own.setPointSizeF(max(SMALLEST_PT, font.pointSizeF() * SIGN_SHARE))
    return own


def _ends(corridor: Corridor) -> tuple[QPointF, QPointF]:
    (x0, y0), (x1, y1) = corridor.start, corridor.end
    return QPointF(x0, -y0), QPointF(x1, -y1)


def _paint_wing(
    painter: QPainter,
    corridor: Corridor,
    line: QLineF,
    *,
    scale: float,
    font: QFont,
    colours: Colours,
) -> None:
    """The wing's name along its corridor, with an arrow the way it runs."""
    own = QFont(font)
    tall = corridor.width_m * scale * SHARE_OF_CORRIDOR
    line_px = QFontMetricsF(font).height()
    own.setPointSizeF(max(0.1, min(font.pointSizeF(), font.pointSizeF() * tall / line_px)))
    if not corridor.wing or own.pointSizeF() < SMALLEST_PT:
        return
    is_turned = line.dx() < 0
    text = f"← {corridor.wing}" if is_turned else f"{corridor.wing} →"
    wide = QFontMetricsF(own).horizontalAdvance(text)
    if wide > line.length():
        return
    painter.save()
    painter.translate(line.center())
    painter.rotate(-line.angle() + (180 if is_turned else 0))
    painter.setFont(own)
    painter.setPen(QColor(colours.text))
    box = QRectF(-wide, -tall, 2 * wide, 2 * tall)
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), text)
    painter.restore()


# --- over the picture and beside it ------------------------------------------


def paint_storeys(
    painter: QPainter, scene: Scene, camera: Camera, *, size: QSizeF, colours: Colours
) -> None:
    """Lines between floors."""
    painter.setPen(QPen(QColor(colours.line), 1))
    for storey in scene.storeys:
        bottom = camera.at(size, 0, storey.bottom).y()
        painter.drawLine(QLineF(0, bottom, size.width(), bottom))


def paint_storey_names(
    painter: QPainter,
    scene: Scene,
    camera: Camera,
    *,
    size: QSizeF,
    wide: float,
    colours: Colours,
) -> None:
    """Each floor's name beside the cut, as far as one storey is high enough for it."""
    tall = QFontMetricsF(painter.font()).height()
    painter.setPen(QColor(colours.text))
    for storey in scene.storeys:
        if (storey.bottom - storey.top) * camera.scale < tall * STOREY_SHARE:
            continue
        middle = camera.at(size, 0, (storey.top + storey.bottom) / 2).y()
        if not tall / 2 <= middle <= size.height() - tall / 2:
            continue
        box = QRectF(0, middle - tall / 2, wide, tall)
        align = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        painter.drawText(box, int(align), storey.said)


def paint_cut(
    painter: QPainter, scene: Scene, camera: Camera, *, size: QSizeF, colours: Colours
) -> None:
    """Where the building is cut upright, as a broken line with its ends turned up."""
    if scene.cut is None:
        return
    ends = [camera.at(size, end.x(), end.y()) for end in scene.cut]
    line = QLineF(*ends)
    if not line.length():
        return
    aside = line.normalVector().unitVector()
    out = QPointF(aside.dx(), aside.dy()) * EDGE_PX
    along = line.unitVector()
    further = QPointF(along.dx(), along.dy()) * EDGE_PX
    pen = QPen(QColor(colours.accent), 1.6, Qt.PenStyle.DashDotLine)
    painter.setPen(pen)
    painter.drawLine(QLineF(ends[0] - further, ends[1] + further))
    pen.setStyle(Qt.PenStyle.SolidLine)
    pen.setWidthF(2.6)
    painter.setPen(pen)
    painter.drawLine(QLineF(ends[0] - further, ends[0] - further + out))
    painter.drawLine(QLineF(ends[1] + further, ends[1] + further + out))


def paint_marks(
    painter: QPainter,
    beside: Iterable[QPolygonF],
    chosen: Sequence[QPolygonF],
    *,
    has_focus: bool,
    colours: Colours,
) -> None:
    """A dotted frame around neighbours, a strong one around each piece of the chosen room."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(colours.accent), 2, Qt.PenStyle.DotLine))
    for outline in beside:
        painter.drawPolygon(outline)
    width = 4 if has_focus else 3
    for piece in chosen:
        painter.setPen(QPen(QColor(colours.base), width + 4))
        painter.drawPolygon(piece)
        painter.setPen(QPen(QColor(colours.accent), width))
        painter.drawPolygon(piece)


def scale_length(px_per_m: float, most_px: float) -> float:
    """The longest round number of metres that is not longer than so many pixels."""
    most = most_px / px_per_m
    power = 10.0 ** floor(log10(most))
    return next(step * power for step in STEPS if step * power <= most)


def paint_scale(painter: QPainter, px_per_m: float, *, within: QRectF, colours: Colours) -> None:
    """A bar of a round number of metres, with the number below it."""
    metres = scale_length(px_per_m, within.width() - 2 * SCALE_RIM_PX)
    wide = metres * px_per_m
    bar = QRectF(within.center().x() - wide / 2, within.top() + SCALE_RIM_PX, wide, BAR_PX)
    painter.setPen(QPen(QColor(colours.text), 1))
    painter.setBrush(QColor(colours.base))
    painter.drawRect(bar)
    painter.fillRect(QRectF(bar.left(), bar.top(), wide / 2, BAR_PX), QColor(colours.text))
    words = QRectF(within)
    words.setTop(bar.bottom() + SCALE_RIM_PX / 2)
    centre = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop
    painter.drawText(words, int(centre), _("{n} m").format(n=f"{metres:g}"))


def paint_north(painter: QPainter, *, at: QPointF, colours: Colours) -> None:
    """An arrow to the north, with its letter."""
    metrics = QFontMetricsF(painter.font())
    tall = metrics.height()
    arrow = QPolygonF(
        [
            at + QPointF(0, -tall * 0.7),
            at + QPointF(tall * 0.36, tall * 0.5),
            at + QPointF(0, tall * 0.2),
            at + QPointF(-tall * 0.36, tall * 0.5),
        ]
    )
    painter.setPen(QPen(QColor(colours.base), 3))
    painter.setBrush(QColor(colours.text))
    painter.drawPolygon(arrow)
    painter.setPen(QPen(QColor(colours.text), 1))
    painter.drawPolygon(arrow)
    letter = _("N")
    box = QRectF(at.x() - tall, at.y() + tall * 0.5, 2 * tall, tall)
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), letter)
