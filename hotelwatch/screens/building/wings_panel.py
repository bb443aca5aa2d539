"""Wings, floors, stairs and lifts put where they are; the drawing follows.

Nothing is written down before Save. A wing that nobody placed is laid out by the program
and stays so until one of its numbers is changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.hotel import place_stairs, place_wings
from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.building.placing import (
    Outcome,
    Places,
    outcome_of,
    places_of,
    stacked,
    with_places,
)
from hotelwatch.core.building.rooms import Building, lay_out
from hotelwatch.core.facts import FloorPlaced, WingPlaced
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.only_if import only_if
from hotelwatch.screens.building.floor_order import FloorOrder
from hotelwatch.screens.building.stair_list import StairList
from hotelwatch.screens.building.wing_fields import WingFields
from hotelwatch.screens.layout.flow import HeldScroll
from hotelwatch.screens.look.theme import MAIN
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label

PREVIEW_PAUSE_MS = 120
COUNT_PAUSE_MS = 350
MOST_OVERLAPS_TOLD = 3
COUNTED = (Kind.SHARES_WALL, Kind.ABOVE, Kind.ACROSS)


class WingsPanel(QFrame):
    """Edits the places of wings and floors."""

    previewed = Signal(object)
    """The Building as it would be."""
    left = Signal()
    """Saved or cancelled."""

    def __init__(self, context: Context) -> None:
        """Nothing to edit before ``begin``."""
        super().__init__()
        self.setProperty("role", "card")
        self._context = context
        self._start = Places((), ())
        self._building: Building | None = None
        self._saved_pairs: Mapping[Kind, int] = {}
        self._counted = self._counted_first = 0
        self.fields: dict[str, WingFields] = {}
        self.floors = FloorOrder()
        self.floors.moved.connect(self._wait)
        self.stairs = StairList()
        self.stairs.edited.connect(self._pause_before_preview)
        self.outcome, self.overlaps = QLabel(wordWrap=True), QLabel(wordWrap=True)
        self.overlaps.setProperty("role", "problem")
        self.laid_out = QLabel(
            _("* laid out by the program until you change a number"), wordWrap=True
        )
        self.laid_out.setProperty("role", "muted")
        self.save = QPushButton(_("&Save"))
        self.save.setProperty("role", MAIN)
        self.save.clicked.connect(self._save)
        self.cancel = QPushButton(_("&Cancel"))
        self.cancel.clicked.connect(self.leave)
        away = QShortcut(QKeySequence(Qt.Key.Key_Escape), self)
        away.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        away.activated.connect(self.leave)
        self._pause = QTimer(self, singleShot=True, interval=PREVIEW_PAUSE_MS)
        self._pause.timeout.connect(self._preview)
        self._counting = QTimer(self, singleShot=True, interval=COUNT_PAUSE_MS)
        self._counting.timeout.connect(self._count)
        self._lay_out()
        only_if(context.may(WingPlaced, StairPlaced), self.save)

    # --- coming and going ---------------------------------------------------

    def begin(self) -> None:
        """Start from what is written down."""
        self._take_up()
        first = next(iter(self.fields.values()), None)
        if first is not None:
            first.x.setFocus()
            first.x.selectAll()

    def refresh(self) -> None:
        """Take in what was written down meanwhile; what was changed here stays."""
        if self._context.hotel.building is self._building:
            return
        changed = {name: fields.placed() for name, fields in self.fields.items() if fields.changed}
        order = self.floors.floors() if self._is_restacked() else ()
        stairs = self.stairs.placed() if self.stairs.changes() else None
        at = self.focusWidget().accessibleName() if self.focusWidget() else ""
        self._take_up()
        for name, placed in changed.items():
            if name in self.fields:
                self.fields[name].change(placed)
        if stairs is not None:
            self.stairs.change(stairs)
        if order and set(order) == {floor.floor for floor in self._start.floors}:
            self.floors.show_floors(order)
        for fields in self.fields.values():
            for field in (fields.x, fields.y, fields.bearing):
                if field.accessibleName() == at:
                    field.setFocus()
        self._preview()
        self._count()

    def _take_up(self) -> None:
        hotel = self._context.hotel
        self._building = hotel.building
        self._start = places_of(hotel.house, hotel.building)
        self._make_fields(self._start.wings)
        self.floors.show_floors([floor.floor for floor in self._start.floors])
        wings = [wing.wing for wing in self._start.wings]
        self.stairs.show_stairs(hotel.house.stairs, wings)
        self._saved_pairs = {}
        self.outcome.clear()
        self.overlaps.hide()
        self._count()
        self._counted_first = self._counted

    def leave(self) -> None:
        """Throw away what was changed."""
        self._pause.stop()
        self._counting.stop()
        self.left.emit()

    def places(self) -> Places:
        """What Save would write down, as far as it differs from what is."""
        wings = tuple(fields.placed() for fields in self.fields.values() if fields.is_meant)
        floors: tuple[FloorPlaced, ...] = ()
        if self._is_restacked():
            floors = stacked(self.floors.floors(), self._start.floors)
        return Places(wings, floors)

    def _is_restacked(self) -> bool:
        return self.floors.floors() != tuple(floor.floor for floor in self._start.floors)

    def _save(self) -> None:
        places = self.places()
        with self._context.notices.refusals():
            stairs = place_stairs(self._context.hotel, self.stairs.changes())
            wings = place_wings(self._context.hotel, places.wings, places.floors)
            self.leave()
            self._context.notices.done(
                _("The places of wings, floors, stairs and lifts are written down.")
                if stairs.topics or wings.topics
                else _("Nothing was changed, so nothing was written down.")
            )

    # --- looking ahead ------------------------------------------------------

    def _wait(self) -> None:
        self._tell_laid_out()
        self._pause.start()
        self._counting.start()

    def _pause_before_preview(self) -> None:
        self._pause.start()

    def _would_be(self) -> House:
        return with_places(self._context.hotel.house, self.places())

    def _preview(self) -> None:
        self._pause.stop()
        would_be = self._would_be()
        building = lay_out(would_be)
        for wing in places_of(would_be, building).wings:
            self.fields[wing.wing].follow(wing)
        self._tell_laid_out()
        self.previewed.emit(building)

    def _count(self) -> None:
        self._counting.stop()
        would_be = self._would_be()
        self._counted += 1
        self._context.jobs.run(
            _numbered_outcome,
            self._counted,
            would_be,
            lay_out(would_be),
            label=_("Counting neighbours"),
            on_done=self._tell_outcome,
        )

    def _tell_outcome(self, answer: tuple[int, Outcome]) -> None:
        number, outcome = answer
        if number == self._counted_first:
            self._saved_pairs = outcome.pairs
        if number != self._counted:
            return  # something was changed since
        lines = [self._told(kind, outcome.pairs[kind]) for kind in COUNTED]
        self.outcome.setText("\n".join(lines))
        pairs = outcome.overlapping
        self.overlaps.setVisible(bool(pairs))
        if pairs:
            named = ", ".join(
                _("{one} and {other}").format(one=one, other=other)
                for one, other in pairs[:MOST_OVERLAPS_TOLD]
            )
            self.overlaps.setText(
                ngettext(
                    "{n} pair of rooms lies on one another: {rooms}",
                    "{n} pairs of rooms lie on one another, among them {rooms}",
                    len(pairs),
                ).format(n=len(pairs), rooms=named)
            )

    def _told(self, kind: Kind, now: int) -> str:
        before = self._saved_pairs.get(kind, now)
        if before == now:
            return _("{kind}: {n}").format(kind=label(kind), n=now)
        return _("{kind}: {n} (as saved: {before})").format(kind=label(kind), n=now, before=before)

    # --- making -------------------------------------------------------------

    def _make_fields(self, wings: Iterable[WingPlaced]) -> None:
        for fields in self.fields.values():
            fields.throw_away()
        known = self._context.hotel.house.wings
        self.fields = {}
        for row, wing in enumerate(wings, 1):
            fields = WingFields(wing, is_placed=wing.wing in known, parent=self)
            fields.edited.connect(self._wait)
            for column, widget in enumerate((fields.name, fields.x, fields.y, fields.bearing)):
                self._grid.addWidget(widget, row, column)
                widget.show()  # at once, so that it can take the keyboard
            self.fields[wing.wing] = fields
        self._tell_laid_out()

    def _tell_laid_out(self) -> None:
        self.laid_out.setVisible(any(not fields.is_meant for fields in self.fields.values()))

    def _lay_out(self) -> None:
        self._grid = QGridLayout()
        self._grid.setColumnMinimumWidth(0, 60)
        for column, text in enumerate((_("Wing"), _("East, m"), _("North, m"), _("Bearing, °"))):
            self._grid.addWidget(_heading_of_column(text), 0, column)
            self._grid.setColumnStretch(column, 1)
        body = QWidget()
        body.setProperty("role", "plain")
        lines = QVBoxLayout(body)
        lines.setContentsMargins(0, 0, 8, 0)
        lines.addLayout(self._grid)
        lines.addWidget(self.laid_out)
        lines.addWidget(
            _muted(
                _(
                    "Where rooms lie decides who is whose neighbour. East and north are counted "
                    "from any point you choose to where a corridor begins; bearing 0 runs east, "
                    "90 north, 180 west, 270 south. Rooms that were drawn by hand go along "
                    "with their wing."
                )
            )
        )
        lines.addWidget(_heading(_("Floors, the top one first")))
        lines.addWidget(self.floors)
        lines.addWidget(_heading(_("Stairs and lifts")))
        lines.addWidget(self.stairs)
        lines.addStretch()
        scroll = HeldScroll()
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(body)
        title = QLabel(_("Wings and floors"))
        title.setProperty("role", "title")
        buttons = QHBoxLayout()
        buttons.addWidget(self.cancel)
        buttons.addStretch()
        buttons.addWidget(self.save)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 12, 14, 12)
        whole.addWidget(title)
        whole.addWidget(scroll, 1)
        whole.addWidget(_heading(_("Pairs of neighbours")))
        whole.addWidget(self.outcome)
        whole.addWidget(self.overlaps)
        whole.addLayout(buttons)


def _numbered_outcome(number: int, house: House, building: Building) -> tuple[int, Outcome]:
    return number, outcome_of(house, building)


def _heading(text: str) -> QLabel:
    heading = QLabel(text)
    heading.setProperty("role", "heading")
    return heading


def _heading_of_column(text: str) -> QLabel:
    heading = QLabel(text)
    heading.setProperty("role", "muted")
    return heading


def _muted(text: str) -> QLabel:
    said = QLabel(text, wordWrap=True)
    said.setProperty("role", "muted")
    return said
