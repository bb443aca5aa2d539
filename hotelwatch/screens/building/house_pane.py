"""The drawings: a floor from above, the upright cut, both; with what one does to look at them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from enum import StrEnum

from PySide6.QtCore import QEvent, QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QCompleter,
    QLabel,
    QLineEdit,
    QMenu,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.building.rooms import Building
from hotelwatch.core.building.section import Cut, Section, cut_through, cuts_of, section_of
from hotelwatch.core.facts import RoomNo, Side
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.screens.building.house_view import HouseView
from hotelwatch.screens.building.legend import Legend
from hotelwatch.screens.building.rim import FramedView
from hotelwatch.screens.building.rows import RoomRow
from hotelwatch.screens.building.scene import plan_of, section_scene
from hotelwatch.screens.building.time_bar import TimeBar
from hotelwatch.screens.forms.suggestions import suggest
from hotelwatch.screens.layout.flow import FlowRow
from hotelwatch.wording.language import _

GAP_PX = 6
GOTO_DIGITS = 11


class Views(StrEnum):
    """Which drawings show."""

    PLAN = "plan"
    CUT = "cut"
    BOTH = "both"


class HousePane(QWidget):
    """Both drawings, with one floor, one cut, one selection."""

    picked = Signal(object)
    """The room that has the place now."""
    opened = Signal(object)
    """Enter or double click on a room."""
    sought = Signal(str)
    """A room's number that was typed."""

    def __init__(self) -> None:
        """Nothing drawn yet."""
        super().__init__()
        self._house: House | None = None
        self._building: Building | None = None
        self._stairs: tuple[StairPlaced, ...] = ()
        self._rows: Mapping[RoomNo, RoomRow] = {}
        self._shown: frozenset[RoomNo] | None = None
        self._chosen: RoomNo | None = None
        self.floors = QComboBox()
        self.floors.setAccessibleName(_("Floor"))
        self.floors.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.floors.currentIndexChanged.connect(self._change_floor)
        self.cuts = QComboBox()
        self.cuts.setAccessibleName(_("Where the building is cut upright"))
        self.cuts.currentIndexChanged.connect(self._change_cut)
        self.plan = HouseView(_("Drawing of the floor; the list beside it has the same rooms"))
        self.section = HouseView(
            _("The building cut upright; the list beside it has the same rooms"), is_plan=False
        )
        for view in (self.plan, self.section):
            view.picked.connect(self.picked)
            view.opened.connect(self.opened)
            view.floor_wanted.connect(self.step_floor)
            view.typed.connect(self._begin_typing)
        self.framed_plan = FramedView(self.plan, is_plan=True)
        self.framed_section = FramedView(self.section, is_plan=False)
        self.legend = Legend()
        self.time = TimeBar()
        self.goto = self._make_goto()
        self.not_found = QLabel()
        self.not_found.setProperty("role", "problem")
        self.not_found.hide()
        self.edit = QPushButton(_("E&dit"))
        self.edit.setToolTip(_("Draw rooms, or put wings, floors, stairs and lifts where they are"))
        self.edit.setMenu(QMenu(self.edit))
        self._lay_out()
        self.show_views(Views.PLAN)
        self.setFocusProxy(self.plan)

    # --- what is shown ------------------------------------------------------

    def show_house(
        self, house: House, building: Building, stairs: Iterable[StairPlaced] = ()
    ) -> None:
        """Show these rooms where they lie; one goes on looking from where one was."""
        is_same = building is self._building and tuple(stairs) == self._stairs
        is_first = self._building is None
        self._house, self._building, self._stairs = house, building, tuple(stairs)
        if is_same:
            return
        self._known.setStringList([str(room) for room in house.rooms])
        self._offer_floors()
        self._offer_cuts()
        self._draw(keeps_place=not is_first)

    def show_rows(
        self, rows: Mapping[RoomNo, RoomRow], shown: frozenset[RoomNo] | None = None
    ) -> None:
        """Show how rooms stand, and which stand out."""
        self._rows, self._shown = rows, shown
        for view in (self.plan, self.section):
            view.show_rows(rows, shown)
        self._count_on_floors()

    def go_where_some_stand_out(self) -> None:
        """Where this floor has none of the rooms that stand out, go to the nearest that has."""
        rooms = [room for room in self._shown or () if room in self._rows]
        floors = {self._rows[room].floor for room in rooms}
        if not floors or self.floor in floors:
            return
        at, places = self.floors.currentIndex(), range(self.floors.count())
        having = [place for place in places if self.floors.itemData(place) in floors]
        if having:
            self.floors.setCurrentIndex(min(having, key=lambda place: abs(place - at)))
            here = (room for room in rooms if self._rows[room].floor == self.floor)
            self.plan.bring_into_view(min(here))

    def choose(self, room: RoomNo | None, beside: Collection[RoomNo] = ()) -> None:
        """Mark a room and its neighbours on both drawings; go to its floor and its cut."""
        self._chosen = room
        if room is not None and self._building is not None and room in self._building.shapes:
            self._go_to_floor(self._building.shapes[room].floor)
            self._go_to_cut(room)
        for view in (self.plan, self.section):
            view.choose(room, beside)

    def bring_into_view(self, room: RoomNo | None) -> None:
        """Move the drawings just so far that a room is in view."""
        for view in self._seen():
            view.bring_into_view(room)

    def fly_to(self, room: RoomNo) -> None:
        """Bring a room into the middle of what shows."""
        for view in self._seen():
            view.fly_to(room)

    def show_views(self, views: Views) -> None:
        """Show the plan, the cut, or both."""
        self.views = views
        self._buttons[views].setChecked(True)
        self.framed_plan.setVisible(views is not Views.CUT)
        self.framed_section.setVisible(views is not Views.PLAN)
        self.floors.setVisible(views is not Views.CUT)
        self.cuts.setVisible(views is not Views.PLAN)
        self.setFocusProxy(self.section if views is Views.CUT else self.plan)
        if self._chosen is not None:
            self._go_to_cut(self._chosen)
        if self._building is not None:
            self._draw_cut(keeps_place=False)
            self._draw_plan(keeps_place=True)

    @property
    def drawing(self) -> HouseView:
        """The drawing that the keyboard comes to."""
        return self.section if self.views is Views.CUT else self.plan

    @property
    def floor(self) -> str | None:
        """The floor that the plan shows."""
        held: str | None = self.floors.currentData()
        return held

    def step_floor(self, up: int) -> None:
        """One floor up, or down."""
        place = self.floors.currentIndex() - up
        if 0 <= place < self.floors.count():
            self.floors.setCurrentIndex(place)

    def tell_not_found(self, typed: str) -> None:
        """Say that no room has that number; nothing takes it back."""
        self.not_found.setText(_("There is no room {room}.").format(room=typed) if typed else "")
        self.not_found.setVisible(bool(typed))
        self.goto.setProperty("wrong", bool(typed))
        self.goto.style().unpolish(self.goto)
        self.goto.style().polish(self.goto)

    # --- making -------------------------------------------------------------

    def _make_goto(self) -> QLineEdit:
        line = QLineEdit(clearButtonEnabled=True)
        line.setPlaceholderText(_("Room no."))
        line.setAccessibleName(_("Go to a room: type its number"))
        line.setToolTip(_("Type a room's number and press Enter to go there"))
        self._known = QStringListModel(self)
        suggest(line, QCompleter(self._known, self))
        line.returnPressed.connect(self._seek)
        line.textEdited.connect(lambda _text: self.tell_not_found(""))
        return line

    def _lay_out(self) -> None:
        tools = FlowRow(GAP_PX)
        line = tools.flow
        group = QButtonGroup(self)
        self._buttons: dict[Views, QPushButton] = {}
        for views, text in (
            (Views.PLAN, _("Fr&om above")),
            (Views.CUT, _("S&ide view")),
            (Views.BOTH, _("&Both")),
        ):
            button = QPushButton(text)
            button.setCheckable(True)
            button.setProperty("role", "choice")
            button.clicked.connect(lambda _on, views=views: self.show_views(views))
            group.addButton(button)
            line.addWidget(button)
            self._buttons[views] = button
        self._buttons[Views.CUT].setToolTip(_("The building cut upright: what is above and below"))
        for widget in (self.floors, self.cuts, self.goto, self.edit, self.not_found):
            line.addWidget(widget)
        self._drawings = QSplitter(Qt.Orientation.Vertical)
        self._drawings.setChildrenCollapsible(False)
        self._drawings.addWidget(self.framed_plan)
        self._drawings.addWidget(self.framed_section)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(GAP_PX)
        lines.addWidget(tools)
        lines.addWidget(self._drawings, 1)
        lines.addWidget(self.legend)
        lines.addWidget(self.time)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "goto"):
            self._fit()

    def _fit(self) -> None:
        digit = self.fontMetrics().horizontalAdvance("0")
        self.goto.setFixedWidth(digit * GOTO_DIGITS + 2 * self.fontMetrics().height())

    # --- floors and cuts ----------------------------------------------------

    def _offer_floors(self) -> None:
        assert self._building is not None
        used = {shape.floor for shape in self._building.shapes.values()}
        floors = [floor for floor in reversed(list(self._building.floors)) if floor in used]
        if floors == [self.floors.itemData(n) for n in range(self.floors.count())]:
            return
        held = self.floors.currentData()
        self.floors.blockSignals(True)
        self.floors.clear()
        for floor in floors:
            self.floors.addItem(_("Floor {floor}").format(floor=floor), floor)
        at = self.floors.findData(held)
        self.floors.setCurrentIndex(at if at >= 0 else self.floors.count() - 1)
        self.floors.blockSignals(False)

    def _count_on_floors(self) -> None:
        """Where only some rooms stand out, say on each floor how many of them it has."""
        for place in range(self.floors.count()):
            floor = self.floors.itemData(place)
            text = _("Floor {floor}").format(floor=floor)
            if self._shown is not None:
                here = (room for room in self._shown if room in self._rows)
                n = sum(self._rows[room].floor == floor for room in here)
                text = _("Floor {floor}: {n}").format(floor=floor, n=n)
            self.floors.setItemText(place, text)

    def _offer_cuts(self) -> None:
        assert self._house is not None
        cuts = cuts_of(self._house)
        if cuts == tuple(self.cuts.itemData(n) for n in range(self.cuts.count())):
            return
        held = self.cuts.currentData()
        self.cuts.blockSignals(True)
        self.cuts.clear()
        for cut in cuts:
            self.cuts.addItem(cut_text(cut), cut)
        self.cuts.setCurrentIndex(max(0, cuts.index(held) if held in cuts else 0))
        self.cuts.blockSignals(False)

    def _go_to_floor(self, floor: str) -> None:
        place = self.floors.findData(floor)
        if place >= 0 and place != self.floors.currentIndex():
            self.floors.setCurrentIndex(place)

    def _go_to_cut(self, room: RoomNo) -> None:
        if self._house is None or self.views is Views.PLAN:
            return
        if room in self._house.rooms and self.section.item_of(room) is None:
            # Qt compares what it keeps by identity: look for an equal one.
            kept = [self.cuts.itemData(place) for place in range(self.cuts.count())]
            wanted = cut_through(self._house, room)
            if wanted in kept and wanted != self.cuts.currentData():
                self.cuts.setCurrentIndex(kept.index(wanted))

    def _change_floor(self) -> None:
        self._draw_plan(keeps_place=True)

    def _change_cut(self) -> None:
        self._draw_cut(keeps_place=False)
        self._draw_plan(keeps_place=True)

    # --- drawing ------------------------------------------------------------

    def _draw(self, *, keeps_place: bool) -> None:
        self._draw_cut(keeps_place=keeps_place)
        self._draw_plan(keeps_place=keeps_place)

    def _draw_plan(self, *, keeps_place: bool) -> None:
        floor = self.floor
        if floor is None or self._building is None or self._house is None:
            return
        cut = self._section() if self.views is Views.BOTH else None
        scene = plan_of(self._building, floor, stairs=self._stairs, cut=cut)
        self.plan.show_scene(scene, keeps_place=keeps_place)

    def _draw_cut(self, *, keeps_place: bool) -> None:
        if self.views is Views.PLAN:
            return
        section = self._section()
        if section is not None and self._house is not None and self._building is not None:
            storey = self._house.rules.figures.floor_height_m.value
            scene = section_scene(section, self._building, storey)
            self.section.show_scene(scene, keeps_place=keeps_place)

    def _section(self) -> Section | None:
        cut = self.cuts.currentData()
        if cut is None or self._house is None or self._building is None:
            return None
        return section_of(self._house, self._building, cut)

    def _seen(self) -> list[HouseView]:
        return [view for view in (self.plan, self.section) if view.isVisibleTo(self)]

    # --- typing a number ----------------------------------------------------

    def _begin_typing(self, text: str) -> None:
        self.goto.setFocus()
        self.goto.setText(text)

    def _seek(self) -> None:
        typed = self.goto.text().strip()
        if typed:
            self.sought.emit(typed)


def cut_text(cut: Cut) -> str:
    """A cut in words."""
    said = {
        Side.LEFT: _("Side view: left of {wing}"),
        Side.RIGHT: _("Side view: right of {wing}"),
        Side.END: _("Side view: end of {wing}"),
    }[cut.side]
    return said.format(wing=cut.wing or _("the corridor"))
