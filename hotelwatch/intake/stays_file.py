"""Bookings from a file. Names and contact columns are dropped at the door.

The codes of its problems, with their values, are in intake/codes.py.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from hotelwatch.core.problems import InputRefused, Problem
from hotelwatch.core.records import Stay
from hotelwatch.intake.cells import Mark, fold
from hotelwatch.intake.codes import StaysCode
from hotelwatch.intake.day_text import DayOrder, order_of
from hotelwatch.intake.mapping import RowCells, mapped, mapping_problems
from hotelwatch.intake.stay_rows import StayReader, StayRow, overlaps, without_repeats
from hotelwatch.intake.tables import Table, TablePlace, read_table
from hotelwatch.intake.words import Words, shipped_words

STAYS_FIELDS = ("booking", "room", "type", "arrival", "departure", "nights", "status", "booked")
_DAYS = ("arrival", "departure")


@dataclass(frozen=True, slots=True)
class StaysReading:
    """What was read; nothing is decided yet."""

    where: str
    stays: tuple[Stay, ...]
    """Those of the good rows, in the order of the file."""
    problems: tuple[Problem, ...]
    """By row; those with row 0 concern the whole table."""
    mapping: dict[str, str]
    """Field → heading; may be changed and given to the reader again."""
    headings: tuple[str, ...]
    heading_row: int
    preview: tuple[tuple[str, ...], ...]
    """The first rows as text, by ``headings``; columns that are not read are empty."""
    sha256: str
    rows_read: int
    rows_bad: int
    day_uses: int
    """Rows without a night, kept out with a note."""
    sheets: tuple[str, ...] = ()

    @property
    def is_bad(self) -> bool:
        """Whether a row, or the whole table, can't be taken."""
        return any(problem.blocking for problem in self.problems)

    @property
    def is_bad_whole(self) -> bool:
        """Whether nothing of it can be taken: no row is good, or it was not understood."""
        blocking = [problem for problem in self.problems if problem.blocking]
        not_understood = any(problem.row <= self.heading_row for problem in blocking)
        return not_understood or bool(blocking and not self.stays)


def read_stays(
    path: Path,
    mapping: Mapping[str, str] | None = None,
    *,
    day_first: bool | None = None,
    rooms: Collection[str] = frozenset(),
    room_types: Collection[str] = frozenset(),
) -> StaysReading:
    """Read bookings from xlsx, ods or csv and compare them with the house's rooms and types.

    ``mapping`` (field → heading) replaces the one found by synonyms; ``day_first``
    answers where a column of days can be read both ways. Raises Refusal where the
    file can't be read at all; everything else stands in the reading's problems.
    """
    table = stays_table(path, mapping)
    return stays_in(table, mapping, day_first=day_first, rooms=rooms, room_types=room_types)


def stays_table(
    path: Path, mapping: Mapping[str, str] | None = None, *, at: TablePlace | None = None
) -> Table:
    """A file's table with those columns only that bookings are read from."""
    words = shipped_words()
    return read_table(path, words.is_stays_heading, at=at, wants=_wanted(mapping, words))


def _wanted(mapping: Mapping[str, str] | None, words: Words) -> Callable[[str], bool]:
    def wanted(heading: str) -> bool:
        folded = fold(heading)
        if folded in words.people:
            return False
        return folded in words.stays if mapping is None else heading in mapping.values()

    return wanted


def stays_in(
    table: Table,
    mapping: Mapping[str, str] | None = None,
    *,
    day_first: bool | None = None,
    rooms: Collection[str] = frozenset(),
    room_types: Collection[str] = frozenset(),
) -> StaysReading:
    """The bookings of a table from ``stays_table``; see ``read_stays``."""
    words = shipped_words()
    fields = dict(mapping) if mapping is not None else mapped(table, words.stays)
    problems = mapping_problems(table, fields, ("arrival",), words.people)
    problems += _lacking(table, fields)
    order = order_of(_day_texts(table, fields), words)
    problems += _order_problems(table, fields, order, day_first)
    reader = StayReader(
        words=words,
        day_first=bool(order.day_first[0]) if day_first is None else day_first,
        rooms=frozenset(rooms),
        types=frozenset(room_types),
    )
    if any(problem.blocking for problem in problems):
        return _reading(table, fields, problems, [], reader)
    if not rooms and not any(room_types):
        problems.append(_whole(table, StaysCode.ROOMS_NOT_COMPARED))
    good: list[StayRow] = []
    for row in table.rows:
        cells = RowCells(table.where, row, fields)
        stay = reader.read(cells)
        problems += cells.problems
        good.extend([stay] if stay else [])
    good, more = without_repeats(good, table.where, fields)
    problems += more + overlaps(good, table.where, fields)
    return _reading(table, fields, problems, good, reader)


