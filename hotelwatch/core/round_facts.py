"""Kinds of fact about rounds: calendars, agreed visits, a hand on the plan, stairs on the way.

As in ``facts``, each is one frozen dataclass, and the latest word counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import ClassVar

from hotelwatch.core.facts import Fact, Name, Note, RoomNo, TeamName, Topic

AS_USUAL = -1
"""Minutes of a TeamDaysChanged that take earlier changes of these days back."""

# --- calendars ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TeamDaysChanged(Fact):
    """A team has other minutes than usual on each day from..until: leave, or a shift more."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    team: TeamName
    from_on: date
    until_on: date
    """The last such day."""
    minutes: int
    """0: away. AS_USUAL: earlier changes count no more."""
    reason: Note = ""


@dataclass(frozen=True, slots=True)
class HouseDaysClosed(Fact):
    """Nobody looks at beds from..until, both included: a holiday, a shutdown."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    from_on: date
    until_on: date
    reason: str
    is_closed: bool = True
    """False takes it back for these days."""


@dataclass(frozen=True, slots=True)
class SeasonNoted(Fact):
    """Days that use a cycle up faster: warm nights, the weeks after a fair. An assumption."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    name: str
    from_on: date
    until_on: date
    faster_percent: int
    """Each of its days counts as 1 + faster_percent / 100 days of every cycle."""
    holds: bool = True


# --- guests and front desk ------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class VisitArranged(Fact):
    """A guest who stays agreed to a look. The guest is never named."""

    topic: ClassVar[Topic] = Topic.STAYS
    room: RoomNo
    on: date
    from_clock: str
    until_clock: str
    agreed_by: Name
    """Who of the staff asked the guest."""
    holds: bool = True


@dataclass(frozen=True, slots=True)
class VisitDeclined(Fact):
    """A guest who stays was asked for a look and said no. Neither named nor asked why."""

    topic: ClassVar[Topic] = Topic.STAYS
    room: RoomNo
    on: date
    """The day asked."""
    declined_to: Name
    """Who of the staff asked the guest."""


NOBODY_KNOWS = -1
"""In place of late days saved that nobody worked out."""


@dataclass(frozen=True, slots=True)
class NightAsked(Fact):
    """Front desk is asked to keep a room vacant for a night, named by the day before it."""

    topic: ClassVar[Topic] = Topic.STAYS
    room: RoomNo
    night: date
    reason: Note
    holds: bool = True
    saves: int = NOBODY_KNOWS
    """Late days that a plan showed it to save, beside the nights asked for with it."""


@dataclass(frozen=True, slots=True)
class NightAnswered(Fact):
    """Front desk's answer to the latest NightAsked of that room and night."""

    topic: ClassVar[Topic] = Topic.STAYS
    room: RoomNo
    night: date
    is_kept: bool
    by: Name
    note: Note = ""
    """What front desk says to it in a few words; no guest's name."""


# --- a supervisor's hand on the plan ---------------------------------------------------


@dataclass(frozen=True, slots=True)
class CheckPinned(Fact):
    """A room is to be looked at on this day, by this team if one is named."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    room: RoomNo
    on: date
    team: str = ""
    holds: bool = True


@dataclass(frozen=True, slots=True)
class TeamPinned(Fact):
    """A room is to be looked at by this team, whatever the day."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    room: RoomNo
    team: TeamName
    holds: bool = True


@dataclass(frozen=True, slots=True)
class DayForbidden(Fact):
    """A room is not to be looked at on this day."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    room: RoomNo
    on: date
    holds: bool = True


# --- what wants a look sooner -----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FurnitureMoved(Fact):
    """Furniture went from one room to another; both are wanted sooner."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    from_room: RoomNo
    to_room: RoomNo
    moved_on: date
    what: str
    """In a few words: headboard, armchair."""
    bed: str = ""
    """The bed that it belongs to, by its label; empty if it is no part of one."""


# --- the way there ------------------------------------------------------------------------


class Climb(StrEnum):
    """By what one gets to another floor."""

    STAIR = "stair"
    LIFT = "lift"


@dataclass(frozen=True, slots=True)
class StairPlaced(Fact):
    """A stair or a lift that opens on every floor that its wing has; the latest word counts."""

    topic: ClassVar[Topic] = Topic.ROSTER
    name: str
    wing: str
    along_m: float
    """Metres from where the wing's corridor begins."""
    kind: Climb = Climb.STAIR
    in_use: bool = True
