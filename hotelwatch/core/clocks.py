"""By when a duty is due: hours are real ones, days are the hotel's, and of a named kind.

A clock in days starts on the hotel's day of the event and ends with the last of its days;
day types differ by rule, so each clock bears its own.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from hotelwatch.core.choice_facts import PublicHoliday
from hotelwatch.core.days import add_hours, days_from, local_day, moment_of
from hotelwatch.core.house import House
from hotelwatch.core.profile import Clock, Start, Unit
from hotelwatch.core.round_facts import HouseDaysClosed

ONE_DAY = timedelta(days=1)
SATURDAY = 5
LAST_CLOCK = "23:59"
A_YEAR = 366


def clock_for(house: House, duty: str) -> Clock | None:
    """A duty's clock: that of the local rules, else the hotel's own figure; None: no deadline."""
    clock = house.profile.clock(duty)
    figures = house.rules.figures
    own = {
        "treat": (figures.treat_days, Start.CONFIRMATION),
        "evaluate_treatment": (figures.evaluate_days, Start.TREATMENT),
    }
    if clock is not None or duty not in own:
        return clock
    figure, starts = own[duty]
    days = int(figure.value)
    return Clock(duty, days, Unit.CALENDAR_DAYS, starts, figure.standing, figure.source)


def due_at(house: House, clock: Clock, start: datetime) -> datetime:
    """The moment by which a clock that started then is to be met.

    Days end at 23:59 of the hotel's last counted day. Where no day of the kind comes
    within a year (a house closed for good), calendar days count.
    """
    if clock.unit is Unit.HOURS:
        return add_hours(start, clock.amount)
    return moment_of(due_on(house, clock, local_day(start, house.zone)), LAST_CLOCK, house.zone)


def due_on(house: House, clock: Clock, start_on: date) -> date:
    """The last day of a clock in days; the day of the start is not counted."""
    left = clock.amount
    for day in days_from(start_on + ONE_DAY, A_YEAR + clock.amount):
        left -= counts(house, clock.unit, day)
        if left <= 0:
            return day
    return start_on + clock.amount * ONE_DAY


def counts(house: House, unit: Unit, day: date) -> bool:
    """Whether a day is one of those that a clock counts."""
    if unit is Unit.BUSINESS_DAYS:
        return day.weekday() < SATURDAY and day not in holidays(house)
    if unit is Unit.WORKING_DAYS:
        return not _is_closed(house, day)
    return True


def holidays(house: House) -> dict[date, str]:
    """Public holidays by day, with their names."""
    latest = {fact.on: fact for fact in house.all_of(PublicHoliday)}
    return {day: fact.name for day, fact in sorted(latest.items()) if fact.holds}


def _is_closed(house: House, day: date) -> bool:
    closed = [f for f in house.all_of(HouseDaysClosed) if f.from_on <= day <= f.until_on]
    return bool(closed) and closed[-1].is_closed
