"""What a time of day, or a treatment's re-entry, leaves of the hours in which a room is open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, tzinfo

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.stays.openings import Opening, OpeningKind
from hotelwatch.core.treatment_facts import TreatmentRecorded


def from_clock_on(opening: Opening | None, clock: str) -> Opening | None:
    """What is left of an opening from a time of its day on; None if nothing is."""
    if opening is None or opening.until_clock <= clock:
        return None
    return replace(opening, from_clock=max(opening.from_clock, clock))


def until_clock(opening: Opening | None, clock: str) -> Opening | None:
    """What is left of an opening up to a time of its day; None if nothing is."""
    if opening is None or opening.from_clock >= clock:
        return None
    return replace(opening, until_clock=min(opening.until_clock, clock))


def reentries(house: House) -> Mapping[RoomNo, datetime]:
    """From when each treated room may be entered again."""
    latest: dict[RoomNo, datetime] = {}
    for treated in house.all_of(TreatmentRecorded):
        known = latest.get(treated.room, treated.reenter_at)
        latest[treated.room] = max(known, treated.reenter_at)
    return latest


def after_reentry(
    opening: Opening | None, reenter_at: datetime | None, zone: tzinfo
) -> Opening | None:
    """What is left of an opening once the room may be entered again; None if nothing is.

    ``reenter_at``: None where nothing was treated.
    """
    if opening is None or reenter_at is None:
        return opening
    local = reenter_at.astimezone(zone)
    if local.date() != opening.day:
        return opening if local.date() < opening.day else None
    left = from_clock_on(opening, f"{local:%H:%M}")
    if left is None or left.from_clock == opening.from_clock:
        return left
    return replace(left, kind=OpeningKind.AFTER_REENTRY)
