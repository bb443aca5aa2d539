"""The journal: append an entry, correct one, see what others wrote."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from itertools import groupby
from pathlib import Path
from typing import cast

from sqlite_utils import Database
from sqlite_utils.db import quote_identifier

import hotelwatch
from hotelwatch.core.facts import Fact, StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Entry, Stay, concerns
from hotelwatch.store.backup import back_up
from hotelwatch.store.chain import Line, digest_of, digest_of_stays
from hotelwatch.store.columns import Cell, moment_text
from hotelwatch.store.connection import reading, told_plainly
from hotelwatch.store.loading import (
    NOT_OURS,
    caught_up,
    last_number,
    read_anew,
    read_stays,
    stay_rows,
    with_entry,
)
from hotelwatch.store.schema import (
    ENTRY_COLUMNS,
    WORD_TABLE,
    fact_tables,
    stay_columns,
    tables_by_name,
)
from hotelwatch.store.words import Hiding, forget

Decide = Callable[[House], Sequence[Fact]]
"""Says which facts to write down, given the house as it is at that moment."""

PROGRAM = f"hotelwatch {hotelwatch.__version__}"

_INSERT_ENTRY = (
    f"INSERT INTO entry ({', '.join(map(quote_identifier, ENTRY_COLUMNS))})"
    f" VALUES ({', '.join('?' * len(ENTRY_COLUMNS))})"
)
_LAST_ENTRY = "SELECT id, digest FROM entry ORDER BY id DESC LIMIT 1"


class Journal:
    """One hotel's file while it is open; used by the thread that opened it, only."""

    def __init__(self, path: Path, db: Database, *, read_only: bool) -> None:
        """Hold a connection that hotel_file made."""
        self._path = path
        self._db = db
        self._read_only = read_only
        self._identity = _identity(path)

    @property
    def path(self) -> Path:
        """Where the file lies."""
        return self._path

    @property
    def db(self) -> Database:
        """The connection, for the store's own use."""
        return self._db

    def append(
        self,
        decide: Decide,
        *,
        by: str,
        action: str,
        at: datetime,
        house: House,
        note: str = "",
        corrects: int | None = None,
    ) -> tuple[House, tuple[Fact, ...]]:
        """Write one entry, all or nothing; the house after it, and its facts.

        While no one else may write, the house takes in what others wrote, then
        ``decide`` says the facts. No facts: nothing is written, unless the entry
        corrects another, which is then taken back. A corrected entry still counts
        in the house that ``decide`` is given. When this returns, the entry is on
        the disk.

        Raises Refusal: "correction_needs_reason", "no_such_entry",
        "already_corrected"; "read_only_file", "file_busy", "disk_full",
        "disk_failed", "file_replaced".
        """
        if corrects is not None and not note.strip():
            raise Refusal("correction_needs_reason", entry=str(corrects))
        with self._written():
            last = self._last()
            house = self._up_to_date(house, last)
            if corrects is not None:
                self._check_correctable(corrects)
            facts = tuple(decide(house))
            if not facts and corrects is None:
                return house, ()
            entry = Entry(last[0] + 1, at, by, action, note, corrects, PROGRAM, "")
            return self._write(house, entry, facts, before=last[1]), facts

    def replace_stays(
        self,
        stays: Sequence[Stay],
        fact: StaysImported,
        *,
        by: str,
        at: datetime,
        house: House,
        action: str = "import_stays",
        note: str = "",
    ) -> House:
        """Write an import of bookings as one entry; the house after it.

        Gone are the stays that leave after ``fact.replaces_from``, and any other
        with the booking, room and arrival of a new one; those that were over by
        then are kept, since no later list tells of them.
        """
        with self._written():
            last = self._last()
            house = self._up_to_date(house, last)
            self._put_stays(stays, fact)
            kept = replace(fact, stays_sha256=digest_of_stays(stay_rows(self._db)))
            entry = Entry(last[0] + 1, at, by, action, note, None, PROGRAM, "")
            house = self._write(house, entry, (kept,), before=last[1])
            return house.with_stays(read_stays(self._db, house.complete_from))

    def refresh(self, house: House) -> House | None:
        """The house with what others wrote since; None if nothing."""
        with told_plainly(self.path), reading(self._db):
            newer = self._up_to_date(house, self._last())
        return None if newer is house else newer

    def backup(self, to: Path) -> None:
        """Copy the file as it is now, whoever writes to it; the copy is checked.

        Raises Refusal: "file_exists" where ``to`` is something else than an older
        backup, "damaged_file" where the copy does not pass.
        """
        with told_plainly(self.path):
            back_up(self._db, self.path, to)

    def close(self) -> None:
        """Close the file."""
        self._db.close()

    # --- inside -----------------------------------------------------------------

    @contextmanager
    def _written(self) -> Iterator[None]:
        if self._read_only:
            raise Refusal("read_only_file", file=str(self.path))
        if _identity(self.path) != self._identity:
            # Another program put a different file in its place: what we wrote
            # would go to the one that no longer bears the name.
            raise Refusal("file_replaced", file=str(self.path))
        with told_plainly(self.path):
            # Waits for its turn before anything is read: nothing can come between.
            self._db.conn.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._db.conn.execute("COMMIT")
            except BaseException:
                self._db.rollback()
                raise

    def _last(self) -> tuple[int, str]:
        row = self._db.conn.execute(
            "SELECT id, digest FROM entry ORDER BY id DESC LIMIT 1"
        ).fetchone()
        return cast("tuple[int, str]", row or (0, ""))

    def _up_to_date(self, house: House, last: tuple[int, str]) -> House:
        known = last_number(house)
        digest = house.entries[known].digest if known else ""
        if (known, digest) == last:
            return house
        sql = "SELECT 1 FROM entry WHERE id = ? AND digest = ?"
        if known and self._db.execute(sql, (known, digest)).fetchone() is None:
            raise Refusal("file_replaced", file=str(self.path))
        try:
            return caught_up(self._db, house)
        except NOT_OURS as error:
            raise Refusal("damaged_file", file=str(self.path), reason=str(error)) from error

    def _check_correctable(self, number: int) -> None:
        if self._db.execute("SELECT 1 FROM entry WHERE id = ?", (number,)).fetchone() is None:
            raise Refusal("no_such_entry", entry=str(number))
        later = self._db.execute("SELECT id FROM entry WHERE corrects = ?", (number,)).fetchone()
        if later is not None:
            raise Refusal("already_corrected", entry=str(number), by_entry=str(later[0]))

    def _write(self, house: House, entry: Entry, facts: tuple[Fact, ...], *, before: str) -> House:
        hiding = Hiding(self._db, concerns(facts, entry.recorded_at))
        head = hiding.head(entry_row(entry))
        coded = [_coded(fact, hiding) for fact in facts]
        coded += [(WORD_TABLE.name, WORD_TABLE.encode(noted)) for noted in hiding.noted()]
        digest = digest_of(head, coded, before)
        write_lines(self._db, (*head.values(), digest), coded)
        hiding.keep()
        entry = replace(entry, recorded_at=entry.recorded_at.astimezone(UTC), digest=digest)
        if forget(self._db, facts):
            return read_anew(self._db, house)
        return with_entry(self._db, house, entry, facts)

    def _put_stays(self, stays: Sequence[Stay], fact: StaysImported) -> None:
        conn = self._db.conn
        conn.execute("DELETE FROM stay WHERE leaves_on > ?", (fact.replaces_from.isoformat(),))
        conn.executemany(
            "DELETE FROM stay WHERE booking = ? AND room = ? AND arrives_on = ?",
            ((stay.booking, stay.room, stay.arrives_on.isoformat()) for stay in stays),
        )
        columns = stay_columns()
        listed = ", ".join(quote_identifier(column.name) for column in columns)
        conn.executemany(
            f"INSERT INTO stay ({listed}) VALUES ({', '.join('?' * len(columns))})",
            (tuple(c.encode(getattr(stay, c.name)) for c in columns) for stay in stays),
        )


def _coded(fact: Fact, hiding: Hiding) -> Line:
    table = fact_tables()[type(fact)]
    return table.name, hiding.fact(table.columns, table.encode(fact))


def write_lines(db: Database, entry: Sequence[Cell], lines: Sequence[Line]) -> None:
    """Insert an entry's row and its lines, as they stand in the chain."""
    db.conn.execute(_INSERT_ENTRY, entry)
    for name, group in groupby(enumerate(lines, 1), lambda line: line[1][0]):
        cells = [(entry[0], line, *named.values()) for line, (_, named) in group]
        db.conn.executemany(tables_by_name()[name].insert_sql, cells)


def entry_row(entry: Entry) -> dict[str, Cell]:
    """An entry's row, without its digest."""
    at = moment_text(entry.recorded_at)
    cells = (entry.number, at, entry.by, entry.action, entry.note, entry.corrects, entry.program)
    return dict(zip(ENTRY_COLUMNS[:-1], cells, strict=True))


def _identity(path: Path) -> tuple[int, int]:
    try:
        found = path.stat()
    except OSError:
        return (0, 0)
    return found.st_dev, found.st_ino
