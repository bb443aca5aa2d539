"""Published visits whose team is away, or that stand on a day on which the house is closed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.slots import is_looked_at
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.rounds.days_ahead import HOUSE
from hotelwatch.core.stays.agreed import ArrangedVisit, arranged_visits


@dataclass(frozen=True, slots=True)
class LostVisit:
    """A room on a published sheet whose team does not work that day."""

    on: date
    team: TeamName
    room: RoomNo
    agreed: ArrangedVisit | None
    """The hours to which the room's guest agreed; None where nobody was asked."""


def lost_visits(
    house: House, from_on: date, until_on: date, *, team: TeamName = HOUSE
) -> tuple[LostVisit, ...]:
    """Those of the days from..until, of one team where it is named; agreed ones first."""
    calendar, agreed = Calendar(house), arranged_visits(house)
    found = [
        LostVisit(day, slot.team, slot.room, agreed.get((slot.room, day)))
        for day in days_from(from_on, (until_on - from_on).days + 1)
        for slot in house.slots.get(day, ())
        if slot.room in house.rooms
        and team in (HOUSE, slot.team)
        and not calendar.minutes(slot.team, day)
        and not is_looked_at(house, slot)
    ]
    return tuple(sorted(found, key=lambda one: (one.agreed is None, one.on)))
