"""A log of probes over time, from csv as loggers write it: columns, units, times, readings.

What can't be read is said with its row; what can be is kept. Nothing is guessed about
the unit: where no heading names one, the person says which.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta, tzinfo
from enum import StrEnum
from pathlib import Path

from hotelwatch.core.lethal.probes import Probe
from hotelwatch.core.problems import Problem
from hotelwatch.core.progress import Progress, silent
from hotelwatch.intake.cells import as_number, shown
from hotelwatch.intake.probe_words import meaning_of, place_of, unit_of
from hotelwatch.intake.tables import Row, Table, read_table

COLDEST, HOTTEST = -60.0, 150.0
"""What no logger in a room shows, in °C; beyond them a reading is a fault."""
A_MINUTE = 60.0
FREEZING_F, NINTHS, FIFTHS = 32.0, 9.0, 5.0
PATTERNS = (
    "%Y-%m-%d %H:%M:%S",
    "%Y-%m-%d %H:%M",
    "%Y/%m/%d %H:%M:%S",
    "%Y/%m/%d %H:%M",
    "%d.%m.%Y %H:%M:%S",
    "%d.%m.%Y %H:%M",
)
EITHER_WAY = ("%m/%d/%Y {clock}", "%d/%m/%Y {clock}")
CLOCKS = ("%H:%M:%S", "%H:%M", "%I:%M:%S %p", "%I:%M %p")


class ProbeCode(StrEnum):
    """What can be wrong with a log."""

    NO_TIME = "probe_no_time"
    """file: no column of times"""
    NO_PROBE = "probe_no_probe"
    """file: no column of readings"""
    NO_UNIT = "probe_no_unit"
    """file: no heading names °C or °F, and nobody said which"""
    TWO_UNITS = "probe_two_units"
    """file: headings name both"""
    NO_START = "probe_no_start"
    """file: minutes or clock times without a day, and nobody said when it began"""
    TIME_UNREADABLE = "probe_time_unreadable"
    """value: the row is left out"""
    DAY_OR_MONTH = "probe_day_or_month"
    """value: day and month can be read both ways, and nobody said which"""
    NOT_A_READING = "probe_not_a_reading"
    """probe, value: that reading is left out"""
    READING_ABSURD = "probe_reading_absurd"
    """probe, value: that reading is left out"""
    OUT_OF_ORDER = "probe_out_of_order"
    """value: a time before the one above it; readings were put in order (taken)"""
    TIME_TWICE = "probe_time_twice"
    """value: the first reading of that time counts (taken)"""


@dataclass(frozen=True, slots=True)
class ProbeMapping:
    """Which column means what, and what no column says."""

    times: tuple[str, ...] = ()
    """One heading, or a day's and a clock's."""
    is_elapsed: bool = False
    """Whether the column has minutes since the beginning."""
    unit: str = ""
    """"c" or "f"; empty: not known."""
    places: Mapping[str, str] = field(default_factory=dict)
    """Heading of each probe → place; empty: not said."""
    begins_at: datetime | None = None
    """The beginning, where times are minutes, or its day where they are clocks alone."""
    day_first: bool | None = None
    """How 03/04/2026 is read; None: it must not occur."""


@dataclass(frozen=True, slots=True)
class ProbeLog:
    """A log as read."""

    file: str
    sha256: str
    headings: tuple[str, ...]
    mapping: ProbeMapping
    probes: tuple[Probe, ...]
    problems: tuple[Problem, ...]

    @property
    def is_good(self) -> bool:
        """Whether nothing stands against taking it."""
        return bool(self.probes) and not any(problem.blocking for problem in self.problems)


def read_probe_log(
    path: Path,
    zone: tzinfo,
    *,
    mapping: ProbeMapping | None = None,
    progress: Progress = silent,
) -> ProbeLog:
    """Read a log, by its headings or as ``mapping`` says; times are the hotel's own.

    Refusal with a FileCode where the file is no table. ``progress`` may raise Stopped.
    """
    progress(0.0, "")
    table = read_table(path, lambda text: meaning_of(text) != "probe" or _named(text))
    known = mapping or guessed(table.headings)
    problems = list(_mapping_problems(table, known))
    if any(problem.blocking for problem in problems):
        return ProbeLog(table.file, table.sha256, table.headings, known, (), tuple(problems))
    progress(0.3, "")
    rows = _timed(table, known, zone, problems)
    progress(0.7, "")
    probes = tuple(_probes(table, known, rows, problems))
    return ProbeLog(table.file, table.sha256, table.headings, known, probes, tuple(problems))


def headings_of_probes(path: Path) -> tuple[str, ...]:
    """A table's headings, as a log of probes would have them."""
    return read_table(path, lambda text: meaning_of(text) != "probe" or _named(text)).headings


