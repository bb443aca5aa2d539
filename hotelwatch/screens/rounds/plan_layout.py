"""Where everything lies on the rounds' calendar: cells, chips and corridors as rectangles.

Days go across, teams down; (0, 0) is the corner of the first cell, heads lie outside.
A cell with many rooms shows one line for each corridor instead of its rooms' chips.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF

from hotelwatch.core.checks.slots import SlotState
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.rounds.calendar_rows import CalendarRows, Cell, Chip, CorridorChips
from hotelwatch.wording.language import _
from hotelwatch.wording.plan_calendar import corridor_count_text, corridor_text

MOST_CHIPS = 12
"""Rooms in a cell, above which corridors stand for them."""
COLUMN_CHARS = 19
TEAM_CHARS = 12
WIDEST_SHARE = 2.0
"""A column is at most so many times as wide as it must be."""
PAD_PX = 6.0
GAP_PX = 5.0
CHIP_AIR_PX = 8.0
LEAST_CHIP_PX = 24.0
"""Source: WCAG 2.2, success criterion 2.5.8, target size (minimum)."""
SMALL = 0.88
"""Size of what is said aside, beside the usual text."""
PIN_SHARE = 0.7
"""Width of a pin, beside the text's height."""


@dataclass(frozen=True, slots=True)
class Place:
    """What has the place on the calendar: a cell, a corridor's rooms in it, or one room."""

    on: date
    team: TeamName
    corridor: tuple[str, str] | None = None
    room: RoomNo | None = None
    beds: tuple[str, ...] = ()
    """Of a room's visit its beds: a long room may stand on one sheet in parts."""

    @property
    def sheet(self) -> tuple[date, TeamName]:
        """Day and team."""
        return self.on, self.team

    @property
    def cell(self) -> Place:
        """The cell that it lies in."""
        return Place(self.on, self.team)

    def holds(self, chip: Chip) -> bool:
        """Whether it stands for a chip of its cell, alone or with others."""
        if self.room is not None:
            return self == place_of(chip)
        return self.corridor in (None, chip.corridor)


def place_of(chip: Chip) -> Place:
    """Where a room's chip stands."""
    return Place(chip.row.on, chip.row.team, chip.corridor, chip.room, chip.row.beds)


@dataclass(frozen=True, slots=True)
class Item:
    """A chip, a corridor's line, or (with no place of its own) a corridor's name."""

    rect: QRectF
    text: str
    place: Place | None
    chips: tuple[Chip, ...]

    @property
    def chip(self) -> Chip | None:
        """Its room; None for a corridor."""
        return self.chips[0] if self.place is not None and self.place.room else None


@dataclass(frozen=True, slots=True)
class LaidCell:
    """A cell with what lies in it."""

    cell: Cell
    rect: QRectF
    load: QRectF
    """The minutes as text."""
    bar: QRectF
    items: tuple[Item, ...]

    @property
    def place(self) -> Place:
        """The cell itself."""
        return Place(self.cell.on, self.cell.team)

    @property
    def places(self) -> tuple[Place, ...]:
        """What can have the place in it, top down: the cell, then its rooms or corridors."""
        return (self.place, *(item.place for item in self.items if item.place is not None))

    def item_at(self, point: QPointF) -> Item | None:
        """What lies under a point, if it can have the place."""
        found = (item for item in self.items if item.place and item.rect.contains(point))
        return next(found, None)


@dataclass(frozen=True, slots=True)
class Layout:
    """All of it, without scrolling."""

    cells: Mapping[tuple[date, TeamName], LaidCell]
    column_px: float
    row_px: tuple[float, ...]
    head_px: float
    team_px: float
    width: float
    height: float

    def cell_at(self, point: QPointF) -> LaidCell | None:
        """The cell under a point."""
        return next((laid for laid in self.cells.values() if laid.rect.contains(point)), None)

    def rect_of(self, place: Place) -> QRectF | None:
        """Where something lies; None if it is not on the calendar."""
        laid = self.cells.get(place.sheet)
        if laid is None:
            return None
        if place.room is None and place.corridor is None:
            return laid.rect
        return next((item.rect for item in laid.items if item.place == place), None)


def small_font(font: QFont) -> QFont:
    """The font of what is said aside."""
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * SMALL)
    return small


def chip_text(chip: Chip, metrics: QFontMetricsF, room_px: float) -> str:
    """A room with the sign and the word of what is special about it.

    Where both don't fit, the room's name is shortened in its middle: numbers stand at an end,
    and what is special must not be told by colour alone.
    """
    signs = " ".join(_signs(chip))
    beside = metrics.horizontalAdvance(f" {signs}") if signs else 0.0
    name = metrics.elidedText(chip.room, Qt.TextElideMode.ElideMiddle, room_px - beside)
    return f"{name} {signs}".strip()


