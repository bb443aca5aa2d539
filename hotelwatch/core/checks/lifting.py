"""The revised NIOSH lifting equation, and what it says of standing a mattress or a base.

Source: Waters, Putz-Anderson, Garg, Fine 1993, Ergonomics 36(7):749-776; the tables as in
the Applications Manual, DHHS (NIOSH) publication 94-110. The numbers here are the equation
itself, metric, and nobody's to choose; what is ours stands among the figures.

It screens and proves nothing. It was made for one person lifting freely with two hands:
not for two people, for tight space, for kneeling, pushing or tilting, which is what
standing a bed's base is. That a uniform board takes half its weight at one edge, and that
two people manage but a part of what each could alone, are assumptions put in between.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from hotelwatch.core.beds import BedKind
from hotelwatch.core.parameters import Figures

LOAD_CONSTANT_KG = 23.0
NEAREST_CM, FARTHEST_CM = 25.0, 63.0
"""Between ankles and hands: nearer counts as nearest, farther gives no limit but 0."""
BEST_HEIGHT_CM, HIGHEST_CM = 75.0, 175.0
LOSS_PER_CM = 0.003
SHORTEST_CM, LONGEST_CM = 25.0, 175.0
TRAVEL_BASE, TRAVEL_CM = 0.82, 4.5
MOST_TWISTED_DEG = 135.0
LOSS_PER_DEG = 0.0032
SELDOM = 0.2
"""Lifts a minute; what is rarer counts as this."""

LIFTING_MOVES = frozenset({"stand_mattress", "stand_base", "tilt_sofa", "lift_crib_mattress"})
"""Moves of beds.toml that lift something."""
WANTED_INDEX = 1.0
"""At most so much is wanted (publication 94-110, section 1.4.3)."""


class Grip(StrEnum):
    """How well the hands hold it."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class Spell(StrEnum):
    """How long one goes on lifting."""

    SHORT = "short"
    """Up to one hour, then as long something light."""
    MODERATE = "moderate"
    """Up to two hours."""
    LONG = "long"
    """Up to eight hours."""


_PER_MINUTE = (0.2, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15)
_FREQUENCY = {
    Spell.SHORT: (
        *(1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37),
        *(0.34, 0.31, 0.28),
    ),
    Spell.MODERATE: (
        *(0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.21),
        *(0.0, 0.0, 0.0),
    ),
    Spell.LONG: (
        *(0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13, 0.0, 0.0),
        *(0.0, 0.0, 0.0),
    ),
}
_MOST_FROM_BELOW = {Spell.SHORT: 12, Spell.MODERATE: 10, Spell.LONG: 8}
"""Lifts a minute above which the table gives nothing where hands begin below 75 cm."""
_GRIP_FROM_BELOW = {Grip.GOOD: 1.0, Grip.FAIR: 0.95, Grip.POOR: 0.90}
_GRIP_FROM_ABOVE = {Grip.GOOD: 1.0, Grip.FAIR: 1.0, Grip.POOR: 0.90}


@dataclass(frozen=True, slots=True)
class Lift:
    """One lift as the equation asks for it, measured where it begins. Centimetres, degrees."""

    reach_cm: float
    """From between the ankles to below the hands."""
    height_cm: float
    """Of the hands above the floor."""
    travel_cm: float
    """How far the hands go up or down."""
    twist_deg: float = 0.0
    per_minute: float = SELDOM
    spell: Spell = Spell.SHORT
    grip: Grip = Grip.POOR


@dataclass(frozen=True, slots=True)
class Screened:
    """What the equation says of one move of a bed. Both weights are assumptions."""

    move: str
    """A move of beds.toml."""
    weight_kg: float
    """Of the whole piece; 0 where nobody knows it."""
    limit_kg: float
    """The recommended weight limit of one person."""
    alone: float
    """Lifting index of one person at one edge; infinite where the weight is unknown."""
    shared: float
    """Lifting index of each of two people at that edge."""

    @property
    def takes_two(self) -> bool:
        """Whether one person is over what is wanted, or nobody knows."""
        return self.alone > WANTED_INDEX

    @property
    def is_over_for_two(self) -> bool:
        """Whether two people are over it as well."""
        return self.shared > WANTED_INDEX


# --- the equation ------------------------------------------------------------------------