def guessed(headings: Sequence[str]) -> ProbeMapping:
    """What the headings say by themselves."""
    meanings = {heading: meaning_of(heading) for heading in headings}
    elapsed = [h for h, meaning in meanings.items() if meaning == "elapsed"]
    times = [h for h, meaning in meanings.items() if meaning == "time"]
    probes = [h for h, meaning in meanings.items() if meaning == "probe"]
    units = {unit for heading in probes if (unit := unit_of(heading))}
    return ProbeMapping(
        times=tuple(times[:2]) if times else tuple(elapsed[:1]),
        is_elapsed=not times and bool(elapsed),
        unit=units.pop() if len(units) == 1 else "",
        places={heading: place_of(heading) for heading in probes},
    )


def _named(text: str) -> bool:
    return bool(place_of(text) or unit_of(text))


def _mapping_problems(table: Table, known: ProbeMapping) -> Iterator[Problem]:
    def problem(code: ProbeCode) -> Problem:
        return Problem(table.where, table.heading_row, "", code, {"file": table.file})

    if not known.times or any(heading not in table.headings for heading in known.times):
        yield problem(ProbeCode.NO_TIME)
    if not known.places or any(heading not in table.headings for heading in known.places):
        yield problem(ProbeCode.NO_PROBE)
    units = {unit for heading in known.places if (unit := unit_of(heading))}
    if not known.unit:
        yield problem(ProbeCode.TWO_UNITS if len(units) > 1 else ProbeCode.NO_UNIT)
    if known.is_elapsed and known.begins_at is None:
        yield problem(ProbeCode.NO_START)


# --- times --------------------------------------------------------------------------------------


def _timed(
    table: Table, known: ProbeMapping, zone: tzinfo, problems: list[Problem]
) -> list[tuple[datetime, Row]]:
    """Rows with their moments in order of time; what is wrong is added to the problems."""
    heading = known.times[0]
    timed: list[tuple[datetime, Row]] = []
    for row in table.rows:
        text = " ".join(shown(row.cell(one)).strip() for one in known.times).strip()
        if not text:
            continue
        code = ProbeCode.TIME_UNREADABLE
        before = timed[-1][0] if timed else None
        try:
            moment = _moment(text, known, zone, before)
        except _OpenDay:
            moment, code = None, ProbeCode.DAY_OR_MONTH
        except _NoDay:
            moment, code = None, ProbeCode.NO_START
        if moment is None:
            blocking = code is not ProbeCode.TIME_UNREADABLE
            values = {"value": text, "file": table.file}
            problems.append(
                Problem(table.where, row.number, heading, code, values, blocking=blocking)
            )
            if blocking:
                return []
            continue
        if before is not None and moment < before:
            problems.append(_remark(table, row, heading, ProbeCode.OUT_OF_ORDER, text))
        timed.append((moment, row))
    timed.sort(key=lambda one: one[0])
    return _each_once(table, heading, timed, problems)


class _OpenDay(Exception):
    """Day and month can be read both ways."""


class _NoDay(Exception):
    """A clock time without a day."""


def _moment(
    text: str, known: ProbeMapping, zone: tzinfo, before: datetime | None
) -> datetime | None:
    if known.is_elapsed:
        minutes = as_number(text)
        if minutes is None or known.begins_at is None:
            return None
        return known.begins_at.astimezone(UTC) + timedelta(minutes=minutes)
    local = _local(text.replace("T", " ", 1) if text[:4].isdecimal() else text, known, zone, before)
    if local is None:
        return None
    if local.tzinfo is not None:
        return local.astimezone(UTC)
    moment = local.replace(tzinfo=zone).astimezone(UTC)
    # The hour that clocks go back over comes twice: the second time it is later.
    again = local.replace(tzinfo=zone, fold=1).astimezone(UTC)
    return again if before is not None and moment < before <= again else moment