def lay_out(rows: CalendarRows, font: QFont, width: float) -> Layout:
    """Lay a calendar out for a view of that width; columns never get too narrow to read."""
    metrics = QFontMetricsF(font)
    digit = metrics.horizontalAdvance("0")
    team_px = max(TEAM_CHARS * digit, *(_team_width(metrics, team) for team in rows.teams), 0.0)
    team_px = min(team_px, 2 * TEAM_CHARS * digit)
    least = COLUMN_CHARS * digit
    spare = (width - team_px) / max(1, len(rows.days))
    column = max(least, min(WIDEST_SHARE * least, spare))
    head = 2 * metrics.height() + 2 * PAD_PX
    top, row_px = 0.0, []
    cells: dict[tuple[date, TeamName], LaidCell] = {}
    for team in rows.teams:
        drafts = [_cell(rows.cells[day, team], font, column) for day in rows.days]
        tall = max((laid.rect.height() for laid in drafts), default=0.0)
        for number, laid in enumerate(drafts):
            cells[laid.cell.key] = _placed(laid, QPointF(number * column, top), tall)
        row_px.append(tall)
        top += tall
    return Layout(cells, column, tuple(row_px), head, team_px, column * len(rows.days), top)


def _team_width(metrics: QFontMetricsF, team: str) -> float:
    longest = max((metrics.horizontalAdvance(word) for word in team.split()), default=0.0)
    return longest * 1.1 + 2 * PAD_PX


def _placed(laid: LaidCell, at: QPointF, tall: float) -> LaidCell:
    rect = QRectF(laid.rect)
    rect.setHeight(tall)
    return replace(
        laid,
        rect=rect.translated(at),
        load=laid.load.translated(at),
        bar=laid.bar.translated(at),
        items=tuple(replace(item, rect=item.rect.translated(at)) for item in laid.items),
    )


def _cell(cell: Cell, font: QFont, column: float) -> LaidCell:
    metrics, small = QFontMetricsF(font), QFontMetricsF(small_font(font))
    inner = column - 2 * PAD_PX
    load = QRectF(PAD_PX, PAD_PX, inner, small.height())
    bar = QRectF(PAD_PX, load.bottom() + 2, inner, 6)
    top = bar.bottom() + GAP_PX
    if cell.away is not None and not cell.chips:
        top = PAD_PX + 2 * small.height()
        items: tuple[Item, ...] = ()
    elif len(cell.chips) > MOST_CHIPS:
        items = _corridor_lines(cell, metrics, inner, top=top)
    else:
        items = _chips(cell, font, inner, top=top)
    bottom = max((item.rect.bottom() for item in items), default=top + metrics.height())
    rect = QRectF(0, 0, column, bottom + PAD_PX + GAP_PX)
    return LaidCell(cell, rect, load, bar, items)


def _corridor_lines(
    cell: Cell, metrics: QFontMetricsF, inner: float, *, top: float
) -> tuple[Item, ...]:
    tall = max(LEAST_CHIP_PX, metrics.height() + CHIP_AIR_PX)
    items = []
    for number, corridor in enumerate(cell.corridors):
        rect = QRectF(PAD_PX, top + number * (tall + GAP_PX), inner, tall)
        text = corridor_count_text(corridor.floor, corridor.wing, len(corridor.chips))
        place = Place(cell.on, cell.team, corridor.corridor)
        items.append(Item(rect, text, place, corridor.chips))
    return tuple(items)


def _chips(cell: Cell, font: QFont, inner: float, *, top: float) -> tuple[Item, ...]:
    small = QFontMetricsF(small_font(font))
    items: list[Item] = []
    for corridor in cell.corridors:
        name = corridor_text(corridor.floor, corridor.wing)
        items.append(Item(QRectF(PAD_PX, top, inner, small.height()), name, None, corridor.chips))
        top += small.height() + 2
        found = list(_flow(cell, corridor, QFontMetricsF(font), (inner, top)))
        items += found
        top = max(item.rect.bottom() for item in found) + GAP_PX
    return tuple(items)


def _flow(
    cell: Cell, corridor: CorridorChips, metrics: QFontMetricsF, space: tuple[float, float]
) -> Iterable[Item]:
    """Chips side by side, in as many lines as they need."""
    inner, top = space
    tall = max(LEAST_CHIP_PX, metrics.height() + CHIP_AIR_PX)
    left = 0.0
    for chip in corridor.chips:
        beside = 2 * CHIP_AIR_PX + (PIN_SHARE * metrics.height() if chip.is_pinned else 0)
        text = chip_text(chip, metrics, inner - beside)
        wide = min(inner, metrics.horizontalAdvance(text) + beside)
        if left and left + wide > inner:
            left, top = 0.0, top + tall + GAP_PX
        yield Item(QRectF(PAD_PX + left, top, wide, tall), text, place_of(chip), (chip,))
        left += wide + GAP_PX


def _signs(chip: Chip) -> Sequence[str]:
    row = chip.row
    if row.is_done:
        return ["✓"]
    found = []
    if row.state is SlotState.IN_QUARANTINE:
        found.append(_("closed"))
    if row.asked_by:
        found.append(_("◆ case"))
    if row.is_again:
        found.append(_("again"))
    if row.is_late:
        found.append(_("! late"))
    if row.state is SlotState.GUEST_STAYS:
        found.append(_("guest stays"))
    if row.state is SlotState.TOO_SOON:
        found.append(_("treated"))
    if row.state is SlotState.IN_VAIN:
        found.append(_("in vain"))
    if chip.leaning is not None:
        found.append("?")
    return found
