"""The tables of a hotel's file. They follow from the dataclasses in ``core.fact_kinds``.

Each kind of fact has one table, named like it in snake_case, with ``entry`` and
``line`` (its place among the facts of its entry, from 1) before its own fields.
How a field stands in its column:

=====================  ==========================================================
``str``, ``int``       TEXT, INTEGER
``float``              REAL
``bool``               INTEGER, 0 or 1
``date``               TEXT, ISO 8601: ``2026-01-05``; NULL where it may be unsaid and is
``datetime``           TEXT, ISO 8601 in UTC: ``2026-01-05T09:30:00Z``
a ``StrEnum``          TEXT, one of its values
``tuple[str, ...]``    TEXT, its members with a line break between them
``tuple[float, ...]``  TEXT, likewise
=====================  ==========================================================

In ``entry`` the columns ``by`` and ``note``, and in every table those of a ``Name``,
``Names`` or ``Note``, hold references as ``~12``, or nothing: ``store.words`` says to what.
View ``word`` shows what each stands for.

Nothing is changed or deleted: triggers see to it, whatever program opens the
file. ``<table>_now`` shows a table without the facts of corrected entries. The
exceptions are ``stay``, which each import of bookings replaces in part, and ``word_kept``,
from which rows go that the last entry names in a ``content_expired``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any, cast

from sqlite_utils.db import quote_identifier

from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import Fact
from hotelwatch.core.records import Stay
from hotelwatch.store.columns import Cell, Column, columns_of
from hotelwatch.store.words import WORD_COLUMNS, WordNoted

APPLICATION_ID = 0x48574A31
"""Marks a file as a hotelwatch journal (bytes 68 to 71 of its header)."""
FORMAT = 9
"""Number of this shape of the tables; kept in the file as its user_version."""

NOT_CHANGED = "facts are not changed; record a correction"
OUT_OF_TURN = "entries and facts are added at the end; record an entry"
NOT_EXPIRED = "words go only when an entry says that they expired"

ENTRY_COLUMNS = ("id", "recorded_at", "by", "action", "note", "corrects", "program", "digest")

_ENTRY_TABLE = """CREATE TABLE entry (
    id INTEGER PRIMARY KEY,
    recorded_at TEXT NOT NULL CHECK (recorded_at LIKE '____-__-__T%Z'),
    "by" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    note TEXT NOT NULL,
    corrects INTEGER REFERENCES entry (id) CHECK (corrects < id),
    program TEXT NOT NULL,
    digest TEXT NOT NULL CHECK (length(digest) = 64),
    CHECK (corrects IS NULL OR trim(note) <> '')
) STRICT"""


_WORD_OBJECTS = {
    "word_kept": """CREATE TABLE word_kept (
    number INTEGER PRIMARY KEY,
    sort TEXT NOT NULL,
    concerns TEXT NOT NULL,
    salt TEXT NOT NULL CHECK (length(salt) = 32),
    words TEXT NOT NULL
) STRICT""",
    "word_kept_names": (
        "CREATE INDEX word_kept_names ON word_kept (concerns, words) WHERE sort = 'name'"
    ),
    "word": (
        "CREATE VIEW word AS SELECT '~' || number AS cell, sort, concerns, words"
        " FROM word_noted LEFT JOIN (SELECT number, words FROM word_kept) USING (number)"
    ),
    "word_kept_no_update": (
        "CREATE TRIGGER word_kept_no_update BEFORE UPDATE ON word_kept"
        f" BEGIN SELECT RAISE (ABORT, '{NOT_CHANGED}'); END"
    ),
    "word_kept_at_end": (
        "CREATE TRIGGER word_kept_at_end BEFORE INSERT ON word_kept WHEN NOT EXISTS"
        " (SELECT 1 FROM word_noted WHERE entry = (SELECT max(id) FROM entry)"
        " AND number = NEW.number)"
        " OR EXISTS (SELECT 1 FROM word_kept WHERE number = NEW.number)"
        f" BEGIN SELECT RAISE (ABORT, '{OUT_OF_TURN}'); END"
    ),
    "word_kept_no_delete": (
        "CREATE TRIGGER word_kept_no_delete BEFORE DELETE ON word_kept WHEN NOT EXISTS"
        " (SELECT 1 FROM content_expired WHERE entry = (SELECT max(id) FROM entry)"
        " AND what = OLD.sort AND instr(char(10) || which || char(10),"
        " char(10) || OLD.number || char(10)))"
        f" BEGIN SELECT RAISE (ABORT, '{NOT_EXPIRED}'); END"
    ),
}


@dataclass(frozen=True)
class FactTable:
    """One kind of fact and its table."""

    kind: type
    name: str
    columns: tuple[Column, ...]

    @cached_property
    def listed(self) -> str:
        """Its own columns, quoted, with commas."""
        return ", ".join(quote_identifier(column.name) for column in self.columns)

    @cached_property
    def insert_sql(self) -> str:
        """The statement that adds a row: entry, line, then its own columns."""
        places = ", ".join("?" * (len(self.columns) + 2))
        name = quote_identifier(self.name)
        return f"INSERT INTO {name} (entry, line, {self.listed}) VALUES ({places})"

    def encode(self, fact: object) -> dict[str, Cell]:
        """A fact's cells by column. TypeError or ValueError where one can't be kept."""
        return {column.name: column.encode(getattr(fact, column.name)) for column in self.columns}

    def decode(self, cells: Iterable[Iterable[Cell]]) -> Iterable[Fact]:
        """The facts whose cells these are, one sequence for each of its own columns."""
        return cast("Iterable[Fact]", decode(self.kind, self.columns, cells))


def decode(
    kind: Callable[..., object], columns: Sequence[Column], cells: Iterable[Iterable[Cell]]
) -> Iterable[Any]:
    """One ``kind`` for each row of these columns; column by column is fast for many."""
    by_column = zip(columns, cells, strict=True)
    return map(kind, *(column.decode_all(values) for column, values in by_column))


def table_name(kind: type) -> str:
    """A kind's table: its name in snake_case."""
    return re.sub(r"(?<!^)(?=[A-Z])", "_", kind.__name__).lower()


