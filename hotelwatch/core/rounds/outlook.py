"""What is tried on a round, and what would come of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

WHOLE = 100


@dataclass(frozen=True, slots=True)
class Change:
    """What is tried; as it stands it changes nothing."""

    teams: int = 0
    """More teams like the largest one, on its days; fewer if negative, the last by name first.

    Of those with the people for at least one bed of the house.
    """
    minutes_percent: int = WHOLE
    """Of what each team has each day."""
    cycle_percent: int = WHOLE
    """Of every room's cycle."""
    keeps_rooms: int = 0
    """So many rooms a day, of those that would else be late, front desk keeps free."""


@dataclass(frozen=True, slots=True)
class DayOutlook:
    """A day as it would come out."""

    on: date
    rooms: int
    used: int
    """Minutes of all teams, ways to corridors among them."""
    minutes: int
    """What those with the people for at least one bed have."""
    late_beds: int
    """Overdue as the day begins."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What would come of it."""

    days: tuple[DayOutlook, ...]
    overdue_bed_days: int
    fewest: int
    """What openings alone bring, and beds that no plan may look at, had the teams minutes
    without end."""
    on_time_from: date | None
    """From this day on no bed is overdue within the plan's days; None if one is to the last."""
    again: int = 0
    """Rooms that come due once more within these days, which is not counted."""
