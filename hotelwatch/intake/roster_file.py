"""A roster from a file: rooms, beds and floors as facts, and every problem at once.

The codes of its problems, with their values, are in intake/codes.py.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    Fact,
    FloorPlaced,
    RoomDescribed,
    RoomNo,
    Side,
)
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import InputRefused, Problem
from hotelwatch.intake.cells import Mark, fold
from hotelwatch.intake.mapping import RowCells, mapped, mapping_problems
from hotelwatch.intake.roster_links import (
    matched_doors,
    mutual_doors,
    rooms_alike,
    shared_bays,
    without_twins,
)
from hotelwatch.intake.roster_order import Report, levels, placed
from hotelwatch.intake.roster_rows import RoomRow, count_fields, read_row
from hotelwatch.intake.tables import Table, TablePlace, letter, read_table
from hotelwatch.intake.words import Words, shipped_words

ROSTER_FIELDS = (
    "room",
    "floor",
    "wing",
    "side",
    "order",
    "type",
    "beds",
    "bed_count",
    "bed_kind",
    "encased",
    "connecting",
    "suite",
    "width",
    "level",
)
"""Fields a column may be mapped to, beside "count_of_<kind of bed>"."""
NEEDED = ("room", "floor")


@dataclass(frozen=True, slots=True)
class RosterReading:
    """What was read. ``facts`` are those of the good rows; nothing is decided yet."""

    where: str
    facts: tuple[Fact, ...]
    problems: tuple[Problem, ...]
    """By row; those with row 0 concern the whole table."""
    mapping: dict[str, str]
    """Field → heading; may be changed and given to the reader again."""
    headings: tuple[str, ...]
    heading_row: int
    preview: tuple[tuple[str, ...], ...]
    """The first rows as text, in the order of ``headings``."""
    rows_read: int
    rows_bad: int
    kept_out: tuple[str, ...]
    """Rooms named in rows that were kept out: they are neither changed nor gone."""
    sheets: tuple[str, ...] = ()


def read_roster(
    path: Path,
    rules: Rules,
    mapping: Mapping[str, str] | None = None,
    *,
    floors: Mapping[str, int] | None = None,
    at: TablePlace | None = None,
) -> RosterReading:
    """Read a roster from xlsx, ods or csv.

    ``mapping`` (field → heading) replaces the one found by synonyms. ``floors`` are
    the levels already known. Raises Refusal where the file can't be read at all;
    everything else that is wrong stands in the reading's problems.
    """
    words = shipped_words()
    table = read_table(path, words.is_roster_heading, at=at)
    fields = dict(mapping) if mapping is not None else find_mapping(table, words)
    problems = mapping_problems(table, fields, NEEDED)
    if any(problem.blocking for problem in problems):
        return _reading(table, fields, problems, [], {})
    rows, labels, problems = _rows(table, fields, rules, words)
    report = Report(table.where, fields)
    rows, more = without_twins(rows, report)
    problems += more + rooms_alike(rows, report)
    rows, more = matched_doors(rows, labels, report)
    problems += more
    level_of, more = levels(rows, floors or {}, words, report)
    problems += more
    good = _good(rows, problems)
    good, more = placed(good, report)
    problems += more + shared_bays(good, report)
    good, more = mutual_doors(_good(good, problems), report)
    return _reading(table, fields, problems + more, good, level_of)


def take(reading: RosterReading, keep_good: bool) -> tuple[Fact, ...]:
    """The reading's facts; InputRefused where it is to be refused whole.

    With ``keep_good`` the good rows are taken and only a table without any is refused.
    """
    if not reading.facts or (not keep_good and any(p.blocking for p in reading.problems)):
        raise InputRefused(list(reading.problems))
    return reading.facts


def find_mapping(table: Table, words: Words) -> dict[str, str]:
    """Field → heading by synonyms, columns headed by a kind of bed included."""
    fields = mapped(table, words.roster)
    if "floor" not in fields and "level" in fields:
        fields["floor"] = fields.pop("level")
    taken = set(fields.values())
    texts = {
        heading: table.under.get(heading, heading)
        for heading in table.headings
        if heading not in taken or fold(table.under.get(heading, "")) in words.beds
    }
    counts = count_fields(texts, words)
    free = {name: heading for name, heading in fields.items() if heading not in counts.values()}
    return free | counts


def _rows(
    table: Table, mapping: Mapping[str, str], rules: Rules, words: Words
) -> tuple[list[RoomRow], list[str], list[Problem]]:
    """Good rows, every label named, and the problems within rows."""
    rows: list[RoomRow] = []
    labels: list[str] = []
    problems: list[Problem] = []
    for row in table.rows:
        cells = RowCells(table.where, row, mapping)
        read = read_row(cells, rules, words)
        labels.extend([read.room] if read.room else [])
        problems += cells.problems
        if cells.is_good:
            rows.append(read)
    return rows, labels, problems


def _good(rows: Sequence[RoomRow], problems: Iterable[Problem]) -> list[RoomRow]:
    bad = {problem.row for problem in problems if problem.blocking}
    return [row for row in rows if row.number not in bad]


def _reading(
    table: Table,
    mapping: dict[str, str],
    problems: list[Problem],
    good: list[RoomRow],
    level_of: Mapping[str, int],
) -> RosterReading:
    bad = {problem.row for problem in problems if problem.blocking}
    heading = mapping.get("room", "")
    taken = {row.room for row in good}
    cells = (row.cell(heading) for row in table.rows if row.number in bad)
    named = (cell for cell in cells if isinstance(cell, str) and not isinstance(cell, Mark))
    return RosterReading(
        where=table.where,
        facts=facts_of(good, level_of),
        problems=tuple(sorted(problems, key=lambda problem: problem.row)),
        mapping=mapping,
        headings=table.headings,
        heading_row=table.heading_row,
        preview=table.preview,
        rows_read=len(table.rows),
        rows_bad=len(bad - {0}),
        kept_out=tuple(dict.fromkeys(room for room in named if room and room not in taken)),
        sheets=table.sheets,
    )


def facts_of(rows: Sequence[RoomRow], level_of: Mapping[str, int]) -> tuple[Fact, ...]:
    """Floors from bottom to top, then each room followed by its beds."""
    used = {row.floor for row in rows}
    facts: list[Fact] = [
        FloorPlaced(floor, level)
        for floor, level in sorted(level_of.items(), key=lambda item: item[1])
        if floor in used
    ]
    for row in rows:
        room = RoomNo(row.room)
        facts.append(
            RoomDescribed(
                room=room,
                floor=row.floor,
                wing=row.wing,
                side=row.side or Side.LEFT,
                order=row.order or 1,
                room_type=row.room_type,
                connects_to=row.connecting,
                suite=row.suite,
                width_m=row.width_m,
            )
        )
        facts.extend(
            BedDescribed(BedNo(f"{room}/{letter(place)}"), room, kind, is_encased)
            for place, (kind, is_encased) in enumerate(row.beds, 1)
        )
    return tuple(facts)
