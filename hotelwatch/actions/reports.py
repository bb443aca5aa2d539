"""Reports: a month's figures and closing, and the record's check; books stand in ``books``."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel, whole_house
from hotelwatch.core.cases.lets import lets_against_blocks
from hotelwatch.core.days import month_of
from hotelwatch.core.facts import MonthClosed
from hotelwatch.core.house import House
from hotelwatch.core.month.figures import figures
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


def close_month(hotel: OpenHotel, month: str) -> Changes:
    """Make a month's book final; what is written down later stands in a later book.

    Refusal("month_not_over"), ("month_closed_already"), or ("let_not_explained") where a
    room was let although it was blocked and nobody said how that came.
    """
    if month >= month_of(hotel.today()):
        raise Refusal("month_not_over", month=month)

    def decide(house: House) -> tuple[MonthClosed, ...]:
        if any(closed.month == month for closed in house.all_of(MonthClosed)):
            raise Refusal("month_closed_already", month=month)
        for let in lets_against_blocks(house, hotel.now()):
            if month_of(let.first_night) == month and not let.explained:
                day = let.first_night.isoformat()
                raise Refusal("let_not_explained", room=let.room, day=day)
        return (MonthClosed(month),)

    return hotel.record(decide, action="close_month")


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
