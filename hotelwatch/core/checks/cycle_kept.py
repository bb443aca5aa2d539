"""Is the cycle kept: how many undersides were looked at lately, how late the latest are.

A look, a due date and lateness are those of ``coverage``. Past days are told by the cycles
chosen now; what was due by those chosen then stands in the month's book.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from hotelwatch.core.checks.coverage import Look, looks
from hotelwatch.core.days import local_day
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent

LATEST_SHARE = 0.1
"""The latest tenth is looked at by itself: a mean hides it. A choice of ours."""
MONTHS_SHOWN = 12


@dataclass(frozen=True, slots=True)
class DayKept:
    """How undersides stood at the end of a day."""

    on: date
    undersides: int
    """Those in use now that were on record by then."""
    in_usual: int
    """Looked at within the shipped cycle's days."""
    in_cycle: int
    """Looked at, and not overdue by their own cycle."""


@dataclass(frozen=True, slots=True)
class CycleKept:
    """Whether undersides are looked at as often as they should."""

    today: DayKept
    usual_days: int
    """The shipped cycle, in days: the yardstick that is the same in every hotel."""
    never: tuple[Look, ...]
    """Of which no whole look is on record, the first due first."""
    overdue: int
    latest: int
    """How many the latest tenth are, rounded up."""
    latest_days: int
    """Each of the latest tenth is at least so many days late; 0 or less: it isn't late."""
    worst_days: int
    """How late the latest one is; 0 or less: none is."""
    months: tuple[DayKept, ...]
    """Ends of months that are over and on record, the oldest first."""


def cycle_kept(house: House, today: date, *, progress: Progress = silent) -> CycleKept:
    """How well the cycle is kept today, and at the ends of the months before.

    Progress may stop it with Stopped.
    """
    every = looks(house, today)
    late = sorted(((today - look.due_on).days for look in every), reverse=True)
    latest = ceil(len(late) * LATEST_SHARE)
    never = sorted(
        (look for look in every if look.last_on is None), key=lambda look: (look.due_on, look.bed)
    )
    usual = int(house.rules.figures.cycle_days.value)
    return CycleKept(
        today=_kept(every, today, usual),
        usual_days=usual,
        never=tuple(never),
        overdue=sum(look.is_overdue(today) for look in every),
        latest=latest,
        latest_days=late[latest - 1] if late else 0,
        worst_days=late[0] if late else 0,
        months=_months(house, today, usual, progress),
    )


def _kept(every: Sequence[Look], on: date, usual_days: int) -> DayKept:
    return DayKept(
        on=on,
        undersides=len(every),
        in_usual=sum(
            look.days_since is not None and look.days_since <= usual_days for look in every
        ),
        in_cycle=sum(look.last_on is not None and not look.is_overdue(on) for look in every),
    )


def _months(house: House, today: date, usual_days: int, progress: Progress) -> tuple[DayKept, ...]:
    known_on = {
        bed: local_day(house.entry_of(rows[0]).recorded_at, house.zone)
        for bed, rows in house.builds_by_bed.items()
    }
    found = []
    for number, on in enumerate(_month_ends(today)):
        progress(number / MONTHS_SHOWN, "counting")
        if house.complete_from is not None and on < house.complete_from:
            break
        then = [look for look in looks(house, on) if known_on[look.bed] <= on]
        if not then:
            break
        found.append(_kept(then, on, usual_days))
    return tuple(reversed(found))


def _month_ends(today: date) -> list[date]:
    """The last days of the months before today's, the latest first."""
    ends: list[date] = []
    end = today.replace(day=1) - timedelta(days=1)
    while len(ends) < MONTHS_SHOWN:
        ends.append(end)
        end = end.replace(day=1) - timedelta(days=1)
    return ends
