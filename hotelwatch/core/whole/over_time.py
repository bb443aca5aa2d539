"""How things went over time, all rows that the charts draw."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.whole.ages import Age, ages
from hotelwatch.core.whole.case_weeks import CaseWeek, SignCount, case_weeks, sign_counts
from hotelwatch.core.whole.weeks import Week, weeks


@dataclass(frozen=True, slots=True)
class Reach:
    """How far back and ahead one looks, and how fine."""

    weeks_back: int
    weeks_ahead: int
    case_weeks_back: int
    tenths: int
    """Ages are told apart up to so many tenths of the cycle."""


@dataclass(frozen=True, slots=True)
class OverTime:
    """Rows of all charts, as of a day."""

    today: date
    weeks: tuple[Week, ...]
    ages: tuple[Age, ...]
    cases: tuple[CaseWeek, ...]
    signs: tuple[SignCount, ...]


def over_time(house: House, today: date, reach: Reach, *, progress: Progress = silent) -> OverTime:
    """All rows; takes about a second in a large hotel. Progress may stop it with Stopped."""
    progress(0.0, "counting_weeks")
    by_week = weeks(house, today, back=reach.weeks_back, ahead=reach.weeks_ahead)
    progress(0.5, "counting_cases")
    return OverTime(
        today=today,
        weeks=by_week,
        ages=ages(house, today, tenths=reach.tenths),
        cases=case_weeks(house, today, back=reach.case_weeks_back),
        signs=sign_counts(house, today, back=reach.case_weeks_back),
    )
