"""The signs of stairs and lifts on the drawing of a floor: a plate that says which it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from hotelwatch.core.building.joins import place_on
from hotelwatch.core.building.rooms import Building, Corridor, Point
from hotelwatch.core.round_facts import Climb, StairPlaced
from hotelwatch.screens.look.theme import Colours
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

SIGNS = {Climb.STAIR: "≣", Climb.LIFT: "⇅"}
AIR_PX = 3


@dataclass(frozen=True, slots=True)
class StairSign:
    """What the plate says, what is said of it in a sentence, and where it stands in metres.

    ``along`` is its corridor's direction on the drawing (length 1, downward is positive),
    ``reach`` how many metres of corridor lie before and behind it, zero beyond its ends.
    """

    text: str
    spoken: str
    at: Point
    along: Point = (1.0, 0.0)
    reach: Point = (0.0, 0.0)
    width_m: float = 0.0

    @property
    def glyph(self) -> str:
        """What stands for the word where there is no room for it."""
        return self.text[0]


@dataclass(frozen=True, slots=True)
class Plate:
    """A sign as it shows: its words and its box."""

    text: str
    box: QRectF


def signs_of(
    building: Building, floor: str, stairs: Iterable[StairPlaced]
) -> tuple[StairSign, ...]:
    """The stairs and lifts that open on a floor."""
    corridors = {c.wing: c for c in building.corridors if c.floor == floor}
    return tuple(
        _sign_in(corridors[stair.wing], stair) for stair in stairs if stair.wing in corridors
    )


def _sign_in(corridor: Corridor, stair: StairPlaced) -> StairSign:
    (x0, y0), (x1, y1) = corridor.start, corridor.end
    length = hypot(x1 - x0, y1 - y0)
    return StairSign(
        text=f"{SIGNS[stair.kind]} {label(stair.kind)}",
        spoken=_("{stair}: {kind}").format(stair=stair.name, kind=label(stair.kind)),
        at=place_on(corridor, stair.along_m),
        along=((x1 - x0) / length, (y0 - y1) / length) if length else (1.0, 0.0),
        reach=(max(0.0, stair.along_m), max(0.0, length - stair.along_m)),
        width_m=corridor.width_m,
    )


def plate_of(sign: StairSign, at: QPointF, font: QFont, scale: float) -> Plate | None:
    """A sign's plate within its corridor, at ``scale`` pixels for a metre.

    The word where it fits between the rooms on both sides, else the glyph; None where not
    even that does. ``at`` is where its place shows.
    """
    metrics = QFontMetricsF(font)
    for text in (sign.text, sign.glyph):
        wide, tall = metrics.horizontalAdvance(text) + 2 * AIR_PX, metrics.height()
        ux, uy = abs(sign.along[0]), abs(sign.along[1])
        if wide * uy + tall * ux > sign.width_m * scale:
            continue
        # At a corridor's end the plate moves in, off the room across the end.
        half = (wide * ux + tall * uy) / 2
        behind, before = (reach * scale for reach in sign.reach)
        if 0 < behind + before >= 2 * half:
            away = max(0.0, half - behind) - max(0.0, half - before)
            at = at + QPointF(sign.along[0], sign.along[1]) * away
        plate = QRectF(0, 0, wide, tall)
        plate.moveCenter(at)
        return Plate(text, plate)
    return None


def paint_sign(painter: QPainter, plate: Plate, colours: Colours) -> None:
    """Paint a plate with its words."""
    painter.setPen(QPen(QColor(colours.text), 1))
    painter.setBrush(QColor(colours.base))
    painter.drawRect(plate.box)
    painter.drawText(plate.box, int(Qt.AlignmentFlag.AlignCenter), plate.text)
