"""What calendars have in common: their head, and names of events that stay the same."""

from __future__ import annotations

import uuid

import icalendar

from hotelwatch.core.house import House
from hotelwatch.wording.language import current

FORMAT_VERSION = "2.0"
"""Of RFC 5545."""


def new_calendar(kind: str, name: str) -> icalendar.Calendar:
    """An empty calendar of a kind ("round", "blocks"), with the name that programs show."""
    calendar = icalendar.Calendar()
    calendar.add("prodid", f"-//hotelwatch//{kind}//{current().upper()}")
    calendar.add("version", FORMAT_VERSION)
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", name)
    return calendar


def uid_of(house: House, *parts: str) -> str:
    """What names an event in every calendar: the same from the same hotel's file, always."""
    first = house.entries[min(house.entries)]
    named = " ".join(["hotelwatch", first.recorded_at.isoformat(), first.digest, *parts])
    return str(uuid.uuid5(uuid.NAMESPACE_OID, named))
