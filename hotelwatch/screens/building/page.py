"""The building: a floor as it lies, the list of all rooms, and everything about one room."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.building.rooms import Building
from hotelwatch.core.facts import RoomNo, Topic
from hotelwatch.screens.building.floor_view import FloorView
from hotelwatch.screens.building.legend import Legend
from hotelwatch.screens.building.room_panel import PANEL_PX, RoomPanel
from hotelwatch.screens.building.rows import (
    GLYPHS,
    TONES,
    RoomRow,
    room_rows,
    state_text,
)
from hotelwatch.screens.building.wings_panel import WingsPanel
from hotelwatch.screens.context import Context
from hotelwatch.screens.tables import Column, Empty, RowTable
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _

LEFT_PX, DRAWING_PX, LIST_PX = 650, 400, 260


class BuildingPage(QWidget):
    """Floor, list and room, with one selection for the three."""

    topics = frozenset(Topic) - {Topic.ROUNDS}

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._rows: dict[RoomNo, RoomRow] = {}
        self.room: RoomNo | None = None
        self._is_choosing = False
        self.floors = QComboBox()
        self.floors.setAccessibleName(_("Floor"))
        self.floors.setMinimumContentsLength(8)
        self.floors.currentIndexChanged.connect(self._show_floor)
        self.drawing = FloorView()
        self.drawing.picked.connect(self.choose)
        self.drawing.opened.connect(self._open)
        self.drawing.floor_wanted.connect(self._change_floor)
        self.table = self._make_table()
        self.panel = RoomPanel(context)
        self._looked_at: Building | None = None
        self.wings = QPushButton(_("&Wings and floors…"))
        self.wings.setToolTip(_("Put wings, floors, stairs and lifts where they are"))
        self.wings.clicked.connect(self.edit_wings)
        self.editor = WingsPanel(context)
        self.editor.previewed.connect(self._look_at)
        self.editor.left.connect(self._leave_editor)
        self._lay_out()
        self.setFocusProxy(self.drawing)

    # --- what the window asks -----------------------------------------------

    def refresh(self) -> None:
        """Read the house anew."""
        rows = room_rows(self._context.hotel)
        self._rows = {row.room: row for row in rows}
        self._is_choosing = True
        self.table.show_rows(rows)
        self._is_choosing = False
        if self._is_editing():
            self.editor.refresh()
        self._offer_floors()
        self.choose(self.room if self.room in self._rows else None)
        has_rooms = bool(rows)
        for widget in (self._top, self._upper):
            widget.setVisible(has_rooms)

    def focus_room(self, room: RoomNo) -> None:
        """Put a room in view, on its floor."""
        self.choose(room)

    def focus_rooms(self, name: str, rooms: frozenset[RoomNo]) -> None:
        """Put the first of some rooms in view."""
        self.choose(next((room for room in self._rows if room in rooms), None))

    def choose(self, room: RoomNo | None) -> None:
        """One selection for drawing, list and panel."""
        if self._is_choosing:
            return
        self._is_choosing = True
        try:
            row = self._rows.get(room) if room is not None else None
            self.room = row.room if row else None
            if row is not None:
                self._show_floor_of(row)
                if not self.table.select(row.room):
                    self.table.show_all()
                    self.table.select(row.room)
            self.drawing.choose(self.room)
            self._bring_into_view()
            self.panel.show_room(row, {one.room: one.state for one in self._rows.values()})
        finally:
            self._is_choosing = False

    # --- making -------------------------------------------------------------

    def _make_table(self) -> RowTable[RoomRow]:
        table = RowTable(
            [
                Column[RoomRow](_("Room"), lambda row: row.room),
                Column[RoomRow](
                    _("State"),
                    lambda row: f"{GLYPHS[row.state]} {state_text(row.state)}".strip(),
                    sort=lambda row: list(GLYPHS).index(row.state),
                    tint=lambda row: TONES[row.state],
                    spoken=lambda row: row.why,
                    hint=lambda row: row.why,
                ),
                Column[RoomRow](
                    _("Due by"),
                    lambda row: short_day_text(row.due_on) if row.due_on else "",
                    sort=lambda row: row.due_on,
                ),
                Column[RoomRow](
                    _("Seen since"),
                    lambda row: short_day_text(row.last_on) if row.last_on else _("not yet all"),
                    sort=lambda row: row.last_on,
                ),
                Column[RoomRow](_("Floor"), lambda row: row.floor, sort=lambda row: row.level),
                Column[RoomRow](_("Wing"), lambda row: row.wing),
                Column[RoomRow](_("Beds"), lambda row: str(len(row.beds)), right=True),
                Column[RoomRow](
                    _("Type"), lambda row: row.room_type, hint=lambda row: row.room_type
                ),
            ],
            key=lambda row: row.room,
            name=_("Rooms"),
            empty=Empty(
                _("No room is known yet. Rooms and beds come from your roster."),
                _("Load a roster…") if "load_roster" in self._context.pages else "",
                self._load_roster,
            ),
        )
        table.current_changed.connect(self._take_row)
        table.activated.connect(self._open_row)
        return table

    def _lay_out(self) -> None:
        self._top = QWidget()
        top = QHBoxLayout(self._top)
        top.setContentsMargins(0, 0, 0, 0)
        said = QLabel(_("F&loor"))
        said.setBuddy(self.floors)
        top.addWidget(said)
        top.addWidget(self.floors)
        top.addSpacing(12)
        top.addWidget(Legend(), 1)
        top.addWidget(self.wings)
        self._scroll = QScrollArea(widgetResizable=True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(self.drawing)
        self._upper = self._scroll
        left = QSplitter(Qt.Orientation.Vertical)
        left.setChildrenCollapsible(False)
        left.addWidget(self._scroll)
        left.addWidget(self.table)
        left.setStretchFactor(0, 3)
        left.setStretchFactor(1, 2)
        left.setSizes([DRAWING_PX, LIST_PX])
        both = QSplitter(Qt.Orientation.Horizontal)
        both.setChildrenCollapsible(False)
        both.setHandleWidth(12)
        both.addWidget(left)
        self._side = QStackedWidget()
        self._side.addWidget(self.panel)
        self._side.addWidget(self.editor)
        both.addWidget(self._side)
        both.setStretchFactor(0, 1)
        both.setSizes([LEFT_PX, PANEL_PX])
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self._top)
        lines.addWidget(both, 1)

    # --- floors -------------------------------------------------------------

    def _offer_floors(self) -> None:
        building = self._building()
        used = {row.floor for row in self._rows.values()}
        floors = [floor for floor in reversed(list(building.floors)) if floor in used]
        if floors != [self.floors.itemData(n) for n in range(self.floors.count())]:
            held = self.floors.currentData()
            self.floors.blockSignals(True)
            self.floors.clear()
            for floor in floors:
                self.floors.addItem(_("Floor {floor}").format(floor=floor), floor)
            lowest = self.floors.count() - 1
            self.floors.setCurrentIndex(max(self.floors.findData(held), -1))
            if self.floors.currentIndex() < 0:
                self.floors.setCurrentIndex(lowest)
            self.floors.blockSignals(False)
        self._show_floor()

    def _show_floor(self) -> None:
        floor = self.floors.currentData()
        if floor is not None:
            stairs = self._context.hotel.house.stairs.values()
            self.drawing.show_floor(
                self._building(),
                floor,
                self._rows,
                stairs=self.editor.stairs.placed() if self._is_editing() else stairs,
            )
            self.drawing.choose(self.room)

    def _show_floor_of(self, row: RoomRow) -> None:
        place = self.floors.findData(row.floor)
        if place >= 0 and place != self.floors.currentIndex():
            self.floors.setCurrentIndex(place)

    def _change_floor(self, up: int) -> None:
        place = self.floors.currentIndex() - up
        if 0 <= place < self.floors.count():
            self.floors.setCurrentIndex(place)

    def _bring_into_view(self) -> None:
        drawn = self.drawing.drawn_of(self.room)
        if drawn is not None:
            at, box = drawn.centre, drawn.outline.boundingRect()
            self._scroll.ensureVisible(
                round(at.x()), round(at.y()), round(box.width()), round(box.height())
            )

    # --- wings and floors ---------------------------------------------------

    def edit_wings(self) -> None:
        """Put wings and floors elsewhere; the drawing shows how that would look."""
        self.wings.setEnabled(False)
        self._side.setCurrentWidget(self.editor)
        self.editor.begin()

    def _is_editing(self) -> bool:
        return self._side.currentWidget() is self.editor

    def _building(self) -> Building:
        return self._looked_at or self._context.hotel.building

    def _look_at(self, building: Building) -> None:
        self._looked_at = building
        self._offer_floors()

    def _leave_editor(self) -> None:
        self._looked_at = None
        self._side.setCurrentWidget(self.panel)
        self.wings.setEnabled(True)
        self.wings.setFocus()
        self._offer_floors()

    # --- what one does ------------------------------------------------------

    def _take_row(self, row: RoomRow | None) -> None:
        if row is not None:
            self.choose(row.room)

    def _open_row(self, row: RoomRow) -> None:
        self._open(row.room)

    def _open(self, room: RoomNo) -> None:
        self.choose(room)
        if not self._is_editing():
            self.panel.tabs.setFocus()

    def _load_roster(self) -> None:
        self._context.go_to("load_roster")