def take_stays(reading: StaysReading, keep_good: bool) -> tuple[Stay, ...]:
    """The reading's stays; InputRefused where it is to be refused whole.

    With ``keep_good`` the good rows are taken; a table that could not be read as such
    is refused all the same.
    """
    if reading.is_bad_whole or (reading.is_bad and not keep_good):
        raise InputRefused(list(reading.problems))
    return reading.stays


def _whole(table: Table, code: StaysCode, *, blocking: bool = False, **values: str) -> Problem:
    return Problem(table.where, 0, "", code, values, blocking=blocking)


def _lacking(table: Table, mapping: Mapping[str, str]) -> list[Problem]:
    """Columns of which one is needed, and what is assumed where there is none."""
    if "arrival" not in mapping:
        return []
    lacking: list[Problem] = []
    if "departure" not in mapping and "nights" not in mapping:
        lacking.append(_whole(table, StaysCode.DEPARTURE_MISSING, blocking=True))
    if "room" not in mapping and "type" not in mapping:
        lacking.append(_whole(table, StaysCode.NEITHER_ROOM_NOR_TYPE, blocking=True))
    if "status" not in mapping:
        lacking.append(_whole(table, StaysCode.STATUS_ASSUMED))
    return lacking


def _day_texts(table: Table, mapping: Mapping[str, str]) -> Iterator[tuple[int, str]]:
    for row in table.rows:
        for name in _DAYS:
            cell = row.cell(mapping.get(name, ""))
            if isinstance(cell, str) and cell and not isinstance(cell, Mark):
                yield row.number, cell


def _order_problems(
    table: Table, mapping: Mapping[str, str], order: DayOrder, day_first: bool | None
) -> list[Problem]:
    """Whether the person must say if the day or the month stands first."""
    column = mapping.get("arrival", "")
    problems: list[Problem] = []
    if day_first is None and order.is_mixed:
        row, value = order.day_first
        other_row, other = order.month_first
        values = {"value": value, "other_value": other, "other_row": str(other_row)}
        problems.append(Problem(table.where, row, column, StaysCode.DATES_MIXED, values))
    elif day_first is None and order.is_open:
        values = {"value": order.open[1]}
        problems.append(Problem(table.where, 0, column, StaysCode.DAY_OR_MONTH_FIRST, values))
    turned = order.day_first[1] or order.month_first[1] or order.open[1]
    if turned and _has_real_dates(table, mapping):
        # A spreadsheet that expects the other order turns some days into wrong dates
        # and leaves those it cannot read as text.
        problems.append(_whole(table, StaysCode.DATES_HALF_TURNED, value=turned))
    return problems


def _has_real_dates(table: Table, mapping: Mapping[str, str]) -> bool:
    cells = (row.cell(mapping.get(name, "")) for row in table.rows for name in _DAYS)
    return any(not isinstance(cell, str) for cell in cells)


def _reading(
    table: Table,
    mapping: dict[str, str],
    problems: list[Problem],
    good: list[StayRow],
    reader: StayReader,
) -> StaysReading:
    return StaysReading(
        where=table.where,
        stays=tuple(row.stay for row in good),
        problems=tuple(sorted(problems, key=lambda problem: problem.row)),
        mapping=mapping,
        headings=table.headings,
        heading_row=table.heading_row,
        preview=table.preview,
        sha256=table.sha256,
        rows_read=len(table.rows),
        rows_bad=len({p.row for p in problems if p.blocking and p.row > table.heading_row}),
        day_uses=reader.day_uses,
        sheets=table.sheets,
    )
