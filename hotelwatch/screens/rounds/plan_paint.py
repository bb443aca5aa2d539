"""How the rounds' calendar is painted. It reads rows and a layout, and changes nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from hotelwatch.core.checks.slots import SlotState
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.rounds.calendar_rows import CalendarRows, Chip
from hotelwatch.screens.look.theme import Colours, Tint, Tone
from hotelwatch.screens.rounds.plan_layout import (
    CHIP_AIR_PX,
    PAD_PX,
    PIN_SHARE,
    Item,
    LaidCell,
    Layout,
    Place,
    small_font,
)
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.plan_calendar import away_text, load_text

ROUND_PX = 6.0
WAVE_PX, WAVE_TALL_PX = 7.0, 3.0
HATCH_STRENGTH = 90
LINES = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)
MIDDLE = int(Qt.AlignmentFlag.AlignCenter)
LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


@dataclass(frozen=True, slots=True)
class Dragged:
    """A chip under way, and what the cell under it says to that."""

    chip: Chip
    at: QPointF
    over: tuple[date, TeamName] | None
    refusal: str
    """Why it can't go there; empty if it can."""
    told: str
    """What letting go would do, or why it does nothing."""


@dataclass(frozen=True, slots=True)
class Scene:
    """What is painted beside the rows."""

    today: date
    current: Place | None = None
    has_focus: bool = False
    tinted_days: frozenset[date] = frozenset()
    tinted_rooms: frozenset[RoomNo] = frozenset()
    dragged: Dragged | None = None
    shut: Mapping[tuple[date, TeamName], bool] = field(default_factory=dict)
    """Where the dragged chip can't go."""


