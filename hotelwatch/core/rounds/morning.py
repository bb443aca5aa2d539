"""The morning: whether today's sheets should be planned again before teams go up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.checks.slots import SlotRow, SlotState, published_rows
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.team_days import published_round, team_days
from hotelwatch.core.stays.openings import Occupancy


@dataclass(frozen=True, slots=True)
class Morning:
    """What speaks for planning the day again."""

    planned_on: date
    """The day on which today's sheets were published last."""
    free_minutes: int
    """Minutes of today's teams that no room on their sheets, nor the way there, takes."""
    teams: tuple[TeamName, ...]
    """Those that have them."""
    closed_rooms: tuple[RoomNo, ...]
    """On a sheet, not looked at, and not to be entered today after all."""


def morning(
    house: House, occupancy: Occupancy, now: datetime, *, rows: Iterable[SlotRow] | None = None
) -> Morning | None:
    """What speaks for planning today again; None if nothing does, or today has no sheets.

    ``rows`` are today's slots, where they are at hand already.

    Publishing a round promises only part of a later day; the rest is filled on its
    morning. So a day last published before it began is planned again, unless its
    teams' minutes are taken and every room on their sheets can be entered.
    """
    today = local_day(now, house.zone)
    told = published_round(house, today, today)
    entry = told.last_entry
    if entry is None:
        return None
    planned_on = local_day(entry.recorded_at, house.zone)
    shut = (SlotState.GUEST_STAYS, SlotState.IN_QUARANTINE)
    if rows is None:
        rows = published_rows(house, occupancy, from_on=today, until_on=today, now=now)
    closed = tuple(row.room for row in rows if row.state in shut)
    figures = house.rules.figures
    least = int(figures.room_setup_minutes.value) + _shortest_bed(house)
    way = int(figures.corridor_minutes.value)
    free = {day.team: day.minutes - day.used for day in team_days(house, told)}
    idle = {team: minutes for team, minutes in free.items() if minutes >= way + least}
    if planned_on < today and (idle or closed):
        return Morning(planned_on, sum(idle.values()), tuple(idle), closed)
    return Morning(planned_on, 0, (), closed) if closed else None


def _shortest_bed(house: House) -> int:
    kinds = house.rules.bed_kinds
    return min(
        (kinds[bed.kind].minutes_of(encased=bed.encased) for bed in house.beds.values()),
        default=0,
    )
