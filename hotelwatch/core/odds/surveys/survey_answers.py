"""What is asked of a survey and what it answers, as plain values: no arrays, no arithmetic.

A survey is a look at some or all rooms within a few days, in which nothing was found. Its
answer is always of one kind: had so many rooms at least so many insects, how likely would
it have found at least one of them. It is no chance that the hotel has none.
"""

from __future__ import annotations

from dataclasses import dataclass

from hotelwatch.core.facts import RoomNo


@dataclass(frozen=True, slots=True)
class Looked:
    """A look at a room, and the chance that it sees as many insects as the survey speaks of."""

    room: RoomNo
    seen: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """A room of the hotel that a survey may look at."""

    room: RoomNo
    seen: float
    """Chance that a look sees as many insects as the survey speaks of."""
    minutes: float
    weight: float = 1.0
    """How much likelier than others it is infested: a relative risk, or its present odds."""
    can_be_entered: bool = True


@dataclass(frozen=True, slots=True)
class SurveySize:
    """How many rooms a survey must look at, or that no number of rooms will do."""

    rooms: int
    """Of the hotel."""
    infested: int
    """So many infested rooms, or more, are to be found."""
    seen: float
    confidence: float
    looks: int | None
    """The least number of rooms; None if not even all of them suffice in one round."""
    finds: float
    """Chance to find at least one, with so many looks; with all rooms where looks is None."""
    rounds: int | None
    """Rounds through every room that suffice; 1 where looks is given, None if too many."""

    @property
    def is_reachable(self) -> bool:
        """Whether one round through the hotel can show it at all."""
        return self.looks is not None


@dataclass(frozen=True, slots=True)
class SurveyChoice:
    """The rooms that a survey looks at, best first."""

    rooms: tuple[RoomNo, ...]
    minutes: float
    finds: float
    """Chance to find at least one, with these rooms."""
    infested: int
    confidence: float
    is_reached: bool
    """False: these are all rooms that can be entered in the time, and they do not suffice."""
    is_cut_short: bool = False
    """Not reached, and more rooms could be entered, but not within the minutes."""


@dataclass(frozen=True, slots=True)
class SurveyShown:
    """What a survey shows in which nothing was found."""

    rooms: int
    """Of the hotel."""
    looked_at: int
    infested: int
    """The number of infested rooms that was asked about."""
    insects: int
    """In each of them at least so many; of smaller infestations it says nothing."""
    confidence: float
    finds: float
    """Chance that it would have found at least one of so many infested rooms."""
    least_infested: int | None
    """From so many infested rooms on it finds one with the confidence; None: never."""
    census_finds: float
    """What looking at every room as well as at the best-seen one would reach in one round."""
    lowest_seen: float
    highest_seen: float

    @property
    def is_reached(self) -> bool:
        """Whether it finds as many as were asked about with the confidence."""
        return self.least_infested is not None and self.least_infested <= self.infested

    @property
    def is_reachable(self) -> bool:
        """Whether any number of rooms, looked at as well, reaches it in one round."""
        return reaches(self.census_finds, self.confidence)


ROUNDING = 1e-9
"""What sums of chances may be off by: so close to a target counts as reaching it."""


def reaches(chance: float, target: float) -> bool:
    """Whether a chance is at least the target, but for the arithmetic's rounding."""
    return chance >= target - ROUNDING