class Brush:
    """Paints one calendar in one look."""

    def __init__(self, painter: QPainter, font: QFont, colours: Colours) -> None:
        """Paint with this."""
        self._painter, self._font, self._colours = painter, font, colours
        self._small = small_font(font)
        self._bold = QFont(font)
        self._bold.setBold(True)

    # --- heads --------------------------------------------------------------

    def day_head(self, day: date, rect: QRectF, scene: Scene) -> None:
        """A day's name above its column; today is said and underlined."""
        paint, colours = self._painter, self._colours
        is_today = day == scene.today
        paint.fillRect(rect, QColor(colours.band))
        if day in scene.tinted_days:
            self._mark(rect)
        paint.setPen(QColor(colours.text))
        paint.setFont(self._bold)
        inner = rect.adjusted(PAD_PX, PAD_PX, -PAD_PX, -PAD_PX)
        paint.drawText(inner, LINES, short_day_text(day))
        if is_today:
            paint.setFont(self._small)
            paint.setPen(QColor(colours.accent))
            below = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
            paint.drawText(inner, below, _("Today"))
            paint.fillRect(QRectF(rect.left(), rect.bottom() - 3, rect.width(), 3), colours.accent)
        self._edge(rect)

    def team_head(self, team: str, rect: QRectF) -> None:
        """A team's name beside its row."""
        paint = self._painter
        paint.fillRect(rect, QColor(self._colours.band))
        paint.setPen(QColor(self._colours.text))
        paint.setFont(self._bold)
        paint.drawText(rect.adjusted(PAD_PX, PAD_PX, -PAD_PX, -PAD_PX), LINES, team)
        self._edge(rect)

    # --- cells --------------------------------------------------------------

    def cell(self, laid: LaidCell, scene: Scene) -> None:
        """A team's day with what lies in it."""
        paint, colours = self._painter, self._colours
        is_away = laid.cell.away is not None
        paint.fillRect(laid.rect, QColor(colours.window if is_away else colours.base))
        if is_away:
            hatch = QColor(colours.hair)
            hatch.setAlpha(HATCH_STRENGTH)
            paint.fillRect(laid.rect, QBrush(hatch, Qt.BrushStyle.BDiagPattern))
        if laid.cell.on in scene.tinted_days:
            self._mark(laid.rect)
        if is_away and not laid.cell.chips:
            self._away(laid)
        else:
            self._load(laid)
        for item in laid.items:
            self._item(item, scene)
        self._edge(laid.rect)
        self._over(laid, scene)

    def frame(self, rect: QRectF, *, has_focus: bool) -> None:
        """The frame of what has the place."""
        paint, colours = self._painter, self._colours
        width = 3.0 if has_focus else 2.0
        inner = rect.adjusted(width / 2, width / 2, -width / 2, -width / 2)
        paint.setBrush(Qt.BrushStyle.NoBrush)
        paint.setPen(QPen(QColor(colours.base), width + 3))
        paint.drawRoundedRect(inner, ROUND_PX, ROUND_PX)
        paint.setPen(QPen(QColor(colours.accent), width))
        paint.drawRoundedRect(inner, ROUND_PX, ROUND_PX)

    def dragged(self, dragged: Dragged, within: QRectF) -> None:
        """The chip under way, with what letting go would do beside it."""
        paint, colours = self._painter, self._colours
        metrics = QFontMetricsF(self._font)
        wide = min(within.width() - 16, metrics.horizontalAdvance(dragged.told) + 24)
        box = metrics.boundingRect(QRectF(0, 0, wide - 20, 400), LINES, dragged.told)
        plate = QRectF(dragged.at.x() + 14, dragged.at.y() + 18, wide, box.height() + 12)
        plate.moveLeft(max(within.left() + 8, min(plate.left(), within.right() - wide - 8)))
        if plate.bottom() > within.bottom() - 8:
            plate.moveBottom(min(dragged.at.y() - 14, within.bottom() - 8))
        tint = Tint(colours.base, colours.text)
        if dragged.refusal:
            tint = colours.tones[Tone.LATE]
        paint.setFont(self._font)
        paint.setPen(QPen(QColor(tint.ink), 1.2))
        paint.setBrush(QColor(tint.fill))
        paint.drawRoundedRect(plate, ROUND_PX, ROUND_PX)
        paint.drawText(plate.adjusted(10, 6, -10, -6), LINES, dragged.told)

    # --- what lies in a cell ------------------------------------------------

    def chip(self, rect: QRectF, text: str, chip: Chip) -> None:
        """A room: filled if firm, outlined if likely, with its pin and its wavy edge."""
        paint = self._painter
        tint = chip_tint(chip, self._colours)
        pen = QPen(QColor(tint.ink if _tone(chip) else self._colours.line), 1.3)
        if not chip.is_firm:
            pen.setStyle(Qt.PenStyle.DashLine)
        paint.setPen(pen)
        paint.setBrush(QColor(tint.fill if chip.is_firm else self._colours.base))
        box = rect.adjusted(0.5, 0.5, -0.5, -0.5)
        paint.drawRoundedRect(box, ROUND_PX, ROUND_PX)
        ink = QColor(tint.ink)
        paint.setPen(ink)
        paint.setFont(self._font)
        words = rect
        if chip.is_pinned:
            wide = PIN_SHARE * QFontMetricsF(self._font).height()
            left = rect.left() + CHIP_AIR_PX - 2
            self._pin(QRectF(left, rect.top() + 4, wide, rect.height() - 8), ink)
            words = rect.adjusted(wide + 2, 0, 0, 0)
        self._fitted(words, text, MIDDLE)
        if chip.leaning is not None:
            self._wave(box, ink)

    def _item(self, item: Item, scene: Scene) -> None:
        paint, colours = self._painter, self._colours
        chip = item.chip
        if item.place is None:
            paint.setPen(QColor(colours.muted))
            paint.setFont(self._small)
            self._fitted(item.rect, item.text, LEFT)
        elif chip is not None:
            self.chip(item.rect, item.text, chip)
        else:
            self._corridor(item)
        is_meant = any(one.room in scene.tinted_rooms for one in item.chips)
        if is_meant and item.place is not None:
            paint.setBrush(Qt.BrushStyle.NoBrush)
            paint.setPen(QPen(QColor(colours.tones[Tone.LATE].ink), 2.4))
            paint.drawRoundedRect(item.rect.adjusted(-2, -2, 2, 2), ROUND_PX, ROUND_PX)

    def _corridor(self, item: Item) -> None:
        """A corridor's rooms in one line, with signs for what is special among them."""
        paint, colours = self._painter, self._colours
        firm = any(chip.is_firm for chip in item.chips)
        pen = QPen(QColor(colours.line), 1.2)
        pen.setStyle(Qt.PenStyle.SolidLine if firm else Qt.PenStyle.DashLine)
        paint.setPen(pen)
        paint.setBrush(QColor(colours.hair if firm else colours.base))
        paint.drawRoundedRect(item.rect.adjusted(0.5, 0.5, -0.5, -0.5), ROUND_PX, ROUND_PX)
        signs = "".join(_signs_among(item.chips))
        paint.setPen(QColor(colours.text))
        paint.setFont(self._font)
        wide = QFontMetricsF(self._font).horizontalAdvance(signs) + 4 if signs else 0
        inner = item.rect.adjusted(CHIP_AIR_PX, 0, -CHIP_AIR_PX, 0)
        self._fitted(inner.adjusted(0, 0, -wide, 0), item.text, LEFT)
        right = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        paint.drawText(inner, right, signs)

    def _load(self, laid: LaidCell) -> None:
        paint, colours, cell = self._painter, self._colours, laid.cell
        is_over = cell.used > cell.minutes
        late = colours.tones[Tone.LATE]
        text = load_text(cell.used, cell.minutes)
        if is_over:
            text = _("{load}: too much").format(load=text)
        paint.setFont(self._small)
        paint.setPen(QColor(late.ink if is_over else colours.muted))
        self._fitted(laid.load, text, LEFT)
        paint.setPen(QPen(QColor(colours.line), 1))
        paint.setBrush(QColor(colours.window))
        paint.drawRoundedRect(laid.bar, 3, 3)
        share = min(1.0, cell.used / cell.minutes) if cell.minutes else float(is_over)
        if share:
            filled = QRectF(laid.bar)
            filled.setWidth(max(4.0, share * laid.bar.width()))
            paint.setBrush(QColor(late.ink if is_over else colours.accent))
            paint.setPen(Qt.PenStyle.NoPen)
            paint.drawRoundedRect(filled, 3, 3)

    def _away(self, laid: LaidCell) -> None:
        self._painter.setFont(self._small)
        self._painter.setPen(QColor(self._colours.muted))
        inner = laid.rect.adjusted(PAD_PX, PAD_PX, -PAD_PX, -PAD_PX)
        self._painter.drawText(inner, LINES, away_text(laid.cell))

    def _over(self, laid: LaidCell, scene: Scene) -> None:
        """While a chip is under way: cells that refuse it are dimmed, the one under it framed."""
        if scene.dragged is None:
            return
        if scene.shut.get(laid.cell.key, False):
            veil = QColor(self._colours.window)
            veil.setAlpha(170)
            self._painter.fillRect(laid.rect, veil)
        if scene.dragged.over == laid.cell.key:
            refused = bool(scene.dragged.refusal)
            ink = self._colours.tones[Tone.LATE].ink if refused else self._colours.accent
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            self._painter.setPen(QPen(QColor(ink), 3))
            self._painter.drawRect(laid.rect.adjusted(2, 2, -2, -2))

    def _mark(self, rect: QRectF) -> None:
        """The ground of a day that is meant; its frame says so without colour."""
        tint = self._colours.tones[Tone.DUE]
        self._painter.fillRect(rect, QColor(tint.fill))
        self._painter.setPen(QPen(QColor(tint.ink), 1.5))
        for x in (rect.left() + 1, rect.right() - 1):
            self._painter.drawLine(QPointF(x, rect.top()), QPointF(x, rect.bottom()))

    def _edge(self, rect: QRectF) -> None:
        self._painter.setPen(QColor(self._colours.hair))
        self._painter.drawLine(rect.topRight(), rect.bottomRight())
        self._painter.drawLine(rect.bottomLeft(), rect.bottomRight())

    def _fitted(self, rect: QRectF, text: str, flags: int) -> None:
        metrics = QFontMetricsF(self._painter.font())
        said = metrics.elidedText(text, Qt.TextElideMode.ElideRight, rect.width())
        self._painter.drawText(rect, flags, said)

    def _pin(self, rect: QRectF, ink: QColor) -> None:
        """A pin: a head, a collar and a needle."""
        paint, middle = self._painter, rect.center().x()
        wide = rect.width() * 0.42
        paint.save()
        paint.setPen(QPen(ink, 1.6))
        paint.setBrush(ink)
        third = rect.height() / 3
        paint.drawRoundedRect(QRectF(middle - wide / 2, rect.top() + 1, wide, third), 1.5, 1.5)
        collar = rect.top() + third + 2
        paint.drawLine(QPointF(middle - wide, collar), QPointF(middle + wide, collar))
        paint.drawLine(QPointF(middle, collar), QPointF(middle, rect.bottom() - 1))
        paint.restore()

    def _wave(self, box: QRectF, ink: QColor) -> None:
        """A wavy lower edge: the window may close."""
        path = QPainterPath(QPointF(box.left() + 3, box.bottom()))
        x, up = box.left() + 3, True
        while x + WAVE_PX <= box.right() - 2:
            peak = box.bottom() + (-WAVE_TALL_PX if up else WAVE_TALL_PX)
            path.quadTo(QPointF(x + WAVE_PX / 2, peak), QPointF(x + WAVE_PX, box.bottom()))
            x, up = x + WAVE_PX, not up
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.setPen(QPen(QColor(self._colours.base), 3.4))
        self._painter.drawPath(path)
        self._painter.setPen(QPen(ink, 1.8))
        self._painter.drawPath(path)


