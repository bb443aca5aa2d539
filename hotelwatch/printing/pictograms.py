"""Cautions and columns without words, for people who read little: our own drawings.

Each is drawn in a square of 24 by 24. A bar across means: do not.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

SIDE = 24.0
THIN, THICK = 1.1, 2.0


class Sign(StrEnum):
    """What a pictogram tells."""

    TWO_PEOPLE = "two_people"
    GLOVES_AND_LIGHT = "gloves_and_light"
    SHARP = "sharp"
    DO_NOT_OPEN = "do_not_open"
    PINCH = "pinch"
    NO_TOUCH = "no_touch"
    MIND = "mind"
    """Something is to be minded; what, stands in words on the first page."""
    LOOKED_AT = "looked_at"
    NOT_LOOKED_AT = "not_looked_at"
    FOUND = "found"


OF_CAUTION = {
    "two_people_lift": Sign.TWO_PEOPLE,
    "ladder_two_people": Sign.TWO_PEOPLE,
    "headboard_two_people": Sign.TWO_PEOPLE,
    "gloves_and_light": Sign.GLOVES_AND_LIGHT,
    "knees_and_light": Sign.GLOVES_AND_LIGHT,
    "staples_are_sharp": Sign.SHARP,
    "do_not_open_encasement": Sign.DO_NOT_OPEN,
    "decide_before_opening": Sign.DO_NOT_OPEN,
    "unplug_pinch": Sign.PINCH,
    "pinch_unfold": Sign.PINCH,
    "outlets_eyes_only": Sign.NO_TOUCH,
}
"""Cautions that have a pictogram of their own."""


def sign_of(caution: str) -> Sign | None:
    """The pictogram that stands for a caution; None for no caution."""
    return OF_CAUTION.get(caution, Sign.MIND) if caution else None


def paint_sign(sign: Sign, painter: QPainter, place: QRectF) -> None:
    """Paint a pictogram as large as a place allows."""
    side = min(place.width(), place.height())
    painter.save()
    painter.translate(place.center().x() - side / 2, place.center().y() - side / 2)
    painter.scale(side / SIDE, side / SIDE)
    _pen(painter, THIN)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(QRectF(0.6, 0.6, SIDE - 1.2, SIDE - 1.2), 3, 3)
    DRAWN[sign](painter)
    painter.restore()


# --- drawings -----------------------------------------------------------------------------


def _pen(painter: QPainter, width: float) -> None:
    pen = QPen(Qt.GlobalColor.black, width)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)


def _lines(painter: QPainter, *corners: tuple[float, float]) -> None:
    painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in corners]))


def _solid(painter: QPainter, *corners: tuple[float, float]) -> None:
    painter.setBrush(Qt.GlobalColor.black)
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in corners]))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _dot(painter: QPainter, x: float, y: float, radius: float) -> None:
    painter.setBrush(Qt.GlobalColor.black)
    painter.drawEllipse(QPointF(x, y), radius, radius)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _two_people(painter: QPainter) -> None:
    """Two who hold a mattress between them, knees bent."""
    painter.drawRoundedRect(QRectF(6.6, 8.6, 10.8, 4.6), 1, 1)
    _lines(painter, (6.6, 10.9), (17.4, 10.9))
    for at, way in ((3.9, 1), (20.1, -1)):
        _pen(painter, THIN)
        _dot(painter, at, 5.0, 1.7)
        _pen(painter, THICK)
        _lines(painter, (at, 8.2), (at - 0.2 * way, 14.2))
        _lines(painter, (at, 9.0), (at + 2.9 * way, 12.6))
        _lines(painter, (at - 0.2 * way, 14.2), (at + 1.8 * way, 16.8), (at + 0.2 * way, 20.6))


def _gloves_and_light(painter: QPainter) -> None:
    """A gloved hand, and a torch with its beam."""
    _pen(painter, THICK)
    for x, top in ((3.6, 6.6), (6.0, 4.4), (8.4, 4.8), (10.8, 7.0)):
        _lines(painter, (x, top), (x, 12.4))
    _solid(painter, (3.6, 12.0), (10.8, 12.0), (10.8, 15.4), (9.8, 20.4), (4.6, 20.4), (3.6, 15.4))
    _lines(painter, (10.6, 15.4), (13.2, 12.6))
    painter.setPen(QPen(Qt.GlobalColor.white, THIN))
    _lines(painter, (3.0, 17.4), (11.4, 17.4))
    _pen(painter, THIN)
    _solid(painter, (19.4, 20.6), (21.8, 18.2), (19.2, 15.6), (16.8, 18.0))
    _solid(painter, (16.0, 17.2), (18.4, 14.8), (17.8, 12.6), (13.8, 16.6))
    for begins, ends in (
        ((15.0, 11.6), (14.2, 9.0)),
        ((17.0, 10.8), (17.4, 5.4)),
        ((19.2, 11.2), (21.0, 8.0)),
    ):
        _lines(painter, begins, ends)


def _sharp(painter: QPainter) -> None:
    """A staple with its points up, and a drop beneath a fingertip."""
    _pen(painter, THICK)
    _lines(painter, (4.4, 13.0), (4.4, 20.4), (19.6, 20.4), (19.6, 13.0))
    _pen(painter, THIN)
    for x in (4.4, 19.6):
        _solid(painter, (x - 1.2, 13.6), (x, 9.4), (x + 1.2, 13.6))
    painter.drawPath(_finger())
    drop = QPainterPath(QPointF(12.0, 12.2))
    drop.cubicTo(14.6, 15.6, 14.2, 17.6, 12.0, 17.6)
    drop.cubicTo(9.8, 17.6, 9.4, 15.6, 12.0, 12.2)
    painter.fillPath(drop, Qt.GlobalColor.black)


def _finger() -> QPainterPath:
    finger = QPainterPath(QPointF(9.4, 2.6))
    finger.lineTo(9.4, 8.4)
    finger.cubicTo(9.4, 11.6, 14.6, 11.6, 14.6, 8.4)
    finger.lineTo(14.6, 2.6)
    finger.moveTo(10.8, 9.2)
    finger.cubicTo(10.8, 7.6, 13.2, 7.6, 13.2, 9.2)
    return finger


def _bar(painter: QPainter) -> None:
    """What is drawn is not to be done."""
    painter.setPen(QPen(Qt.GlobalColor.white, 2 * THICK))
    _lines(painter, (4.0, 20.0), (20.0, 4.0))
    _pen(painter, THICK)
    _lines(painter, (3.2, 20.8), (20.8, 3.2))


def _do_not_open(painter: QPainter) -> None:
    """A zip, closed before its slider and open behind it, barred."""
    _pen(painter, THIN)
    for step in range(4):
        x = 3.4 + step * 1.8
        _lines(painter, (x, 9.4), (x, 14.6))
    _pen(painter, THICK)
    _lines(painter, (13.4, 11.2), (20.6, 6.8))
    _lines(painter, (13.4, 12.8), (20.6, 17.2))
    _solid(painter, (10.4, 10.8), (13.6, 9.8), (13.6, 14.2), (10.4, 13.2))
    _bar(painter)


def _pinch(painter: QPainter) -> None:
    """Two bars of a hinge with a finger between them."""
    _pen(painter, THICK)
    _lines(painter, (3.4, 5.2), (18.8, 11.6), (3.4, 18.0))
    _dot(painter, 18.8, 11.6, 1.2)
    _pen(painter, THIN)
    painter.drawRoundedRect(QRectF(3.0, 9.8, 9.6, 3.6), 1.8, 1.8)
    _lines(painter, (10.6, 10.8), (10.6, 12.4))
    _lines(painter, (15.4, 6.0), (17.6, 7.2))
    _lines(painter, (15.4, 17.2), (17.6, 16.0))


def _no_touch(painter: QPainter) -> None:
    """A socket, barred."""
    _pen(painter, THIN)
    painter.drawRoundedRect(QRectF(5.0, 5.0, 14.0, 14.0), 2, 2)
    _dot(painter, 9.0, 9.0, 1.3)
    _dot(painter, 15.0, 15.0, 1.3)
    _bar(painter)


def _mind(painter: QPainter) -> None:
    """An exclamation mark in a triangle."""
    _pen(painter, THICK)
    _lines(painter, (12.0, 3.8), (20.8, 19.6), (3.2, 19.6), (12.0, 3.8))
    _lines(painter, (12.0, 9.4), (12.0, 14.0))
    _dot(painter, 12.0, 16.8, 0.7)


def _looked_at(painter: QPainter) -> None:
    """An open eye."""
    _pen(painter, THICK)
    eye = QPainterPath(QPointF(2.8, 12.0))
    eye.cubicTo(7.0, 4.6, 17.0, 4.6, 21.2, 12.0)
    eye.cubicTo(17.0, 19.4, 7.0, 19.4, 2.8, 12.0)
    painter.drawPath(eye)
    _dot(painter, 12.0, 12.0, 2.6)


def _not_looked_at(painter: QPainter) -> None:
    """An eye, barred."""
    _looked_at(painter)
    _bar(painter)


def _found(painter: QPainter) -> None:
    """A magnifying glass over spots."""
    _pen(painter, THICK)
    painter.drawEllipse(QRectF(3.4, 3.4, 12.6, 12.6))
    _lines(painter, (14.6, 14.6), (20.6, 20.6))
    for x, y in ((8.0, 8.4), (11.4, 8.0), (9.8, 11.4)):
        _dot(painter, x, y, 0.7)


DRAWN: dict[Sign, Callable[[QPainter], None]] = {
    Sign.TWO_PEOPLE: _two_people,
    Sign.GLOVES_AND_LIGHT: _gloves_and_light,
    Sign.SHARP: _sharp,
    Sign.DO_NOT_OPEN: _do_not_open,
    Sign.PINCH: _pinch,
    Sign.NO_TOUCH: _no_touch,
    Sign.MIND: _mind,
    Sign.LOOKED_AT: _looked_at,
    Sign.NOT_LOOKED_AT: _not_looked_at,
    Sign.FOUND: _found,
}
