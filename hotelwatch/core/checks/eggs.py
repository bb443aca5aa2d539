"""When the slowest egg can have hatched, and when the first new female could lay.

The look that counts after a treatment falls between the two days: before, eggs that were
spared lie unseen; after, a new female lays anew. Both days follow from the room's
temperature by degree-days, D(T) = K / (T - T0), within the temperatures for which the
formula was derived; outside it nothing is said, and nothing is guessed.

Source: Omori 1941, Johnson 1941, Usinger 1966 as usually quoted (from memory), K and T0
derived from them; the tropical species: How and Lee 2010, Med Vet Entomol 24:108 (from
memory). Standings are in resources/parameters.toml.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from math import ceil, floor

from hotelwatch.core.house import House

TROPICAL = "tropical"


class EggsUnknown(StrEnum):
    """Why nothing can be said about eggs."""

    TOO_COLD = "too_cold"
    TOO_WARM = "too_warm"
    SPECIES = "species"
    """The tropical species' eggs are known at one temperature only."""


@dataclass(frozen=True, slots=True)
class EggTimes:
    """Days from laying on, at a room's temperature; None where nobody knows."""

    celsius: float
    species: str
    egg_days: float | None
    """Until an egg hatches."""
    slowest_days: float | None
    """Until the slowest one has."""
    adult_days: float | None
    """Until an egg is an adult."""
    fastest_adult_days: float | None
    """Of the fastest insects; a new female can lay no earlier."""
    why_not: EggsUnknown | None
    """Why the hatching is not known; None where it is."""


@dataclass(frozen=True, slots=True)
class EggDates:
    """The same as days after a treatment."""

    from_on: date
    """The day of the treatment: an egg may have been laid on it."""
    times: EggTimes
    hatched_on: date | None
    """The first day on which the slowest egg has hatched."""
    adult_on: date | None
    """When an egg is an adult as a rule."""
    lays_from: date | None
    """The last day before the fastest new female could lay: the look is made by then."""


def egg_times(house: House, celsius: float | None = None) -> EggTimes:
    """Days at a temperature, the hotel's room temperature unless one is given."""
    figures = house.rules.figures
    warm = figures.room_celsius.value if celsius is None else celsius
    species = house.choices.get("species", "common")
    if species == TROPICAL:
        return _tropical(house, warm)
    why_not = _outside(house, warm)
    if why_not is not None:
        return EggTimes(warm, species, None, None, None, None, why_not)
    egg = figures.egg_degree_days.value / (warm - figures.egg_threshold_celsius.value)
    return EggTimes(
        celsius=warm,
        species=species,
        egg_days=egg,
        slowest_days=egg * (1 + figures.egg_slowest_share.value),
        adult_days=figures.growth_degree_days.value
        / (warm - figures.growth_threshold_celsius.value),
        fastest_adult_days=figures.fast_degree_days.value
        / (warm - figures.fast_threshold_celsius.value),
        why_not=None,
    )


def egg_dates(house: House, from_on: date, celsius: float | None = None) -> EggDates:
    """The days between which the look that counts falls, after a treatment's day."""
    times = egg_times(house, celsius)
    return EggDates(
        from_on=from_on,
        times=times,
        hatched_on=_after(from_on, times.slowest_days, round_up=True),
        adult_on=_after(from_on, times.adult_days, round_up=False),
        lays_from=_after(from_on, times.fastest_adult_days, round_up=False),
    )


def _after(from_on: date, days: float | None, *, round_up: bool) -> date | None:
    if days is None:
        return None
    return from_on + timedelta(days=ceil(days) if round_up else floor(days))


def _outside(house: House, warm: float) -> EggsUnknown | None:
    figures = house.rules.figures
    if warm < figures.known_from_celsius.value:
        return EggsUnknown.TOO_COLD
    return EggsUnknown.TOO_WARM if warm > figures.known_until_celsius.value else None


def _tropical(house: House, warm: float) -> EggTimes:
    """Known near one temperature; how long it takes to grow was not found at all.

    By when a new female could lay is then taken from the fastest of the common species,
    where that is known: an assumption, on the cautious side.
    """
    figures = house.rules.figures
    near, slowest = figures.tropical_celsius, figures.tropical_egg_days
    known = near.low <= warm <= near.high
    grown = None
    if _outside(house, warm) is None:
        over = warm - figures.fast_threshold_celsius.value
        grown = figures.fast_degree_days.value / over
    return EggTimes(
        celsius=warm,
        species=TROPICAL,
        egg_days=(slowest.low + slowest.high) / 2 if known else None,
        slowest_days=slowest.value if known else None,
        adult_days=None,
        fastest_adult_days=grown if known else None,
        why_not=None if known else EggsUnknown.SPECIES,
    )
