"""Splitting a room: where it is cut, the new room's number, which beds go along."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Signal
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
from hotelwatch.core.building.outlines import Outline, Point
from hotelwatch.core.building.shaping import as_rectangle, cut, partition, wall_length
from hotelwatch.core.facts import BedDescribed, BedNo, RoomNo
from hotelwatch.screens.building.wing_fields import METRE_DIGITS, NumberField
from hotelwatch.screens.forms.fields import leave_wheel
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label

FARTHEST_M = 99.0
STEP_M = 0.1


class SplitFields(QWidget):
    """One cut, square to a wall: of a rectangle to its first or its second."""

    wanted = Signal()
    """The person presses the button."""
    line_changed = Signal()
    """The cut would be elsewhere, or one begins or ceases to work here."""

    def __init__(self) -> None:
        """No room yet."""
        super().__init__()
        self._outline: Outline = ()
        self.way = QComboBox()
        self.way.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.way.currentIndexChanged.connect(self._halve)
        leave_wheel(self.way)
        self.at = NumberField(0.0, limit=FARTHEST_M, step=STEP_M, digits=METRE_DIGITS)
        self.at.setMinimum(0)
        self.at.setSuffix(_(" m"))
        self.at.valueChanged.connect(self.line_changed)
        self.number = QLineEdit()
        self.beds: dict[BedNo, QCheckBox] = {}
        self.split = QPushButton(_("S&plit the room"))
        self.split.clicked.connect(self.wanted)
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self._from = QLabel()
        for said, field in (
            (QLabel(_("Cut")), self.way),
            (self._from, self.at),
            (QLabel(_("Number of the new room")), self.number),
        ):
            said.setBuddy(field)
            field.setAccessibleName(said.text())
            field.installEventFilter(self)
            form.addRow(said, field)
        self._say_from()
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
            self._offer_walls()
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

    def line(self) -> tuple[Point, Point] | None:
        """Where the new wall would stand, while one works here."""
        fields = (self.way, self.at, self.number)
        if not self._outline or not any(field.hasFocus() for field in fields):
            return None
        return partition(self._outline, self.way.currentData(), self.at.number())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The line shows while one works in a field."""
        if event.type() in (QEvent.Type.FocusIn, QEvent.Type.FocusOut):
            self.line_changed.emit()
        return False

    def _offer_walls(self) -> None:
        """The two ways of a rectangle in words; else each wall by the corner it begins at."""
        if as_rectangle(self._outline) is None:
            walls = range(len(self._outline))
            ways = [_("at wall {n}").format(n=n + 1) for n in walls]
        else:
            ways = [_("across its width"), _("across its depth")]
        if ways == [self.way.itemText(n) for n in range(self.way.count())]:
            return
        self.way.blockSignals(True)
        self.way.clear()
        for wall, way in enumerate(ways):
            self.way.addItem(way, wall)
        self.way.blockSignals(False)

    def _halve(self) -> None:
        if self._outline:
            self.at.show_number(wall_length(self._outline, self.way.currentData()) / 2)
            self._say_from()
            self.line_changed.emit()

    def _say_from(self) -> None:
        self._from.setText(_("Metres from corner {n}").format(n=self.way.currentIndex() + 1))
        self.at.setAccessibleName(self._from.text())
