"""What was known of a month: the house when it was closed, and the house as of a day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, tzinfo
from typing import cast

from hotelwatch.core.case_facts import (
    CaseJudged,
    GuestMoved,
    LetExplained,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
)
from hotelwatch.core.days import local_day, month_bounds, month_of
from hotelwatch.core.facts import (
    BedChecked,
    Fact,
    HotelDescribed,
    MonthClosed,
    RoomChecked,
    SlotPublished,
)
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry, Kept
from hotelwatch.core.round_facts import FurnitureMoved
from hotelwatch.core.treatment_facts import TreatmentRecorded


def closings(house: House) -> Mapping[str, int]:
    """Number of the entry that closed each month that was closed, in month order."""
    first: dict[str, int] = {}
    for row in house.kept_of(MonthClosed):
        first.setdefault(row.fact.month, row.entry)
    return dict(sorted(first.items()))


def known_house(house: House, month: str) -> House:
    """The house until the entry that closed the month; the house itself while it is open."""
    closed = closings(house).get(month)
    return house if closed is None else house.until_entry(closed)


DAY_FIELDS: Mapping[type[Fact], str] = {
    BedChecked: "checked_on",
    RoomChecked: "checked_on",
    Sighted: "seen_at",
    QuarantinePlaced: "from_at",
    QuarantineLifted: "lifted_at",
    CaseJudged: "judged_on",
    TreatmentRecorded: "treated_on",
    FurnitureMoved: "moved_on",
    GuestMoved: "moved_on",
    LetExplained: "first_night",
}
"""The field that tells on which day what a fact tells happened; others tell of no day."""


def day_of(fact: Fact, zone: tzinfo) -> date | None:
    """The day on which what a fact tells happened; None if it tells of no day."""
    name = DAY_FIELDS.get(type(fact))
    if name is None:
        return None
    told: date | datetime = getattr(fact, name)
    return local_day(told, zone) if isinstance(told, datetime) else told


Days = Mapping[int, date]
"""The earliest day that each entry tells of, as ``entry_days`` says."""


def house_at(house: House, day: date, days: Days | None = None) -> House:
    """The house with what had happened by the end of a day, whenever it was written down.

    A fact that tells of no day of its own (a choice, a room, a slot, an asked
    check) happened on the earliest day that its entry tells of, or else on the
    day it was written down. Corrections count whenever they were made, and the
    hotel has its name and clock from the beginning. ``days`` are those of this house or of
    one that knows more, where they are at hand: they take the longest.
    """
    zone = house.zone
    days = entry_days(house, zone) if days is None else days
    kept: dict[type[Fact], tuple[Kept[Fact], ...]] = {}
    for kind, rows in house.kept.items():
        happened = rows if kind is HotelDescribed else _happened(kind, rows, day, days, zone)
        if happened:
            kept[kind] = happened
    return replace(house, kept=kept)


def _happened(
    kind: type[Fact], rows: tuple[Kept[Fact], ...], day: date, days: Days, zone: tzinfo
) -> tuple[Kept[Fact], ...]:
    if kind in (BedChecked, RoomChecked):
        # Most of all facts; asked for by name they take a third of the time.
        checks = cast("tuple[Kept[BedChecked], ...]", rows)
        return tuple(row for row in checks if row.fact.checked_on <= day)
    if kind in DAY_FIELDS:
        return tuple(row for row in rows if (day_of(row.fact, zone) or days[row.entry]) <= day)
    return tuple(row for row in rows if days[row.entry] <= day)


def entry_days(house: House, zone: tzinfo) -> Mapping[int, date]:
    """The earliest day that each entry tells of, or else the day it was written down."""
    days = {no: local_day(entry.recorded_at, zone) for no, entry in house.entries.items()}
    told: dict[int, date] = {}
    for kind, rows in house.kept.items():
        for row in rows if kind in DAY_FIELDS else ():
            day = day_of(row.fact, zone)
            if day is not None:
                told[row.entry] = min(day, told.get(row.entry, day))
    return {no: min(day, told.get(no, day)) for no, day in days.items()}


def months_told(entry: Entry, facts: Iterable[Fact], zone: tzinfo) -> frozenset[str]:
    """The months that an entry's facts tell of, or else the month it was written down in."""
    told = frozenset(month for fact in facts if (month := month_told(fact, zone)))
    return told or frozenset({month_of(local_day(entry.recorded_at, zone))})


def month_told(fact: Fact, zone: tzinfo) -> str | None:
    """The month of the day that a fact tells of; a slot tells of the day it was planned for."""
    day = fact.on if isinstance(fact, SlotPublished) else day_of(fact, zone)
    return month_of(day) if day else None


def book_of(house: House, entry: int, after: str) -> str:
    """The first month after ``after`` whose book holds an entry written down later.

    A closed month's book holds what was written down until its closing; an open
    one's what was written down until its last day.
    """
    closed = closings(house)
    recorded_on = local_day(house.entries[entry].recorded_at, house.zone)
    month = following(after)
    while not _holds(month, entry, recorded_on, closed):
        month = following(month)
    return month


def _holds(month: str, entry: int, recorded_on: date, closed: Mapping[str, int]) -> bool:
    if month in closed:
        return entry <= closed[month]
    return recorded_on <= month_bounds(month)[1]


def following(month: str) -> str:
    """The month after one given as YYYY-MM."""
    return month_of(date.fromordinal(month_bounds(month)[1].toordinal() + 1))
