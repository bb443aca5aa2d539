"""Hours that bind a look: a case's deadline, a treatment's re-entry, the time of day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta, tzinfo

from hotelwatch.core.days import minute_of, moment_of
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.rounds.demand import Wanted
from hotelwatch.core.stays.openings import ONE_DAY, Opening
from hotelwatch.core.treatment_facts import TreatmentRecorded


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


def from_clock_on(opening: Opening | None, clock: str) -> Opening | None:
    """What is left of an opening from a time of its day on; None if nothing is."""
    if opening is None or opening.until_clock <= clock:
        return None
    return replace(opening, from_clock=max(opening.from_clock, clock))


def minutes_of(opening: Opening) -> int:
    """How long it lasts."""
    return minute_of(opening.until_clock) - minute_of(opening.from_clock)


def enter_from(house: House) -> Mapping[RoomNo, datetime]:
    """From when each treated room may be entered again."""
    latest: dict[RoomNo, datetime] = {}
    for treated in house.all_of(TreatmentRecorded):
        known = latest.get(treated.room, treated.reenter_at)
        latest[treated.room] = max(known, treated.reenter_at)
    return latest
