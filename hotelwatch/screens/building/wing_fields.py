"""The numbers of one wing: where its corridor begins and which way it runs."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QDoubleSpinBox, QLabel, QSizePolicy

from hotelwatch.core.facts import WingPlaced
from hotelwatch.screens.forms.fields import TEXT_AIR_PX
from hotelwatch.wording.language import _

FARTHEST_M = 9999.0
METRE_STEP = 0.5
METRE_DIGITS = 2
FULL_TURN_DEG = 360.0
TURN_STEP = 5.0
TURN_DIGITS = 1


class NumberField(QDoubleSpinBox):
    """A number that keeps more digits than it shows, until it is changed."""

    def __init__(self, value: float, *, limit: float, step: float, digits: int) -> None:
        """Show this number; it may go from minus to plus ``limit``."""
        super().__init__()
        self._exact = value
        self.setDecimals(digits)
        self.setRange(min(-limit, value), max(limit, value))
        self.setSingleStep(step)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
        self.setValue(value)
        self._shown = self.value()

    def number(self) -> float:
        """The number; as it was given, while it still shows the same."""
        return self._exact if self.value() == self._shown else self.value()

    def show_number(self, value: float) -> None:
        """Show another number without telling anybody."""
        self.blockSignals(True)
        self.setValue(value)
        self.blockSignals(False)
        self._exact, self._shown = value, self.value()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Turn the wheel for the list around, unless one is working in this field."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


class WingFields(QObject):
    """One row of the table of wings."""

    edited = Signal()
    """The person changed a number."""

    def __init__(self, wing: WingPlaced, *, is_placed: bool, parent: QObject) -> None:
        """Show where a wing is; ``is_placed`` if somebody wrote that down."""
        super().__init__(parent)
        self._wing, self._is_placed = wing.wing, is_placed
        self.changed = False
        self.name = QLabel()
        said = wing.wing or _("the only one")
        self._said = said
        self.x = NumberField(wing.x_m, limit=FARTHEST_M, step=METRE_STEP, digits=METRE_DIGITS)
        self.y = NumberField(wing.y_m, limit=FARTHEST_M, step=METRE_STEP, digits=METRE_DIGITS)
        self.bearing = NumberField(
            wing.bearing_deg, limit=FULL_TURN_DEG, step=TURN_STEP, digits=TURN_DIGITS
        )
        for field, spoken in (
            (self.x, _("Wing {wing}: metres to the east")),
            (self.y, _("Wing {wing}: metres to the north")),
            (self.bearing, _("Wing {wing}: bearing in degrees, counter-clockwise from east")),
        ):
            field.setAccessibleName(spoken.format(wing=said))
            field.setToolTip(spoken.format(wing=said))
            field.valueChanged.connect(self._edit)
        self._say_name()

    @property
    def is_meant(self) -> bool:
        """Whether somebody placed the wing, here or before."""
        return self._is_placed or self.changed

    def placed(self) -> WingPlaced:
        """Where the wing is by these numbers."""
        return WingPlaced(self._wing, self.x.number(), self.y.number(), self.bearing.number())

    def change(self, wing: WingPlaced) -> None:
        """Put other numbers in, as if a person had typed them."""
        self._show(wing)
        self.changed = True
        self._say_name()

    def follow(self, wing: WingPlaced) -> None:
        """Show where the program laid the wing, unless a person says where it is."""
        if not self.is_meant:
            self._show(wing)

    def throw_away(self) -> None:
        """Take the row off the screen."""
        for widget in (self.name, self.x, self.y, self.bearing):
            widget.hide()
            widget.deleteLater()
        self.deleteLater()

    def _show(self, wing: WingPlaced) -> None:
        self.x.show_number(wing.x_m)
        self.y.show_number(wing.y_m)
        self.bearing.show_number(wing.bearing_deg)

    def _edit(self, _value: float) -> None:
        self.changed = True
        self._say_name()
        self.edited.emit()

    def _say_name(self) -> None:
        self.name.setText(self._said if self.is_meant else f"{self._said} *")
