"""Lethal dose of heat and of cold, for eggs and for adults.

A dose is time over the time that kills 99 % at that temperature: 1 is that time once.
Nothing is credited beyond what was measured: below a floor no credit is given, above a
cap none beyond the cap's.

Source, heat: 71.5 min at 48 °C for eggs, 94.8 min at 45 °C for adults: Kells and
Goblirsch 2011, Insects 2:412-422; ten times faster for each 4 °C: Pereira et al. 2009,
J Econ Entomol 102:1182-1188; 3.9 °C for eggs is derived from Kells and Goblirsch's pairs.
Source, cold: 80 h at -16 °C, 48 h at -20 °C, all stages: Olson et al. 2013, J Econ
Entomol 106:2433-2441 (press copies); the slope between them is derived.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum

from hotelwatch.core.parameters import Figures

MINUTES_AN_HOUR = 60
TENFOLD = 10.0
NO_CREDIT = math.inf


class Method(StrEnum):
    """What a log is of."""

    HEAT = "heat"
    COLD = "cold"


class LifeKind(StrEnum):
    """Whose death is computed."""

    EGGS = "eggs"
    ADULTS = "adults"


def minutes_to_kill(celsius: float, figures: Figures, *, method: Method, kind: LifeKind) -> float:
    """Minutes at a temperature that kill 99 %; infinite where no credit is given.

    Cold knows no kinds: its figures are for all stages together.
    """
    if method is Method.COLD:
        return _cold(celsius, figures)
    if kind is LifeKind.EGGS:
        floor, at = figures.egg_floor_celsius.value, figures.egg_at_celsius.value
        minutes, tenfold = figures.egg_kill_minutes.value, figures.egg_tenfold_celsius.value
    else:
        floor, at = figures.adult_floor_celsius.value, figures.adult_at_celsius.value
        minutes, tenfold = figures.adult_kill_minutes.value, figures.adult_tenfold_celsius.value
    if celsius < floor:
        return NO_CREDIT
    credited = min(celsius, figures.heat_cap_celsius.value)
    return float(minutes * TENFOLD ** ((at - credited) / tenfold))


def dose_of(
    spans: Iterable[tuple[float, float]],
    figures: Figures,
    *,
    method: Method = Method.HEAT,
    kind: LifeKind = LifeKind.EGGS,
) -> float:
    """The dose of spans of (minutes, °C)."""
    return sum(
        minutes / minutes_to_kill(celsius, figures, method=method, kind=kind)
        for minutes, celsius in spans
    )


def wanted_dose(figures: Figures, method: Method) -> float:
    """The dose at which a log counts as enough where its probe lay."""
    chosen = figures.heat_dose_wanted if method is Method.HEAT else figures.cold_dose_wanted
    return chosen.value


def floor_celsius(figures: Figures, method: Method) -> float:
    """The temperature on whose wrong side nothing is credited to eggs."""
    if method is Method.HEAT:
        return figures.egg_floor_celsius.value
    return figures.cold_floor_celsius.value


def is_credited(celsius: float, figures: Figures, method: Method) -> bool:
    """Whether a temperature lies on the lethal side of the floor for eggs."""
    floor = floor_celsius(figures, method)
    return celsius >= floor if method is Method.HEAT else celsius <= floor


def _cold(celsius: float, figures: Figures) -> float:
    if celsius > figures.cold_floor_celsius.value:
        return NO_CREDIT
    credited = max(celsius, figures.cold_cap_celsius.value)
    warmer = credited - figures.cold_at_celsius.value
    hours = figures.cold_kill_hours.value * math.exp(figures.cold_slope.value * warmer)
    return hours * MINUTES_AN_HOUR
