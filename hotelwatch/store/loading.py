"""Facts from a hotel's file to a House.

With a horizon (``House.complete_from``), a House holds only

* checks, slots and published rounds that reach to that day or beyond, and every
  fact of the other kinds;
* entries with a fact at hand, entries recorded since that day, and those that
  correct an entry at hand;
* stays that leave on that day or later;
* for each bed the last day before it on which its underside was looked at, all
  its places as the bed is described *now*: what it was built like then is not
  asked, so a bed that changed may show an earlier day, or none.
"""

from __future__ import annotations

import gc
import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, Protocol, cast

from sqlite_utils import Database
from sqlite_utils.db import quote_identifier

from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    BedNo,
    Fact,
    RoomChecked,
    RoundPublished,
    SlotPublished,
    StaysImported,
)
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import Refusal
from hotelwatch.core.record_facts import OF_WORDS, ContentExpired
from hotelwatch.core.records import Entry, Kept, Stay
from hotelwatch.store.columns import Cell, moment_of
from hotelwatch.store.connection import reading, told_plainly
from hotelwatch.store.schema import (
    ENTRY_COLUMNS,
    FactTable,
    decode,
    fact_tables,
    stay_columns,
)
from hotelwatch.store.words import Words

DATED: Mapping[type[Fact], str] = {
    BedChecked: "checked_on",
    RoomChecked: "checked_on",
    SlotPublished: "on",
    RoundPublished: "until_on",
}
"""Kinds that a horizon cuts short, by the field it is held against."""

NOT_OURS = (AttributeError, KeyError, TypeError, ValueError)
"""How decoding fails at cells that no program of ours wrote: no text, another kind of thing."""
_ENTRY = ", ".join(map(quote_identifier, ENTRY_COLUMNS))


class OpenFile(Protocol):
    """A hotel's file that is open, as journal.Journal is."""

    @property
    def path(self) -> Path:
        """Where it lies."""

    @property
    def db(self) -> Database:
        """Its connection."""


def load(journal: OpenFile, rules: Rules, *, checks_since: date | None = None) -> House:
    """The house of everything in the file, or with that day as its horizon.

    Raises Refusal("damaged_file") where the file can't be read.
    """
    with told_plainly(journal.path), reading(journal.db), _without_collecting():
        try:
            return read_anew(journal.db, House(shipped=rules, complete_from=checks_since))
        except NOT_OURS as error:
            path, reason = str(journal.path), str(error)
            raise Refusal("damaged_file", file=path, reason=reason) from error


def read_anew(db: Database, house: House) -> House:
    """A house with the rules and the horizon of this one, read from the first entry on."""
    house = House(shipped=house.shipped, complete_from=house.complete_from)
    house = _with_new_entries(db, house)
    house = house.with_stays(read_stays(db, house.complete_from))
    return _with_earlier_looks(db, house)


def last_number(house: House) -> int:
    """The number of the house's last entry; 0 if it has none."""
    # The entries of a house stand in their order, as they were added.
    return next(reversed(cast("dict[int, Entry]", house.entries)), 0)


def caught_up(db: Database, house: House) -> House:
    """The house with the entries recorded after its last one; itself if none are at hand."""
    newer = _with_new_entries(db, house)
    if newer is house:
        return house
    if _words_expired_since(house, newer):
        return read_anew(db, house)
    if len(newer.kept.get(StaysImported, ())) > len(house.kept.get(StaysImported, ())):
        newer = newer.with_stays(read_stays(db, house.complete_from))
    if _touches_earlier_looks(db, newer, last_number(house)):
        newer = _with_earlier_looks(db, newer)
    return newer


def _words_expired_since(house: House, newer: House) -> bool:
    known = len(house.kept.get(ContentExpired, ()))
    fresh = newer.kept.get(ContentExpired, ())[known:]
    return any(cast("ContentExpired", row.fact).what in OF_WORDS for row in fresh)


def with_entry(db: Database, house: House, entry: Entry, facts: Sequence[Fact]) -> House:
    """The house after an entry that was written this moment; keeps its horizon."""
    since = house.complete_from
    if since is None:
        return house.add(entry, facts)
    newer = house.add(entry, (fact for fact in facts if is_at_hand(fact, since)))
    if not is_entry_at_hand(entry, newer, since):
        newer = replace(newer, entries=house.entries)
    if _touches_earlier_looks(db, newer, entry.number - 1):
        newer = _with_earlier_looks(db, newer)
    return newer


def is_at_hand(fact: Fact, since: date) -> bool:
    """Whether a house with that horizon holds this fact."""
    field = DATED.get(type(fact))
    return field is None or cast("date", getattr(fact, field)) >= since


def is_entry_at_hand(entry: Entry, house: House, since: date) -> bool:
    """Whether a house with that horizon holds this entry, its facts being added."""
    return (
        entry.recorded_at >= _start_of(since)
        or entry.corrects in house.entries
        or any(rows and rows[-1].entry == entry.number for rows in house.kept.values())
    )


def read_stays(db: Database, since: date | None) -> tuple[Stay, ...]:
    """The stays in the file that leave on that day or later, in the order read in."""
    rows = list(stay_rows(db, since))
    return tuple(decode(Stay, stay_columns(), zip(*rows, strict=True))) if rows else ()


def stay_rows(db: Database, since: date | None = None) -> Iterator[tuple[Cell, ...]]:
    """The rows of ``stay`` without their ``line``, in its order; all, or those that leave since."""
    listed = ", ".join(quote_identifier(column.name) for column in stay_columns())
    where, values = ("", ()) if since is None else ("WHERE leaves_on >= ?", (since.isoformat(),))
    yield from db.execute(f"SELECT {listed} FROM stay {where} ORDER BY line", values)


