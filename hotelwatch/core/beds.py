"""How a bed is built and in which order one looks at it. Filled from resources/beds.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Place:
    """A part one looks at."""

    code: str
    underside: bool
    """Whether it must be looked at for the underside to count as looked at."""
    people: int
    """How many it takes to look at it safely."""
    likeliness: int
    """1 (unlikely) to 5 (likeliest); a ranking, not a measure."""
    optional: bool
    """Looked at only on suspicion or in the long form; leaving it is no gap."""
    one_way: bool
    """May not go back as it was: decide before, record it."""
    move: str
    """Code of what must be moved to see it; empty for nothing."""
    caution: str
    """Code of the caution shown beside it; empty for none."""


@dataclass(frozen=True, slots=True)
class BedKind:
    """A kind of bed: its places in the order seen to hidden, minutes and people."""

    code: str
    places: tuple[Place, ...]
    encased_places: tuple[Place, ...]
    """The shorter list of an encased bed; equal to ``places`` where none is encased."""
    minutes: int
    encased_minutes: int
    people: int
    lifts_kg: Mapping[str, float]
    """Weight of what each move lifts, by the move's code (assumption: weigh your own)."""

    def places_of(self, *, encased: bool) -> tuple[Place, ...]:
        """The places of such a bed, in looking order."""
        return self.encased_places if encased else self.places

    def minutes_of(self, *, encased: bool) -> int:
        """Minutes of two people for a deep check (assumption: measure your own)."""
        return self.encased_minutes if encased else self.minutes

    def underside_of(self, *, encased: bool) -> frozenset[str]:
        """Codes of the places without which the underside was not looked at."""
        places = self.places_of(encased=encased)
        return frozenset(p.code for p in places if p.underside and not p.optional)
