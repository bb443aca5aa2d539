"""Painting a drawn bed with lines and areas only, in any units, on screen and on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from hotelwatch.printing.bed_drawing.hatching import hatch
from hotelwatch.printing.bed_drawing.picture import (
    HEIGHT,
    LABEL_HEIGHT,
    LABEL_WIDTH,
    BedPicture,
    Outline,
    PlaceMark,
    Point,
    Shade,
    Shape,
    Stroke,
)
from hotelwatch.printing.bed_drawing.style import NOTHING_SAID, BedStyle, SaidOfPlaces

WEIGHTS = {Stroke.FINE: 0.6, Stroke.EDGE: 1.0, Stroke.OUTER: 1.7}
LIKELIEST = 5
HEIGHT_SHARE, WIDTH_SHARE = 0.62, 0.8
"""Of a number's frame, what its digits may take."""
THIN_SPACE = "\N{THIN SPACE}"
THICKEST = 0.0023
"""An edge in widths of the picture: a small picture has finer lines, 60 mm wide 0.14 mm."""
PEOPLE_SHARE = 0.75
"""Height of the people who lift, of a number's."""
TWO_DIGITS = 10
CHOSEN_WIDTH, FOLLOWING_WIDTH = 3.0, 2.2


def fitted(rect: QRectF) -> QRectF:
    """The largest rectangle of a picture's shape in the middle of another."""
    width = min(rect.width(), rect.height() / HEIGHT)
    box = QRectF(0, 0, width, width * HEIGHT)
    box.moveCenter(rect.center())
    return box


def paint_bed(
    painter: QPainter,
    rect: QRectF,
    *,
    picture: BedPicture,
    style: BedStyle,
    said: SaidOfPlaces = NOTHING_SAID,
) -> None:
    """Paint a picture into a rectangle, as large as its shape allows."""
    paint_pieces(painter, rect, picture=picture, style=style)
    paint_marks(painter, rect, picture=picture, style=style, said=said)


def paint_pieces(painter: QPainter, rect: QRectF, *, picture: BedPicture, style: BedStyle) -> None:
    """Paint the bed alone, lit where it is likely: what stays the same while a check is typed."""
    box = fitted(rect)
    style = _fine(style, box)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    rank = {mark.place: mark.likeliness for mark in picture.marks}
    for shape in picture.shapes:
        _paint_shape(painter, box, shape, style, rank.get(shape.place, 0))
    painter.restore()


def paint_marks(
    painter: QPainter,
    rect: QRectF,
    *,
    picture: BedPicture,
    style: BedStyle,
    said: SaidOfPlaces = NOTHING_SAID,
) -> None:
    """Paint who lifts, the numbers, how places stand, and frames around two of them."""
    box = fitted(rect)
    style = _fine(style, box)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for place, width in ((said.following, FOLLOWING_WIDTH), (said.current, CHOSEN_WIDTH)):
        if place:
            _frame_place(painter, box, picture.outlines_of(place), (style, width))
    has_two_digits = any(mark.number >= TWO_DIGITS for mark in picture.marks)
    size = label_size(box, style, is_wide=bool(said.glyphs) or has_two_digits)
    for lift in picture.lifts:
        height = size[1] * PEOPLE_SHARE
        middle = at(box, lift.at)
        paint_people(painter, middle, people=lift.people, style=style, height=height)
    for mark in picture.marks:
        _paint_leader(painter, box, mark, style)
    _Labels(painter, box, style, said).paint(picture.marks, size)
    painter.restore()


def _fine(style: BedStyle, box: QRectF) -> BedStyle:
    """The style with lines no heavier than a picture of this size bears."""
    return replace(style, line=min(style.line, box.width() * THICKEST))


def label_size(box: QRectF, style: BedStyle, *, is_wide: bool) -> tuple[float, float]:
    """Width and height of a number's frame in a picture of this size."""
    height = min(style.label, box.width() * LABEL_HEIGHT)
    widest = LABEL_WIDTH / LABEL_HEIGHT if is_wide else 1.12
    return height * widest, height


def at(box: QRectF, point: Point) -> QPointF:
    """A point of the picture in the painter's units."""
    return QPointF(box.x() + point[0] * box.width(), box.y() + point[1] * box.width())


def path_of(box: QRectF, outline: Outline, *, is_closed: bool = True) -> QPainterPath:
    """An outline as a path in the painter's units."""
    path = QPainterPath()
    path.addPolygon(QPolygonF([at(box, point) for point in outline]))
    if is_closed:
        path.closeSubpath()
    return path


def _paint_shape(painter: QPainter, box: QRectF, shape: Shape, style: BedStyle, rank: int) -> None:
    path = path_of(box, shape.corners, is_closed=shape.is_closed)
    if shape.shade is not Shade.NONE:
        ground = style.shades[shape.shade]
        if shape.is_lit and rank > 1 and shape.shade is not Shade.DEEP:
            ground = style.glow[rank - 1]
        painter.fillPath(path, QColor(ground))
        if shape.is_lit and rank > 1:
            hatch(painter, path, rank=rank, style=style)
    if shape.stroke is Stroke.NONE:
        return
    weight = WEIGHTS[shape.stroke] * style.line
    if shape.is_lit and rank == LIKELIEST:
        weight *= 1.4
    pen = QPen(QColor(style.ink), weight)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    if shape.is_dashed:
        pen.setDashPattern([5, 4])
    painter.strokePath(path, pen)


