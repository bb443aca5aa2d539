"""Whether a hotel's file is whole, and still says what was written down."""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from itertools import groupby, islice
from operator import itemgetter
from pathlib import Path

from sqlite_utils import Database
from sqlite_utils.db import quote_identifier

from hotelwatch.core.case_facts import PhotoKept
from hotelwatch.core.facts import StaysImported
from hotelwatch.core.record_facts import RecordRestored
from hotelwatch.core.treatment_facts import PaperKept, ProbeLogKept
from hotelwatch.store.chain import Line, digest_of, digest_of_stays
from hotelwatch.store.columns import Cell
from hotelwatch.store.connection import connect, reading, refusal_for, sqlite3, told_plainly
from hotelwatch.store.header import refuse_by_header
from hotelwatch.store.kept_files import kept_file
from hotelwatch.store.loading import stay_rows
from hotelwatch.store.photos import photo_path
from hotelwatch.store.schema import ENTRY_COLUMNS, FactTable, chain_tables, fact_tables, objects
from hotelwatch.store.words import digest_of_words, expired_numbers

_EXPIRED = "SELECT entry, what, which FROM content_expired"
_EXPIRED_OF = f"{_EXPIRED} WHERE what = ?"
_MOST_TOLD = 20
"""Of one kind of fault so many are told; the rest would say the same."""


@dataclass(frozen=True, slots=True)
class Fault:
    """Something found wrong: a code, the entry it concerns (0: none), and what exactly.

    Codes: "damaged", "schema_changed", "schema_extra", "lost_reference",
    "number_missing", "fact_without_entry", "digest_differs", "not_as_printed",
    "stays_differ", "photo_changed", "log_changed", "paper_changed", "words_missing",
    "words_changed"; as remarks "clock_went_back", "was_restored", "photo_missing",
    "log_missing", "paper_missing", "expired_photo" … "expired_note", "expired_but_there".
    """

    code: str
    entry: int
    detail: str


@dataclass(frozen=True, slots=True)
class Verification:
    """What a look through the whole file gave."""

    entries: int
    """How many entries were gone through."""
    last_digest: str
    """The digest of the last one as computed anew; empty in an empty file."""
    problems: tuple[Fault, ...]
    remarks: tuple[Fault, ...]
    """What a person should know though the record is whole."""

    @property
    def is_sound(self) -> bool:
        """Whether nothing speaks against the record."""
        return not self.problems

    @property
    def first_failing(self) -> int | None:
        """The first entry that does not hold; None if all do."""
        return min((fault.entry for fault in self.problems if fault.entry), default=None)


def verify(
    path: Path, *, printed: Mapping[int, str] | None = None, beside: Path | None = None
) -> Verification:
    """Go through a hotel's file and compute its chain anew. Nothing is written.

    ``beside`` is the file after which its photos, logs and papers are named, where that
    is another one: backups share them.

    A chain shows a change of the file by someone who does not compute it anew. Against
    one who does, or who cuts entries off its end, compare with what stands on paper:
    ``printed`` has digests by entry number, as a month's book prints them.

    Raises Refusal where the file is missing, no hotel's, or newer than we are.
    """
    refuse_by_header(path)
    with told_plainly(path):
        db = connect(path, read_only=True)
    try:
        return _gone_through(db, beside or path, printed or {})
    except sqlite3.Error as error:
        refusal = refusal_for(error, path)
        if refusal is not None and refusal.code != "damaged_file":
            # The file is in use, or the disk fails: that says nothing about the record.
            raise refusal from error
        return Verification(0, "", (Fault("damaged", 0, str(error)),), ())
    except (TypeError, ValueError) as error:
        # Cells that no program of ours wrote: nothing where a number must be, text that is none.
        return Verification(0, "", (Fault("damaged", 0, str(error)),), ())
    finally:
        db.close()


def _gone_through(db: Database, path: Path, printed: Mapping[int, str]) -> Verification:
    with reading(db):
        # Each is gone through whatever the others say: the first entry that fails
        # tells how far the harm reaches.
        problems = [
            *_integrity(db)[:_MOST_TOLD],
            *_schema(db),
            *_lost_references(db)[:_MOST_TOLD],
        ]
        chain = _Chain(printed)
        chain.follow(db)
        beside = (
            *_beside(db, path, PhotoKept, (photo_path, "photo")),
            *_beside(db, path, ProbeLogKept, (kept_file, "log")),
            *_beside(db, path, PaperKept, (kept_file, "paper")),
        )
        return Verification(
            entries=chain.entries,
            last_digest=chain.digest,
            problems=(
                *problems,
                *chain.problems,
                *_stays(db),
                *_told(_words(db)),
                *(fault for fault in beside if fault.code.endswith("_changed")),
            ),
            remarks=(
                *chain.remarks,
                *_restored(db),
                *_expired(db),
                *(fault for fault in beside if not fault.code.endswith("_changed")),
            ),
        )


