"""Which column of a log holds what, and what no column says: unit, beginning, order of days."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, tzinfo

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QVBoxLayout, QWidget

from hotelwatch.core.days import moment_of
from hotelwatch.core.lethal.probes import PLACES
from hotelwatch.core.problems import Problem
from hotelwatch.intake.probe_file import ProbeCode, ProbeLog, ProbeMapping
from hotelwatch.screens.forms.entry_form import MomentField, clear_layout
from hotelwatch.screens.forms.fields import Form
from hotelwatch.wording.language import _
from hotelwatch.wording.lethal import place_name

NO_PROBE, NOWHERE = "-", ""
MIDNIGHT = "00:00"


class LogColumns(QWidget):
    """The columns of one log, to be put right by a person."""

    changed = Signal()

    def __init__(self, zone: tzinfo) -> None:
        """No log yet; moments are those of ``zone``."""
        super().__init__()
        self._zone = zone
        self._mapping = ProbeMapping()
        self._form = Form()
        self.probes: dict[str, QComboBox] = {}
        self._place = QVBoxLayout(self)
        self._place.setContentsMargins(0, 0, 0, 0)
        self.hide()

    def show_log(self, log: ProbeLog, treated_on: date) -> None:
        """Offer the columns of a log that comes new, as its headings were understood."""
        clear_layout(self._place)
        self._mapping = log.mapping
        self._form = form = Form()
        times = log.mapping.times
        self.time = form.add(_("Time"), _combo([(h, h) for h in log.headings], times[:1]))
        none = [("", _("(in the same column)"))]
        clocks = [*none, *((h, h) for h in log.headings)]
        self.clock = form.add(_("Clock, if apart"), _combo(clocks, times[1:2]))
        self.elapsed = form.add(_("Time is"), QCheckBox(_("minutes since the beginning")))
        self.elapsed.setChecked(log.mapping.is_elapsed)
        self.begins = form.add(
            _("Began"), MomentField(), hint=_("Needed where the file names no day.")
        )
        self.begins.show_moment(moment_of(treated_on, MIDNIGHT, self._zone), self._zone)
        units = [("", _("(not said)")), ("c", "°C"), ("f", "°F")]
        self.unit = form.add(_("Unit"), _combo(units, [log.mapping.unit]))
        orders = [
            ("", _("(the file shows it)")),
            ("day", _("day, then month")),
            ("month", _("month, then day")),
        ]
        self.order = form.add(_("03/04/2026 means"), _combo(orders, []))
        self.probes = {
            heading: form.add(heading, _combo(_places(), [log.mapping.places.get(heading, "-")]))
            for heading in log.headings
            if heading not in times
        }
        for combo in (self.time, self.clock, self.unit, self.order, *self.probes.values()):
            combo.activated.connect(self._tell)
        self.elapsed.toggled.connect(self._tell)
        self.begins.editingFinished.connect(self._tell)
        self._place.addWidget(form)
        self.show()
        self.ask_for(log.problems)

    def ask_for(self, problems: Sequence[Problem]) -> None:
        """Show the beginning and the order of days only where they are wanted or were said."""
        codes = {problem.code for problem in problems}
        wants_start = ProbeCode.NO_START in codes or self.elapsed.isChecked()
        self._form.show_field(self.begins, visible=wants_start or self.begins.was_edited)
        wants_order = ProbeCode.DAY_OR_MONTH in codes or bool(self.order.currentData())
        self._form.show_field(self.order, visible=wants_order)

    def mapping(self) -> ProbeMapping:
        """What the person says of the columns."""
        times = (self.time.currentData(), self.clock.currentData())
        order = self.order.currentData()
        places = {heading: combo.currentData() for heading, combo in self.probes.items()}
        return replace(
            self._mapping,
            times=tuple(one for one in times if one),
            is_elapsed=self.elapsed.isChecked(),
            unit=self.unit.currentData(),
            begins_at=self.begins.moment(self._zone) if self.begins.was_edited else None,
            day_first=None if not order else order == "day",
            places={heading: place for heading, place in places.items() if place != NO_PROBE},
        )

    def _tell(self, _what: object = None) -> None:
        self.changed.emit()


def _places() -> list[tuple[str, str]]:
    said = [(place, place_name(place)) for place in PLACES]
    return [(NO_PROBE, _("(no probe)")), (NOWHERE, _("A probe; where is not said")), *said]


def _combo(choices: Sequence[tuple[str, str]], chosen: Sequence[str]) -> QComboBox:
    combo = QComboBox()
    combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    combo.setMinimumContentsLength(10)
    for value, text in choices:
        combo.addItem(text, value)
    combo.setCurrentIndex(max(0, combo.findData(chosen[0]) if chosen else 0))
    return combo
