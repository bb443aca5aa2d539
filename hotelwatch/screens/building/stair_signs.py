"""The signs of stairs and lifts on the drawing of a floor: a plate that says which it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from hotelwatch.core.building.joins import place_on
from hotelwatch.core.building.rooms import Building, Point
from hotelwatch.core.round_facts import Climb, StairPlaced
from hotelwatch.screens.theme import Colours
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

SIGNS = {Climb.STAIR: "≣", Climb.LIFT: "⇅"}
AIR_PX = 3


@dataclass(frozen=True, slots=True)
class StairSign:
    """What the plate says, what is said of it in a sentence, and where it stands in metres."""

    text: str
    spoken: str
    at: Point


def signs_of(
    building: Building, floor: str, stairs: Iterable[StairPlaced]
) -> tuple[StairSign, ...]:
    """The stairs and lifts that open on a floor."""
    corridors = {c.wing: c for c in building.corridors if c.floor == floor}
    return tuple(
        StairSign(
            text=f"{SIGNS[stair.kind]} {label(stair.kind)}",
            spoken=_("{stair}: {kind}").format(stair=stair.name, kind=label(stair.kind)),
            at=place_on(corridors[stair.wing], stair.along_m),
        )
        for stair in stairs
        if stair.wing in corridors
    )


def plate_of(sign: StairSign, at: QPointF, font: QFont) -> QRectF:
    """Where a sign's plate lies on the drawing."""
    metrics = QFontMetricsF(font)
    wide = metrics.horizontalAdvance(sign.text) + 2 * AIR_PX
    plate = QRectF(0, 0, wide, metrics.height())
    plate.moveCenter(at)
    return plate


def paint_sign(painter: QPainter, sign: StairSign, plate: QRectF, colours: Colours) -> None:
    """Paint a plate with its words."""
    painter.setPen(QPen(QColor(colours.text), 1))
    painter.setBrush(QColor(colours.base))
    painter.drawRect(plate)
    painter.drawText(plate, int(Qt.AlignmentFlag.AlignCenter), sign.text)