def _frame_place(
    painter: QPainter,
    box: QRectF,
    outlines: tuple[Outline, ...],
    drawn: tuple[BedStyle, float],
) -> None:
    style, width = drawn
    whole = QPainterPath()
    for outline in outlines:
        whole = whole.united(path_of(box, outline))
    pen = QPen(QColor(style.chosen), width * style.line)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if width == FOLLOWING_WIDTH:
        pen.setDashPattern([2.5, 2])
    painter.strokePath(whole, pen)


def _paint_leader(painter: QPainter, box: QRectF, mark: PlaceMark, style: BedStyle) -> None:
    start, end = at(box, mark.anchor), at(box, mark.label)
    painter.setPen(QPen(QColor(style.ground), style.line * 3.2))
    painter.drawLine(start, end)
    painter.setPen(QPen(QColor(style.ink), style.line * 0.9))
    painter.drawLine(start, end)
    painter.setBrush(QColor(style.ink))
    painter.drawEllipse(start, style.line * 1.5, style.line * 1.5)


def paint_people(
    painter: QPainter, middle: QPointF, *, people: int, style: BedStyle, height: float
) -> None:
    """So many people beside an arrow up: who it takes to lift what stands below."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(style.ink))
    step, bottom = height * 0.52, middle.y() + height / 2
    left = middle.x() - step * people / 2 - height * 0.1
    for number in range(people):
        x = left + step * number
        painter.drawEllipse(QPointF(x, bottom - height * 0.8), height * 0.15, height * 0.15)
        body = QPainterPath()
        body.addRoundedRect(
            QRectF(x - height * 0.21, bottom - height * 0.6, height * 0.42, height * 0.6),
            height * 0.2,
            height * 0.2,
        )
        painter.drawPath(body)
    x = left + step * people
    head = [(0.0, -0.95), (0.24, -0.6), (-0.24, -0.6)]
    stem = QRectF(x - height * 0.06, bottom - height * 0.62, height * 0.12, height * 0.62)
    painter.drawRect(stem)
    painter.drawPolygon(
        QPolygonF([QPointF(x + dx * height, bottom + dy * height) for dx, dy in head])
    )


class _Labels:
    """The frames with numbers."""

    def __init__(self, painter: QPainter, box: QRectF, style: BedStyle, said: SaidOfPlaces) -> None:
        self._painter, self._box, self._style, self._said = painter, box, style, said

    def paint(self, marks: Sequence[PlaceMark], size: tuple[float, float]) -> None:
        """Every place's number, and the sign for how it stands; all in one size of text."""
        widest = [self._text(mark) for mark in marks]
        self._painter.setFont(fitting_font(self._painter, widest, font=self._style.font, size=size))
        for mark in marks:
            self._paint_one(mark, size)

    def _paint_one(self, mark: PlaceMark, size: tuple[float, float]) -> None:
        painter, style = self._painter, self._style
        frame = QRectF(0, 0, *size)
        frame.moveCenter(at(self._box, mark.label))
        is_current = mark.place == self._said.current
        is_found = mark.place in self._said.found
        ground = style.chosen if is_current else style.ink if is_found else style.ground
        ink = style.on_chosen if is_current else style.ground if is_found else style.ink
        pen = QPen(QColor(style.ink), style.line * (1.8 if is_found else 1.2))
        if mark.place in self._said.left:
            pen.setDashPattern([3, 2])
        painter.setPen(pen)
        painter.setBrush(QColor(ground))
        painter.drawPath(_frame_path(frame, is_optional=mark.is_optional))
        painter.setPen(QColor(ink))
        painter.drawText(frame, Qt.AlignmentFlag.AlignCenter, self._text(mark))

    def _text(self, mark: PlaceMark) -> str:
        glyph = self._said.glyphs.get(mark.place, "")
        return f"{mark.number}{THIN_SPACE}{glyph}" if glyph else str(mark.number)


def fitting_font(
    painter: QPainter, texts: Sequence[str], *, font: QFont, size: tuple[float, float]
) -> QFont:
    """The font in the largest size in which all texts fit into a number's frame."""
    fitting = QFont(font)
    fitting.setBold(True)
    device = painter.device()
    measured = QFontMetricsF(fitting, device) if device is not None else QFontMetricsF(fitting)
    height = max(1.0, measured.capHeight())
    width = max([1.0, *(measured.horizontalAdvance(text) for text in texts)])
    share = min(size[1] * HEIGHT_SHARE / height, size[0] * WIDTH_SHARE / width)
    fitting.setPointSizeF(max(0.5, fitting.pointSizeF() * share))
    return fitting


def _frame_path(frame: QRectF, *, is_optional: bool) -> QPainterPath:
    """Round ends; cut corners where the place is looked at only if in doubt."""
    path = QPainterPath()
    if not is_optional:
        path.addRoundedRect(frame, frame.height() / 2, frame.height() / 2)
        return path
    cut = frame.height() * 0.3
    left, top, right, bottom = frame.left(), frame.top(), frame.right(), frame.bottom()
    path.addPolygon(
        QPolygonF(
            [
                QPointF(left + cut, top),
                QPointF(right - cut, top),
                QPointF(right, top + cut),
                QPointF(right, bottom - cut),
                QPointF(right - cut, bottom),
                QPointF(left + cut, bottom),
                QPointF(left, bottom - cut),
                QPointF(left, top + cut),
            ]
        )
    )
    path.closeSubpath()
    return path
