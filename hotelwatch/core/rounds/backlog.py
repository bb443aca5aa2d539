"""When every underside will have been seen within its cycle, at the present pace.

An assumption, and to be labelled so: that teams go on looking at as many beds in an hour
as of late, and that rooms open as often. Published sheets count as they stand.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from heapq import heapify, heappop, heappush
from math import ceil

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import Look, looks, underside_seen
from hotelwatch.core.checks.seasons import pace
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import BedNo
from hotelwatch.core.house import House

LOOKED_AHEAD_DAYS = 366
CAUGHT_UP_DAYS = 7
"""So many days in a row without an overdue bed are no chance of one day; an assumption."""


@dataclass(frozen=True, slots=True)
class Backlog:
    """How many beds are overdue, how fast teams go, and where that leads."""

    overdue_beds: int
    looked_at: int
    """Undersides looked at in the days that the pace is taken from, today not among them."""
    wanted: int
    """Undersides that fall due in as many days if each bed keeps to its cycle."""
    pace_days: int
    minutes: int
    """What the teams had in those days."""
    caught_up_on: date | None
    """The first of seven days on which no bed is overdue; None if there are none in a year."""
    late_again_on: date | None
    """The first day after it on which one is again; None if there is none within a year."""


def backlog(house: House, today: date) -> Backlog:
    """Where the present pace leads, from what is due and what is published."""
    span = int(house.rules.figures.pace_days.value)
    calendar = Calendar(house)
    past = list(days_from(today - timedelta(days=span), span))
    minutes = sum(_minutes(house, calendar, day) for day in past)
    looked = _looked_at(house, past[0], past[-1])
    known = looks(house, today)
    beds_a_minute = looked / minutes if minutes else 0.0
    late = _late_days(house, known, today=today, beds_a_minute=beds_a_minute)
    ahead = list(days_from(today, LOOKED_AHEAD_DAYS))
    caught_up = next((day for day in ahead[: 1 - CAUGHT_UP_DAYS] if _is_calm(late, day)), None)
    again = (
        None if caught_up is None else next((d for d in ahead if d > caught_up and d in late), None)
    )
    return Backlog(
        overdue_beds=sum(look.is_overdue(today) for look in known),
        looked_at=looked,
        wanted=ceil(sum(span / look.cycle_days for look in known)),
        pace_days=span,
        minutes=minutes,
        caught_up_on=caught_up,
        late_again_on=again,
    )


def _is_calm(late: Collection[date], first: date) -> bool:
    return not any(day in late for day in days_from(first, CAUGHT_UP_DAYS))


def _minutes(house: House, calendar: Calendar, day: date) -> int:
    return sum(calendar.minutes(team, day) for team in house.teams)


def _looked_at(house: House, first: date, last: date) -> int:
    """Undersides looked at on the days first..last, each bed once a day."""
    seen = {
        (bed, row.fact.checked_on)
        for bed, rows in house.checks_by_bed.items()
        for row in rows
        if first <= row.fact.checked_on <= last and underside_seen(house, row.fact)
    }
    return len(seen)


def _late_days(
    house: House, known: tuple[Look, ...], *, today: date, beds_a_minute: float
) -> frozenset[date]:
    """Days ahead that begin with a bed overdue, if teams look at the earliest due first."""
    due = {look.bed: look.due_on for look in known}
    cycle = {look.bed: look.cycle_days for look in known}
    early = house.rules.figures.early_share.value
    runs, calendar, planned = pace(house), Calendar(house), _planned(house, today)
    queue = [(day, bed) for bed, day in due.items()]
    heapify(queue)
    late: set[date] = set()
    # What was looked at today is part of what the pace allows today.
    credit = -float(_looked_at(house, today, today))

    def look_at(bed: BedNo, day: date) -> None:
        due[bed] = runs.due_on(day, cycle[bed])
        heappush(queue, (due[bed], bed))

    for day in days_from(today, LOOKED_AHEAD_DAYS):
        _forget_old(queue, due)
        if not queue:
            break
        if queue[0][0] < day:
            late.add(day)
        credit += beds_a_minute * _minutes(house, calendar, day)
        for bed in planned.get(day, ()):
            if bed in due:
                look_at(bed, day)
                credit -= 1
        while credit >= 1:
            _forget_old(queue, due)
            due_on, bed = queue[0]
            if (due_on - day).days > ceil(early * cycle[bed]):
                credit = 0.0
                break
            heappop(queue)
            look_at(bed, day)
            credit -= 1
        # More on paper than the pace allows is not owed on the days after.
        credit = max(0.0, credit)
    return frozenset(late)


def _forget_old(queue: list[tuple[date, BedNo]], due: Mapping[BedNo, date]) -> None:
    while queue and due[queue[0][1]] != queue[0][0]:
        heappop(queue)


def _planned(house: House, today: date) -> Mapping[date, list[BedNo]]:
    """Beds on published sheets from today on that are still to be looked at."""
    beds: defaultdict[date, list[BedNo]] = defaultdict(list)
    for day, slots in house.slots.items():
        if day >= today:
            for slot in slots:
                if not is_looked_at(house, slot):
                    beds[day] += [BedNo(bed) for bed in slot.beds]
    return beds
