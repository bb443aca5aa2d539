"""Stairs and lifts, each on two lines: its name; what it is, its wing, how far along."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.core.round_facts import Climb, StairPlaced
from hotelwatch.screens.building.wing_fields import FARTHEST_M, METRE_DIGITS, NumberField
from hotelwatch.screens.forms.fields import leave_wheel
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

LENGTH_STEP_M = 1.0
COLUMNS = 3
"""On the second line; on the first the name goes over all of them."""


class StairFields(QObject):
    """One row of the list."""

    edited = Signal()
    removed = Signal(object)
    """The person takes this row away."""

    def __init__(self, stair: StairPlaced, wings: Sequence[str], parent: QObject) -> None:
        """Show a stair or lift; it may be put into any of these wings."""
        super().__init__(parent)
        self.name = QLineEdit(stair.name, placeholderText=_("Its name"))
        self.kind, self.wing = QComboBox(), QComboBox()
        for kind in Climb:
            self.kind.addItem(label(kind), kind)
        self.kind.setCurrentIndex(list(Climb).index(stair.kind))
        offered = wings if stair.wing in wings else (*wings, stair.wing)
        for wing in offered:
            self.wing.addItem(wing or _("the only one"), wing)
        self.wing.setCurrentIndex(self.wing.findData(stair.wing))
        self.along = NumberField(
            stair.along_m, limit=FARTHEST_M, step=LENGTH_STEP_M, digits=METRE_DIGITS
        )
        self.along.setMinimum(0)
        self.along.setSuffix(_(" m"))
        self.remove = QPushButton("✕")
        self.remove.clicked.connect(lambda: self.removed.emit(self))
        for field in (self.kind, self.wing):
            field.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            field.currentIndexChanged.connect(self._tell)
            leave_wheel(field)
        self.along.valueChanged.connect(self._tell)
        self.name.textEdited.connect(self._tell)
        self._name_fields()

    def widgets(self) -> tuple[QWidget, ...]:
        """Its fields, in the order in which one fills them in."""
        return self.name, self.kind, self.wing, self.along, self.remove

    def placed(self) -> StairPlaced:
        """What the fields say."""
        return StairPlaced(
            self.name.text().strip(),
            self.wing.currentData(),
            self.along.number(),
            Climb(self.kind.currentData()),
        )

    def throw_away(self) -> None:
        """Take the row off the screen."""
        for widget in self.widgets():
            widget.hide()
            widget.deleteLater()
        self.deleteLater()

    def _tell(self, *_what: object) -> None:
        self._name_fields()
        self.edited.emit()

    def _name_fields(self) -> None:
        said = self.name.text().strip() or _("the new one")
        for widget, spoken in zip(
            self.widgets(),
            (
                _("{stair}: its name"),
                _("{stair}: stair or lift"),
                _("{stair}: the wing on whose corridor it lies"),
                _("{stair}: metres from where the corridor begins"),
                _("{stair}: take it away"),
            ),
            strict=True,
        ):
            widget.setAccessibleName(spoken.format(stair=said))
            widget.setToolTip(spoken.format(stair=said))


class StairList(QWidget):
    """All stairs and lifts, to change, add and take away."""

    edited = Signal()

    def __init__(self) -> None:
        """No stair yet."""
        super().__init__()
        self._known: Mapping[str, StairPlaced] = {}
        self._wings: Sequence[str] = ()
        self.rows: list[StairFields] = []
        self.assumed = QLabel(wordWrap=True)
        self.assumed.setProperty("role", "muted")
        self.add = QPushButton(_("Add a s&tair or lift"))
        self.add.clicked.connect(self._add_new)
        self._grid = QGridLayout()
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addLayout(self._grid)
        lines.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        lines.addWidget(self.assumed)
        for column in range(COLUMNS):
            self._grid.setColumnStretch(column, 1)
        self._tell_assumed()

    def show_stairs(self, known: Mapping[str, StairPlaced], wings: Sequence[str]) -> None:
        """Show what is written down."""
        self._known, self._wings = known, wings
        self.change(known.values())

    def change(self, stairs: Iterable[StairPlaced]) -> None:
        """Put other rows in, as if a person had typed them."""
        self._clear()
        for stair in stairs:
            self._add(stair)
        self._tell_assumed()

    def placed(self) -> tuple[StairPlaced, ...]:
        """Every stair and lift as the rows say it."""
        return tuple(row.placed() for row in self.rows)

    def changes(self) -> tuple[StairPlaced, ...]:
        """What Save would write down: those changed or new, and those taken away."""
        placed = self.placed()
        names = {stair.name for stair in placed}
        gone = (
            replace(stair, in_use=False) for name, stair in self._known.items() if name not in names
        )
        return (*gone, *(stair for stair in placed if self._known.get(stair.name) != stair))

    def _clear(self) -> None:
        for row in self.rows:
            row.throw_away()
        self.rows = []

    def _add_new(self) -> None:
        row = self._add(StairPlaced("", self._wings[0] if self._wings else "", 0.0))
        row.name.setFocus()
        self._tell()

    def _add(self, stair: StairPlaced) -> StairFields:
        row = StairFields(stair, self._wings, self)
        row.edited.connect(self._tell)
        row.removed.connect(self._remove)
        self.rows.append(row)
        line = self._grid.rowCount()
        self._grid.addWidget(row.name, line, 0, 1, COLUMNS)
        self._grid.addWidget(row.remove, line, COLUMNS)
        for column, widget in enumerate((row.kind, row.wing, row.along)):
            self._grid.addWidget(widget, line + 1, column)
        for widget in row.widgets():
            widget.show()  # at once, so that it can take the keyboard
        for before, after in pairwise(row.widgets()):
            QWidget.setTabOrder(before, after)
        return row

    def _remove(self, row: StairFields) -> None:
        self.rows.remove(row)
        row.throw_away()
        self.add.setFocus()
        self._tell()

    def _tell(self) -> None:
        self._tell_assumed()
        self.edited.emit()

    def _tell_assumed(self) -> None:
        self.assumed.setText(
            _("They open on every floor of their wing; the way on the sheets goes by them.")
            if self.rows
            else _("While none is placed, a stair is assumed where each wing begins.")
        )
