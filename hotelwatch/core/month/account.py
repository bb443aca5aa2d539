"""Whose account a month's figures are, of which days, and on what it rests."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.round_facts import SeasonNoted


@dataclass(frozen=True, slots=True)
class Account:
    """Whose account this is, of which days, and on what it rests."""

    month: str
    first_on: date
    last_on: date
    until_on: date
    """The last day of the account: the month's last day, or today while it runs."""
    is_complete: bool
    closed_at: datetime | None
    """Why beds were late, and lets, stand as the closing kept them; None: as bookings tell now."""
    closed_by: str
    made_at: datetime
    hotel: str
    zone: str
    paper: str
    rooms: int
    first_entry: int
    last_entry: int
    last_digest: str
    programs: tuple[str, ...]
    """Versions of the program that wrote the entries, in order of first use."""
    stays_read_at: datetime | None
    stays_file: str
    cycles: tuple[tuple[int, int], ...]
    """Cycle lengths in days, each with its number of beds."""
    seasons: tuple[SeasonNoted, ...]
    """Those that may have brought a due date of the month forward."""
