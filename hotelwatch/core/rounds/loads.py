"""What teams carry, day by day: minutes and floor space side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from hotelwatch.core.building.rooms import Building, Point
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.rounds.team_days import TeamOnDay


@dataclass(frozen=True, slots=True)
class Load:
    """A team's day in sums."""

    on: date
    team: TeamName
    rooms: int
    floor_m2: float
    """Of its rooms, as the building is drawn."""
    used: int
    """Minutes of its rooms and the ways to their corridors."""
    minutes: int
    """What plans may use of its day; 0 where it is away."""


def loads(building: Building, days: Sequence[TeamOnDay]) -> tuple[Load, ...]:
    """Each team's day in sums, in the order given."""
    return tuple(
        Load(
            on=day.on,
            team=day.team,
            rooms=len(day.rooms),
            floor_m2=sum(floor_space(building, visit.room) for visit in day.rooms),
            used=day.used,
            minutes=day.minutes,
        )
        for day in days
    )


def floor_space(building: Building, room: RoomNo) -> float:
    """A room's floor in square metres, walls not taken off; 0 for one that is not drawn."""
    shape = building.shapes.get(room)
    return 0.0 if shape is None else area_m2(shape.outline)


def area_m2(outline: Sequence[Point]) -> float:
    """The area of a polygon given counter-clockwise, by Gauss's trapezoids."""
    closed = (*outline, outline[0])
    twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(closed))
    return twice / 2
