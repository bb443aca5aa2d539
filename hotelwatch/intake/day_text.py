"""Days as people write them, and whether a column writes the day or the month first."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from hotelwatch.intake.words import Words

MONTHS = 12
CENTURY = 2000
_SHORT_YEAR = 100
_TIME = r"(?:[T ,]+\d.*)?"
# ISO 8601-1:2019, 5.2.2: calendar date, extended and basic; "/" and "." also occur.
_YEAR_FIRST = re.compile(r"(\d{4})([-/.])(\d{1,2})\2(\d{1,2})" + _TIME, re.ASCII)
_BASIC = re.compile(r"(\d{4})(\d{2})(\d{2})(?:T\d.*)?", re.ASCII)
_YEAR_LAST = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})" + _TIME, re.ASCII)
_WEEKDAY = re.compile(r"^[a-z]{2,9}[.,]? +(?=\d|[a-z]{3})", re.IGNORECASE)
_DAY_MONTH = re.compile(
    r"(\d{1,2})(?:st|nd|rd|th|\.)?[ -]*([a-z]{3,9})\.?[ ,-]+(\d{4}|\d{2})" + _TIME, re.IGNORECASE
)
_MONTH_DAY = re.compile(
    r"([a-z]{3,9})\.?[ -]+(\d{1,2})(?:st|nd|rd|th)?[ ,-]+(\d{4}|\d{2})" + _TIME, re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class TwoWays:
    """A day whose first two numbers may be day and month, or month and day."""

    first: int
    second: int
    year: int

    @property
    def is_day_first(self) -> bool:
        """Whether it can only be read with the day first."""
        return self.second <= MONTHS < self.first

    @property
    def is_month_first(self) -> bool:
        """Whether it can only be read with the month first."""
        return self.first <= MONTHS < self.second

    @property
    def is_open(self) -> bool:
        """Whether it is one day read one way and another day read the other."""
        return self.first != self.second and max(self.first, self.second) <= MONTHS

    def day(self, *, day_first: bool) -> date | None:
        """The day, read so; None if there is none."""
        day, month = (self.first, self.second) if day_first else (self.second, self.first)
        return _date(self.year, month, day)


def parsed(text: str, words: Words) -> date | TwoWays | None:
    """The day a text says; two ways where only its column can tell; None if it is no day."""
    if found := _YEAR_FIRST.fullmatch(text):
        return _date(int(found[1]), int(found[3]), int(found[4]))
    if found := _BASIC.fullmatch(text):
        return _date(int(found[1]), int(found[2]), int(found[3]))
    if found := _YEAR_LAST.fullmatch(text):
        return TwoWays(int(found[1]), int(found[3]), _year(found[4]))
    if not any(sign.isalpha() for sign in text):
        return None
    for shorter in (text, _WEEKDAY.sub("", text, count=1)):
        if found := _DAY_MONTH.fullmatch(shorter):
            return _named(found[3], found[2], found[1], words)
        if found := _MONTH_DAY.fullmatch(shorter):
            return _named(found[3], found[1], found[2], words)
    return None


def _named(year: str, month: str, day: str, words: Words) -> date | None:
    number = words.months.get(month[:3].casefold(), 0)
    return _date(_year(year), number, int(day))


def _year(text: str) -> int:
    year = int(text)
    return CENTURY + year if year < _SHORT_YEAR else year


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


@dataclass(frozen=True, slots=True)
class DayOrder:
    """What a column's days show together; each example with its row, 0 if there is none."""

    day_first: tuple[int, str] = (0, "")
    month_first: tuple[int, str] = (0, "")
    open: tuple[int, str] = (0, "")

    @property
    def is_mixed(self) -> bool:
        """Whether some can only be day first and others only month first."""
        return bool(self.day_first[0] and self.month_first[0])

    @property
    def is_open(self) -> bool:
        """Whether some day can be read both ways and no other one decides."""
        return bool(self.open[0]) and not self.day_first[0] and not self.month_first[0]


def order_of(texts: Iterable[tuple[int, str]], words: Words) -> DayOrder:
    """What these texts (row, text) show about the order of day and month."""
    examples: dict[str, tuple[int, str]] = {}
    for row, text in texts:
        day = parsed(text, words)
        if not isinstance(day, TwoWays):
            continue
        if day.is_day_first:
            examples.setdefault("day_first", (row, text))
        elif day.is_month_first:
            examples.setdefault("month_first", (row, text))
        elif day.is_open:
            examples.setdefault("open", (row, text))
    return DayOrder(**examples)