def _integrity(db: Database) -> list[Fault]:
    rows = db.execute("PRAGMA integrity_check").fetchall()
    return [Fault("damaged", 0, str(row[0])) for row in rows if row[0] != "ok"]


def _schema(db: Database) -> list[Fault]:
    rows = db.execute(
        "SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL"
        # What ANALYZE keeps; no other object of ours or SQLite's bears such a name.
        " AND NOT (type = 'table' AND name GLOB 'sqlite_stat[0-9]')"
    ).fetchall()
    wanted = objects()
    found = {sql for _, sql in rows}
    wrong = [name for name, sql in wanted.items() if sql not in found]
    # A trigger may bear a table's name: each statement is held against ours, not each name.
    extra = sorted(name for name, sql in rows if wanted.get(name) != sql)
    extra += [name for name, count in Counter(name for name, _ in rows).items() if count > 1]
    return [
        *(Fault("schema_changed", 0, name) for name in wrong),
        *(Fault("schema_extra", 0, name) for name in extra),
    ]


def _lost_references(db: Database) -> list[Fault]:
    rows = db.execute("PRAGMA foreign_key_check").fetchall()
    return [Fault("lost_reference", 0, f"{row[0]} → {row[2]}") for row in rows]


class _Chain:
    """The walk along the entries, with what it meets."""

    def __init__(self, printed: Mapping[int, str]) -> None:
        self.entries = 0
        self.digest = ""
        self.problems: list[Fault] = []
        self.remarks: list[Fault] = []
        self._printed = printed
        self._before = ""
        self._last_at = ""

    def follow(self, db: Database) -> None:
        """Go along all entries and the facts of each."""
        groups = groupby(_all_lines(db), key=itemgetter(0))
        owner, lines = next(groups, (0, iter(())))
        listed = ", ".join(map(quote_identifier, ENTRY_COLUMNS))
        number = 0
        for row in db.execute(f"SELECT {listed} FROM entry ORDER BY id"):
            for missing in range(number + 1, min(row[0], number + 1 + _MOST_TOLD)):
                self._fault("number_missing", missing, "")
            number = row[0]
            while 0 < owner < number:
                self._fault("fact_without_entry", owner, next(lines)[2])
                owner, lines = next(groups, (0, iter(())))
            facts: list[Line] = []
            if owner == number:
                facts = [(name, named) for _, _, name, named in lines]
                owner, lines = next(groups, (0, iter(())))
            self._check(row, facts)
        while owner:
            self._fault("fact_without_entry", owner, next(lines)[2])
            owner, lines = next(groups, (0, iter(())))
        for missing in sorted(self._printed.keys() - set(range(1, number + 1))):
            self._fault("not_as_printed", missing, self._printed[missing])

    def _check(self, row: tuple[Cell, ...], facts: list[Line]) -> None:
        head = dict(zip(ENTRY_COLUMNS, row, strict=True))
        number, stored = int(str(head["id"])), str(head.pop("digest"))
        self.entries += 1
        self.digest = digest_of(head, facts, self._before)
        if self.digest != stored:
            self._fault("digest_differs", number, stored)
        if self._printed.get(number, stored) != stored:
            self._fault("not_as_printed", number, self._printed[number])
        recorded_at = str(head["recorded_at"])
        if recorded_at.rstrip("Z") < self._last_at:
            self._remark("clock_went_back", number, recorded_at)
        self._last_at = recorded_at.rstrip("Z")
        self._before = stored

    def _fault(self, code: str, entry: int, detail: str) -> None:
        if sum(fault.code == code for fault in self.problems) < _MOST_TOLD:
            self.problems.append(Fault(code, entry, detail))

    def _remark(self, code: str, entry: int, detail: str) -> None:
        if len(self.remarks) < _MOST_TOLD:
            self.remarks.append(Fault(code, entry, detail))


