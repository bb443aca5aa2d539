"""The rounds' calendar as one looks at it: days across, teams down, rooms as chips.

It is a drawing only, painted from rows. The list beside it has the same rooms and shares
its selection. Left and Right go to another day, Up and Down through the day's teams and
their rooms, Page Up and Down a week, Home and End to the first and last day. Enter opens,
the menu key shows what a hand can do. A chip is dragged to another day or team; a day
that can't take it says why before it is let go.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QContextMenuEvent,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QFrame, QToolTip

from hotelwatch.core.checks.slots import SlotRow
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.rounds.calendar_rows import CalendarRows, Chip
from hotelwatch.screens.look.theme import colours_of
from hotelwatch.screens.rounds.plan_layout import Layout, Place, lay_out, place_of
from hotelwatch.screens.rounds.plan_paint import Brush, Dragged, Scene, paint_calendar
from hotelwatch.screens.rounds.plan_places import spoken, step
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _

Refuse = Callable[[Chip, date, TeamName], str]
"""Why a chip can't go to a day and a team, in words; empty if it can."""
EDGE_PX, EDGE_STEP_PX = 28, 24
LEAST_ROWS_PX = 150
NOTHING = CalendarRows((), (), {})
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class PlanView(QAbstractScrollArea):
    """Rounds to look at, to choose from, and to change by hand."""

    picked = Signal(object)
    """The place that was chosen: a cell, a corridor's rooms, or a room."""
    opened = Signal(object)
    """Enter or double click on a place."""
    menu_wanted = Signal(object, QPoint)
    """The place and where on the screen to show its menu."""
    moved = Signal(object, object, str)
    """A chip was let go on a day and a team that can take it."""
    refused = Signal(str)
    """A chip was let go where it can't be; why, in words."""

    def __init__(self) -> None:
        """An empty calendar."""
        super().__init__()
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(_("Calendar of the rounds; the list has the same rooms"))
        self.viewport().setMouseTracking(True)
        self.refuse: Refuse = _always
        self.rows = NOTHING
        self.layout_now: Layout = lay_out(NOTHING, self.font(), 0)
        self.scene = Scene(date.min)
        self._pressed: tuple[Chip, QPoint] | None = None

    # --- what is shown ------------------------------------------------------

    def show_rows(self, rows: CalendarRows, today: date) -> None:
        """Show these teams and days; what has the place keeps it, if it is still there."""
        self.rows = rows
        self.scene = replace(self.scene, today=today, dragged=None, shut={})
        self._pressed = None
        self._lay_out()
        here = self.scene.current
        if here is not None and self.layout_now.rect_of(here) is None:
            found = rows.find(here.room, here.beds) if here.room else None
            self._go(place_of(found) if found else None)
        self.viewport().update()

    def choose(self, place: Place | None, *, is_told: bool = False) -> None:
        """Give a place the frame and bring it into view; tell whoever listens if asked."""
        self._go(place)
        if is_told and place is not None:
            self.picked.emit(place)
            # A drawing has no parts that a screen reader could come to: it is told.
            said = QAccessibleAnnouncementEvent(self, self.accessibleDescription())
            QAccessible.updateAccessibility(said)

    def choose_room(self, row: SlotRow) -> None:
        """Choose a room's chip, or its corridor's line where rooms are counted."""
        laid = self.layout_now.cells.get((row.on, row.team))
        for item in laid.items if laid else ():
            if item.place is not None and any(chip.row == row for chip in item.chips):
                self._go(item.place)
                return

    def tint(self, days: frozenset[date], rooms: frozenset[RoomNo]) -> None:
        """Mark days and rooms that something is said about; nothing marks none."""
        self.scene = replace(self.scene, tinted_days=days, tinted_rooms=rooms)
        first = min(days & set(self.rows.days), default=None)
        if first is not None:
            left = self.rows.days.index(first) * self.layout_now.column_px
            self._scroll_to(QRectF(left, self.verticalScrollBar().value(), 1, 1), whole_px=left)
        self.viewport().update()

    def chips_at(self, place: Place) -> tuple[Chip, ...]:
        """The rooms that a place stands for."""
        cell = self.rows.cells.get(place.sheet)
        return tuple(chip for chip in cell.chips if place.holds(chip)) if cell else ()

    # --- geometry -----------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Room for a week."""
        return QSize(760, 380)

    def minimumSizeHint(self) -> QSize:
        """Room for the heads and a row."""
        head = round(self.layout_now.head_px + LEAST_ROWS_PX)
        return QSize(420, head)

    def resizeEvent(self, event: QEvent) -> None:
        """Lay out for the new width."""
        self._lay_out()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of look or text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "rows"):
            self._lay_out()
        self.viewport().update()

    def whole_height(self) -> int:
        """How tall it would be with every team in view."""
        bar = self.horizontalScrollBar().sizeHint().height()
        return round(self.layout_now.head_px + self.layout_now.height) + bar + 4

    def rect_of(self, place: Place) -> QRectF | None:
        """Where a place is seen in the viewport now; None if it is not on the calendar."""
        rect = self.layout_now.rect_of(place)
        return None if rect is None else rect.translated(self._corner())

    def _lay_out(self) -> None:
        width = self.viewport().width()
        self.layout_now = lay_out(self.rows, self.font(), width)
        now = self.layout_now
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        wide = max(1, width - round(now.team_px))
        tall = max(1, self.viewport().height() - round(now.head_px))
        across.setRange(0, max(0, round(now.width) - wide))
        across.setPageStep(wide)
        across.setSingleStep(max(1, round(now.column_px)))
        down.setRange(0, max(0, round(now.height) - tall))
        down.setPageStep(tall)
        down.setSingleStep(max(1, round(QFontMetricsF(self.font()).height())))

    def _corner(self) -> QPointF:
        """Where the first cell's corner is in the viewport."""
        return QPointF(
            self.layout_now.team_px - self.horizontalScrollBar().value(),
            self.layout_now.head_px - self.verticalScrollBar().value(),
        )

    def _inside(self, point: QPointF) -> QPointF | None:
        """A point of the viewport among the cells; None on the heads."""
        if point.x() < self.layout_now.team_px or point.y() < self.layout_now.head_px:
            return None
        return point - self._corner()

    def place_at(self, point: QPointF) -> Place | None:
        """What lies under a point of the viewport."""
        inside = self._inside(point)
        laid = None if inside is None else self.layout_now.cell_at(inside)
        if laid is None or inside is None:
            return None
        item = laid.item_at(inside)
        return laid.place if item is None else item.place

    def _scroll_to(self, rect: QRectF, *, whole_px: float | None = None) -> None:
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        if whole_px is not None:
            if not across.value() <= whole_px < across.value() + across.pageStep():
                across.setValue(round(whole_px))
            return
        for bar, low, high in (
            (across, rect.left(), rect.right()),
            (down, rect.top(), rect.bottom()),
        ):
            if low < bar.value() or high - low > bar.pageStep():
                bar.setValue(round(low))
            elif high > bar.value() + bar.pageStep():
                bar.setValue(round(high) - bar.pageStep())

    # --- painting -----------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint cells, then the heads over them, then what is under way."""
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours, now = colours_of(self.palette()), self.layout_now
        area = QRectF(self.viewport().rect())
        painter.fillRect(area, colours.window)
        brush = Brush(painter, self.font(), colours)
        corner = self._corner()
        scene = replace(self.scene, has_focus=self.hasFocus())
        painter.save()
        painter.setClipRect(area.adjusted(now.team_px, now.head_px, 0, 0))
        painter.translate(corner)
        shown = area.translated(-corner)
        paint_calendar(brush, self.rows, now, scene, shown=shown)
        painter.restore()
        self._paint_heads(painter, brush, scene)
        if scene.dragged is not None:
            brush.dragged(scene.dragged, area)
        painter.end()

    def _paint_heads(self, painter: QPainter, brush: Brush, scene: Scene) -> None:
        now, corner = self.layout_now, self._corner()
        painter.save()
        painter.setClipRect(QRectF(now.team_px, 0, self.viewport().width(), now.head_px))
        for number, day in enumerate(self.rows.days):
            left = corner.x() + number * now.column_px
            brush.day_head(day, QRectF(left, 0, now.column_px, now.head_px), scene)
        painter.restore()
        painter.save()
        painter.setClipRect(QRectF(0, now.head_px, now.team_px, self.viewport().height()))
        top = corner.y()
        for team, tall in zip(self.rows.teams, now.row_px, strict=True):
            brush.team_head(team, QRectF(0, top, now.team_px, tall))
            top += tall
        painter.restore()
        if self.rows.teams:
            brush.team_head("", QRectF(0, 0, now.team_px, now.head_px))

    # --- keys ---------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows go on, Enter opens, Escape lets a chip be where it was."""
        here = self.scene.current
        if event.key() == Qt.Key.Key_Escape and self.scene.dragged is not None:
            self._stop_dragging()
        elif event.key() in ENTER and here is not None:
            self.opened.emit(here)
        elif (there := step(self.layout_now, self.rows, here, event.key())) is not None:
            self.choose(there, is_told=True)
        else:
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Ask for the menu of the place under the pointer, or of the one chosen."""
        place = self.scene.current
        if event.reason() == QContextMenuEvent.Reason.Mouse:
            place = self.place_at(QPointF(event.pos()))
            self.choose(place, is_told=True)
        rect = self.rect_of(place) if place is not None else None
        if place is None or rect is None:
            return
        at = event.globalPos()
        if event.reason() != QContextMenuEvent.Reason.Mouse:
            at = self.viewport().mapToGlobal(rect.center().toPoint())
        self.menu_wanted.emit(place, at)

    def focusInEvent(self, event: QEvent) -> None:
        """With nothing chosen, choose the first cell."""
        if self.scene.current is None and self.rows.days and self.rows.teams:
            self.choose(Place(self.rows.days[0], self.rows.teams[0]), is_told=True)
        self.viewport().update()

    def focusOutEvent(self, event: QEvent) -> None:
        """Paint the frame thinner."""
        self.viewport().update()

    def _go(self, place: Place | None) -> None:
        self.scene = replace(self.scene, current=place)
        rect = self.layout_now.rect_of(place) if place is not None else None
        if place is not None and rect is not None:
            self._scroll_to(rect)
            self.setAccessibleDescription(spoken(self.rows, place))
        self.viewport().update()

    # --- hands --------------------------------------------------------------

    def viewportEvent(self, event: QEvent) -> bool:
        """Say in words what is under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            place = self.place_at(QPointF(event.pos()))
            text = spoken(self.rows, place, line_by_line=True) if place else ""
            QToolTip.showText(event.globalPos(), text, self.viewport())
            return True
        return super().viewportEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose what is under the pointer; a chip may be dragged from here."""
        place = self.place_at(event.position())
        if event.button() != Qt.MouseButton.LeftButton or place is None:
            return
        self.choose(place, is_told=True)
        chips = self.chips_at(place) if place.room is not None else ()
        self._pressed = (chips[0], event.position().toPoint()) if chips else None

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag a chip once the pointer is far enough from where it was pressed."""
        if self._pressed is None or not event.buttons() & Qt.MouseButton.LeftButton:
            return
        chip, began = self._pressed
        away = (event.position().toPoint() - began).manhattanLength()
        if self.scene.dragged is None and away < QApplication.startDragDistance():
            return
        if self.scene.dragged is None:
            self._begin_dragging(chip)
        self._drag(chip, event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let a dragged chip go."""
        dragged = self.scene.dragged
        self._stop_dragging()
        if dragged is None or dragged.over is None:
            return
        if dragged.refusal:
            self.refused.emit(dragged.refusal)
        elif dragged.over != (dragged.chip.row.on, dragged.chip.row.team):
            self.moved.emit(dragged.chip, *dragged.over)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Open what is under the pointer."""
        place = self.place_at(event.position())
        if place is not None:
            self.opened.emit(place)

    def _begin_dragging(self, chip: Chip) -> None:
        shut = {key: bool(self.refuse(chip, *key)) for key in self.rows.cells}
        self.scene = replace(self.scene, shut=shut)
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)

    def _drag(self, chip: Chip, at: QPointF) -> None:
        across = self.horizontalScrollBar()
        if at.x() > self.viewport().width() - EDGE_PX:
            across.setValue(across.value() + EDGE_STEP_PX)
        elif at.x() < self.layout_now.team_px + EDGE_PX:
            across.setValue(across.value() - EDGE_STEP_PX)
        inside = self._inside(at)
        laid = None if inside is None else self.layout_now.cell_at(inside)
        over = None if laid is None else laid.cell.key
        refusal = self.refuse(chip, *over) if over is not None else ""
        told = refusal or self._would(chip, over)
        self.scene = replace(self.scene, dragged=Dragged(chip, at, over, refusal, told))
        self.viewport().update()

    def _would(self, chip: Chip, over: tuple[date, TeamName] | None) -> str:
        if over is None or over == (chip.row.on, chip.row.team):
            return _("Room {room}: drop it on another day or team").format(room=chip.room)
        return _("Pin room {room} to {day}, {team}").format(
            room=chip.room, day=short_day_text(over[0]), team=over[1]
        )

    def _stop_dragging(self) -> None:
        self._pressed = None
        self.scene = replace(self.scene, dragged=None, shut={})
        self.viewport().unsetCursor()
        self.viewport().update()


def _always(_chip: Chip, _on: date, _team: TeamName) -> str:
    return ""
