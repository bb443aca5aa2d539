"""Infestations that nobody has found yet, as arrays: how old, where, how much luck is left.

Each has, for each way to be found and for each neighbour, an amount of hazard that it endures,
drawn when it comes in. Looks use it up; when it is gone, it is found. Taken look by look that
is the same as drawing each look for itself, but two house rules then meet the same luck.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from hotelwatch.core.odds.growth import Floats, insects_at
from hotelwatch.core.odds.sensitivity import chance_seen, guest_notices
from hotelwatch.core.odds.settings import Look, Setting
from hotelwatch.core.odds.simulation.checking import Checking
from hotelwatch.core.odds.simulation.draws import Keys, Purpose, uniform, waiting
from hotelwatch.core.odds.simulation.hotel import Ints
from hotelwatch.core.odds.simulation.policies import HouseRule
from hotelwatch.core.odds_figures import OddsRules

STEPS = 8
"""Ages are told apart to an eighth of a day."""
LONGEST = 500
"""Days of age after which nothing grows any more, on any shipped curve."""
ALMOST_NEVER = 1e-300


class Origin(IntEnum):
    """How an infestation came into its room."""

    STAY = 0
    NEIGHBOUR = 1
    MOVED = 2
    """With a guest who was moved out of an infested room."""
    SURVIVED = 3
    """Left by a treatment."""


class Luck(IntEnum):
    """Columns of what is endured."""

    DEEP_LOOK = 0
    GLANCE = 1
    GUEST = 2
    TRAP = 3


LUCK_PURPOSES = np.array([Purpose.DEEP_LOOK, Purpose.GLANCE, Purpose.GUEST, Purpose.TRAP])


class Hazards:
    """How likely each way finds an infestation, as a hazard, by age in steps and by place."""

    def __init__(
        self, rules: OddsRules, setting: Setting, rule: HouseRule, checking: Checking
    ) -> None:
        """Work out the tables of one rule in one stance."""
        ages = np.arange(LONGEST * STEPS + 1) / STEPS
        insects = insects_at(setting.growth, ages, setting.most_insects)
        stood = np.minimum(ages, rule.trap_days) / rule.trap_days

        def of(look: Look, seen_by: Floats) -> Floats:
            return hazard(chance_seen(setting, look, seen_by, shares=checking.shares).T)

        glance, traps = (setting.look(rules.looks[key]) for key in ("glance", "traps"))
        self.insects = insects
        self.deep = of(checking.look, insects)
        self.glance = of(glance, insects) * setting.glance_weight
        self.trap = of(traps, insects * stood)
        self.guest = hazard(guest_notices(setting, insects))
        self.pressure = insects / (insects + setting.spread_half)


def hazard(chance: Floats) -> Floats:
    """How much luck something of this chance uses up."""
    return -np.log(np.maximum(1.0 - chance, ALMOST_NEVER))


@dataclass(frozen=True, eq=False)
class Infestations:
    """A infestations; each array has one row for each."""

    room: Ints
    """Number of the room among all rooms of all hotel-years."""
    came_on: Ints
    origin: Ints
    place: Ints
    """The main one, by number in PLACES."""
    age: Floats
    """Days of the growth curve."""
    key: Keys
    slept: NDArray[np.bool_]
    """Whether a guest slept in the room last night."""
    left: Floats
    """Hazard that it still endures, by column of Luck."""
    edges: Floats
    """Hazard until it reaches each neighbour (A, most neighbours)."""

    def __len__(self) -> int:
        """How many there are."""
        return len(self.room)

    def steps(self) -> Ints:
        """Ages as rows of tables."""
        return np.minimum(np.rint(self.age * STEPS).astype(np.int64), LONGEST * STEPS)

    def only(self, which: NDArray[np.bool_]) -> Infestations:
        """Those that are marked."""
        return replace(self, **{f.name: getattr(self, f.name)[which] for f in fields(self)})

    def and_more(self, more: Infestations) -> Infestations:
        """These and some more."""
        names = [f.name for f in fields(self)]
        both = {n: np.concatenate([getattr(self, n), getattr(more, n)]) for n in names}
        return replace(self, **both)


@dataclass(frozen=True, slots=True)
class Newcomers:
    """What comes in on a day in one way."""

    rooms: Ints
    keys: Keys
    origin: Origin
    age: float = 0.0


def come_in(
    some: Newcomers, day: int, *, shares: tuple[float, ...], most_neighbours: int
) -> Infestations:
    """Newcomers with their places and luck, as their keys have it."""
    number = len(some.rooms)
    risen = np.cumsum(shares)
    place = np.searchsorted(risen, uniform(some.keys, Purpose.PLACE) * risen[-1], side="right")
    edges = Purpose.EDGE + np.arange(most_neighbours)
    return Infestations(
        room=np.asarray(some.rooms, np.int64),
        came_on=np.full(number, day, np.int64),
        origin=np.full(number, int(some.origin), np.int64),
        place=np.minimum(place, len(shares) - 1),
        age=np.full(number, some.age),
        key=np.asarray(some.keys, np.uint64),
        slept=np.zeros(number, bool),
        left=waiting(some.keys[:, None], LUCK_PURPOSES[None, :]),
        edges=waiting(some.keys[:, None], edges[None, :]),
    )
