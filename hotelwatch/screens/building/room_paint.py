"""Rooms as they are painted: ground and pattern from afar, sign and gauge, number, words near by.

The gauge tells by its form: a bar as long as the share of the cycle that is used up, and,
once it is used up, a bar with an arrow's head that points beyond its end.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPen,
    QPolygonF,
    QTransform,
)

from hotelwatch.core.cases.room_stands import RoomStanding
from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.building.rows import FOUND_SIGN, GLYPHS, TONES, RoomRow
from hotelwatch.screens.building.scene import Item
from hotelwatch.screens.look.plans import PATTERN_STRENGTH, SMALLEST_PT
from hotelwatch.screens.look.theme import Colours, Tint

PATTERNS: Mapping[RoomStanding, Qt.BrushStyle] = {
    RoomStanding.QUARANTINE: Qt.BrushStyle.DiagCrossPattern,
    RoomStanding.FOUND: Qt.BrushStyle.Dense6Pattern,
    RoomStanding.TO_CHECK: Qt.BrushStyle.Dense7Pattern,
    RoomStanding.OVERDUE: Qt.BrushStyle.BDiagPattern,
    RoomStanding.DUE_SOON: Qt.BrushStyle.HorPattern,
}
AIR_PX = 3.0
GAUGE_STEPS = 8
"""From afar a gauge is painted anew when another eighth of the cycle is used up."""
LEAST_GAUGE_PX = 22.0
NUMBER_AND_GAUGE = 1.5
"""Lines of text that a number takes with a gauge below it."""
WORDS_AS_WIDE_AS = "000 of 000 days"


class Detail(IntEnum):
    """How much one can make out of a room, by how large it shows."""

    GROUND = 0
    SIGN = 1
    NUMBER = 2
    WORDS = 3


@dataclass(frozen=True)
class Dress:
    """What rooms are painted by: how they stand, which of them count, colours and letters."""

    rows: Mapping[RoomNo, RoomRow]
    shown: frozenset[RoomNo] | None
    """Rooms that stand out; None: all."""
    colours: Colours
    font: QFont

    def tint_of(self, room: RoomNo) -> Tint:
        """Ground and ink of a room."""
        row = self.rows.get(room)
        if row is None or not self.stands_out(room):
            return Tint(self.colours.window, self.colours.muted)
        tone = TONES[row.state]
        return self.colours.tones[tone] if tone else Tint(self.colours.base, self.colours.text)

    def stands_out(self, room: RoomNo) -> bool:
        """Whether a room is among those that count."""
        return self.shown is None or room in self.shown

    def look_of(self, room: RoomNo, detail: Detail) -> object:
        """What shows of a room: if it is the same again, nothing needs to be painted."""
        row = self.rows.get(room)
        if row is None:
            return None
        if detail >= Detail.WORDS:
            return row, self.stands_out(room)
        if detail is Detail.GROUND:
            return row.state, self.stands_out(room)
        share = row.share
        steps = None if share is None else min(GAUGE_STEPS + 1, int(share * GAUGE_STEPS))
        return row.state, steps, row.stand.found_on is None, self.stands_out(room)

    @cached_property
    def bold(self) -> QFont:
        """For numbers and signs."""
        font = QFont(self.font)
        font.setBold(True)
        return font

    @cached_property
    def small(self) -> QFont:
        """For words under a number."""
        font = QFont(self.font)
        font.setPointSizeF(max(SMALLEST_PT, font.pointSizeF() * 0.88))
        return font

    @cached_property
    def line_px(self) -> float:
        """Height of a line of a number."""
        return QFontMetricsF(self.bold).height()

    @cached_property
    def words_px(self) -> float:
        """Width that words want."""
        return QFontMetricsF(self.small).horizontalAdvance(WORDS_AS_WIDE_AS) + 2 * AIR_PX

    @cached_property
    def _widths(self) -> dict[str, float]:
        return {}

    def width_of(self, text: str) -> float:
        """Width of a number in the usual size."""
        if text not in self._widths:
            self._widths[text] = QFontMetricsF(self.bold).horizontalAdvance(text)
        return self._widths[text]

    def detail_of(self, wide: float, tall: float) -> Detail:
        """How much shows of a room of so many pixels."""
        if wide >= self.words_px and tall >= self.line_px * 4:
            return Detail.WORDS
        smallest = SMALLEST_PT / self.font.pointSizeF()
        if wide >= self.line_px * 1.5 * smallest and tall >= self.line_px * smallest:
            return Detail.NUMBER
        if min(wide, tall) >= self.line_px * 0.6:
            return Detail.SIGN
        return Detail.GROUND


@dataclass(frozen=True, slots=True)
class Frame:
    """Which piece of a scene is painted: what lies at its corner, and pixels for a metre."""

    left: float
    top: float
    scale: float

    def transform(self) -> QTransform:
        """From metres of the scene to pixels of the piece."""
        scale = self.scale
        return QTransform(scale, 0, 0, scale, -self.left * scale, -self.top * scale)


def paint_rooms(painter: QPainter, items: Iterable[Item], frame: Frame, dress: Dress) -> None:
    """Paint rooms: all grounds first, for a number may reach over its wall."""
    to_px = frame.transform()
    listed = [(item, to_px.mapRect(item.box)) for item in items]
    _paint_grounds(painter, listed, to_px, dress)
    near = [
        (item, to_px.mapRect(item.inner), detail)
        for item, _box in listed
        if (detail := detail_at(item, frame.scale, dress)) is not Detail.GROUND
    ]
    gauges = _Gauges()
    for item, inner, detail in near:
        row = dress.rows.get(item.room)
        if row is not None and dress.stands_out(item.room):
            gauges.add(row, inner, detail, dress)
    gauges.paint(painter)
    for item, inner, detail in near:
        _paint_words(painter, item, inner, detail=detail, dress=dress)


def detail_at(item: Item, scale: float, dress: Dress) -> Detail:
    """How much shows of a room at so many pixels for a metre."""
    return dress.detail_of(item.inner.width() * scale, item.inner.height() * scale)


# --- grounds ------------------------------------------------------------------------------


def _paint_grounds(
    painter: QPainter, listed: Sequence[tuple[Item, QRectF]], to_px: QTransform, dress: Dress
) -> None:
    groups: defaultdict[tuple[bool, str, str, Qt.BrushStyle | None], list[tuple[Item, QRectF]]]
    groups = defaultdict(list)
    for item, box in listed:
        tint = dress.tint_of(item.room)
        row = dress.rows.get(item.room)
        stands_out = row is not None and dress.stands_out(item.room)
        pattern = PATTERNS.get(row.state) if row is not None and stands_out else None
        groups[stands_out, tint.fill, tint.ink, pattern].append((item, box))
    # Rooms that stand out lie over those that do not, at shared walls too.
    for (stands_out, fill, ink, pattern), members in sorted(
        groups.items(), key=lambda group: group[0][0]
    ):
        rects = [box for item, box in members if item.is_upright]
        others = [to_px.map(item.outline) for item, _box in members if not item.is_upright]
        painter.setPen(QPen(QColor(dress.colours.line if stands_out else dress.colours.hair), 1.0))
        painter.setBrush(QColor(fill))
        _paint_shapes(painter, rects, others)
        if pattern is not None:
            strong = QColor(ink)
            strong.setAlpha(PATTERN_STRENGTH)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QBrush(strong, pattern))
            _paint_shapes(painter, rects, others)


def _paint_shapes(painter: QPainter, rects: Sequence[QRectF], others: Sequence[QPolygonF]) -> None:
    if rects:
        painter.drawRects(rects)
    for outline in others:
        painter.drawPolygon(outline)


# --- gauges ---------------------------------------------------------------------------------


class _Gauges:
    """Bars of all rooms, painted together by their ink."""

    def __init__(self) -> None:
        self._bars: defaultdict[tuple[str, str], tuple[list[QRectF], list[QRectF]]]
        self._bars = defaultdict(lambda: ([], []))
        self._heads: defaultdict[str, list[QPolygonF]] = defaultdict(list)

    def add(self, row: RoomRow, inner: QRectF, detail: Detail, dress: Dress) -> None:
        """Take in a room's bar, if it has one and there is room for it."""
        least = LEAST_GAUGE_PX if detail is Detail.SIGN else dress.line_px * NUMBER_AND_GAUGE
        if row.stand.due_on is None or inner.height() < max(least, LEAST_GAUGE_PX):
            return
        tint = dress.tint_of(row.room)
        tall = max(4.0, dress.line_px * (0.34 if detail is Detail.WORDS else 0.24))
        wide = inner.width() - 4 * AIR_PX
        if wide < tall:
            return
        frame = QRectF(inner.left() + 2 * AIR_PX, inner.bottom() - 2 * AIR_PX - tall, wide, tall)
        frames, fills = self._bars[tint.fill, tint.ink]
        frames.append(frame)
        share = row.share
        if share is not None:
            fills.append(QRectF(frame.left(), frame.top(), wide * min(1.0, share), tall))
        if share is None or share > 1:
            self._heads[tint.ink].append(_head(frame, is_hollow=share is None))

    def paint(self, painter: QPainter) -> None:
        """Paint every bar: its ground, what is used up, its frame, then heads beyond the end."""
        for (fill, ink), (frames, fills) in self._bars.items():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(fill))
            painter.drawRects(frames)
            painter.setBrush(QColor(ink))
            if fills:
                painter.drawRects(fills)
            painter.setPen(QPen(QColor(ink), 1.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRects(frames)
        for ink, heads in self._heads.items():
            painter.setPen(QPen(QColor(ink), 1.0))
            painter.setBrush(QColor(ink))
            for head in heads:
                painter.drawPolygon(head)


def _head(frame: QRectF, *, is_hollow: bool) -> QPolygonF:
    """An arrow's head beyond a full bar; for a bed never looked at, a stroke across it."""
    tall = frame.height()
    if is_hollow:
        middle = frame.center().x()
        return QPolygonF(
            [
                QPointF(middle - tall / 2, frame.bottom()),
                QPointF(middle + tall / 2, frame.top()),
            ]
        )
    end = frame.right() + AIR_PX
    return QPolygonF(
        [
            QPointF(end - tall, frame.top() - tall * 0.6),
            QPointF(end, frame.center().y()),
            QPointF(end - tall, frame.bottom() + tall * 0.6),
        ]
    )


# --- words -------------------------------------------------------------------------------------


def _paint_words(
    painter: QPainter, item: Item, inner: QRectF, *, detail: Detail, dress: Dress
) -> None:
    row = dress.rows.get(item.room)
    tint = dress.tint_of(item.room)
    counts = row is not None and dress.stands_out(item.room)
    sign = GLYPHS[row.state] if row is not None and counts else ""
    if row is not None and counts and row.stand.found_on is not None and sign != FOUND_SIGN:
        sign = f"{sign}{FOUND_SIGN}"
    painter.setPen(QColor(tint.ink))
    if detail is Detail.WORDS and row is not None:
        _paint_all_words(painter, row, inner, sign=sign, dress=dress, counts=counts)
        return
    label = str(item.room)
    font, scale = dress.bold, 1.0
    room = inner.width() - 2 * AIR_PX
    if dress.width_of(label) > room:
        scale = max(0.1, room / dress.width_of(label))
    fits = dress.font.pointSizeF() * scale >= SMALLEST_PT and detail >= Detail.NUMBER
    lines = [label] if fits else []
    if sign and (not lines or inner.height() >= dress.line_px * (1 + scale) + LEAST_GAUGE_PX / 2):
        lines.append(sign)
    elif sign and lines:
        lines, scale = _beside(label, sign, room, dress=dress, scale=scale)
    if not lines:
        return
    if scale < 1.0 and fits:
        font = QFont(dress.bold)
        font.setPointSizeF(dress.font.pointSizeF() * scale)
    height = dress.line_px * min(1.0, scale if fits else 1.0)
    wide = max(dress.width_of(line) for line in lines) * (scale if fits else 1.0) + 4
    plate = QRectF(0, 0, min(wide, inner.width()), height * len(lines))
    plate.moveCenter(inner.center())
    if inner.height() >= LEAST_GAUGE_PX:
        plate.translate(0, -min(dress.line_px * 0.3, max(0.0, plate.top() - inner.top())))
    painter.fillRect(plate, QColor(tint.fill))
    painter.setFont(font)
    painter.drawText(plate, int(Qt.AlignmentFlag.AlignCenter), "\n".join(lines))


def _beside(
    label: str, sign: str, room: float, *, dress: Dress, scale: float
) -> tuple[list[str], float]:
    """A number with its sign, rather smaller than without; of two signs the first counts more."""
    for line in (f"{label} {sign}", f"{label} {sign[0]}"):
        smaller = min(1.0, room / dress.width_of(line))
        if dress.font.pointSizeF() * smaller >= SMALLEST_PT:
            return [line], min(scale, smaller)
    return [label], scale


def _paint_all_words(
    painter: QPainter, row: RoomRow, inner: QRectF, *, sign: str, dress: Dress, counts: bool
) -> None:
    tint = dress.tint_of(row.room)
    box = inner.adjusted(2 * AIR_PX, AIR_PX, -2 * AIR_PX, -AIR_PX)
    small = QFontMetricsF(dress.small)
    lines = [row.used, row.short] if counts else []
    left = box.height() - dress.line_px * 1.4 - LEAST_GAUGE_PX
    lines = lines[: max(0, int(left // small.height()))]
    tall = dress.line_px + small.height() * len(lines)
    top = box.top() + max(0.0, (box.height() - tall - LEAST_GAUGE_PX) / 2)
    elide = Qt.TextElideMode.ElideRight
    if row.short in lines and small.horizontalAdvance(row.short) > box.width():
        lines[lines.index(row.short)] = row.shortest
    told = [small.elidedText(line, elide, box.width()) for line in lines]
    number = f"{row.room} {sign}".strip()
    wide = max([dress.width_of(number), *(small.horizontalAdvance(line) for line in told)])
    plate = QRectF(0, 0, min(box.width() + 4, wide + 8), tall + 2)
    plate.moveTop(top - 1)
    plate.moveLeft(box.center().x() - plate.width() / 2)
    painter.fillRect(plate, QColor(tint.fill))
    painter.setFont(dress.bold)
    middle = int(Qt.AlignmentFlag.AlignCenter)
    painter.drawText(QRectF(box.left(), top, box.width(), dress.line_px), middle, number)
    painter.setFont(dress.small)
    for place, line in enumerate(told):
        at = QRectF(
            box.left(), top + dress.line_px + place * small.height(), box.width(), small.height()
        )
        painter.drawText(at, middle, line)
