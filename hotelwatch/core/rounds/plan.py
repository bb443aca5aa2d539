"""A plan: a draft of which team looks at which room on which day. Publishing it is a fact."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.facts import BedNo, RoomNo, SlotPublished, TeamName


@dataclass(frozen=True, slots=True)
class Wish:
    """What to plan: so many days, and the moment at which quarantines are looked up."""

    from_on: date
    days: int
    now: datetime
    """A room in quarantine now counts as in quarantine on every day of the plan."""
    is_strict: bool = False
    """Whether the fewest overdue bed-days in these days go before everything, whatever
    walking that costs and whatever comes later."""
    weights: Mapping[RoomNo, float] = field(default_factory=dict)
    """How much a day of a room's lateness weighs, 1 or more; 1 for rooms not named."""


class WhyNot(StrEnum):
    """Why a room that is due, or asked for, or some of its beds, is in no slot."""

    NO_OPENING = "no_opening"
    """On none of these days can the room be entered."""
    NOBODY_THEN = "nobody_then"
    """It can, but on days off alone, or outside the teams' shifts."""
    FORBIDDEN = "forbidden"
    """It can, but on days alone that a supervisor forbade."""
    IN_QUARANTINE = "in_quarantine"
    """Only its own case may ask for a look."""
    NO_MINUTES = "no_minutes"
    """Rooms before it took the minutes of the days on which it is open."""
    PINNED = "pinned"
    """A supervisor pinned it to a day, or to a team, that can't take it."""
    PINNED_FULL = "pinned_full"
    """A supervisor pinned it, and others took the minutes there."""
    NO_TEAM = "no_team"
    """No team has the people that its beds need, or none of those works on these days."""
    TOO_LONG = "too_long"
    """Set-up and one bed need more minutes than any such team has in a day."""
    HOURS_TOO_SHORT = "hours_too_short"
    """It can be entered, but never for as long as its visit takes."""
    TOO_EARLY = "too_early"
    """It can be entered, but so soon after its last look that plans leave it alone."""
    NOT_AGAIN = "not_again"
    """It comes due once more after its planned look, and no day then has minutes for it."""
    SHUT_AGAIN = "shut_again"
    """It comes due once more, and on no day then can a team enter it."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A room, or beds of it, left out by the plan though due, or asked for, within its days."""

    room: RoomNo
    due_on: date
    why: WhyNot
    only_beds: tuple[BedNo, ...] = ()
    """Beds that are left out while others of the room are planned; empty for the whole room."""


@dataclass(frozen=True, slots=True)
class LookAgain:
    """A look after a planned one: likely, never published, planned anew once that one is made."""

    slot: SlotPublished
    """It has the place of the slot before it on its sheet."""
    due_on: date
    """The last day that is not late, if the look before it is made as planned."""

    @property
    def is_late(self) -> bool:
        """Whether its day lies after the day by which it is due."""
        return self.slot.on > self.due_on


@dataclass(frozen=True, slots=True)
class TeamDay:
    """A team's minutes on a day."""

    on: date
    team: TeamName
    used: int
    """Rooms and ways to corridors."""
    minutes: int
    """What it has."""


@dataclass(frozen=True, slots=True)
class Proof:
    """How good a plan is, and how good one could be."""

    overdue_bed_days: int
    """Days overdue within the plan's days, summed over beds."""
    fewest: int
    """No plan for these openings and minutes has fewer."""
    walking_minutes: int
    """Of the teams' minutes, for ways to corridors."""
    kept: int
    """Published visits that are still possible and stay on their day, or some of their beds."""
    moved: int
    """Published visits that are still possible, but stand on another day or on none."""
    outside: int = 0
    """Besides: of beds that no plan may look at, in quarantine or beyond what the teams can."""
    again: int = 0
    """Times that rooms come due once more within the plan's days, if looked at as planned."""
    again_in_time: int = 0
    """Of these, for so many a day in time is found beside what is planned."""
    was_stopped: bool = False
    """Somebody stopped the planning: this is the best plan found until then."""

    @property
    def is_least(self) -> bool:
        """Whether no plan has fewer overdue bed-days."""
        return self.overdue_bed_days <= self.fewest


@dataclass(frozen=True, slots=True)
class Plan:
    """What each team does on each day from..until, both included."""

    from_on: date
    until_on: date
    slots: tuple[SlotPublished, ...]
    """By day, team and walking order."""
    left_out: tuple[LeftOut, ...]
    """Asked checks first, then the earliest due."""
    minutes_by_day: tuple[TeamDay, ...]
    """Every team on every day that it works."""
    firm: frozenset[tuple[date, RoomNo]]
    """Visits that publishing promises; the others are likely, and may change until their day."""
    proof: Proof
    weights: Mapping[RoomNo, float] = field(default_factory=dict)
    """By which rooms weighed more than by their cycle alone."""
    again: tuple[LookAgain, ...] = ()
    """Looks at what comes due once more, by day, team and walking order."""
    left_again: tuple[LeftOut, ...] = ()
    """What comes due once more and finds no day, the earliest due first."""

    @property
    def promised(self) -> tuple[SlotPublished, ...]:
        """The first day's slots, and the firm ones of later days, in their order."""
        return tuple(
            slot
            for slot in self.slots
            if slot.on == self.from_on or (slot.on, slot.room) in self.firm
        )
