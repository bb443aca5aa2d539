"""Splitting a room: where it is cut, the new room's number, which beds go along."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.building.drawing import NewRoom
from hotelwatch.core.building.outlines import Outline
from hotelwatch.core.building.shaping import cut, wall_length
from hotelwatch.core.facts import BedDescribed, BedNo, RoomNo
from hotelwatch.screens.building.wing_fields import METRE_DIGITS, NumberField
from hotelwatch.screens.forms import leave_wheel
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label

FARTHEST_M = 99.0
STEP_M = 0.1
ACROSS, ALONG = 0, 1


class SplitFields(QWidget):
    """One cut, square to the room's first wall or along it."""

    wanted = Signal()
    """The person presses the button."""

    def __init__(self) -> None:
        """No room yet."""
        super().__init__()
        self._outline: Outline = ()
        self.way = QComboBox()
        self.way.addItem(_("across its width"), ACROSS)
        self.way.addItem(_("across its depth"), ALONG)
        self.way.currentIndexChanged.connect(self._halve)
        leave_wheel(self.way)
        self.at = NumberField(0.0, limit=FARTHEST_M, step=STEP_M, digits=METRE_DIGITS)
        self.at.setMinimum(0)
        self.at.setSuffix(_(" m"))
        self.number = QLineEdit()
        self.beds: dict[BedNo, QCheckBox] = {}
        self.split = QPushButton(_("S&plit the room"))
        self.split.clicked.connect(self.wanted)
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for text, field in (
            (_("Cut"), self.way),
            (_("Metres from its first corner"), self.at),
            (_("Number of the new room"), self.number),
        ):
            said = QLabel(text)
            said.setBuddy(field)
            field.setAccessibleName(text)
            form.addRow(said, field)
        self._beds = QVBoxLayout()
        self._told = QLabel(
            _(
                "Beds that go along keep their labels, and what was looked at on them before "
                "stays with them."
            ),
            wordWrap=True,
        )
        self._told.setProperty("role", "muted")
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(form)
        lines.addLayout(self._beds)
        lines.addWidget(self._told)
        lines.addWidget(self.split)

    def show_room(self, outline: Outline, beds: Sequence[BedDescribed]) -> None:
        """Offer to cut this room, whose beds may go along."""
        is_same = [bed.bed for bed in beds] == list(self.beds)
        was, self._outline = self._outline, outline
        if not is_same:
            for box in self.beds.values():
                box.hide()
                box.deleteLater()
            self.beds = {}
            for bed in beds:
                box = QCheckBox(_("Bed {bed} goes along").format(bed=bed.bed))
                box.setToolTip(bed_label(bed.kind))
                self._beds.addWidget(box)
                self.beds[bed.bed] = box
            self.number.clear()
        self._told.setVisible(bool(self.beds))
        if was != outline:
            self._halve()

    def new_room(self, source: RoomNo) -> NewRoom:
        """The new room as the fields say."""
        going = tuple(bed for bed, box in self.beds.items() if box.isChecked())
        return NewRoom(RoomNo(self.number.text().strip()), source, going)

    def halves(self) -> tuple[Outline, Outline] | None:
        """What stays and what goes; None where the cut misses the room."""
        if not self._outline:
            return None
        return cut(self._outline, self.way.currentData(), self.at.number())

    def _halve(self) -> None:
        if self._outline:
            self.at.show_number(wall_length(self._outline, self.way.currentData()) / 2)