def read_entries(db: Database, where: str, values: Sequence[Any] = ()) -> dict[int, Entry]:
    """Entries by number, in order."""
    rows = db.execute(f"SELECT {_ENTRY} FROM entry WHERE {where} ORDER BY id", values)
    words = Words(db)
    return {
        number: Entry(number, moment_of(at), words[by], action, words[note], *rest)
        for number, at, by, action, note, *rest in rows.fetchall()
    }


def _with_new_entries(db: Database, house: House) -> House:
    known = last_number(house)
    if not db.execute("SELECT EXISTS (SELECT 1 FROM entry WHERE id > ?)", (known,)).fetchone()[0]:
        return house
    words = Words(db)
    fresh = {
        kind: rows
        for kind, table in fact_tables().items()
        if (rows := _read_kept(db, table, (house.complete_from, known), words))
    }
    entries = _entries_at_hand(db, house, fresh)
    if not entries:
        return house
    kept = dict(house.kept)
    for kind, rows in fresh.items():
        kept[kind] = (*kept.get(kind, ()), *rows)
    return replace(house, entries={**house.entries, **entries}, kept=kept)


def _read_kept(
    db: Database, table: FactTable, span: tuple[date | None, int], words: Words
) -> tuple[Kept[Fact], ...]:
    since, known = span
    sql = f"SELECT entry, {table.listed} FROM {table.name} WHERE entry > ?"
    values: list[Any] = [known]
    field = DATED.get(table.kind)
    if since is not None and field is not None:
        sql += f" AND {quote_identifier(field)} >= ?"
        values.append(since.isoformat())
    rows = db.execute(f"{sql} ORDER BY entry, line", values).fetchall()
    if not rows:
        return ()
    numbers, *cells = zip(*rows, strict=True)
    return tuple(map(Kept, numbers, table.decode(words.of_columns(table.columns, cells))))


def _entries_at_hand(
    db: Database, house: House, fresh: Mapping[type[Fact], tuple[Kept[Fact], ...]]
) -> dict[int, Entry]:
    known = last_number(house)
    since = house.complete_from
    if since is None:
        return read_entries(db, "id > ?", (known,))
    numbers = sorted({row.entry for rows in fresh.values() for row in rows})
    found = read_entries(
        db,
        "id > ? AND (recorded_at >= ? OR id IN (SELECT value FROM json_each(?)))",
        (known, since.isoformat(), json.dumps(numbers)),
    )
    for number, entry in read_entries(db, "id > ? AND corrects IS NOT NULL", (known,)).items():
        if entry.corrects in found or entry.corrects in house.entries:
            found[number] = entry
    return dict(sorted(found.items()))


def _touches_earlier_looks(db: Database, house: House, known: int) -> bool:
    if house.complete_from is None:
        return False
    sql = (
        "SELECT EXISTS (SELECT 1 FROM bed_described WHERE entry > :known)"
        " OR EXISTS (SELECT 1 FROM entry WHERE id > :known AND corrects IS NOT NULL)"
        " OR EXISTS (SELECT 1 FROM bed_checked WHERE entry > :known AND +checked_on < :since)"
    )
    values = {"known": known, "since": house.complete_from.isoformat()}
    return bool(db.execute(sql, values).fetchone()[0])


def _with_earlier_looks(db: Database, house: House) -> House:
    if house.complete_from is None:
        return house
    wanted = [
        (kind.code, int(encased), place.code)
        for kind in house.rules.bed_kinds.values()
        for encased in (False, True)
        for place in kind.places_of(encased=encased)
        if place.underside and not place.optional
    ]
    values = {"since": house.complete_from.isoformat(), "places": json.dumps(wanted)}
    rows = db.execute(_EARLIER_LOOKS, values).fetchall()
    looks = {BedNo(bed): date.fromisoformat(day) for bed, day in rows if day is not None}
    return replace(house, earlier_looks=looks)


# Each bed's checks before the horizon, latest first, until one saw every underside
# place. Places are text with line breaks between them: a code is looked for with a
# line break on both sides, so that "base" is not found in "base_edge".
_EARLIER_LOOKS = f"""
WITH place (kind, encased, code) AS MATERIALIZED (
    SELECT json_extract(value, '$[0]'), json_extract(value, '$[1]'), json_extract(value, '$[2]')
    FROM json_each(:places)
),
described AS (
    SELECT bed, kind, encased, row_number() OVER (
        PARTITION BY bed ORDER BY entry DESC, line DESC
    ) AS age
    FROM {fact_tables()[BedDescribed].name}_now
)
SELECT bed, (
    SELECT checked_on FROM bed_checked AS checked
    WHERE checked.bed = described.bed AND checked.checked_on < :since
    AND checked.entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL)
    AND NOT EXISTS (
        SELECT 1 FROM place
        WHERE place.kind = described.kind AND place.encased = described.encased
        AND instr(char(10) || seen || char(10), char(10) || place.code || char(10)) = 0
    )
    ORDER BY checked_on DESC LIMIT 1
)
FROM described
WHERE age = 1 AND (kind, encased) IN (SELECT kind, encased FROM place)
ORDER BY bed
"""


def _start_of(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)


@contextmanager
def _without_collecting() -> Iterator[None]:
    # Many thousand new values, none of them garbage: looking for some doubles the time.
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
