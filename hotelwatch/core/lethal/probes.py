"""What the readings of a probe are worth: order, gaps, a probe that fell off or stuck.

Between two readings the worse one counts. Across a gap nothing is credited. From the
reading on at which a probe seems to have fallen off or stuck, nothing of it is credited,
since nobody knows any more where it lay.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from statistics import median

from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.parameters import Figures

FEW = 2
"""A probe falls off against others: with fewer of them nobody can tell."""
LOOKS_A_SPAN = 6
"""How often within the longest span it is looked again whether the others moved."""
SAME_CELSIUS = 0.05
"""Readings closer than this are the same: loggers round to a tenth."""


@dataclass(frozen=True, slots=True)
class Probe:
    """One probe's readings in order of time."""

    name: str
    place: str
    """A code of PLACES; empty: not said."""
    begins_at: datetime
    minutes: tuple[float, ...]
    """Since the beginning, rising."""
    celsius: tuple[float, ...]

    def at(self, minute: float) -> datetime:
        """The moment of a minute."""
        return self.begins_at + timedelta(minutes=minute)


@dataclass(frozen=True, slots=True)
class Worth:
    """What of a probe's readings may be credited."""

    spans: tuple[tuple[float, float], ...]
    """(minutes, °C) that count; for a gap and after a fall there is none."""
    times: tuple[float, ...]
    """The minute at which each of these spans ends."""
    gaps: tuple[tuple[float, float], ...]
    """From minute, minutes without a reading."""
    fell_off_at: float | None
    stuck_from: float | None


PLACES = (
    "mattress_core",
    "base_inside",
    "headboard",
    "furniture",
    "wall_void",
    "floor_edge",
    "luggage",
    "item_core",
    "air",
)
"""Where probes lie; the first two are the slowest places of a bed (common practice)."""
AIR = "air"
CORE_PLACES = frozenset({"mattress_core", "base_inside", "item_core"})


def worth_of(probe: Probe, others: Sequence[Probe], figures: Figures, method: Method) -> Worth:
    """What of a probe's readings counts, seen beside the other probes of its log."""
    fell_off_at = _fell_off(probe, others, figures)
    stuck_from = _stuck(probe, others, figures)
    ends = [minute for minute in (fell_off_at, stuck_from) if minute is not None]
    end = min(ends) if ends else None
    spans: list[tuple[float, float]] = []
    times: list[float] = []
    gaps: list[tuple[float, float]] = []
    readings = zip(probe.minutes, probe.celsius, strict=True)
    for (start, one), (stop, other) in pairwise(readings):
        if end is not None and stop > end:
            break
        if stop - start > figures.probe_gap_minutes.value:
            gaps.append((start, stop - start))
            continue
        worse = min(one, other) if method is Method.HEAT else max(one, other)
        spans.append((stop - start, worse))
        times.append(stop)
    return Worth(tuple(spans), tuple(times), tuple(gaps), fell_off_at, stuck_from)


def _fell_off(probe: Probe, others: Sequence[Probe], figures: Figures) -> float | None:
    """The minute of a jump that the other probes did not make.

    Off its place a probe shows the air around it, colder or hotter at once. A door opened
    moves all probes alike, and one that lies free anyway can't fall.
    """
    away = figures.probe_jump_celsius.value
    if len(others) < FEW or probe.place == AIR:
        return None
    readings = list(zip(probe.minutes, probe.celsius, strict=True))
    for (start, one), (stop, other) in pairwise(readings):
        jump = other - one
        if abs(jump) < away or stop - start > figures.probe_gap_minutes.value:
            continue
        moves = [step for p in others if (step := _step(p, start, stop)) is not None]
        if len(moves) >= FEW and abs(jump - median(moves)) >= away:
            return start
    return None


def _step(probe: Probe, start: float, stop: float) -> float | None:
    """How far a probe moved between two minutes, by its readings nearest to them."""
    before = _nearest(probe, start)
    after = _nearest(probe, stop)
    return None if before is None or after is None else after - before


def _nearest(probe: Probe, minute: float) -> float | None:
    if not probe.minutes:
        return None
    after = bisect_left(probe.minutes, minute)
    beside = range(max(0, after - 1), min(len(probe.minutes), after + 1))
    return probe.celsius[min(beside, key=lambda i: abs(probe.minutes[i] - minute))]


def _stuck(probe: Probe, others: Sequence[Probe], figures: Figures) -> float | None:
    """The minute from which a probe shows one and the same while all others move."""
    longest = figures.probe_stuck_minutes.value
    since, look_at = 0, longest
    last = len(probe.celsius) - 1
    for index in range(1, len(probe.celsius)):
        if abs(probe.celsius[index] - probe.celsius[since]) > SAME_CELSIUS:
            since, look_at = index, longest
            continue
        start, stop = probe.minutes[since], probe.minutes[index]
        # Now and then is enough: others that move go on moving.
        if stop - start >= look_at or (index == last and stop - start >= longest):
            if _others_move(others, start, stop, figures):
                return start
            look_at = stop - start + longest / LOOKS_A_SPAN
    return None


def _others_move(others: Sequence[Probe], start: float, stop: float, figures: Figures) -> bool:
    moves = [abs(step) for p in others if (step := _step(p, start, stop)) is not None]
    return len(moves) >= FEW and min(moves) >= figures.probe_jump_celsius.value / 2
