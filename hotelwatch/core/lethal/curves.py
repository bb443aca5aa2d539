"""A log as lines to draw or to list: each probe's readings, and the running dose of one.

Lines begin at the earliest reading of all; letters follow the order of the verdict, so
that A is the probe that decides.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.lethal.verdict import LogVerdict, ProbeVerdict
from hotelwatch.core.parameters import Figures

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
A_MINUTE = 60.0
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Curve:
    """A probe's readings by minute since the log began."""

    letter: str
    name: str
    place: str
    minutes: tuple[float, ...]
    celsius: tuple[float, ...]
    not_counted_from: float | None
    """The minute from which nothing is credited, since it fell off or stuck."""
    longest_gap: float

    def at(self, minute: float) -> float | None:
        """The reading that stands at a minute; None before, after and in gaps."""
        place = bisect_right(self.minutes, minute) - 1
        if place < 0 or minute - self.minutes[place] > self.longest_gap:
            return None
        return self.celsius[place]

    def parts(self) -> tuple[tuple[Point, ...], ...]:
        """Readings in stretches without a gap."""
        parts: list[list[Point]] = []
        for minute, celsius in zip(self.minutes, self.celsius, strict=True):
            if not parts or minute - parts[-1][-1][0] > self.longest_gap:
                parts.append([])
            parts[-1].append((minute, celsius))
        return tuple(tuple(part) for part in parts)


@dataclass(frozen=True, slots=True)
class Floor:
    """A temperature on whose wrong side nothing is credited."""

    whose: str
    """ "eggs", "adults", or "all" stages together."""
    celsius: float


@dataclass(frozen=True, slots=True)
class LogRow:
    """What stands at one minute of a log."""

    minute: float
    at: datetime
    celsius: tuple[float | None, ...]
    """By curve, in the order of the letters."""
    dose: float | None
    """Of the probe that decides; None where no dose is known for the species."""


@dataclass(frozen=True, slots=True)
class LogCurves:
    """A log as lines."""

    begins_at: datetime
    curves: tuple[Curve, ...]
    dose: tuple[Point, ...]
    """Minute and running dose of the first curve, rising; empty where none is known."""
    wanted: float
    floors: tuple[Floor, ...]
    method: Method

    @property
    def lasts_minutes(self) -> float:
        """Minutes from the first reading of all to the last."""
        return max((curve.minutes[-1] for curve in self.curves if curve.minutes), default=0.0)

    def minutes(self) -> tuple[float, ...]:
        """Every minute at which some probe was read, rising."""
        return tuple(sorted({minute for curve in self.curves for minute in curve.minutes}))

    def dose_at(self, minute: float) -> float | None:
        """The running dose at a minute."""
        if not self.dose:
            return None
        place = bisect_right(self.dose, minute, key=lambda point: point[0]) - 1
        return self.dose[place][1] if place >= 0 else 0.0

    def row_at(self, minute: float) -> LogRow:
        """What stands at a minute."""
        at = self.begins_at + timedelta(minutes=minute)
        said = tuple(curve.at(minute) for curve in self.curves)
        return LogRow(minute, at, said, self.dose_at(minute))

    def rows(self) -> tuple[LogRow, ...]:
        """What stands at each minute at which some probe was read."""
        return tuple(self.row_at(minute) for minute in self.minutes())


def curves_of(verdict: LogVerdict, figures: Figures) -> LogCurves | None:
    """A log's lines; None for a log without readings."""
    read = [one for one in verdict.probes if one.probe.minutes]
    if not read:
        return None
    begins_at = min(one.probe.at(one.probe.minutes[0]) for one in read)
    gap = figures.probe_gap_minutes.value
    curves = tuple(_curve(letter_of(place), one, begins_at, gap) for place, one in enumerate(read))
    dose = _dose(read[0], begins_at) if verdict.is_known else ()
    floors = _floors(figures, verdict.method)
    return LogCurves(begins_at, curves, dose, verdict.wanted, floors, verdict.method)


def letter_of(place: int) -> str:
    """The letter of the line at a place: A to Z, then A1, B1 and so on."""
    turn, letter = divmod(place, len(LETTERS))
    return LETTERS[letter] + (str(turn) if turn else "")


def thinned(points: Sequence[Point], most: int) -> tuple[Point, ...]:
    """At most some four times ``most`` points that show the same tops and bottoms."""
    if len(points) <= 2 * most:
        return tuple(points)
    begins, lasts = points[0][0], points[-1][0] - points[0][0]
    columns: dict[int, list[Point]] = {}
    for point in points:
        columns.setdefault(int((point[0] - begins) / lasts * most), []).append(point)
    kept: list[Point] = []
    for column in columns.values():
        by_value = (min(column, key=lambda p: p[1]), max(column, key=lambda p: p[1]))
        kept += sorted({column[0], *by_value, column[-1]})
    return tuple(kept)


def _curve(letter: str, one: ProbeVerdict, begins_at: datetime, gap: float) -> Curve:
    later = _later(one, begins_at)
    ends = [m for m in (one.worth.fell_off_at, one.worth.stuck_from) if m is not None]
    return Curve(
        letter,
        one.probe.name,
        one.probe.place,
        tuple(minute + later for minute in one.probe.minutes),
        one.probe.celsius,
        min(ends) + later if ends else None,
        gap,
    )


def _later(one: ProbeVerdict, begins_at: datetime) -> float:
    return (one.probe.begins_at - begins_at).total_seconds() / A_MINUTE


def _dose(one: ProbeVerdict, begins_at: datetime) -> tuple[Point, ...]:
    later = _later(one, begins_at)
    ends = (minute + later for minute in one.worth.times)
    return ((one.probe.minutes[0] + later, 0.0), *zip(ends, one.running, strict=True))


def _floors(figures: Figures, method: Method) -> tuple[Floor, ...]:
    if method is Method.COLD:
        return (Floor("all", figures.cold_floor_celsius.value),)
    return (
        Floor("eggs", figures.egg_floor_celsius.value),
        Floor("adults", figures.adult_floor_celsius.value),
    )