def recommended_weight_kg(lift: Lift) -> float:
    """The recommended weight limit of such a lift, in kg; 0 where nothing should be lifted."""
    return (
        LOAD_CONSTANT_KG
        * horizontal_multiplier(lift.reach_cm)
        * vertical_multiplier(lift.height_cm)
        * distance_multiplier(lift.travel_cm)
        * asymmetry_multiplier(lift.twist_deg)
        * frequency_multiplier(lift.per_minute, lift.spell, height_cm=lift.height_cm)
        * coupling_multiplier(lift.grip, height_cm=lift.height_cm)
    )


def lifting_index(load_kg: float, lift: Lift) -> float:
    """The load over its limit: 1 or less is wanted. Infinite where the limit is 0."""
    limit = recommended_weight_kg(lift)
    return load_kg / limit if limit else math.inf


def horizontal_multiplier(reach_cm: float) -> float:
    """25 over the reach; 1 when nearer, 0 when farther than 63 cm."""
    if reach_cm > FARTHEST_CM:
        return 0.0
    return NEAREST_CM / max(reach_cm, NEAREST_CM)


def vertical_multiplier(height_cm: float) -> float:
    """Less the farther the hands begin from 75 cm; 0 above 175 cm."""
    if not 0 <= height_cm <= HIGHEST_CM:
        return 0.0
    return 1.0 - LOSS_PER_CM * abs(height_cm - BEST_HEIGHT_CM)


def distance_multiplier(travel_cm: float) -> float:
    """Less the farther the load goes; 1 up to 25 cm, 0 beyond 175 cm."""
    if travel_cm > LONGEST_CM:
        return 0.0
    return TRAVEL_BASE + TRAVEL_CM / max(travel_cm, SHORTEST_CM)


def asymmetry_multiplier(twist_deg: float) -> float:
    """Less the more one twists; 0 beyond 135 degrees."""
    return 0.0 if twist_deg > MOST_TWISTED_DEG else 1.0 - LOSS_PER_DEG * twist_deg


def frequency_multiplier(per_minute: float, spell: Spell, *, height_cm: float) -> float:
    """By lifts a minute, how long they go on, and where hands begin; straight between rows."""
    if height_cm < BEST_HEIGHT_CM and per_minute > _MOST_FROM_BELOW[spell]:
        return 0.0
    if per_minute > _PER_MINUTE[-1]:
        return 0.0
    table = _FREQUENCY[spell]
    after = bisect_left(_PER_MINUTE, per_minute)
    if after == 0:
        return table[0]
    before = after - 1
    if not table[after]:
        return table[after]
    share = (per_minute - _PER_MINUTE[before]) / (_PER_MINUTE[after] - _PER_MINUTE[before])
    return table[before] + share * (table[after] - table[before])


def coupling_multiplier(grip: Grip, *, height_cm: float) -> float:
    """By how well hands hold it, and whether they begin below 75 cm."""
    return (_GRIP_FROM_BELOW if height_cm < BEST_HEIGHT_CM else _GRIP_FROM_ABOVE)[grip]


# --- beds --------------------------------------------------------------------------------


def edge_lift(figures: Figures) -> Lift:
    """How the edge of a mattress or base is taken: seldom, poor grip, no twist (assumptions)."""
    return Lift(
        reach_cm=figures.edge_reach_cm.value,
        height_cm=figures.edge_height_cm.value,
        travel_cm=figures.edge_travel_cm.value,
    )


def screened(figures: Figures, move: str, weight_kg: float) -> Screened:
    """What the equation says of standing a piece on its edge; 0 kg: nobody knows its weight.

    A uniform board takes half its weight at one edge while the other rests (derived);
    two people share that by what a team of two manages of both alone.
    """
    limit = recommended_weight_kg(edge_lift(figures))
    if not weight_kg:
        return Screened(move, 0.0, limit, math.inf, math.inf)
    at_the_edge = weight_kg / 2
    together = 2 * limit * figures.two_people_share.value
    return Screened(move, weight_kg, limit, at_the_edge / limit, at_the_edge / together)


def lifts_of(figures: Figures, kind: BedKind, *, encased: bool = False) -> tuple[Screened, ...]:
    """Every lift that looking at such a bed takes, in looking order, each move once."""
    places = kind.places_of(encased=encased)
    moves = dict.fromkeys(place.move for place in places if place.move in LIFTING_MOVES)
    return tuple(screened(figures, move, kind.lifts_kg.get(move, 0.0)) for move in moves)


def heaviest(lifts: Iterable[Screened]) -> Screened | None:
    """The lift with the highest index for one person; None without any."""
    return max(lifts, key=lambda lift: lift.alone, default=None)
