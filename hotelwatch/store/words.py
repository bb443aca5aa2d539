"""Words that expire: names of staff and notes, kept apart from what refers to them.

A column of names or notes holds no words but references, as ``~12``. What ``~12`` stands
for is noted in ``word_noted`` by the entry that first used it, with the SHA-256 of a random
salt followed by the words; that row is a line of its entry and never changes. Salt and words
stand in ``word_kept``. When they expire, the row of ``word_kept`` goes, under an entry with a
``content_expired`` that names it, and every digest of the chain stays as it was. Without
its salt nobody can try out which name a digest stands for.

A name has one reference for each month, or for each case that it was written down for:
so it goes from one month while it stays in the next.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

from sqlite_utils import Database

from hotelwatch.core.facts import Fact, WordSort
from hotelwatch.core.record_facts import OF_WORDS, ContentExpired, expired_words, missing_words
from hotelwatch.store.columns import Cell, Column, columns_of

MARK = "~"
SALT_DIGITS = 32
ENTRY_WORDS = {"by": WordSort.NAME, "note": WordSort.NOTE}
"""The columns of ``entry`` that hold references."""


@dataclass(frozen=True, slots=True)
class WordNoted:
    """That an entry used words: their number, and what shows later which they were."""

    number: int
    sort: WordSort
    concerns: str
    """The cases that they were written down for, or the month."""
    sha256: str
    """Of the salt followed by the words, in UTF-8."""


def digest_of_words(salt: str, words: str) -> str:
    """What a row of ``word_noted`` says of its words."""
    return sha256(f"{salt}{words}".encode()).hexdigest()


class Hiding:
    """Puts references in the place of words, for one entry, while nobody else may write."""

    def __init__(self, db: Database, concerns: str) -> None:
        """Begin with no new words."""
        self._db = db
        self._concerns = concerns
        self._known: dict[str, int] = {}
        self._last: int | None = None
        self._new: list[tuple[int, WordSort, str, str]] = []

    def head(self, row: Mapping[str, Cell]) -> dict[str, Cell]:
        """An entry's row with references."""
        return {name: self._hidden(cell, ENTRY_WORDS.get(name)) for name, cell in row.items()}

    def fact(self, columns: Iterable[Column], cells: Mapping[str, Cell]) -> dict[str, Cell]:
        """A fact's cells with references."""
        return {
            column.name: self._hidden(cells[column.name], column.sort, several=column.is_several)
            for column in columns
        }

    def noted(self) -> list[WordNoted]:
        """What the entry notes of words used first in it."""
        return [
            WordNoted(number, sort, self._concerns, digest_of_words(salt, words))
            for number, sort, salt, words in self._new
        ]

    def keep(self) -> None:
        """Write the words down; their ``word_noted`` must stand already."""
        if self._new:
            self._db.conn.executemany(
                "INSERT INTO word_kept VALUES (?, ?, ?, ?, ?)",
                [(n, sort, self._concerns, salt, words) for n, sort, salt, words in self._new],
            )

    def _hidden(self, cell: Cell, sort: WordSort | None, *, several: bool = False) -> Cell:
        if sort is None or not isinstance(cell, str) or not cell:
            return cell
        parts = cell.split("\n") if several else (cell,)
        return "\n".join(f"{MARK}{self._number(words, sort)}" for words in parts)

    def _number(self, words: str, sort: WordSort) -> int:
        if sort is WordSort.NOTE:
            return self._add(words, sort)
        if words not in self._known:
            row = self._db.conn.execute(
                "SELECT number FROM word_kept WHERE concerns = ? AND words = ? AND sort = 'name'",
                (self._concerns, words),
            ).fetchone()
            self._known[words] = row[0] if row else self._add(words, sort)
        return self._known[words]

    def _add(self, words: str, sort: WordSort) -> int:
        if self._last is None:
            sql = "SELECT number FROM word_noted ORDER BY entry DESC, line DESC LIMIT 1"
            self._last = (self._db.conn.execute(sql).fetchone() or (0,))[0]
        self._last += 1
        self._new.append((self._last, sort, secrets.token_hex(SALT_DIGITS // 2), words))
        return self._last


class Words(dict[str, str]):
    """The words for each cell with references; each is read once, when it is first asked for."""

    def __init__(self, db: Database) -> None:
        """Read nothing yet."""
        super().__init__({"": ""})
        self._db = db
        self._expired: Mapping[int, str] | None = None

    def __missing__(self, cell: str) -> str:
        """Read what the references of a cell stand for. ValueError where it holds none."""
        parts = cell.split("\n")
        shown = "\n".join(map(self.__getitem__, parts)) if len(parts) > 1 else self._read(cell)
        self[cell] = shown
        return shown

    def of_columns(
        self, columns: Sequence[Column], cells: Iterable[Iterable[Cell]]
    ) -> list[Iterable[Cell]]:
        """Cells column by column, with words where references were."""
        return [
            values if column.sort is None else list(map(self.__getitem__, values))  # type: ignore[arg-type]
            for column, values in zip(columns, cells, strict=True)
        ]

    def _read(self, cell: str) -> str:
        if not cell.startswith(MARK):
            raise ValueError(f"no reference to words: {cell!r}")
        number = int(cell.removeprefix(MARK))
        sql = "SELECT words FROM word_kept WHERE number = ?"
        found = self._db.conn.execute(sql, (number,)).fetchone()
        if found is not None:
            return str(found[0])
        if self._expired is None:
            self._expired = expired_numbers(self._db)
        month = self._expired.get(number)
        return expired_words(month, number) if month else missing_words(number)


def expired_numbers(db: Database) -> dict[int, str]:
    """Numbers of words that expired, each with the month (UTC) of the entry that says so."""
    sql = (
        "SELECT which, substr(recorded_at, 1, 7) FROM content_expired JOIN entry ON id = entry"
        " WHERE what IN ('name', 'note') ORDER BY entry"
    )
    rows = db.conn.execute(sql).fetchall()
    return {
        int(number): month for which, month in rows for number in str(which).split("\n") if number
    }


def forget(db: Database, facts: Iterable[Fact]) -> bool:
    """Delete the words that an entry written just now says have expired; whether there are any."""
    numbers = [
        int(number)
        for fact in facts
        if isinstance(fact, ContentExpired) and fact.what in OF_WORDS
        for number in fact.which
    ]
    if not numbers:
        return False
    db.conn.execute("PRAGMA secure_delete = ON")
    db.conn.execute(
        "DELETE FROM word_kept WHERE number IN (SELECT value FROM json_each(?))",
        (json.dumps(numbers),),
    )
    return True


WORD_COLUMNS = columns_of(WordNoted)