def entries_with_lines(db: Database) -> Iterator[tuple[dict[str, Cell], list[Line]]]:
    """Every entry's row with its lines, as the chain sees them, in order."""
    groups = groupby(_all_lines(db), key=itemgetter(0))
    owner, lines = next(groups, (0, iter(())))
    listed = ", ".join(map(quote_identifier, ENTRY_COLUMNS))
    for row in db.execute(f"SELECT {listed} FROM entry ORDER BY id"):
        while 0 < owner < row[0]:
            owner, lines = next(groups, (0, iter(())))
        facts: list[Line] = []
        if owner == row[0]:
            facts = [(name, named) for _, _, name, named in lines]
            owner, lines = next(groups, (0, iter(())))
        yield dict(zip(ENTRY_COLUMNS, row, strict=True)), facts


def _all_lines(db: Database) -> Iterator[tuple[int, int, str, Mapping[str, Cell]]]:
    """Every fact's entry, line, table and own columns, in the order written down."""
    tables = (_lines(db, table) for table in chain_tables())
    return heapq.merge(*tables, key=itemgetter(0, 1))


def _lines(db: Database, table: FactTable) -> Iterator[tuple[int, int, str, Mapping[str, Cell]]]:
    names = tuple(column.name for column in table.columns)
    sql = f"SELECT entry, line, {table.listed} FROM {table.name} ORDER BY entry, line"
    for row in db.execute(sql):
        yield row[0], row[1], table.name, dict(zip(names, row[2:], strict=True))


def _stays(db: Database) -> list[Fault]:
    name = fact_tables()[StaysImported].name
    sql = f"SELECT entry, stays_sha256 FROM {name} ORDER BY entry DESC, line DESC LIMIT 1"
    entry, kept = db.execute(sql).fetchone() or (0, digest_of_stays(()))
    found = digest_of_stays(stay_rows(db))
    return [] if found == kept else [Fault("stays_differ", entry, found)]


def _restored(db: Database) -> Iterator[Fault]:
    name = fact_tables()[RecordRestored].name
    sql = f"SELECT entry, back_to, aside_sha256 FROM {name} ORDER BY entry, line"
    for entry, back_to, digest in db.execute(sql):
        yield Fault("was_restored", entry, f"{back_to}, {digest or '–'}")


def _expired(db: Database) -> Iterator[Fault]:
    """What has expired, by the entries that say so."""
    for entry, what, which in db.execute(_EXPIRED):
        yield Fault(f"expired_{what}", entry, str(len(str(which).split("\n"))))


def _told(faults: Iterator[Fault]) -> list[Fault]:
    """So many of a kind as are told."""
    return list(islice(faults, _MOST_TOLD))


def _words(db: Database) -> Iterator[Fault]:
    """Words that are not as they were noted, or gone without an entry that says so."""
    gone = expired_numbers(db)
    sql = (
        "SELECT entry, number, noted.sort, noted.concerns, sha256,"
        " kept.sort, kept.concerns, salt, words"
        " FROM word_noted AS noted LEFT JOIN word_kept AS kept USING (number)"
    )
    for entry, number, sort, concerns, digest, *kept in db.execute(sql):
        if kept[2] is None:
            if number not in gone:
                yield Fault("words_missing", entry, str(number))
        elif kept[:2] != [sort, concerns] or digest_of_words(kept[2], kept[3]) != digest:
            yield Fault("words_changed", entry, str(number))
    strange = "SELECT number FROM word_kept WHERE number NOT IN (SELECT number FROM word_noted)"
    for (number,) in db.execute(strange):
        yield Fault("words_changed", 0, str(number))


def _beside(
    db: Database,
    path: Path,
    kind: type[PhotoKept | ProbeLogKept | PaperKept],
    how: tuple[Callable[[Path, str], Path | None], str],
) -> Iterator[Fault]:
    """Files that lie beside the hotel's own: those gone, changed, or expired and still there."""
    kept_at, what = how
    expired = {
        digest: entry
        for entry, _, which in db.execute(f"{_EXPIRED_OF} ORDER BY entry", (what,))
        for digest in str(which).split("\n")
    }
    name = fact_tables()[kind].name
    for entry, digest in db.execute(f"SELECT entry, sha256 FROM {name}_now ORDER BY entry, line"):
        is_expired = expired.get(digest, 0) > entry
        kept = kept_at(path, digest)
        if kept is None:
            if not is_expired:
                yield Fault(f"{what}_missing", entry, digest)
        elif is_expired:
            yield Fault("expired_but_there", entry, digest)
        elif sha256(kept.read_bytes()).hexdigest() != digest:
            yield Fault(f"{what}_changed", entry, digest)
