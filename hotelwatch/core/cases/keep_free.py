"""Nights that front desk is asked to keep a room free: what each costs and what it saves.

Nothing here says more than a guest may read: the reason that was written down with the
asking is left out, since it may speak of a case.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.stays.agreed import AskedNight, PlannedSaving
from hotelwatch.core.stays.kept_nights import nights_as_booked
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.core.stays.openings import occupancy as as_booked

ONE_DAY = timedelta(days=1)
COST_NIGHTS = 1
"""What a kept night costs at most: that room is not sold for it."""


@dataclass(frozen=True, slots=True)
class KeepFree:
    """A room that is asked to be kept free for a night, named by the day before it."""

    room: RoomNo
    night: date
    is_kept: bool | None
    """None while front desk has not answered."""
    answered_by: str
    note: str
    """Front desk's, to its answer."""
    booked_until: date | None
    """A booking has the room that night, as given by front desk, until this day."""
    next_open_on: date | None
    """The first day from today on, as booked without keeping it, on which the room can be
    entered and some team works; None if none is known within the plan's days."""
    overdue_bed_days: int
    """Bed-days overdue that it saves: as the plan showed that asked for it, else against that
    day; then 0 where it opens nothing sooner, as where the room stands empty before."""
    planned: PlannedSaving | None = None
    """None where no plan showed what it saves: minutes of teams are not reckoned with then."""
    is_sold: bool = False
    """Said to be kept free, and sold all the same."""


def keep_free(house: House, occupancy: Occupancy, today: date) -> tuple[KeepFree, ...]:
    """Every night asked for from today on, by night and room.

    A kept night opens its own day and the next. Where no plan showed what it saves, that is the
    wait from the first of these on which a team works until the room would open anyhow.
    """
    nights = nights_as_booked(house, occupancy, today)
    asked = [one for one in nights if one.room in house.rooms]
    due = {look.bed: look.due_on for look in looks(house, today)} if asked else {}
    calendar = Calendar(house)
    is_any_kept = any(one.is_kept for one in asked)
    without = as_booked(house, today, keeps_nights=False) if is_any_kept else occupancy
    rows = []
    for one in asked:
        stay = occupancy.stay_on(one.room, one.night)
        given = occupancy.is_given(one.room, one.night)
        opens = _opens_from(house, without, one, today, calendar)
        beds = [due[bed.bed] for bed in house.beds_of(one.room) if bed.bed in due]
        rows.append(
            KeepFree(
                room=one.room,
                night=one.night,
                is_kept=one.is_kept,
                answered_by=one.answered_by,
                note=one.note,
                booked_until=stay.leaves_on if stay is not None and given else None,
                next_open_on=opens,
                overdue_bed_days=(
                    _saved(house, one.night, opens, beds, calendar)
                    if one.planned is None
                    else one.planned.days
                ),
                planned=one.planned,
                is_sold=one.is_sold,
            )
        )
    return tuple(rows)


def _saved(
    house: House, night: date, opens: date | None, beds: Iterable[date], calendar: Calendar
) -> int:
    """Bed-days from the look that the night allows to the one possible anyhow, beds' due days."""
    nights = (night, night + ONE_DAY)
    looked_on = next((day for day in nights if _works(house, calendar, day)), None)
    if looked_on is None:
        return 0
    until = opens or night + timedelta(days=_span(house))
    return sum(max(0, (until - max(due_on, looked_on)).days) for due_on in beds)


def _opens_from(
    house: House, without: Occupancy, one: AskedNight, today: date, calendar: Calendar
) -> date | None:
    """The first day from today on that no known booking keeps shut."""
    days = days_from(today, (one.night - today).days + _span(house))
    return next(
        (
            day
            for day in days
            if _works(house, calendar, day) and without.opening(one.room, day) is not None
        ),
        None,
    )


def _works(house: House, calendar: Calendar, day: date) -> bool:
    """Whether a team works on a day; where no team is described, any day counts."""
    return not house.teams or bool(calendar.working(day))


def _span(house: House) -> int:
    """The plan's days after the two that a kept night opens."""
    return 2 + int(house.rules.figures.plan_days.value)
