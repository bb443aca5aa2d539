"""Bars by day: what is tried as filled bars, things as they are as outlines behind them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hotelwatch.screens.charts.bars import BarChart, Bars, Series, Shape
from hotelwatch.wording.dates import day_and_month_text, short_day_text
from hotelwatch.wording.language import _


@dataclass(frozen=True, slots=True)
class DayBars:
    """A day's numbers as tried, and as they are."""

    on: date
    late: int
    """Beds overdue as the day begins."""
    late_now: int
    used: int
    """Minutes of all teams."""
    used_now: int
    minutes: int
    """What the teams have."""
    minutes_now: int
    rooms: int
    rooms_now: int


class WhatIfChart(QWidget):
    """Two rows of bars over the same days: beds overdue, and minutes used."""

    def __init__(self) -> None:
        """No days yet."""
        super().__init__()
        self.late = BarChart(_("Beds overdue by day, as tried and as they are"))
        self.used = BarChart(_("Minutes used by day, as tried and as they are"))
        self.setAccessibleName(_("Days as tried, beside days as they are"))
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        for chart, other in ((self.late, self.used), (self.used, self.late)):
            lines.addWidget(chart, 1)
            chart.point_changed.connect(other.stand_at)

    def show_days(self, days: Sequence[DayBars], said: str) -> None:
        """Show these days; ``said`` is what a screen reader says of them."""
        self.setAccessibleDescription(said)
        names = tuple(day_and_month_text(day.on) for day in days)
        told = tuple(map(day_text, days))
        tried, as_is = _("as tried"), _("as things are")
        late = (
            Series(tried, tuple(float(day.late) for day in days)),
            Series(as_is, tuple(float(day.late_now) for day in days), Shape.OUTLINE),
        )
        used = (
            Series(tried, tuple(float(day.used) for day in days)),
            Series(as_is, tuple(float(day.used_now) for day in days), Shape.OUTLINE),
            Series(_("teams have"), tuple(float(day.minutes) for day in days), Shape.LINE),
        )
        at = self.late.at
        most = max((max(one.values, default=0.0) for one in (*late, *used)), default=0.0)
        for chart, up, series in (
            (self.late, _("Beds overdue as the day begins"), late),
            (self.used, _("Minutes used"), used),
        ):
            chart.show_bars(Bars(up, names, series, told, room_for=most), at=at)


def day_text(day: DayBars) -> str:
    """A day's numbers in full."""
    return _(
        "{day}: beds overdue {late} (as things are {late_now}); minutes used {used} of {minutes}"
        " (as things are {used_now} of {minutes_now}); rooms {rooms} (as things are {rooms_now})."
    ).format(
        day=short_day_text(day.on),
        late=day.late,
        late_now=day.late_now,
        used=day.used,
        minutes=day.minutes,
        used_now=day.used_now,
        minutes_now=day.minutes_now,
        rooms=day.rooms,
        rooms_now=day.rooms_now,
    )