def _local(
    text: str, known: ProbeMapping, zone: tzinfo, before: datetime | None
) -> datetime | None:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        pass
    for pattern in PATTERNS:
        if (found := _parsed(text, pattern)) is not None:
            return found
    ways = [[_parsed(text, way.format(clock=clock)) for clock in CLOCKS] for way in EITHER_WAY]
    month_first, day_first = ([one for one in way if one] for way in ways)
    if month_first and day_first and month_first[0] != day_first[0]:
        if known.day_first is None:
            raise _OpenDay
        return (day_first if known.day_first else month_first)[0]
    if month_first or day_first:
        return (month_first or day_first)[0]
    return _clock_alone(text, known, zone, before)


def _clock_alone(
    text: str, known: ProbeMapping, zone: tzinfo, before: datetime | None
) -> datetime | None:
    """A clock time on the day of the beginning, or on the next one once midnight has passed."""
    clock = next((found for one in CLOCKS if (found := _parsed(text, one)) is not None), None)
    if clock is None:
        return None
    if known.begins_at is None:
        raise _NoDay
    last = (before or known.begins_at).astimezone(zone)
    local = datetime.combine(last.date(), clock.time())
    is_next_day = before is not None and local < last.replace(tzinfo=None) - timedelta(hours=12)
    return local + timedelta(days=1) if is_next_day else local


def _parsed(text: str, pattern: str) -> datetime | None:
    try:
        return datetime.strptime(text, pattern)
    except ValueError:
        return None


def _each_once(
    table: Table, heading: str, timed: list[tuple[datetime, Row]], problems: list[Problem]
) -> list[tuple[datetime, Row]]:
    kept: list[tuple[datetime, Row]] = []
    for moment, row in timed:
        if kept and kept[-1][0] == moment:
            said = shown(row.cell(heading))
            problems.append(_remark(table, row, heading, ProbeCode.TIME_TWICE, said))
        else:
            kept.append((moment, row))
    return kept


def _remark(table: Table, row: Row, heading: str, code: ProbeCode, value: str) -> Problem:
    return Problem(table.where, row.number, heading, code, {"value": value}, blocking=False)


# --- readings -------------------------------------------------------------------------------------


def _probes(
    table: Table,
    known: ProbeMapping,
    rows: list[tuple[datetime, Row]],
    problems: list[Problem],
) -> Iterator[Probe]:
    if not rows:
        return
    begins_at = rows[0][0]
    read: defaultdict[str, list[tuple[float, float]]] = defaultdict(list)
    for moment, row in rows:
        minute = (moment - begins_at).total_seconds() / A_MINUTE
        for heading in known.places:
            celsius = _reading(table, row, heading, known.unit, problems)
            if celsius is not None:
                read[heading].append((minute, celsius))
    for heading, place in known.places.items():
        if readings := read[heading]:
            minutes, celsius_of = zip(*readings, strict=True)
            yield Probe(heading, place, begins_at, minutes, celsius_of)


def _reading(
    table: Table, row: Row, heading: str, unit: str, problems: list[Problem]
) -> float | None:
    text = shown(row.cell(heading)).strip()
    if not text:
        return None
    number = as_number(text.removesuffix("°C").removesuffix("°F").strip())
    values = {"probe": heading, "value": text}
    if number is None:
        code = ProbeCode.NOT_A_READING
    else:
        celsius = (number - FREEZING_F) * FIFTHS / NINTHS if unit == "f" else number
        if COLDEST <= celsius <= HOTTEST:
            return celsius
        code = ProbeCode.READING_ABSURD
    problems.append(Problem(table.where, row.number, heading, code, values, blocking=False))
    return None


def with_answers(
    mapping: ProbeMapping,
    *,
    unit: str = "",
    begins_at: datetime | None = None,
    day_first: bool | None = None,
) -> ProbeMapping:
    """A mapping with what a person answered to its problems."""
    return replace(
        mapping,
        unit=unit or mapping.unit,
        begins_at=begins_at or mapping.begins_at,
        day_first=mapping.day_first if day_first is None else day_first,
    )
