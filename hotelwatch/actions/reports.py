"""Reports: a month's figures and closing, and the record's check; books stand in ``books``."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel, whole_house
from hotelwatch.core.days import month_of
from hotelwatch.core.facts import Fact, MonthClosed
from hotelwatch.core.house import House
from hotelwatch.core.month.figures import figures
from hotelwatch.core.month.kept import facts_at_closing
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.records import Changes
from hotelwatch.store.hotel_file import open_file
from hotelwatch.store.verify import Verification, verify


def month_figures(
    hotel_file: Path, rules: Rules, month: str, now: datetime, progress: Progress = silent
) -> MonthFigures:
    """A month's figures from the whole record, read through a connection of its own."""
    progress(0.0, "reading_record")
    return figures(whole_house(hotel_file, rules), month, now=now, progress=progress)


def close_month(hotel: OpenHotel, month: str, told: MonthFigures | None = None) -> Changes:
    """Make a month's book final; what is written down later stands in a later book.

    Why beds were late and which rooms were let in quarantine is written down with it: later
    bookings replace those that told it. ``told`` are the month's figures where they are at
    hand; those of an older record are counted anew.

    Refusal("month_not_over"), ("month_closed_already"), or ("let_not_explained") where a
    room was let although it was blocked and nobody said how that came.
    """
    if month >= month_of(hotel.today()):
        raise Refusal("month_not_over", month=month)

    def decide(house: House) -> tuple[Fact, ...]:
        if any(closed.month == month for closed in house.all_of(MonthClosed)):
            raise Refusal("month_closed_already", month=month)
        counted = told
        if counted is None or not _is_of_now(counted, month, house):
            # Nobody else writes meanwhile; reading through a second connection is allowed.
            counted = month_figures(hotel.path, house.shipped, month, hotel.now())
        for let in counted.rows.lets:
            if not let.explained:
                day = let.first_night.isoformat()
                raise Refusal("let_not_explained", room=let.room, day=day)
        return facts_at_closing(counted)

    return hotel.record(decide, action="close_month")


def _is_of_now(told: MonthFigures, month: str, house: House) -> bool:
    account = told.account
    is_whole = account.is_complete and account.closed_at is None
    is_last = account.last_entry == max(house.entries, default=0)
    return account.month == month and is_whole and is_last


def back_up_file(hotel_file: Path, to: Path) -> Path:
    """Copy a hotel's file through a connection of its own, for a worker; where the copy lies.

    Refusals are those of store.journal.Journal.backup.
    """
    journal = open_file(hotel_file, read_only=True)
    try:
        journal.backup(to)
    finally:
        journal.close()
    return to


def check_file(hotel_file: Path, printed: Mapping[int, str] | None = None) -> Verification:
    """Go through the whole record; ``printed`` are digests by entry as books print them."""
    return verify(hotel_file, printed=printed)
