"""Undersides that were due in a month: what became of each, and why some were late."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from hotelwatch.core.facts import BedNo, RoomNo


class DueState(StrEnum):
    """What became of an underside that was due in the month."""

    IN_TIME = "in_time"
    LATE = "late"
    """Looked at in the month, after its due date."""
    NOT_DONE = "not_done"
    """Its due date has passed and it was not looked at by the end of the account."""
    AHEAD = "ahead"
    """The month still runs and its due date lies ahead."""
    NO_LONGER_DUE = "no_longer_due"
    """The bed left the roster."""


class WhyLate(StrEnum):
    """Why an underside was not looked at in time; the first that applies is the main one."""

    PLACES_LEFT_OUT = "places_left_out"
    """Somebody looked, but not at every place of the underside."""
    PLANNED_NOT_DONE = "planned_not_done"
    """It stood on a sheet, and nobody looked."""
    NOT_PLANNED = "not_planned"
    """The room could be entered, a team fit for it had minutes, and it stood on no sheet."""
    NO_MINUTES = "no_minutes"
    """It could be entered while a team fit for it worked, whose minutes were all planned."""
    NO_FIT_TEAM = "no_fit_team"
    """The room could be entered, but not in the shift of a team with enough people for the bed."""
    NO_TEAM = "no_team"
    """It could be entered, on days on which no team worked."""
    IN_QUARANTINE = "in_quarantine"
    """Closed by a case, which asked for no look."""
    NO_OPENING = "no_opening"
    """The same guests had the room the night before and the night after."""
    GUEST_DECLINED = "guest_declined"
    """The same, and they had said no to a look."""


@dataclass(frozen=True, slots=True)
class WhyDays:
    """On how many days a reason held."""

    why: WhyLate
    days: int


@dataclass(frozen=True, slots=True)
class DueRow:
    """One underside that fell due in the month or was overdue at its start."""

    bed: BedNo
    room: RoomNo
    due_on: date
    is_spread: bool
    """Never looked at before: its first due date was spread over the cycle."""
    was_overdue_at_start: bool
    state: DueState
    looked_on: date | None
    late_days: int
    """Days after the due date, until it was looked at or until the account ends."""
    why: tuple[WhyDays, ...]
    """Reasons of the days from the due date on, the main one first."""
    left_out: tuple[str, ...]
    """Underside places not looked at in those days, each as "place:why"."""