def paint_calendar(
    brush: Brush, rows: CalendarRows, layout: Layout, scene: Scene, *, shown: QRectF
) -> None:
    """Paint the cells that lie within ``shown``; the painter stands at the first cell's corner."""
    for laid in layout.cells.values():
        if laid.rect.intersects(shown):
            brush.cell(laid, scene)
    if scene.current is not None:
        rect = layout.rect_of(scene.current)
        if rect is not None:
            is_cell = scene.current.room is None and scene.current.corridor is None
            grown = rect if is_cell else rect.adjusted(-3, -3, 3, 3)
            brush.frame(grown, has_focus=scene.has_focus)


def chip_tint(chip: Chip, colours: Colours) -> Tint:
    """Ground and ink of a room's chip; one that is only likely keeps the plain ground."""
    tone = _tone(chip)
    if tone is None:
        return Tint(colours.hair, colours.text)
    tint = colours.tones[tone]
    if chip.is_firm:
        return tint
    # The dark ground's light ink can't be read on a light base.
    return tint if tone is not Tone.QUARANTINE else Tint(colours.base, colours.text)


def _tone(chip: Chip) -> Tone | None:
    row = chip.row
    if row.is_done:
        return Tone.DONE
    if row.state is SlotState.IN_QUARANTINE:
        return Tone.QUARANTINE
    if row.is_late:
        return Tone.LATE
    if row.asked_by:
        return Tone.ASKED
    shut = (SlotState.GUEST_STAYS, SlotState.TOO_SOON, SlotState.IN_VAIN)
    return Tone.DUE if row.state in shut else None


def _signs_among(chips: Sequence[Chip]) -> list[str]:
    found = []
    if any(chip.row.asked_by and not chip.row.is_done for chip in chips):
        found.append("◆")
    if any(chip.row.is_late for chip in chips):
        found.append("!")
    if any(chip.leaning for chip in chips):
        found.append("?")
    return found
