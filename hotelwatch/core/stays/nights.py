"""The one definition of a night: it is let, or blocked, at the hour from which guests arrive.

A night bears the date on which it begins. A room closed after that hour is closed from
the next night on; one given back after it is not given back for that night.
Common practice, no source.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from hotelwatch.core.days import local_day, moment_of
from hotelwatch.core.facts import HotelDescribed
from hotelwatch.core.house import House

ONE_DAY = timedelta(days=1)


def first_night_after(house: House, moment: datetime) -> date:
    """The first night whose hour of arrival is not before a moment."""
    day = local_day(moment, house.zone)
    return day if moment <= arrivals_begin(house, day) else day + ONE_DAY


def arrivals_begin(house: House, night: date) -> datetime:
    """The moment, in UTC, from which guests of a night arrive."""
    clock = house.hotel.arrive_from if house.hotel else HotelDescribed("", "").arrive_from
    return moment_of(night, clock, house.zone)
