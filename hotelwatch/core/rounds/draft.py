"""A draft as one looks at it before publishing: each room with why it is there, and sums."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import SheetSum, SlotRow, sheet_sums, slot_rows
from hotelwatch.core.facts import TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.plan import Plan
from hotelwatch.core.stays.openings import Occupancy


def draft_rows(
    house: House, occupancy: Occupancy, plan: Plan, *, now: datetime
) -> tuple[SlotRow, ...]:
    """The rooms of a draft, by day, team and walking order; those that come due again too."""
    rows = slot_rows(house, occupancy, plan.slots, now=now)
    if not plan.again:
        return rows
    due_on = {(one.slot.on, one.slot.room): one.due_on for one in plan.again}
    again = (
        replace(row, due_on=due_on[row.on, row.room], sooner=None, is_again=True)
        for row in slot_rows(house, occupancy, [one.slot for one in plan.again], now=now)
    )
    return tuple(sorted((*rows, *again), key=lambda row: (row.on, row.team, row.position)))


def draft_sums(house: House, plan: Plan, rows: Iterable[SlotRow]) -> tuple[SheetSum, ...]:
    """Every team on every day of the draft that it works, also where it has no room."""
    sums = {(one.on, one.team): one for one in sheet_sums(house, rows, Calendar(house).minutes)}
    for day in plan.minutes_by_day:
        sums.setdefault((day.on, day.team), SheetSum(day.on, day.team, 0, 0, day.used, day.minutes))
    return tuple(sums[key] for key in sorted(sums))


def slots_ahead(house: House, team: TeamName, today: date) -> int:
    """How many rooms stand on a team's published sheets from today on."""
    return sum(
        slot.team == team for day, slots in house.slots.items() if day >= today for slot in slots
    )


def first_day(rows: Iterable[SlotRow]) -> date | None:
    """The first day with a room; None without any."""
    return min((row.on for row in rows), default=None)
