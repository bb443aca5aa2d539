"""Cases week by week, and what kinds of signs they were about."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import date, timedelta

from hotelwatch.core.case_facts import Sign
from hotelwatch.core.cases.case import is_open
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, RoomChecked, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.month.known import house_at
from hotelwatch.core.whole.weeks import WEEK_DAYS, monday_of


@dataclass(frozen=True, slots=True)
class CaseWeek:
    """A week of cases, from its Monday."""

    from_on: date
    opened: tuple[CaseNo, ...]
    """With their first sign in it, or open again after they were not."""
    closed: tuple[CaseNo, ...]
    """Nothing was left to do of them as it ended, and something was before."""
    open_at_end: tuple[CaseNo, ...]
    """As it ended, or as of today."""
    rooms: frozenset[RoomNo]
    """With signs of any of these."""


@dataclass(frozen=True, slots=True)
class SignCount:
    """How often a kind of sign was seen."""

    sign: Sign
    sightings: int
    rooms: frozenset[RoomNo]


def case_weeks(house: House, today: date, *, back: int) -> tuple[CaseWeek, ...]:
    """Weeks up to that of today, so many before it, as things had happened by each one's end."""
    lean = _without_other_looks(house)
    first = monday_of(today) - timedelta(weeks=back)
    before = house_at(lean, first - timedelta(days=1))
    open_before = _open(before)
    known_before = frozenset(before.sightings)
    found = []
    for number in range(back + 1):
        monday = first + timedelta(weeks=number)
        then = house_at(lean, min(today, monday + timedelta(days=WEEK_DAYS - 1)))
        known, open_now = frozenset(then.sightings), _open(then)
        opened = (known - known_before) | (open_now - open_before)
        closed = (open_before | (known - known_before)) - open_now
        concerned = opened | closed | open_now
        found.append(
            CaseWeek(
                monday,
                tuple(sorted(opened)),
                tuple(sorted(closed)),
                tuple(sorted(open_now)),
                frozenset(row.fact.room for no in concerned for row in then.sightings.get(no, ())),
            )
        )
        open_before, known_before = open_now, known
    return tuple(found)


def sign_counts(house: House, today: date, *, back: int) -> tuple[SignCount, ...]:
    """Kinds of signs seen in these weeks, in the order of their codes; those never seen too."""
    first = monday_of(today) - timedelta(weeks=back)
    count: defaultdict[Sign, int] = defaultdict(int)
    rooms: defaultdict[Sign, set[RoomNo]] = defaultdict(set)
    for rows in house.sightings.values():
        for row in rows:
            if first <= local_day(row.fact.seen_at, house.zone) <= today:
                count[row.fact.sign] += 1
                rooms[row.fact.sign].add(row.fact.room)
    return tuple(SignCount(sign, count[sign], frozenset(rooms[sign])) for sign in Sign)


def _without_other_looks(house: House) -> House:
    """The house with looks only at rooms that cases are about: it is filtered for every week."""
    about = {row.fact.room for rows in house.sightings.values() for row in rows}
    about |= {row.fact.room for rows in house.asked.values() for row in rows}
    about |= {placed.room for placed, _lifted in house.quarantines}
    kept = {
        kind: tuple(row for row in rows if getattr(row.fact, "room", "") in about)
        if kind in (BedChecked, RoomChecked)
        else rows
        for kind, rows in house.kept.items()
    }
    return replace(house, kept=kept)


def _open(house: House) -> frozenset[CaseNo]:
    return frozenset(case for case in house.sightings if is_open(house, case))
