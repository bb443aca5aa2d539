"""Hours that bind a look: a case's deadline, and a treatment's re-entry."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta, tzinfo

from hotelwatch.core.days import moment_of
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


def enter_from(house: House) -> Mapping[RoomNo, datetime]:
    """From when each treated room may be entered again."""
    latest: dict[RoomNo, datetime] = {}
    for treated in house.all_of(TreatmentRecorded):
        known = latest.get(treated.room, treated.reenter_at)
        latest[treated.room] = max(known, treated.reenter_at)
    return latest
