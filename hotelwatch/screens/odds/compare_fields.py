"""Today's house rule, line by line, beside fields for the one to try."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QLabel,
    QSizePolicy,
    QSpinBox,
    QWidget,
)

from hotelwatch.actions.compare_rules import RulesBasis, minutes_a_day, with_minutes_a_day
from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.simulation.policies import RINGS, HouseRule
from hotelwatch.core.odds.simulation.wishes import USUAL_YEARS
from hotelwatch.screens.forms.fields import TEXT_AIR_PX, leave_wheel
from hotelwatch.wording.compare_rules import ring_text
from hotelwatch.wording.language import _

LONGEST_CYCLE = 730
MOST_FOLLOW_UPS, MOST_DAYS_APART, MOST_MINUTES = 12, 60, 10_000
FEWEST_YEARS, MOST_YEARS, YEARS_STEP = 100, 2_000, 100
MINUTES_STEP = 30
NAME, TODAY, TRIED = 0, 1, 2
"""Columns."""
RING_CHARS = 10


class RuleFields(QWidget):
    """A grid: what, how it is today, what one tries."""

    changed = Signal()

    def __init__(self) -> None:
        """Nothing is known of today yet."""
        super().__init__()
        self._basis: RulesBasis | None = None
        self._today: list[tuple[QLabel, QWidget, Callable[[HouseRule], str]]] = []
        self._rings: list[tuple[Kind, ...]] = []
        self._lines = QGridLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setVerticalSpacing(1)
        self._lines.setHorizontalSpacing(8)
        self._lines.setColumnStretch(TRIED, 1)
        for column, text in ((TODAY, _("Today")), (TRIED, _("To try"))):
            heading = QLabel(text)
            heading.setProperty("role", "heading")
            self._lines.addWidget(heading, 0, column)
        self._make_fields()
        self.years = QSpinBox()
        self.years.setRange(FEWEST_YEARS, MOST_YEARS)
        self.years.setSingleStep(YEARS_STEP)
        self.years.setValue(USUAL_YEARS)
        self._add(_("Hotel-&years simulated"), self.years, lambda _rule: "")

    def _make_fields(self) -> None:
        self.cycle = _number(1, LONGEST_CYCLE)
        self.cover, self.headboard = QCheckBox(), QCheckBox()
        self.encased, self.traps = QCheckBox(), QCheckBox()
        self.ring = QComboBox()
        self.ring.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.ring.setMinimumContentsLength(RING_CHARS)
        self.follow_ups = _number(0, MOST_FOLLOW_UPS)
        self.follow_up_days = _number(1, MOST_DAYS_APART)
        self.minutes = _number(1, MOST_MINUTES)
        self.minutes.setSingleStep(MINUTES_STEP)
        add = self._add
        add(_("A look every, day&s"), self.cycle, lambda rule: str(rule.cycle_days))
        add(_("&Dust covers opened"), self.cover, lambda rule: _yes(rule.way.cover_opened))
        add(_("Headboards ta&ken off"), self.headboard, lambda rule: _yes(rule.way.headboard_off))
        add(_("A&ll beds encased"), self.encased, lambda rule: _yes(rule.way.encased))
        add(_("Tra&ps under the beds"), self.traps, lambda rule: _yes(rule.way.traps))
        add(_("&Neighbours of a find"), self.ring, lambda rule: ring_text(rule.ring))
        add(_("F&ollow-ups"), self.follow_ups, lambda rule: str(rule.follow_ups))
        add(_("Days ap&art"), self.follow_up_days, lambda rule: str(rule.follow_up_days))
        add(_("&Minutes a working day"), self.minutes, lambda rule: f"{minutes_a_day(rule):,}")

    def _add(self, text: str, field: QWidget, of_today: Callable[[HouseRule], str]) -> None:
        label, today = QLabel(text), QLabel()
        label.setBuddy(field)
        today.setProperty("role", "muted")
        field.setAccessibleName(text.replace("&", ""))
        leave_wheel(field)
        field.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        row = self._lines.rowCount()
        self._lines.addWidget(label, row, NAME)
        self._lines.addWidget(today, row, TODAY)
        self._lines.addWidget(field, row, TRIED)
        self._today.append((today, field, of_today))
        if isinstance(field, QCheckBox):
            field.setMinimumHeight(label.sizeHint().height() + TEXT_AIR_PX)
            field.toggled.connect(self._tell)
        elif isinstance(field, QComboBox):
            field.currentIndexChanged.connect(self._tell)
        elif isinstance(field, QSpinBox):
            field.lineEdit().setTextMargins(TEXT_AIR_PX, 0, 0, 0)
            field.valueChanged.connect(self._tell)

    def show_basis(self, basis: RulesBasis) -> None:
        """Show how things are today; fields that nobody changed follow."""
        was_as_today = self._basis is None or self.rule() == self._basis.usual
        chosen = self._rings[self.ring.currentIndex()] if self._rings else ()
        self._basis, usual = basis, basis.usual
        for label, field, of_today in self._today:
            label.setText(of_today(usual))
            said = of_today(usual)
            field.setAccessibleDescription(_("today: {value}").format(value=said) if said else "")
        self._offer_rings(usual.ring)
        self._widen(usual)
        for switch, is_there in (
            (self.cover, basis.has_covers),
            (self.encased, basis.has_covers),
            (self.headboard, basis.has_headboards),
        ):
            switch.setEnabled(is_there)
            switch.setToolTip("" if is_there else _("The hotel has no bed to which this applies."))
        if was_as_today:
            self.set_rule(usual)
        else:
            self._choose_ring(chosen)

    def rule(self) -> HouseRule:
        """The rule to try: today's with what the fields say."""
        if self._basis is None:
            raise LookupError
        usual = self._basis.usual
        way = replace(
            usual.way,
            cover_opened=self.cover.isChecked(),
            headboard_off=self.headboard.isChecked(),
            encased=self.encased.isChecked(),
            traps=self.traps.isChecked(),
        )
        rule = replace(
            usual,
            cycle_days=self.cycle.value(),
            way=way,
            ring=self._rings[self.ring.currentIndex()],
            follow_ups=self.follow_ups.value(),
            follow_up_days=self.follow_up_days.value(),
        )
        return with_minutes_a_day(rule, self.minutes.value())

    def set_rule(self, rule: HouseRule) -> None:
        """Let the fields say a rule, without telling."""
        self.blockSignals(True)
        self.cycle.setValue(rule.cycle_days)
        self.cover.setChecked(rule.way.cover_opened)
        self.headboard.setChecked(rule.way.headboard_off)
        self.encased.setChecked(rule.way.encased)
        self.traps.setChecked(rule.way.traps)
        self._choose_ring(rule.ring)
        self.follow_ups.setValue(rule.follow_ups)
        self.follow_up_days.setValue(rule.follow_up_days)
        self.minutes.setValue(minutes_a_day(rule))
        self.blockSignals(False)
        self._suit()

    def _offer_rings(self, todays: tuple[Kind, ...]) -> None:
        """Today's own choice of neighbours comes first where it is none of the usual ones."""
        rings = [todays if set(ring) == set(todays) else ring for ring in RINGS.values()]
        self._rings = rings if todays in rings else [todays, *rings]
        self.ring.blockSignals(True)
        self.ring.clear()
        self.ring.addItems([ring_text(ring) for ring in self._rings])
        self.ring.blockSignals(False)

    def _choose_ring(self, ring: tuple[Kind, ...]) -> None:
        for place, one in enumerate(self._rings):
            if set(one) == set(ring):
                self.ring.blockSignals(True)
                self.ring.setCurrentIndex(place)
                self.ring.blockSignals(False)

    def _widen(self, usual: HouseRule) -> None:
        """Today's values can be chosen, however large they are."""
        for field, value in (
            (self.cycle, usual.cycle_days),
            (self.follow_ups, usual.follow_ups),
            (self.follow_up_days, usual.follow_up_days),
            (self.minutes, minutes_a_day(usual)),
        ):
            field.setRange(min(field.minimum(), value), max(field.maximum(), value))

    def _suit(self) -> None:
        self.follow_up_days.setEnabled(self.follow_ups.value() > 0)

    def _tell(self, _value: object) -> None:
        self._suit()
        self.changed.emit()


def _number(least: int, most: int) -> QSpinBox:
    field = QSpinBox()
    field.setRange(least, most)
    field.setKeyboardTracking(False)
    return field


def _yes(is_so: bool) -> str:
    return _("yes") if is_so else _("no")
