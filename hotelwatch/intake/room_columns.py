"""A column or two about rooms that are known already: pasted from a spreadsheet, or a file.

With headings or without: a column of known rooms is the rooms, one of yes and no the
encasements, other text the types. A cell left empty says nothing; a dash says "none".
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from hotelwatch.core.building.columns import RoomSaid, facts_of_columns
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Problem
from hotelwatch.intake.cells import fold, shown
from hotelwatch.intake.codes import RosterCode, StaysCode, TableCode
from hotelwatch.intake.mapping import RowCells, mapped, mapping_problems
from hotelwatch.intake.roster_file import RosterReading
from hotelwatch.intake.roster_links import alike
from hotelwatch.intake.roster_rows import NARROWEST_M, WIDEST_M, encased_beds
from hotelwatch.intake.tables import Table, TablePlace, read_table
from hotelwatch.intake.words import Words, shipped_words

COLUMN_FIELDS = ("room", "type", "encased", "suite", "width")


@dataclass(frozen=True, slots=True)
class ColumnsReading:
    """What was read; ``reading`` is it as the page that loads tables shows it."""

    reading: RosterReading
    rows: tuple[RoomSaid, ...]


def read_columns(
    path: Path,
    house: House,
    mapping: Mapping[str, str] | None = None,
    *,
    at: TablePlace | None = None,
) -> ColumnsReading:
    """Read what a table says of rooms of the house.

    ``mapping`` (field → heading) replaces the one found by headings, or by what stands
    in the columns where there are none. Raises Refusal where it can't be read at all.
    """
    words = shipped_words()
    table = read_table(path, words.is_roster_heading, at=at or _place(path, words))
    fields = _found(table, house, words) if mapping is None else dict(mapping)
    problems = mapping_problems(table, fields, ("room",))
    if not fields.keys() - {"room"}:
        nothing = {"field": "type"}
        where, headed = table.where, table.heading_row
        problems.append(Problem(where, headed, "", TableCode.FIELD_MISSING, nothing))
    rows: list[RoomSaid] = []
    bad: set[int] = set()
    if not any(problem.blocking for problem in problems):
        reader = _Rows(house, words)
        for row in table.rows:
            cells = RowCells(table.where, row, fields)
            said = reader.read(cells)
            problems += cells.problems
            if said is not None and cells.is_good:
                rows.append(said)
            else:
                bad.add(row.number)
    return ColumnsReading(_reading(table, fields, problems, house, rows, bad), tuple(rows))


def _place(path: Path, words: Words) -> TablePlace:
    """The first row is the headings as soon as one of its cells is a known one."""
    table = read_table(path, words.is_roster_heading)
    if table.heading_row or not table.rows:
        return TablePlace()
    first = table.rows[0]
    texts = (cell for cell in first.cells.values() if isinstance(cell, str))
    is_headed = any(fold(text) in words.roster for text in texts)
    return TablePlace(heading_row=first.number) if is_headed else TablePlace()


def _found(table: Table, house: House, words: Words) -> dict[str, str]:
    """Field → heading by headings, else by what stands in the columns."""
    if table.heading_row:
        return {f: h for f, h in mapped(table, words.roster).items() if f in COLUMN_FIELDS}
    known = {alike(room) for room in house.rooms}
    types = {fold(room.room_type) for room in house.rooms.values() if room.room_type}
    left = list(table.headings)
    found: dict[str, str] = {}

    def take(field: str, fits: Callable[[str], bool]) -> None:
        shares = {heading: _share(table, heading, fits) for heading in left}
        best = max(shares, key=lambda heading: shares[heading], default="")
        if best and shares[best] * 2 > 1:
            found[field] = best
            left.remove(best)

    take("room", lambda text: alike(text) in known)
    take("encased", lambda text: fold(text) in words.answers or text in words.answers)
    take("type", lambda text: fold(text) in types)
    take("type", lambda text: any(sign.isalpha() for sign in text))
    return found


def _share(table: Table, heading: str, fits: Callable[[str], bool]) -> float:
    texts = [shown(row.cell(heading)) for row in table.rows]
    said = [text for text in texts if text]
    return sum(map(fits, said)) / len(said) if said else 0.0


class _Rows:
    """Reads one row after the other; a room is named once."""

    def __init__(self, house: House, words: Words) -> None:
        self._house, self._words = house, words
        self._rows: dict[str, int] = {}
        self._loose: defaultdict[str, list[RoomNo]] = defaultdict(list)
        for room in house.rooms:
            self._loose[alike(room)].append(room)

    def read(self, cells: RowCells) -> RoomSaid | None:
        room = self._room(cells)
        if room is None:
            return None
        encased: tuple[bool, ...] = ()
        beds = self._house.beds_of(room)
        if cells.text("encased"):
            kinds = [bed.kind for bed in beds]
            pairs = encased_beds(cells, kinds, self._house.rules, self._words)
            encased = tuple(is_encased for _kind, is_encased in pairs)
        has_width = bool(cells.text("width"))
        return RoomSaid(
            room=room,
            room_type=self._text(cells, "type"),
            suite=self._text(cells, "suite"),
            width_m=cells.number("width", NARROWEST_M, WIDEST_M) if has_width else None,
            encased=tuple(zip((bed.bed for bed in beds), encased, strict=False)),
        )

    def _room(self, cells: RowCells) -> RoomNo | None:
        text = shown(cells.cell("room"))
        if not text:
            cells.say(RosterCode.ROOM_MISSING, "room")
            return None
        found = [RoomNo(text)] if text in self._house.rooms else self._loose.get(alike(text), [])
        if len(found) != 1:
            cells.say(StaysCode.ROOM_UNKNOWN, "room", value=text)
            return None
        (room,) = found
        if room != text:
            cells.note(StaysCode.ROOM_READ_AS, "room", value=text, room=room)
        other = self._rows.setdefault(room, cells.row.number)
        if other != cells.row.number:
            cells.say(RosterCode.ROOM_TWICE, "room", room=room, other_row=str(other))
        return room

    def _text(self, cells: RowCells, field: str) -> str | None:
        text = " ".join(cells.text(field).split())
        if not text:
            return None
        return "" if self._words.is_nothing(text) else text


def _reading(
    table: Table,
    fields: dict[str, str],
    problems: Sequence[Problem],
    house: House,
    rows: Sequence[RoomSaid],
    bad: set[int],
) -> RosterReading:
    return RosterReading(
        where=table.where,
        facts=facts_of_columns(house, rows),
        problems=tuple(sorted(problems, key=lambda problem: problem.row)),
        mapping=fields,
        headings=table.headings,
        heading_row=table.heading_row,
        preview=table.preview,
        rows_read=len(table.rows),
        rows_bad=len(bad),
        kept_out=(),
        sheets=table.sheets,
    )
