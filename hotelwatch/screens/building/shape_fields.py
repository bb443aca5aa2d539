"""A room's outline in numbers: as a rectangle, and corner by corner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hotelwatch.core.building.inside import inward_corners
from hotelwatch.core.building.outlines import Outline, signed_area
from hotelwatch.core.building.shaping import (
    Rectangle,
    as_rectangle,
    moved,
    with_corner,
    with_more,
    with_notch,
    without,
)
from hotelwatch.screens.building.wing_fields import (
    FARTHEST_M,
    FULL_TURN_DEG,
    METRE_DIGITS,
    TURN_DIGITS,
    TURN_STEP,
    NumberField,
)
from hotelwatch.screens.layout.flow import FlowRow
from hotelwatch.wording.language import _

STEP_M = 0.1
FEWEST = 3


@dataclass(frozen=True, slots=True)
class CornerRow:
    """A corner in numbers, and what one does at it."""

    name: QLabel
    east: NumberField
    north: NumberField
    notch: QPushButton
    remove: QPushButton

    def widgets(self) -> tuple[QWidget, ...]:
        """From left to right."""
        return self.name, self.east, self.north, self.notch, self.remove


class ShapeFields(QWidget):
    """The keyboard's way to draw: every number can be typed."""

    drawn = Signal(object, bool)
    """The outline that the numbers make, and whether it is a step of its own."""

    def __init__(self) -> None:
        """No room yet."""
        super().__init__()
        self._outline: Outline = ()
        self._is_showing = False
        self.east, self.north = self._metres(_("East, m")), self._metres(_("North, m"))
        self.wide, self.deep = self._metres(_("Width, m")), self._metres(_("Depth, m"))
        self.bearing = NumberField(0.0, limit=FULL_TURN_DEG, step=TURN_STEP, digits=TURN_DIGITS)
        self.bearing.setAccessibleName(_("Turned, °"))
        for field in (self.wide, self.deep):
            field.setMinimum(0.1)
        self.uneven = QLabel(
            _("It is no rectangle: change its corners below, or pull them on the drawing."),
            wordWrap=True,
        )
        self.uneven.setProperty("role", "muted")
        self.inward = QLabel(
            _("For a room around a shaft or a bathroom, ⌐ cuts a piece out at a corner."),
            wordWrap=True,
        )
        self.inward.setProperty("role", "muted")
        self.fold = QPushButton(_("C&orners"))
        self.fold.setCheckable(True)
        self.fold.setProperty("role", "choice")
        self.fold.setToolTip(_("Every corner in numbers, counter-clockwise"))
        self.fold.toggled.connect(self._show_fold)
        self._corners = QWidget()
        self._grid = QGridLayout(self._corners)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnStretch(1, 1)
        self._grid.setColumnStretch(2, 1)
        self.corners: list[CornerRow] = []
        self.add = QPushButton(_("Add a &corner"))
        self.add.setToolTip(_("In the middle of the longest wall, to be moved from there"))
        self.add.clicked.connect(self._add_corner)
        by_corner = FlowRow()
        by_corner.flow.addWidget(self.add)
        by_corner.flow.addWidget(self.fold)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(self._numbers())
        lines.addWidget(self.uneven)
        lines.addWidget(by_corner)
        lines.addWidget(self.inward)
        lines.addWidget(self._corners)
        self._show_fold()

    def show_outline(self, outline: Outline) -> None:
        """Show another outline without telling anybody."""
        self._is_showing = True
        self._outline = outline
        rectangle = as_rectangle(outline) if outline else None
        for field in (self.wide, self.deep, self.bearing):
            field.setEnabled(rectangle is not None)
        self.uneven.setVisible(bool(outline) and rectangle is None)
        if outline:
            _show(self.east, outline[0][0])
            _show(self.north, outline[0][1])
        if rectangle is not None:
            _show(self.wide, rectangle.width_m)
            _show(self.deep, rectangle.depth_m)
            _show(self.bearing, rectangle.bearing_deg)
        self._show_corners(outline)
        self.add.setEnabled(bool(outline))
        self._show_fold()
        self._is_showing = False

    # --- rectangle ------------------------------------------------------------

    def _numbers(self) -> QGridLayout:
        """Two numbers in a line: what belongs together stands together."""
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        for number, field in enumerate(self._fields()):
            said = QLabel(field.accessibleName())
            said.setBuddy(field)
            grid.addWidget(said, number // 2, 2 * (number % 2))
            grid.addWidget(field, number // 2, 2 * (number % 2) + 1)
            field.valueChanged.connect(self._take_rectangle)
        return grid

    def _fields(self) -> tuple[NumberField, ...]:
        return self.east, self.north, self.wide, self.deep, self.bearing

    def _metres(self, name: str) -> NumberField:
        field = NumberField(0.0, limit=FARTHEST_M, step=STEP_M, digits=METRE_DIGITS)
        field.setAccessibleName(name)
        return field

    def _take_rectangle(self, _value: float) -> None:
        if self._is_showing or not self._outline:
            return
        east, north = self.east.number(), self.north.number()
        if as_rectangle(self._outline) is None:
            x, y = self._outline[0]
            self._tell(moved(self._outline, (east - x, north - y)))
            return
        width, depth = self.wide.number(), self.deep.number()
        self._tell(Rectangle(east, north, width, depth, self.bearing.number()).outline())

    # --- corners ----------------------------------------------------------------

    def _show_fold(self) -> None:
        """Corners show where they are asked for, and where nothing else can say the shape."""
        is_uneven = bool(self._outline) and as_rectangle(self._outline) is None
        self.fold.setEnabled(not is_uneven)
        for widget in (self.inward, self._corners):
            widget.setVisible(bool(self._outline) and (is_uneven or self.fold.isChecked()))

    def _show_corners(self, outline: Sequence[tuple[float, float]]) -> None:
        while len(self.corners) > len(outline):
            for widget in self.corners.pop().widgets():
                widget.hide()
                widget.deleteLater()
        while len(self.corners) < len(outline):
            self._add_row(len(self.corners))
        inward = set(inward_corners(outline)) if signed_area(outline) > 0 else set()
        for number, ((x, y), row) in enumerate(zip(outline, self.corners, strict=True)):
            _show(row.east, x)
            _show(row.north, y)
            row.notch.setEnabled(number not in inward)
            row.remove.setEnabled(len(outline) > FEWEST)

    def _add_row(self, number: int) -> None:
        name = QLabel(str(number + 1))
        east = self._metres(_("Corner {n}: metres to the east").format(n=number + 1))
        north = self._metres(_("Corner {n}: metres to the north").format(n=number + 1))
        for field in (east, north):
            field.setToolTip(field.accessibleName())
            field.valueChanged.connect(lambda _value, number=number: self._take_corner(number))
        notch, remove = QPushButton("⌐"), QPushButton("✕")
        notch.setAccessibleName(_("Cut a piece out at corner {n}").format(n=number + 1))
        remove.setAccessibleName(_("Take corner {n} away").format(n=number + 1))
        for button, does in ((notch, with_notch), (remove, without)):
            button.setProperty("role", "chip")
            button.setToolTip(button.accessibleName())
            button.clicked.connect(
                lambda _on, does=does: self._tell(does(self._outline, number), is_step=True)
            )
        row = CornerRow(name, east, north, notch, remove)
        for column, widget in enumerate(row.widgets()):
            self._grid.addWidget(widget, number, column)
            widget.show()
        self.corners.append(row)

    def _take_corner(self, number: int) -> None:
        if self._is_showing or number >= len(self._outline):
            return
        row = self.corners[number]
        at = (row.east.number(), row.north.number())
        self._tell(with_corner(self._outline, number, at))

    def _add_corner(self) -> None:
        closed = (*self._outline[1:], self._outline[0])
        walls = [
            (x1 - x0) ** 2 + (y1 - y0) ** 2
            for (x0, y0), (x1, y1) in zip(self._outline, closed, strict=True)
        ]
        self._tell(with_more(self._outline, walls.index(max(walls))), is_step=True)

    def _tell(self, outline: Outline, *, is_step: bool = False) -> None:
        self._outline = outline
        self.drawn.emit(outline, is_step)


def _show(field: NumberField, value: float) -> None:
    """Show a number, unless the person is typing that very number there."""
    if not field.hasFocus() or round(value, METRE_DIGITS) != round(field.value(), METRE_DIGITS):
        field.show_number(value)
