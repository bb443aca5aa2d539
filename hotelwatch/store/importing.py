"""A hotel's file made anew from an export of everything: the same chain, or none at all."""

from __future__ import annotations

import json
import re
import shutil
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from hashlib import file_digest, sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sqlite_utils import Database
from sqlite_utils.db import quote_identifier

from hotelwatch.core.facts import StaysImported
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.record_facts import OF_WORDS
from hotelwatch.store import hotel_file
from hotelwatch.store.backup import copy_file, delete_whole, sync_folder
from hotelwatch.store.chain import Line, canonical, digest_of_stays
from hotelwatch.store.columns import Cell, moment_of
from hotelwatch.store.connection import sqlite3, told_plainly
from hotelwatch.store.exporting import (
    ASKS_EVERY,
    DIGESTS,
    ENTRIES,
    KEPT,
    MANIFEST,
    STAYS,
    SUMS,
    WORDS,
    read_manifest,
    sums,
)
from hotelwatch.store.journal import write_lines
from hotelwatch.store.kept_files import PARTIAL
from hotelwatch.store.schema import (
    ENTRY_COLUMNS,
    FORMAT,
    WORD_TABLE,
    decode,
    stay_columns,
    table_name,
    tables_by_name,
)
from hotelwatch.store.words import ENTRY_WORDS, MARK, digest_of_words

_REFERENCES = re.compile(rf"(?:{MARK}\d+(?:\n{MARK}\d+)*)?")
_DIGEST = re.compile(r"([0-9a-f]{64})  (\d+)")
_MOST_TIMES = 200
"""A zip that would grow by more is no export: text does not shrink so far."""
_FREE_BYTES = 10_000_000


class _Mangled(Exception):
    """Something in an export is not as it was written: a code of wording.retention.MANGLED."""

    def __init__(self, file: str, line: int, why: str) -> None:
        super().__init__(why)
        self.file, self.line, self.why = file, line, why

    def refusal(self) -> Refusal:
        """What a person is told."""
        if not self.line:
            return Refusal("export_file_mangled", file=self.file, mangled=self.why)
        return Refusal("export_mangled", file=self.file, line=str(self.line), mangled=self.why)


def take_in(source: Path, to: Path, progress: Progress = silent) -> tuple[int, str]:
    """Make a hotel's file of an export, a folder or a zip; the last entry's number, its digest.

    Refusal("export_mangled") with the file and its line, ("export_file_mangled") with the file,
    ("export_of_another_shape"); as ``hotel_file.create``. Nothing is left behind then.
    """
    if to.exists():
        raise Refusal("file_exists", file=str(to))
    partial = to.with_name(f"{to.name}{PARTIAL}")
    with _unpacked(source) as folder:
        _refuse_shape(folder)
        delete_whole(partial)
        try:
            with closing(hotel_file.create(partial)) as journal:
                last = _all_of(folder, journal.db, progress)
            progress(0.9, "copying_photos")
            _copy_beside(folder, to)
            # It bears its name once all of it is there.
            with told_plainly(to):
                partial.replace(to)
                sync_folder(to.parent)
        except _Mangled as error:
            raise error.refusal() from error
        finally:
            delete_whole(partial)
    return last


@contextmanager
def _unpacked(source: Path) -> Iterator[Path]:
    if source.is_dir():
        yield source
        return
    if not source.is_file():
        raise Refusal("no_such_file", file=str(source))
    mangled = _Mangled(source.name, 0, "no_zip").refusal()
    with TemporaryDirectory() as folder:
        try:
            with told_plainly(source), zipfile.ZipFile(source) as packed:
                grown = sum(head.file_size for head in packed.infolist())
                if grown > _MOST_TIMES * source.stat().st_size + _FREE_BYTES:
                    raise mangled
                packed.extractall(folder)
        except (zipfile.BadZipFile, RuntimeError, NotImplementedError, EOFError) as error:
            raise mangled from error
        inner = [path.parent for path in sorted(Path(folder).rglob(MANIFEST))]
        yield inner[0] if inner else Path(folder)


def _refuse_shape(folder: Path) -> None:
    try:
        found = read_manifest(folder)
    except (OSError, ValueError) as error:
        raise _Mangled(MANIFEST, 0, "not_there").refusal() from error
    if found.get("format") != FORMAT:
        told = str(found.get("format"))
        raise Refusal("export_of_another_shape", file_format=told, our_format=str(FORMAT))


