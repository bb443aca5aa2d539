"""Hours that bind a look: a case's deadline, how long a room is open."""

from __future__ import annotations

from datetime import date, timedelta, tzinfo
from functools import cache

from hotelwatch.core.days import minute_of, moment_of
from hotelwatch.core.rounds.demand import Wanted
from hotelwatch.core.stays.openings import ONE_DAY, Opening


def last_day_in_time(
    wanted: Wanted, opening: Opening | None, begins: str, *, minutes: int, zone: tzinfo
) -> date:
    """The last day on which a look is over before a case's deadline: its day, or the one before.

    ``opening`` is the room's on the deadline's day; ``begins`` is when the first team does.
    """
    if wanted.by_at is None or opening is None:
        return wanted.due_on
    start = moment_of(wanted.due_on, max(opening.from_clock, begins), zone)
    is_over = start + timedelta(minutes=minutes) <= wanted.by_at
    return wanted.due_on if is_over else wanted.due_on - ONE_DAY


def minutes_of(opening: Opening) -> int:
    """How long it lasts."""
    return _between(opening.from_clock, opening.until_clock)


@cache
def _between(from_clock: str, until_clock: str) -> int:
    return minute_of(until_clock) - minute_of(from_clock)
