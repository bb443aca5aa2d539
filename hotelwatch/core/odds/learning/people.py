"""How well people look, pooled: nobody is ranked, and a few trials show nobody's own figure.

A tool that punishes those who find little gets false "done" ticks. People are taken to
differ a little around the house's own figure, and a person's trials count beside it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import lgamma
from typing import TYPE_CHECKING

from hotelwatch.core.odds.learning.estimates import HALF, INSIDE, Estimate
from hotelwatch.core.odds.learning.trials import Tally

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CHANCES = 199
"""Chances tried for the house, and for a person, at equal steps."""
LIKENESSES = 49
"""How alike people's own chances are not: 0 all the same, 1 each sees all or nothing."""


@dataclass(frozen=True, slots=True)
class OwnFigure:
    """One person's own figure, drawn towards the house's."""

    name: str
    notice: Estimate


@dataclass(frozen=True, slots=True)
class People:
    """Who has taken part, in alphabetical order, and the figures that may be shown."""

    own: tuple[OwnFigure, ...]
    """Of those with enough trials, by name and never by figure."""
    too_few: tuple[str, ...]
    """Of whom no figure is shown, by name."""
    needed: int
    """Trials before anybody's own figure is shown."""


def people(tallies: Mapping[str, Tally], *, needed: int) -> People:
    """Own figures of those with at least ``needed`` trials, by name."""
    names = sorted(tallies, key=lambda name: (name.casefold(), name))
    shown = [name for name in names if tallies[name].trials >= needed]
    figures = shrunk(tallies, shown) if shown else {}
    return People(
        own=tuple(OwnFigure(name, figures[name]) for name in shown),
        too_few=tuple(name for name in names if name not in figures),
        needed=needed,
    )


def shrunk(tallies: Mapping[str, Tally], names: Sequence[str]) -> Mapping[str, Estimate]:
    """Each named person's chance, all people's trials known: median and range.

    Beta-binomial: people's chances are Beta with mean s and correlation rho; every s and
    every rho is held possible alike before the first trial.
    """
    import numpy as np

    chance = (np.arange(CHANCES) + 1.0) / (CHANCES + 1.0)
    rho = (np.arange(LIKENESSES) + 1.0) / (LIKENESSES + 1.0)
    means, alike = (axis.ravel() for axis in np.meshgrid(chance, rho))
    a, b = means * (1.0 - alike) / alike, (1.0 - means) * (1.0 - alike) / alike
    log_gamma = np.vectorize(lgamma, otypes=[np.float64])

    def log_beta(tally: Tally) -> Floats:
        missed = tally.trials - tally.found
        both = log_gamma(a + tally.found) + log_gamma(b + missed)
        return np.asarray(both - log_gamma(a + b + tally.trials))

    before = log_beta(Tally(0, 0))
    weight = sum((log_beta(own) - before for own in tallies.values()), np.zeros_like(a))
    weight = np.exp(weight - weight.max())
    estimates = {}
    for name in names:
        own = tallies[name]
        powers = np.multiply.outer(np.log(chance), a + own.found - 1.0)
        powers += np.multiply.outer(np.log1p(-chance), b + (own.trials - own.found) - 1.0)
        density = np.exp(powers - log_beta(own)) @ weight
        estimates[name] = _read_off(density, own)
    return estimates


def _read_off(density: Floats, own: Tally) -> Estimate:
    """Median and range of a belief given at equal steps of the chance."""
    import numpy as np

    below = np.concatenate([[0.0], np.cumsum(density) / density.sum()])
    edges = (np.arange(CHANCES + 1) + HALF) / (CHANCES + 1.0)
    tail = (1.0 - INSIDE) / 2.0
    low, value, high = np.interp([tail, HALF, 1.0 - tail], below, edges)
    return Estimate(float(value), float(low), float(high), own.found, own.trials)
