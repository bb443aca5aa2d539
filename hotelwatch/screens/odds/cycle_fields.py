"""What one tries of a cycle: its length by slider or number, and the way of looking."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QSlider,
    QSpinBox,
    QStyle,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.cycle_worth import CycleBasis, Trial
from hotelwatch.core.odds.cycles.cycle_ways import LENGTHS, CheckWay
from hotelwatch.screens.forms.fields import TEXT_AIR_PX, leave_wheel
from hotelwatch.screens.look.theme import colours_of
from hotelwatch.wording.cycle_change import (
    cover_input,
    encasing_input,
    headboard_input,
    traps_input,
)
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _

FORTNIGHT = 14
HANDLE_PX = 26
ARROW_PX = 6


class DaysField(QWidget):
    """A slider and a number that go together, with today's cycle marked below them."""

    moved = Signal()

    def __init__(self) -> None:
        """Between the shortest and the longest cycle that are compared."""
        super().__init__()
        label = QLabel(_("A l&ook every"))
        self.number = QSpinBox()
        self.number.setSuffix(_(" days"))
        self.number.setAccessibleName(_("A look every so many days"))
        self.number.setKeyboardTracking(False)
        self.number.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
        leave_wheel(self.number)
        label.setBuddy(self.number)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setPageStep(FORTNIGHT)
        leave_wheel(self.slider)
        self.slider.setMinimumHeight(28)
        self.slider.setAccessibleName(_("A look every so many days, slider"))
        self._mark = _TodayMark(self.slider)
        self.keep_within(min(LENGTHS), max(LENGTHS))
        self.slider.valueChanged.connect(self._follow)
        self.number.valueChanged.connect(self._follow)
        top = QHBoxLayout()
        top.addWidget(label, 1)
        top.addWidget(self.number)
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(2)
        lines.addLayout(top)
        lines.addWidget(self.slider)
        lines.addWidget(self._mark)

    def keep_within(self, least: int, most: int) -> None:
        """Take lengths from one to another."""
        for field in (self.slider, self.number):
            field.blockSignals(True)
            field.setRange(least, most)
            field.blockSignals(False)

    def mark(self, days: int) -> None:
        """Mark today's cycle; it can be chosen however long it is."""
        self.keep_within(min(*LENGTHS, days), max(*LENGTHS, days))
        self._mark.show_days(days)
        self.slider.setAccessibleDescription(_("today: {days}").format(days=days_text(days)))

    def days(self) -> int:
        """The length chosen."""
        return self.slider.value()

    def set_days(self, days: int) -> None:
        """Let both stand at a length, without telling."""
        for field in (self.slider, self.number):
            field.blockSignals(True)
            field.setValue(days)
            field.blockSignals(False)

    def _follow(self, days: int) -> None:
        self.set_days(days)
        self.moved.emit()


class _TodayMark(QWidget):
    """An arrow under a slider's place, with what stands there."""

    def __init__(self, slider: QSlider) -> None:
        super().__init__()
        self._slider = slider
        self._days: int | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(0, self.fontMetrics().height() + ARROW_PX + 2)

    def show_days(self, days: int) -> None:
        self._days = days
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._days is None:
            return
        slider, metrics = self._slider, self.fontMetrics()
        span = self.width() - HANDLE_PX
        x = HANDLE_PX / 2 + QStyle.sliderPositionFromValue(
            slider.minimum(), slider.maximum(), self._days, span
        )
        said = _("today: {days}").format(days=days_text(self._days))
        left = min(max(0.0, x - metrics.horizontalAdvance(said) / 2), self.width())
        left = min(left, self.width() - metrics.horizontalAdvance(said))
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colours_of(self.palette()).accent))
            corners = (x, 0.0), (x - ARROW_PX, ARROW_PX), (x + ARROW_PX, ARROW_PX)
            painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners]))
            painter.setPen(QColor(colours_of(self.palette()).muted))
            painter.drawText(QPointF(left, ARROW_PX + metrics.ascent() + 1), said)


class WaySwitches(QWidget):
    """Which hidden places are looked at, whether beds are encased, whether there are traps."""

    changed = Signal()

    def __init__(self) -> None:
        """Nothing switched on."""
        super().__init__()
        self.cover = QCheckBox(_("&Dust covers opened"))
        self.headboard = QCheckBox(_("Headboards ta&ken off"))
        self.encased = QCheckBox(_("All beds e&ncased"))
        self.traps = QCheckBox(_("Tra&ps under the beds"))
        self._inputs: dict[QCheckBox, QLabel] = {}
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(0)
        for switch in (self.cover, self.headboard, self.encased, self.traps):
            said = QLabel(wordWrap=True)
            said.setProperty("role", "muted")
            said.setContentsMargins(28, 0, 0, 4)
            self._inputs[switch] = said
            lines.addWidget(switch)
            lines.addWidget(said)
            switch.toggled.connect(self._tell)

    def show_inputs(self, basis: CycleBasis) -> None:
        """Say what each takes, and switch off what the hotel's beds do not have."""
        rules, room = basis.rules, basis.room
        texts = {
            self.cover: (cover_input(rules), bool(room.covers)),
            self.headboard: (headboard_input(rules), bool(room.headboards)),
            self.encased: (encasing_input(rules), bool(room.covers)),
            self.traps: (traps_input(rules, basis.around.traps_every_days), True),
        }
        for switch, (text, is_there) in texts.items():
            said = text if is_there else _("The hotel has no bed to which this applies.")
            self._inputs[switch].setText(said)
            switch.setAccessibleDescription(said)
            switch.setEnabled(is_there)

    def way(self) -> CheckWay:
        """The way that is switched on."""
        return CheckWay(
            cover_opened=self.cover.isChecked(),
            headboard_off=self.headboard.isChecked(),
            encased=self.encased.isChecked(),
            traps=self.traps.isChecked(),
        )

    def set_way(self, way: CheckWay) -> None:
        """Switch to a way, without telling."""
        for switch, is_on in (
            (self.cover, way.cover_opened),
            (self.headboard, way.headboard_off),
            (self.encased, way.encased),
            (self.traps, way.traps),
        ):
            switch.blockSignals(True)
            switch.setChecked(is_on)
            switch.blockSignals(False)

    def _tell(self, _is_on: bool) -> None:
        self.changed.emit()


def trial_of(days: DaysField, switches: WaySwitches) -> Trial:
    """What the fields say together."""
    return Trial(switches.way(), days.days())
