"""Days, months, moments, spans and numbers as people read them; files keep ISO 8601."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, datetime, tzinfo
from itertools import groupby
from zoneinfo import ZoneInfo

from babel import Locale
from babel.core import UnknownLocaleError
from babel.dates import format_date, format_skeleton, get_day_names
from babel.numbers import format_decimal

from hotelwatch.core.days import WEEKDAYS
from hotelwatch.wording import language
from hotelwatch.wording.language import _, ngettext

HOUR_MINUTES = 60
RUN_OF_DAYS = 3
"""So many weekdays in a row are told by the first and the last."""
PATTERNS = {
    "yMMMEd": "EEE d MMM y",
    "yMMMd": "d MMM y",
    "MMMEd": "EEE d MMM",
    "MMMd": "d MMM",
    "yMMMM": "LLLL y",
}
"""In English a day is written in the order that no other country reads otherwise; other
languages write these skeletons of Unicode's locale data in their own order."""


def locale() -> Locale:
    """The locale of the language spoken now; English where there is none."""
    try:
        return Locale.parse(language.current(), sep="_")
    except (UnknownLocaleError, ValueError):
        return Locale.parse(language.SOURCE)


def day_text(day: date) -> str:
    """A day as "Wed 25 Nov 2026"."""
    return _written(day, "yMMMEd")


def plain_day_text(day: date) -> str:
    """A day without its weekday, as "25 Nov 2026"."""
    return _written(day, "yMMMd")


def short_day_text(day: date) -> str:
    """A day without its year, as "Wed 25 Nov"."""
    return _written(day, "MMMEd")


def day_and_month_text(day: date) -> str:
    """A day as a calendar's page has it: "25 Nov"."""
    return _written(day, "MMMd")


def month_short(day: date) -> str:
    """A day's month as a calendar's head has it: "Nov"."""
    return format_date(day, "LLL", locale=locale())


def weekday_short(code: str) -> str:
    """A weekday's code as a calendar's head has it: "Mon"."""
    name: str = get_day_names("abbreviated", locale=locale())[WEEKDAYS.index(code)]
    return name


def weekdays_text(codes: Collection[str]) -> str:
    """Weekdays of a week, three or more in a row by the first and the last: "Mon to Thu, Sat"."""
    said = []
    for is_in, run in groupby(WEEKDAYS, key=lambda code: code in codes):
        names = [weekday_short(code) for code in run] if is_in else []
        if len(names) >= RUN_OF_DAYS:
            names = [_("{first} to {last}").format(first=names[0], last=names[-1])]
        said += names
    return ", ".join(said)


def month_text(month: str) -> str:
    """A month given as YYYY-MM, as "November 2026"."""
    return _written(date.fromisoformat(f"{month}-01"), "yMMMM")


def moment_text(moment: datetime, zone: tzinfo | str) -> str:
    """A moment by the hotel's clock, as "Wed 25 Nov 2026, 14:05 CET"."""
    local = moment.astimezone(ZoneInfo(zone) if isinstance(zone, str) else zone)
    return _("{day}, {clock}").format(day=day_text(local.date()), clock=f"{local:%H:%M %Z}")


def clock_text(moment: datetime, zone: tzinfo | str) -> str:
    """The hotel's clock at a moment, as "14:05"."""
    return f"{moment.astimezone(ZoneInfo(zone) if isinstance(zone, str) else zone):%H:%M}"


def days_text(days: int) -> str:
    """A span of days, as "1 day" or "91 days"."""
    return ngettext("{count} day", "{count} days", days).format(count=days)


def number_text(number: float) -> str:
    """A number with one place behind its point or comma: "2.9"."""
    return format_decimal(round(number, 1), format="0.0", locale=locale())


def minutes_text(minutes: int) -> str:
    """A span of minutes, as "45 min" or "2 h 5 min"."""
    hours, rest = divmod(minutes, HOUR_MINUTES)
    if not hours:
        return _("{minutes} min").format(minutes=rest)
    if not rest:
        return _("{hours} h").format(hours=hours)
    return _("{hours} h {minutes} min").format(hours=hours, minutes=rest)


def _written(day: date, skeleton: str) -> str:
    """A day's parts in the order of the language spoken now, in the digits 0 to 9.

    Digits stay as doors and clocks of the hotel have them, in Arabic too.
    """
    spoken = locale()
    if spoken.language == language.SOURCE:
        return format_date(day, PATTERNS[skeleton], locale=spoken)
    return format_skeleton(skeleton, day, locale=spoken)