def _all_of(folder: Path, db: Database, progress: Progress) -> tuple[int, str]:
    taking = _Taking(db, dict(_words(folder)))
    db.execute("PRAGMA synchronous = OFF")  # nothing is told before all of it is there
    db.conn.execute("BEGIN IMMEDIATE")
    last = taking.chain(folder, progress)
    progress(0.7, "reading_words")
    taking.refuse_lost_words()
    _take_stays(folder, db)
    progress(0.8, "taking_digests")
    _refuse_by_sums(folder)
    db.execute("COMMIT")
    db.execute("PRAGMA synchronous = EXTRA")
    db.execute("VACUUM")  # and so it is on the disk
    return last


def _lines_of(folder: Path, name: str) -> Iterator[tuple[int, bytes]]:
    try:
        with (folder / name).open("rb") as file:
            for number, line in enumerate(file, 1):
                if not line.endswith(b"\n"):
                    raise _Mangled(name, number, "no_json")
                yield number, line[:-1]
    except FileNotFoundError as error:
        raise _Mangled(name, 0, "not_there") from error


def _parsed(name: str, number: int, line: bytes) -> Any:  # noqa: ANN401
    """A line's JSON, if it is written as we write it."""
    try:
        found = json.loads(line)
        if canonical(found).encode() != line:
            raise _Mangled(name, number, "not_canonical")
    except (ValueError, RecursionError) as error:
        raise _Mangled(name, number, "no_json") from error
    return found


def _words(folder: Path) -> Iterator[tuple[int, tuple[int, str, str]]]:
    last = 0
    for number, line in _lines_of(folder, WORDS):
        found = _parsed(WORDS, number, line)
        match found:
            case {"number": int(which), "salt": str(salt), "words": str(words)} if which > last:
                last = which
                yield which, (number, salt, words)
            case _:
                raise _Mangled(WORDS, number, "words")


@dataclass
class _Taking:
    """The walk along an export's entries."""

    db: Database
    words: dict[int, tuple[int, str, str]]
    noted: int = 0
    """The number of the words noted last."""
    lost: dict[int, int] = field(default_factory=dict)
    """Words that are not there and have not expired so far, with the line of their entry."""

    def chain(self, folder: Path, progress: Progress) -> tuple[int, str]:
        """Take in every entry; the last one's number and digest."""
        digests = _lines_of(folder, DIGESTS)
        count = max(1, int(str(read_manifest(folder).get("entries") or 0)))
        number, before = 0, ""
        for number, line in _lines_of(folder, ENTRIES):
            if number % ASKS_EVERY == 1:
                progress(0.7 * min(1, number / count), "reading_entries")
            listed = _DIGEST.fullmatch(next(digests, (0, b""))[1].decode("ascii", "replace"))
            digest = sha256(line).hexdigest()
            if listed is None or (listed[1], int(listed[2])) != (digest, number):
                raise _Mangled(ENTRIES, number, "digest")
            self._take(number, _parsed(ENTRIES, number, line), (before, digest))
            before = digest
        if next(digests, None) is not None:
            raise _Mangled(ENTRIES, number + 1, "not_there")
        for _, (line_no, _, _) in self.words.items():
            raise _Mangled(WORDS, line_no, "words")
        found = read_manifest(folder)
        if (found.get("entries"), found.get("last_digest")) != (number, before):
            raise _Mangled(MANIFEST, 1, "digest")
        return number, before

    def refuse_lost_words(self) -> None:
        """Words may be gone only where an entry says that they expired."""
        for line in self.lost.values():
            raise _Mangled(ENTRIES, line, "words_missing")

    def _take(self, number: int, found: Any, digests: tuple[str, str]) -> None:  # noqa: ANN401
        before, digest = digests
        match found:
            case {"before": str(told), "entry": dict(entry), "facts": list(facts)}:
                pass
            case _:
                raise _Mangled(ENTRIES, number, "table")
        if told != before:
            raise _Mangled(ENTRIES, number, "chain")
        if list(entry) != sorted(ENTRY_COLUMNS[:-1]) or len(found) != len(("before", entry, facts)):
            raise _Mangled(ENTRIES, number, "table")
        if entry["id"] != number:
            raise _Mangled(ENTRIES, number, "number")
        lines = [_line(number, fact) for fact in facts]
        try:
            moment_of(entry["recorded_at"])
            _refuse_words((entry[name] for name in ENTRY_WORDS), number)
            row = (*(entry[name] for name in ENTRY_COLUMNS[:-1]), digest)
            write_lines(self.db, row, lines)
        except (sqlite3.Error, TypeError, ValueError, AttributeError, OverflowError) as error:
            raise _Mangled(ENTRIES, number, "cell") from error
        for name, cells in lines:
            if name == WORD_TABLE.name:
                self._take_words(number, cells)
            elif name == _EXPIRED and cells["what"] in set(OF_WORDS):
                for which in str(cells["which"]).split("\n"):
                    self.lost.pop(int(which), None)

    def _take_words(self, line: int, cells: Mapping[str, Cell]) -> None:
        number = int(str(cells["number"]))
        if number != self.noted + 1:
            raise _Mangled(ENTRIES, line, "words")
        self.noted = number
        found = self.words.pop(number, None)
        if found is None:
            self.lost[number] = line
            return
        line_no, salt, words = found
        if digest_of_words(salt, words) != cells["sha256"]:
            raise _Mangled(WORDS, line_no, "words")
        row = (number, cells["sort"], cells["concerns"], salt, words)
        self.db.conn.execute("INSERT INTO word_kept VALUES (?, ?, ?, ?, ?)", row)


