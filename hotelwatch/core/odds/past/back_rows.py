"""What the finds on record show, looking back: rows, free of arrays."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from statistics import median

from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.odds.learning.estimates import Estimate, planted
from hotelwatch.core.odds_figures import ByStance, Stance

EVEN = 0.5
"""From here on, one of two is the likelier."""


class FoundBy(StrEnum):
    """By what kind of look or word a find was noticed first; never by whom."""

    DEEP = "deep_check"
    ASKED = "asked_check"
    BRIEF = "brief_look"
    CLEARANCE = "after_treatment"
    TRAP = "trap"
    DOG = "dog"
    GUEST = "guest"
    FIRM = "firm"
    STAFF = "staff"
    """Whoever makes the bed, or others of the staff: no look at a bed is on record."""


class LeftOver(StrEnum):
    """Of a find in a room treated before: whether it outlived that or came in since."""

    OUTLIVED = "outlived"
    ANEW = "anew"
    CANNOT_TELL = "cannot_tell"
    """The stances differ on which is likelier."""


@dataclass(frozen=True, slots=True)
class Treatment:
    """The last treatment before a find, and the chance that what was found outlived it."""

    treated_on: date
    outlived: ByStance

    @property
    def left_over(self) -> LeftOver:
        """Which is likelier; told only where every stance says the same."""
        chances = self.outlived.values()
        if min(chances) > EVEN:
            return LeftOver.OUTLIVED
        return LeftOver.ANEW if max(chances) < EVEN else LeftOver.CANNOT_TELL


@dataclass(frozen=True, slots=True)
class FindBack:
    """A confirmed find: the first one of a case in a room since its last treatment."""

    case: CaseNo
    room: RoomNo
    found_on: date
    """When the sign that was judged to be of bed bugs was seen."""
    noticed_on: date
    """When the first sign of the case was seen in the room."""
    found_by: FoundBy
    window: Mapping[Stance, tuple[date, date]]
    """From the 5 to the 95 % quantile of the day on which it came in."""
    middle_on: Mapping[Stance, date]
    insects: ByStance
    """In the middle case, on the day of the find."""
    treatment: Treatment | None
    """The last one before the find; None: none is on record."""
    record_from: date
    """Looks at the room are read from this day on; what came in before it is assumed."""

    @property
    def days(self) -> ByStance:
        """From the middle day of coming in to the find."""
        return {stance: (self.found_on - day).days for stance, day in self.middle_on.items()}

    @property
    def is_new(self) -> bool:
        """Whether it is counted among those that came in; others may have outlived."""
        return self.treatment is None or self.treatment.left_over is LeftOver.ANEW


@dataclass(frozen=True, slots=True)
class FindsInAll:
    """All finds together."""

    finds: int
    first_on: date | None
    """From this day on finds are reckoned with; None without any room."""
    by: Mapping[FoundBy, int]
    new: int
    """Of those that came in since any treatment, days are reckoned."""
    days: ByStance | None
    """The middle of their days from coming in to the find; None without any."""
    gone: tuple[RoomNo, ...]
    """Rooms with a confirmed find that left the roster: nothing can be reckoned for them."""
    guests_share: Estimate | None
    """What the counts say of the share that guests notice first; None without any find."""

    @property
    def by_guests(self) -> int:
        """Finds that guests noticed first."""
        return self.by.get(FoundBy.GUEST, 0)


def finds_in_all(
    finds: Iterable[FindBack], *, first_on: date | None, gone: tuple[RoomNo, ...]
) -> FindsInAll:
    """Count all finds, by how they were noticed first, and take the middle of their days."""
    every = list(finds)
    new = [find for find in every if find.is_new]
    ways = [find.found_by for find in every]
    days = {stance: float(median(find.days[stance] for find in new)) for stance in Stance if new}
    return FindsInAll(
        finds=len(every),
        first_on=first_on,
        by={way: ways.count(way) for way in FoundBy if way in ways},
        new=len(new),
        days=days or None,
        gone=gone,
        guests_share=planted(ways.count(FoundBy.GUEST), len(every)) if every else None,
    )


class GroupOf(StrEnum):
    """What rooms with finds have in common."""

    ROOM = "room"
    STACK = "stack"
    """Rooms above one another, from floor to floor."""
    WING = "wing"


@dataclass(frozen=True, slots=True)
class FindGroup:
    """A room, a stack or a wing with more than one find."""

    of: GroupOf
    name: str
    """Of a room or a wing; empty for a stack."""
    finds: int
    found_in: tuple[RoomNo, ...]
    """Rooms with a find, in the order of the roster; a stack's from bottom to top."""
    rooms: int
    """How many rooms there are in all."""