@cache
def fact_tables() -> dict[type[Fact], FactTable]:
    """Every kind's table, in the order of FACT_KINDS."""
    return {kind: FactTable(kind, table_name(kind), columns_of(kind)) for kind in FACT_KINDS}


WORD_TABLE = FactTable(WordNoted, table_name(WordNoted), WORD_COLUMNS)


@cache
def chain_tables() -> tuple[FactTable, ...]:
    """Every table whose rows are lines of an entry: those of facts, and ``word_noted``."""
    return (*fact_tables().values(), WORD_TABLE)


@cache
def tables_by_name() -> dict[str, FactTable]:
    """``chain_tables`` by name."""
    return {table.name: table for table in chain_tables()}


@cache
def stay_columns() -> tuple[Column, ...]:
    """The columns of ``stay``, which holds bookings."""
    return columns_of(Stay)


@cache
def objects() -> dict[str, str]:
    """The SQL of every table, index, view and trigger of a hotel's file, by name."""
    made: dict[str, str] = {"entry": _ENTRY_TABLE}
    made["entry_corrects"] = (
        "CREATE UNIQUE INDEX entry_corrects ON entry (corrects) WHERE corrects IS NOT NULL"
    )
    made.update(_guards("entry", "NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM entry)"))
    for table in chain_tables():
        made.update(_fact_objects(table))
    made.update(_WORD_OBJECTS)
    # A bed's latest checks without a look at the rest. More indexes would be
    # more pages to write, and to wait for, with every check.
    made["bed_checked_by_bed"] = (
        "CREATE INDEX bed_checked_by_bed ON bed_checked (bed, checked_on, entry)"
    )
    declared = ",\n".join(f"    {column.declared}" for column in stay_columns())
    made["stay"] = f"CREATE TABLE stay (\n    line INTEGER PRIMARY KEY,\n{declared}\n) STRICT"
    made["stay_leaves_on"] = "CREATE INDEX stay_leaves_on ON stay (leaves_on)"
    made["stay_booking"] = "CREATE INDEX stay_booking ON stay (booking)"
    return made


def creation() -> Iterable[str]:
    """The statements that make an empty file a hotel's file."""
    yield f"PRAGMA application_id = {APPLICATION_ID}"
    yield f"PRAGMA user_version = {FORMAT}"
    yield from objects().values()


def _fact_objects(table: FactTable) -> dict[str, str]:
    name = table.name
    declared = "".join(f"    {column.declared},\n" for column in table.columns)
    sql = (
        f"CREATE TABLE {name} (\n"
        "    entry INTEGER NOT NULL REFERENCES entry (id),\n"
        "    line INTEGER NOT NULL CHECK (line > 0),\n"
        f"{declared}    PRIMARY KEY (entry, line)\n) STRICT, WITHOUT ROWID"
    )
    view = (
        f"CREATE VIEW {name}_now AS SELECT * FROM {name}"
        " WHERE entry NOT IN (SELECT corrects FROM entry WHERE corrects IS NOT NULL)"
    )
    # A REPLACE deletes without asking the delete trigger, and a fact slipped into an
    # older entry is a change of it: so a row may only come at the end.
    late = (
        "NEW.entry <> (SELECT max(id) FROM entry) OR EXISTS"
        f" (SELECT 1 FROM {name} WHERE entry = NEW.entry AND line = NEW.line)"
    )
    return {name: sql, f"{name}_now": view, **_guards(name, late)}


def _guards(table: str, late: str) -> dict[str, str]:
    made = {
        f"{table}_no_{verb}": (
            f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table}"
            f" BEGIN SELECT RAISE (ABORT, '{NOT_CHANGED}'); END"
        )
        for verb in ("update", "delete")
    }
    made[f"{table}_at_end"] = (
        f"CREATE TRIGGER {table}_at_end BEFORE INSERT ON {table} WHEN {late}"
        f" BEGIN SELECT RAISE (ABORT, '{OUT_OF_TURN}'); END"
    )
    return made