_EXPIRED = "content_expired"


def _line(number: int, fact: object) -> Line:
    """A line of an entry, in a table and columns of ours, with cells that can be read."""
    match fact:
        case [str(name), dict(named)]:
            table = tables_by_name().get(name)
        case _:
            table = None
    if table is None or sorted(named) != sorted(column.name for column in table.columns):
        raise _Mangled(ENTRIES, number, "table")
    cells = {column.name: named[column.name] for column in table.columns}
    try:
        list(table.decode([[cell] for cell in cells.values()]))
        _refuse_words((cells[column.name] for column in table.columns if column.sort), number)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise _Mangled(ENTRIES, number, "cell") from error
    return name, cells


def _refuse_words(cells: Iterator[Any], number: int) -> None:
    for cell in cells:
        if not isinstance(cell, str) or not _REFERENCES.fullmatch(cell):
            raise _Mangled(ENTRIES, number, "words")


def _take_stays(folder: Path, db: Database) -> None:
    columns = stay_columns()
    rows: list[Sequence[Cell]] = []
    for number, line in _lines_of(folder, STAYS):
        row = _parsed(STAYS, number, line)
        try:
            list(decode(lambda *_: None, columns, [[cell] for cell in row]))
        except (KeyError, TypeError, ValueError, AttributeError) as error:
            raise _Mangled(STAYS, number, "cell") from error
        rows.append(row)
    sql = f"SELECT stays_sha256 FROM {table_name(StaysImported)} ORDER BY entry DESC, line DESC"
    kept = (db.execute(f"{sql} LIMIT 1").fetchone() or (digest_of_stays(()),))[0]
    if digest_of_stays(rows) != kept:
        raise _Mangled(STAYS, len(rows), "stays")
    listed = ", ".join(quote_identifier(column.name) for column in columns)
    db.conn.executemany(
        f"INSERT INTO stay ({listed}) VALUES ({', '.join('?' * len(columns))})", rows
    )


def _refuse_by_sums(folder: Path) -> None:
    told = [line.decode("utf-8", "replace") for _, line in _lines_of(folder, SUMS)]
    found = sums(folder).splitlines()
    for line in sorted(set(told) - set(found)):
        name = line.partition("  ")[2]
        raise _Mangled(name, 0, "digest" if (folder / name).is_file() else "not_there")
    for line in sorted(set(found) - set(told)):
        raise _Mangled(line.partition("  ")[2], 0, "more")


def _copy_beside(folder: Path, to: Path) -> None:
    for name, folder_of in KEPT:
        source, target = folder / name, folder_of(to)
        partial = target.with_name(f"{target.name}{PARTIAL}")
        if source.is_dir():
            shutil.rmtree(partial, ignore_errors=True)
            try:
                with told_plainly(target):
                    _copy_each(source, partial)
                    _put(partial, target)
            finally:
                shutil.rmtree(partial, ignore_errors=True)


def _put(partial: Path, target: Path) -> None:
    """Give a folder its name; one that holds just the same was left as this was cut short."""
    if target.exists():
        if sums(target) != sums(partial):
            raise Refusal("file_exists", file=str(target))
        return
    partial.rename(target)
    sync_folder(target.parent)


def _copy_each(source: Path, target: Path) -> None:
    target.mkdir()
    for file in sorted(source.iterdir()):
        with file.open("rb") as opened:
            if file_digest(opened, "sha256").hexdigest() != file.stem:
                raise _Mangled(f"{source.name}/{file.name}", 0, "digest")
        copy_file(file, target / file.name)
