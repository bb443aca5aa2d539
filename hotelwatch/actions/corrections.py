"""Corrections: an entry that replaces an earlier one, with the reason for it."""

from __future__ import annotations

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.records import Changes


def take_back(hotel: OpenHotel, entry: int, *, reason: str) -> Changes:
    """Let an entry's facts count no more; they stay in the file, and so does the reason."""
    return hotel.record(lambda _: (), action="take_back", note=reason, corrects=entry)
