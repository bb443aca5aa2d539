"""What a log of probes shows: the dose at each, the one that decides, and what is missing.

The probe with the least dose for eggs decides. Without a probe in the core of a
mattress or a base the log does not reach the slowest place. For the tropical species no
lethal figures are known here, so nothing is concluded.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from typing import Any

from hotelwatch.core.lethal.dose import (
    LifeKind,
    Method,
    dose_of,
    floor_celsius,
    is_credited,
    minutes_to_kill,
    wanted_dose,
)
from hotelwatch.core.lethal.probes import CORE_PLACES, Probe, Worth, worth_of
from hotelwatch.core.parameters import Figures

COMMON = "common"
ROUNDING = 1e-9
"""What adding up many spans may lose."""


@dataclass(frozen=True, slots=True)
class Lack:
    """Something that a log does not show, by code with the values its sentence names.

    "species_unknown" (species); "no_probe"; "no_core_probe"; "minutes_short" (probe,
    minutes, celsius: so many more at its best temperature); "never_lethal" (probe,
    best, floor); "refused" (probe, minutes, floor: on the wrong side of it); "gap"
    (probe, at: a moment, minutes); "fell_off" (probe, at); "stuck" (probe, at).
    """

    code: str
    values: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ProbeVerdict:
    """What one probe shows."""

    probe: Probe
    worth: Worth
    dose_eggs: float
    dose_adults: float
    running: tuple[float, ...]
    """Dose for eggs at the end of each span that counts."""
    best_celsius: float
    """The most lethal temperature among what counts; nan where nothing does."""
    refused_minutes: float
    """Minutes on the wrong side of the floor."""
    plain_minutes: float
    """Longest stretch at the plain rule's temperature or beyond."""

    def is_reached(self, wanted: float) -> bool:
        """Whether its dose for eggs is the wanted one."""
        return self.dose_eggs >= wanted - ROUNDING


@dataclass(frozen=True, slots=True)
class LogVerdict:
    """What a log shows as a whole."""

    method: Method
    species: str
    wanted: float
    probes: tuple[ProbeVerdict, ...]
    """The least dose first; in the order of the log where doses are equal."""
    lacks: tuple[Lack, ...]
    """The gravest first; empty where the log shows all that is asked of it."""

    @property
    def deciding(self) -> ProbeVerdict | None:
        """The probe that decides; None without probes."""
        return self.probes[0] if self.probes else None

    @property
    def is_known(self) -> bool:
        """Whether figures are known for the species."""
        return self.species == COMMON

    @property
    def is_reached(self) -> bool:
        """Whether every probe reached the wanted dose and one lay in a core."""
        if not self.is_known or not self.probes:
            return False
        has_core = any(one.probe.place in CORE_PLACES for one in self.probes)
        return has_core and all(one.is_reached(self.wanted) for one in self.probes)


def verdict_of(
    probes: Sequence[Probe], figures: Figures, *, method: Method, species: str = COMMON
) -> LogVerdict:
    """What a log shows, by the figures for its method and species."""
    found = [
        _probe_verdict(probe, [p for p in probes if p is not probe], figures, method)
        for probe in probes
    ]
    found.sort(key=lambda one: one.dose_eggs)
    wanted = wanted_dose(figures, method)
    lacks = tuple(_lacks(found, figures, method, species))
    return LogVerdict(method, species, wanted, tuple(found), lacks)


def _probe_verdict(
    probe: Probe, others: Sequence[Probe], figures: Figures, method: Method
) -> ProbeVerdict:
    worth = worth_of(probe, others, figures, method)
    steps = [dose_of([span], figures, method=method, kind=LifeKind.EGGS) for span in worth.spans]
    credited = [celsius for _minutes, celsius in worth.spans]
    best = (max if method is Method.HEAT else min)(credited, default=math.nan)
    return ProbeVerdict(
        probe=probe,
        worth=worth,
        dose_eggs=sum(steps),
        dose_adults=dose_of(worth.spans, figures, method=method, kind=LifeKind.ADULTS),
        running=tuple(accumulate(steps)),
        best_celsius=best,
        refused_minutes=sum(
            minutes for minutes, celsius in worth.spans if not is_credited(celsius, figures, method)
        ),
        plain_minutes=_plain(worth, figures, method),
    )


def _plain(worth: Worth, figures: Figures, method: Method) -> float:
    """The longest unbroken stretch beyond the plain rule's temperature (common practice)."""
    if method is Method.COLD:
        return 0.0
    longest = stretch = 0.0
    for minutes, celsius in worth.spans:
        stretch = stretch + minutes if celsius >= figures.plain_heat_celsius.value else 0.0
        longest = max(longest, stretch)
    return longest


# --- what is missing ---------------------------------------------------------------------------


def _lacks(
    found: Sequence[ProbeVerdict], figures: Figures, method: Method, species: str
) -> Iterator[Lack]:
    if species != COMMON:
        yield Lack("species_unknown", {"species": species})
        return
    if not found:
        yield Lack("no_probe")
        return
    if not any(one.probe.place in CORE_PLACES for one in found):
        yield Lack("no_core_probe")
    for one in found:
        yield from _short(one, figures, method)
    for one in found:
        yield from _doubts(one)


def _short(one: ProbeVerdict, figures: Figures, method: Method) -> Iterator[Lack]:
    wanted = wanted_dose(figures, method)
    floor = floor_celsius(figures, method)
    name = one.probe.name
    if one.is_reached(wanted):
        return
    if math.isnan(one.best_celsius) or not is_credited(one.best_celsius, figures, method):
        yield Lack("never_lethal", {"probe": name, "best": one.best_celsius, "floor": floor})
        return
    each = minutes_to_kill(one.best_celsius, figures, method=method, kind=LifeKind.EGGS)
    minutes = math.ceil((wanted - one.dose_eggs) * each - ROUNDING)
    yield Lack("minutes_short", {"probe": name, "minutes": minutes, "celsius": one.best_celsius})
    if one.refused_minutes:
        refused = {"probe": name, "minutes": round(one.refused_minutes), "floor": floor}
        yield Lack("refused", refused)


def _doubts(one: ProbeVerdict) -> Iterator[Lack]:
    probe, worth = one.probe, one.worth
    if worth.fell_off_at is not None:
        yield Lack("fell_off", {"probe": probe.name, "at": probe.at(worth.fell_off_at)})
    if worth.stuck_from is not None:
        yield Lack("stuck", {"probe": probe.name, "at": probe.at(worth.stuck_from)})
    for start, minutes in worth.gaps:
        values = {"probe": probe.name, "at": probe.at(start), "minutes": round(minutes)}
        yield Lack("gap", values)
