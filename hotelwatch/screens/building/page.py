"""The house: drawn from above and cut upright, listed, each room in words; today or in the past."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QSplitter, QStackedWidget, QTabWidget, QVBoxLayout, QWidget

from hotelwatch.core.building.rooms import Building
from hotelwatch.core.cases.past_days import PastDays
from hotelwatch.core.cases.room_stands import RoomStanding
from hotelwatch.core.facts import RoomDrawn, RoomNo, Topic, WingPlaced
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.who_may import Deed, offer
from hotelwatch.screens.building.draw_panel import DrawPanel
from hotelwatch.screens.building.house_pane import HousePane
from hotelwatch.screens.building.room_list import make_room_list
from hotelwatch.screens.building.room_panel import RoomPanel
from hotelwatch.screens.building.rows import RoomRow, room_rows, rows_of
from hotelwatch.screens.building.told_bar import ToldBar
from hotelwatch.screens.building.wings_panel import WingsPanel
from hotelwatch.screens.look.theme import Tone
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext

SIDE_DIGITS = 40
"""As many digits stand beside each other at the side."""
LEAST_DRAWING_PX = 420
LIST_PAUSE_MS = 120
ROOMS_TAB, ROOM_TAB = 0, 1


class BuildingPage(QWidget):
    """Drawings, list and room, with one selection for all."""

    topics = frozenset(Topic) - {Topic.ROUNDS}

    def __init__(self, context: Context) -> None:
        """An empty page; ``refresh`` fills it."""
        super().__init__()
        self._context = context
        self._rows: dict[RoomNo, RoomRow] = {}
        self._past: tuple[House, PastDays] | None = None
        self._named: tuple[str, frozenset[RoomNo]] | None = None
        self._looked_at: Building | None = None
        self._is_choosing = False
        self.room: RoomNo | None = None
        self.pane = HousePane()
        self.table = make_room_list(context)
        self.panel = RoomPanel(context)
        self.editor = WingsPanel(context)
        self.drawer = DrawPanel(context, self.pane.plan)
        self.named = ToldBar(Tone.ASKED, _("&Show all rooms"))
        self.then = ToldBar(Tone.DUE, _("Back to &now"))
        self.wings = QAction(_("&Wings, floors, stairs and lifts…"), self)
        self.draw = QAction(_("&Draw, move or split rooms…"), self)
        self._listing = QTimer(self, singleShot=True, interval=LIST_PAUSE_MS)
        self._connect()
        self._lay_out()
        self.setFocusProxy(self.pane)

    @property
    def drawing(self) -> QWidget:
        """The drawing that the keyboard comes to."""
        return self.pane.drawing

    # --- what the window asks -----------------------------------------------

    def refresh(self) -> None:
        """Read the house anew."""
        hotel = self._context.hotel
        has_rooms = bool(hotel.house.rooms)
        self.pane.setVisible(has_rooms)
        if self._is_editing(self.editor):
            self.editor.refresh()
        if self._is_editing(self.drawer):
            self.drawer.refresh()
        self._redraw()
        if has_rooms:
            self.pane.time.show_days(self._known_past().first_on, hotel.today())
        self._read_rows()
        self._list_now()
        self.choose(self.room if self.room in self._rows else None)

    def focus_room(self, room: RoomNo) -> None:
        """Put a room in view, on its floor."""
        self.choose(room)
        self.side.setCurrentIndex(ROOM_TAB)
        self.pane.bring_into_view(self.room)

    def focus_rooms(self, name: str, rooms: frozenset[RoomNo]) -> None:
        """Show exactly these rooms under a name; all others step back."""
        self._named = (name, rooms)
        self.pane.time.to_today()
        self.pane.legend.clear()
        self.table.show_all()
        self._show_which()
        self._list_now()
        self.side.setCurrentIndex(ROOMS_TAB)
        self.choose(next((room for room in self._rows if room in rooms), None))

    def show_all_rooms(self) -> None:
        """Every room counts again."""
        self._named = None
        self.pane.legend.clear()
        self._show_which()
        self._list_now()

    def unsaved(self) -> tuple[str, ...]:
        """What is drawn and not saved."""
        return self.drawer.unsaved()

    @staticmethod
    def keys() -> tuple[tuple[str, str], ...]:
        """Keys of the drawings."""
        return (
            (_("Arrows"), _("To the next room that way")),
            (_("Shift+Arrows"), _("Move the drawing")),
            (_("+ and −"), _("Larger, smaller")),
            (_("Home"), _("Show everything")),
            (_("Page Up, Page Down"), _("One floor up, one floor down")),
            (_("Digits, then Enter"), _("Go to the room of that number")),
            (_("Enter"), _("Open the room")),
            (_("Space and drag"), _("Move the drawing by hand")),
        )

    def choose(self, room: RoomNo | None) -> None:
        """One selection for drawings, list and panel."""
        if self._is_choosing:
            return
        self._is_choosing = True
        try:
            row = self._rows.get(room) if room is not None else None
            self.room = row.room if row else None
            if row is not None and not self.table.select(row.room):
                self.table.show_all()
                self.table.select(row.room)
            self._mark()
            states = {one.room: one.state for one in self._rows.values()}
            self.panel.show_room(row, states, is_past=self.pane.time.day is not None)
            self.side.setTabText(
                ROOM_TAB, _("Room {room}").format(room=row.room) if row else _("Room")
            )
            if self._is_editing(self.drawer):
                self.drawer.choose(self.room)
        finally:
            self._is_choosing = False

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_both"):
            self._share_out()
            self._sharing.start()  # again, once what is at the side has the new font too

    def resizeEvent(self, event: QEvent) -> None:
        """Put the list below the drawings where the page is too narrow for both."""
        self._share_out()

    # --- making -------------------------------------------------------------

    def _connect(self) -> None:
        self.pane.picked.connect(self._pick)
        self.pane.opened.connect(self._open)
        self.pane.sought.connect(self._seek)
        self.pane.legend.chosen.connect(self._filter)
        self.pane.time.day_chosen.connect(self._go_to_day)
        self.table.current_changed.connect(self._take_row)
        self.table.activated.connect(lambda row: self._open(row.room))
        self.named.pressed.connect(self.show_all_rooms)
        self.then.pressed.connect(self.pane.time.to_today)
        self.editor.previewed.connect(self._look_at)
        self.drawer.previewed.connect(self._look_at)
        self.drawer.wanted.connect(self.choose)
        self.editor.left.connect(self._leave_editor)
        self.drawer.left.connect(self._leave_editor)
        self.wings.triggered.connect(self.edit_wings)
        self.draw.triggered.connect(self.draw_rooms)
        self._listing.timeout.connect(self._list_now)
        menu = self.pane.edit.menu()
        menu.addAction(self.draw)
        menu.addAction(self.wings)
        self.for_others = offer(
            self._context,
            Deed(_("Draw rooms"), (RoomDrawn,)),
            Deed(_("Change floors, wings and stairs"), (WingPlaced, StairPlaced)),
        )
        self.draw.setVisible(self._context.may(RoomDrawn))
        self.wings.setVisible(self._context.may(WingPlaced, StairPlaced))
        self.pane.edit.setVisible(self.draw.isVisible() or self.wings.isVisible())

    def _lay_out(self) -> None:
        self.side = QTabWidget(documentMode=True)
        self.side.tabBar().setAccessibleName(_("Rooms and the room chosen"))
        self.side.addTab(self.table, _("Rooms"))
        self.side.addTab(self.panel, _("Room"))
        self._side = QStackedWidget()
        for widget in (self.side, self.editor, self.drawer):
            self._side.addWidget(widget)
        self._both = QSplitter(Qt.Orientation.Horizontal)
        self._both.setChildrenCollapsible(False)
        self._both.setHandleWidth(8)
        self._both.addWidget(self.pane)
        self._both.addWidget(self._side)
        self._both.setStretchFactor(0, 1)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(6)
        lines.addWidget(self.named)
        lines.addWidget(self.then)
        lines.addWidget(self._both, 1)
        lines.addWidget(self.for_others)
        self._shared = (0, 0)
        self._sharing = QTimer(self, singleShot=True, interval=0)
        self._sharing.timeout.connect(self._share_anew)
        self._share_out()

    def _share_anew(self) -> None:
        self._shared = (0, 0)
        self._share_out()

    def _share_out(self) -> None:
        """The side as wide as its words need; the drawings have the rest."""
        side = self.fontMetrics().horizontalAdvance("0") * SIDE_DIGITS
        if (side, self.width()) == self._shared:
            return
        is_beside = self.width() >= side + LEAST_DRAWING_PX
        is_turned = is_beside != (self._both.orientation() is Qt.Orientation.Horizontal)
        is_new = self._shared[0] != side or not self._shared[1]
        self._shared = (side, self.width())
        if is_turned:
            self._both.setOrientation(
                Qt.Orientation.Horizontal if is_beside else Qt.Orientation.Vertical
            )
        if (is_turned or is_new) and is_beside:
            self._both.setSizes([max(1, self.width() - side), side])
        elif is_turned:
            self._both.setSizes([self.height() // 2, self.height() // 2])

    # --- which rooms, on which day ----------------------------------------------

    def _known_past(self) -> PastDays:
        house = self._context.hotel.house
        if self._past is None or self._past[0] is not house:
            self._past = (house, PastDays(house))
        return self._past[1]

    def _read_rows(self) -> None:
        hotel, day = self._context.hotel, self.pane.time.day
        if day is None:
            rows = room_rows(hotel)
        else:
            past = self._known_past()
            rows = rows_of(hotel, past.at(past.end_of(day)), day)
        self._rows = {row.room: row for row in rows}
        self.then.tell(_past_text(day) if day else "")
        self.pane.legend.show_counts(self._among(rows))
        self._show_which()

    def _among(self, rows: tuple[RoomRow, ...]) -> list[RoomRow]:
        """Rooms that are asked for by name; all, if none are."""
        named = self._named[1] if self._named else None
        return [row for row in rows if named is None or row.room in named]

    def _shown(self) -> frozenset[RoomNo] | None:
        states = self.pane.legend.states()
        if self._named is None and not states:
            return None
        rows = self._among(tuple(self._rows.values()))
        return frozenset(row.room for row in rows if not states or row.state in states)

    def _show_which(self) -> None:
        shown = self._shown()
        self.pane.show_rows(self._rows, shown)
        if self._named is None:
            self.named.tell("")
            return
        name, rooms = self._named
        n = len(rooms & self._rows.keys())
        self.named.tell(ngettext("{name}: {n} room", "{name}: {n} rooms", n).format(name=name, n=n))

    def _list_now(self) -> None:
        self._listing.stop()
        shown = self._shown()
        rows = [row for row in self._rows.values() if shown is None or row.room in shown]
        was, self._is_choosing = self._is_choosing, True
        self.table.show_rows(rows)
        if self.room is not None:
            self.table.select(self.room)
        self._is_choosing = was
        n = len(rows)
        self.side.setTabText(ROOMS_TAB, ngettext("{n} room", "{n} rooms", n).format(n=n))

    def _filter(self, _states: frozenset[RoomStanding]) -> None:
        self._show_which()
        self._list_now()
        self.pane.go_where_some_stand_out()

    def _go_to_day(self, _day: date | None) -> None:
        self._read_rows()
        self._listing.start()
        self.choose(self.room)

    # --- drawing what is, or would be ----------------------------------------------

    def _building(self) -> Building:
        return self._looked_at or self._context.hotel.building

    def _redraw(self) -> None:
        house = self._context.hotel.house
        stairs: tuple[StairPlaced, ...] = tuple(house.stairs.values())
        if self._is_editing(self.editor):
            stairs = self.editor.stairs.placed()
        if house.rooms:
            self.pane.show_house(house, self._building(), stairs)

    def _mark(self) -> None:
        beside: frozenset[RoomNo] = frozenset()
        is_drawing = self._is_editing(self.drawer)
        if self.room is not None and self._looked_at is None and not is_drawing:
            near = self._context.hotel.neighbours().get(self.room, ())
            beside = frozenset(one.room for one in near)
        self.pane.choose(self.room, beside)

    def _look_at(self, building: Building) -> None:
        self._looked_at = building
        self._redraw()

    def edit_wings(self) -> None:
        """Put wings and floors elsewhere; the drawing shows how that would look."""
        self._begin(self.editor)
        self.editor.begin()

    def draw_rooms(self) -> None:
        """Draw rooms as they are built, from the chosen one on."""
        self._begin(self.drawer)
        self.drawer.begin(self.room)
        self._mark()

    def _begin(self, editor: QWidget) -> None:
        self.pane.time.to_today()
        self.pane.time.setEnabled(False)
        self.pane.edit.setEnabled(False)
        self._side.setCurrentWidget(editor)

    def _is_editing(self, editor: QWidget) -> bool:
        return self._side.currentWidget() is editor

    def _leave_editor(self) -> None:
        self._looked_at = None
        self._side.setCurrentWidget(self.side)
        self.pane.time.setEnabled(True)
        self.pane.edit.setEnabled(True)
        self.pane.edit.setFocus()
        self._redraw()
        self._mark()

    # --- what one does ------------------------------------------------------

    def _pick(self, room: RoomNo) -> None:
        self.choose(room)
        if self.table.view.hasFocus() is False and not self._named:
            self.side.setCurrentIndex(ROOM_TAB)

    def _take_row(self, row: RoomRow | None) -> None:
        if row is not None and not self._is_choosing:
            self.choose(row.room)
            self.pane.bring_into_view(row.room)

    def _open(self, room: RoomNo) -> None:
        self.choose(room)
        if self._side.currentWidget() is self.side:
            self.side.setCurrentIndex(ROOM_TAB)
            self.panel.tabs.setFocus()

    def _seek(self, typed: str) -> None:
        known: Mapping[str, RoomNo] = {room.casefold(): room for room in self._rows}
        sought = typed.casefold()
        room = known.get(sought) or next(
            (room for text, room in known.items() if text.startswith(sought)), None
        )
        self.pane.tell_not_found("" if room else typed)
        if room is not None:
            self.choose(room)
            self.pane.fly_to(room)
            self.pane.drawing.setFocus()


def _past_text(day: date) -> str:
    return _(
        "You are looking at the past: how the house stood on {day}, as it was known "
        "by the end of that day."
    ).format(day=day_text(day))
