"""Nights that front desk is asked to keep a room free: what each costs and what it saves.

Nothing here says more than a guest may read: the reason that was written down with the
asking is left out, since it may speak of a case.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from hotelwatch.core.checks.coverage import looks
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.stays.agreed import asked_nights
from hotelwatch.core.stays.openings import Occupancy

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
    booked_until: date | None
    """A booking has the room that night, as given by front desk, until this day."""
    next_open_on: date | None
    """The first later day, as booked now, on which the room can be entered anyhow, the
    night's own two days left aside; None if none is known within the plan's days."""
    overdue_bed_days: int
    """Bed-days overdue that a look on the day of the night saves against that day."""


def keep_free(house: House, occupancy: Occupancy, today: date) -> tuple[KeepFree, ...]:
    """Every night asked for from today on, by night and room."""
    asked = [one for one in asked_nights(house, today) if one.room in house.rooms]
    if not asked:
        return ()
    wanted = dict.fromkeys(one.room for one in asked)
    due = {look.bed: look.due_on for look in looks(house, today, rooms=wanted)}
    span = int(house.rules.figures.plan_days.value)
    rows = []
    for one in asked:
        stay = occupancy.stay_on(one.room, one.night)
        given = stay is not None and stay.booking not in occupancy.provisional
        opens = _opens_after(occupancy, one.room, one.night, span=span)
        late_until = opens or one.night + timedelta(days=span)
        beds = [due[bed.bed] for bed in house.beds_of(one.room) if bed.bed in due]
        rows.append(
            KeepFree(
                room=one.room,
                night=one.night,
                is_kept=one.is_kept,
                answered_by=one.answered_by,
                booked_until=stay.leaves_on if stay is not None and given else None,
                next_open_on=opens,
                overdue_bed_days=sum(
                    max(0, (late_until - max(due_on, one.night)).days) for due_on in beds
                ),
            )
        )
    return tuple(rows)


def _opens_after(occupancy: Occupancy, room: RoomNo, night: date, *, span: int) -> date | None:
    """The first day after the night on which a known booking does not keep the room shut."""
    days = days_from(night + 2 * ONE_DAY, span)
    return next((day for day in days if occupancy.opening(room, day) is not None), None)
