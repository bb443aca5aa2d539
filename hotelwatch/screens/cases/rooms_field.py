"""Rooms of a case to tick: one or several."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from hotelwatch.core.facts import RoomNo
from hotelwatch.screens.layout.flow import Flow
from hotelwatch.screens.layout.tab_order import come_after
from hotelwatch.screens.look.theme import TARGET_PX
from hotelwatch.wording.language import _

APART_PX = 20


class RoomsField(QWidget):
    """A box for each room that a case has to do with."""

    changed = Signal()
    """A person ticked a box, or took the tick away."""

    def __init__(self) -> None:
        """No case yet."""
        super().__init__()
        self.setProperty("role", "plain")
        self.was_edited = False
        self.boxes: dict[RoomNo, QCheckBox] = {}
        self._flow = Flow(APART_PX)
        self.setLayout(self._flow)

    def minimumSizeHint(self) -> QSize:
        """As high as a line of boxes, even before there is one."""
        return super().minimumSizeHint().expandedTo(QSize(0, TARGET_PX))

    def offer(self, rooms: Iterable[RoomNo]) -> None:
        """Offer these rooms; a tick stays where its room is still there."""
        ticked, wanted = set(self.rooms()), sorted(rooms)
        if wanted == list(self.boxes):
            return
        while (item := self._flow.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        self.boxes = {room: self._box(room, is_ticked=room in ticked) for room in wanted}
        if self.boxes:
            come_after(self, *self.boxes.values())
            self.setFocusProxy(next(iter(self.boxes.values())))
        self.updateGeometry()

    def choose(self, rooms: Iterable[RoomNo]) -> None:
        """Tick these and no others; it counts as not edited by a person."""
        wanted = set(rooms)
        for room, box in self.boxes.items():
            box.setChecked(room in wanted)
        self.was_edited = False

    def rooms(self) -> tuple[RoomNo, ...]:
        """The rooms ticked."""
        return tuple(room for room, box in self.boxes.items() if box.isChecked())

    def to_keep(self) -> list[str]:
        """The rooms ticked, to be kept with a form that is half entered."""
        return list(self.rooms())

    def take_kept(self, rooms: Iterable[str]) -> None:
        """Tick what was ticked by a person before."""
        self.choose(RoomNo(room) for room in rooms)
        self.was_edited = True

    def _box(self, room: RoomNo, *, is_ticked: bool) -> QCheckBox:
        # A room's & must not become a letter to press.
        box = QCheckBox(room.replace("&", "&&"))
        box.setChecked(is_ticked)
        box.setAccessibleName(_("Room {room}").format(room=room))
        box.clicked.connect(self._tell)
        self._flow.addWidget(box)
        return box

    def _tell(self) -> None:
        self.was_edited = True
        self.changed.emit()
