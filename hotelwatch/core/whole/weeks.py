"""Week by week: undersides that fell due, those looked at, and the minutes that teams have.

Due dates go by the cycles, seasons and beds of today, so a week long past may show another
number than its month's book, which goes by what was known then. Minutes are those of the
sheets: each bed's by its kind, and a room's setting up once a day.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import first_due_dates, underside_seen
from hotelwatch.core.checks.seasons import pace
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import BedNo, RoomNo
from hotelwatch.core.house import House

WEEK_DAYS = 7


@dataclass(frozen=True, slots=True)
class Work:
    """Undersides, the rooms they are in, and the minutes they take."""

    beds: int
    minutes: int
    rooms: frozenset[RoomNo]


@dataclass(frozen=True, slots=True)
class Week:
    """A week, from its Monday."""

    from_on: date
    due: Work
    """Undersides whose cycle ended in it, whenever they were looked at."""
    done: Work
    """Undersides looked at in it, up to today."""
    planned: Work
    """On published sheets of its days from today on, and not looked at."""
    late: Work
    """Overdue as it ended, or as of today; of a week ahead, those overdue now or due before
    its end that no published sheet has by then."""
    capacity_minutes: int
    """What plans may use of its teams' days."""
    is_ahead: bool
    """Whether it begins after today."""

    @property
    def until_on(self) -> date:
        """Its Sunday."""
        return self.from_on + timedelta(days=WEEK_DAYS - 1)


def monday_of(day: date) -> date:
    """The Monday of a day's week (ISO 8601)."""
    return day - timedelta(days=day.weekday())


def weeks(house: House, today: date, *, back: int, ahead: int) -> tuple[Week, ...]:
    """So many weeks before this one, this one, and so many after it."""
    first = monday_of(today) - timedelta(weeks=back)
    return _Weeks(house, today).told([first + timedelta(weeks=n) for n in range(back + 1 + ahead)])


Due = tuple[BedNo, date, date | None]
"""A bed, the day by which it was due, and the look that answered it, if one did."""


class _Weeks:
    def __init__(self, house: House, today: date) -> None:
        self._house, self._today = house, today
        self._calendar = Calendar(house)
        self._looked = {bed: _looked_on(house, bed, today) for bed in house.beds}
        self._dues = list(self._all_dues())
        self._planned = self._on_sheets()
        self._setup = int(house.rules.figures.room_setup_minutes.value)

    def told(self, mondays: Iterable[date]) -> tuple[Week, ...]:
        due = _by_week((on, bed) for bed, on, _looked in self._dues)
        done = _by_week((on, bed) for bed, days in self._looked.items() for on in days)
        planned = _by_week((on, bed) for bed, days in self._planned.items() for on in days)
        return tuple(
            Week(
                from_on=monday,
                due=self._work(due.get(monday, ())),
                done=self._work(done.get(monday, ())),
                planned=self._work(planned.get(monday, ())),
                late=self._late(monday + timedelta(days=WEEK_DAYS - 1)),
                capacity_minutes=sum(
                    self._calendar.minutes(team, day)
                    for day in days_from(monday, WEEK_DAYS)
                    for team in self._house.teams
                ),
                is_ahead=monday > self._today,
            )
            for monday in mondays
        )

    def _all_dues(self) -> Iterator[Due]:
        runs, first = pace(self._house), first_due_dates(self._house)
        for bed, days in self._looked.items():
            cycle = self._house.cycle_of(self._house.beds[bed].room)
            before = self._house.earlier_looks.get(bed)
            looked = sorted({*days, *([before] if before else [])})
            dues: dict[date, date | None] = {}
            if not looked or before is None:
                dues[first[bed]] = looked[0] if looked else None
            for one, following in pairwise(looked):
                dues[runs.due_on(one, cycle)] = following
            if looked:
                dues[runs.due_on(looked[-1], cycle)] = None
            # Looks before their day may lead to the same day again: it is one.
            yield from ((bed, on, answered) for on, answered in dues.items())

    def _on_sheets(self) -> Mapping[BedNo, list[date]]:
        found: defaultdict[BedNo, list[date]] = defaultdict(list)
        for day, slots in self._house.slots.items():
            for slot in slots if day >= self._today else ():
                if not is_looked_at(self._house, slot):
                    for bed in filter(self._house.beds.__contains__, map(BedNo, slot.beds)):
                        found[bed].append(day)
        return found

    def _late(self, sunday: date) -> Work:
        """Overdue as a week ends, each at its Sunday."""
        if sunday < self._today:
            late = {
                bed
                for bed, on, looked in self._dues
                if on <= sunday and (looked is None or looked > sunday)
            }
        else:
            ends = max(self._today, sunday)
            late = {
                bed
                for bed, on, looked in self._dues
                if looked is None and (on < self._today or (sunday > self._today and on <= sunday))
                if not any(day <= ends for day in self._planned.get(bed, ()))
            }
        return self._work((sunday, bed) for bed in late)

    def _work(self, on_beds: Iterable[tuple[date, BedNo]]) -> Work:
        known, kinds = self._house.beds, self._house.rules.bed_kinds
        beds = [(day, known[bed]) for day, bed in on_beds]
        visits = {(day, bed.room) for day, bed in beds}
        looking = sum(kinds[bed.kind].minutes_of(encased=bed.encased) for _day, bed in beds)
        return Work(
            beds=len(beds),
            minutes=looking + self._setup * len(visits),
            rooms=frozenset(room for _day, room in visits),
        )


def _looked_on(house: House, bed: BedNo, today: date) -> list[date]:
    """The days on which a bed's whole underside was looked at, as far as checks are at hand."""
    days = {
        row.fact.checked_on
        for row in house.checks_by_bed.get(bed, ())
        if row.fact.checked_on <= today and underside_seen(house, row.fact)
    }
    return sorted(days)


def _by_week(pairs: Iterable[tuple[date, BedNo]]) -> Mapping[date, list[tuple[date, BedNo]]]:
    found: defaultdict[date, list[tuple[date, BedNo]]] = defaultdict(list)
    for day, bed in pairs:
        found[monday_of(day)].append((day, bed))
    return found
