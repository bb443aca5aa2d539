"""A backup of a hotel's file, made while it is in use, and opened before it counts."""

from __future__ import annotations

import os
import secrets
import shutil
from collections.abc import Callable, Container
from contextlib import closing
from hashlib import file_digest
from pathlib import Path

from sqlite_utils import Database

from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.store import header, kept_files, photos
from hotelwatch.store.chain import digest_of
from hotelwatch.store.connection import BUSY_MS, sqlite3, told_plainly
from hotelwatch.store.schema import ENTRY_COLUMNS, chain_tables

STEP_PAGES = 512
"""Pages copied before others may write, and before one can stop."""
ASKS_EVERY_MS = 100
_IN_USE = (5, 6)
"""SQLITE_BUSY and SQLITE_LOCKED: another one has the file."""
ASIDE = "-aside-"
"""What the name of a file set aside by a restore has after that of the hotel's file."""
WITH_THE_FILE = ("-journal", "-wal", "-shm")
"""What SQLite keeps beside a file in the middle of a write; it belongs to that file."""
LAST_ENTRY = "SELECT id, digest FROM entry ORDER BY id DESC LIMIT 1"
FOLDERS: tuple[Callable[[Path], Path], ...] = (photos.folder_of, kept_files.folder_of)
"""What lies beside a hotel's file."""


def back_up(db: Database, path: Path, to: Path) -> None:
    """Copy the open file, its photos, logs and papers to another place.

    Refusal("file_exists") where ``to`` is anything but an older backup of this file;
    ("no_such_folder") where it would lie nowhere.
    """
    if not to.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(to.parent))
    if to.exists() and (to.samefile(path) or not _is_older(to, db)):
        raise Refusal("file_exists", file=str(to))
    partial = partial_of(to)
    try:
        copy_whole(db, path, partial)
        partial.replace(to)
    finally:
        partial.unlink(missing_ok=True)
    sync_folder(to.parent)
    copy_beside(path, to)


def copy_whole(db: Database, path: Path, to: Path, progress: Progress = silent) -> tuple[int, str]:
    """Copy the file as it is at one moment; the number and digest of its last entry.

    Others may write meanwhile: then it begins anew. The copy is on the disk, has been
    opened, and is whole. Refusal("damaged_file") where it is not.
    """
    waited = 0

    def tell(status: int, remaining: int, total: int) -> None:
        nonlocal waited
        waited = waited + 1 if status in _IN_USE else 0
        # Python's backup asks for its turn without end.
        if waited > BUSY_MS / ASKS_EVERY_MS:
            raise Refusal("file_busy", file=str(path))
        progress((total - remaining) / max(1, total), "copying_file")

    to.unlink(missing_ok=True)
    with closing(sqlite3.connect(str(to), isolation_level=None)) as copy:
        db.conn.backup(copy, pages=STEP_PAGES, progress=tell, sleep=ASKS_EVERY_MS / 1000)
        # One file that needs no other beside it.
        copy.execute("PRAGMA journal_mode = DELETE")
    sync_file(to)
    progress(1.0, "checking_copy")
    return refuse_unsound(to, blamed=path)


def refuse_unsound(copy: Path, *, blamed: Path | None = None) -> tuple[int, str]:
    """Open a copy and look whether it is whole; the number and digest of its last entry.

    SQLite checks its pages and references; the last entry's digest is computed anew.
    Refusal("damaged_file") in the name of ``blamed``, or of the copy.
    """
    named = blamed or copy
    with told_plainly(named), closing(as_it_lies(copy)) as db:
        is_whole = db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        if not is_whole or db.execute("PRAGMA foreign_key_check").fetchall():
            raise Refusal("damaged_file", file=str(named))
        number, digest = db.execute(LAST_ENTRY).fetchone() or (0, "")
        if digest != digest_anew(db, number):
            raise Refusal("damaged_file", file=str(named), reason=str(number))
    return number, digest


def digest_anew(db: Database, number: int) -> str:
    """An entry's digest, computed from what the file holds; empty for entry 0."""
    if not number:
        return ""
    listed = ", ".join(f'"{name}"' for name in ENTRY_COLUMNS)
    row = db.execute(f"SELECT {listed} FROM entry WHERE id = ?", (number,)).fetchone()
    head = dict(zip(ENTRY_COLUMNS, row, strict=True))
    head.pop("digest")
    before = db.execute("SELECT digest FROM entry WHERE id = ?", (number - 1,)).fetchone()
    lines = []
    for table in chain_tables():
        names = [column.name for column in table.columns]
        sql = f"SELECT line, {table.listed} FROM {table.name} WHERE entry = ?"
        for line, *cells in db.execute(sql, (number,)):
            lines.append((line, table.name, dict(zip(names, cells, strict=True))))
    facts = [(name, named) for _, name, named in sorted(lines, key=lambda line: line[:2])]
    return digest_of(head, facts, before[0] if before else "")


def copy_beside(path: Path, to: Path, *, without: Container[str] = ()) -> None:
    """Copy photos, logs and papers of a hotel's file to those of another one.

    Each is there whole or not at all; ``without`` those of these digests.
    """
    for folder_of in FOLDERS:
        _copy_missing(folder_of(path), folder_of(to), without)


def _copy_missing(source: Path, target: Path, without: Container[str]) -> None:
    if not source.is_dir():
        return
    target.mkdir(exist_ok=True)
    for file in sorted(source.iterdir()):
        is_wanted = file.suffix != kept_files.PARTIAL and file.stem not in without
        if is_wanted and not (target / file.name).exists():
            copy_file(file, target / file.name)
    sync_folder(target)


def partial_of(target: Path) -> Path:
    """A name for a file on its way, which no other window uses at the same time."""
    return target.with_name(f"{target.name}.{secrets.token_hex(4)}{kept_files.PARTIAL}")


def delete_whole(path: Path) -> None:
    """Delete a file of tables, with what SQLite keeps beside it; one that is gone is no error."""
    for ending in ("", *WITH_THE_FILE):
        Path(f"{path}{ending}").unlink(missing_ok=True)


def copy_file(source: Path, target: Path) -> None:
    """Copy a file so that it is there whole or not at all."""
    partial = partial_of(target)
    try:
        shutil.copyfile(source, partial)
        sync_file(partial)
        partial.replace(target)
    finally:
        partial.unlink(missing_ok=True)


def are_alike(one: Path, other: Path) -> bool:
    """Whether two files hold the same bytes."""
    with one.open("rb") as left, other.open("rb") as right:
        return file_digest(left, "sha256").digest() == file_digest(right, "sha256").digest()


def as_it_lies(path: Path) -> Database:
    """A connection to a file that nobody writes to, without locks: a share has none to trust."""
    uri = f"{path.resolve().as_uri()}?mode=ro&immutable=1"
    return Database(sqlite3.connect(uri, uri=True), execute_plugins=False)


def _is_older(to: Path, db: Database) -> bool:
    """Whether all that a file holds stands in the open one too: its last entry is ours."""
    if not header.is_hotel_file(to):
        return False
    try:
        with closing(as_it_lies(to)) as other:
            last = other.execute(LAST_ENTRY).fetchone()
    except sqlite3.DatabaseError:
        # A damaged backup may be of another hotel: who knows moves it away.
        return False
    ours = "SELECT 1 FROM entry WHERE id = ? AND digest = ?"
    return last is None or db.execute(ours, last).fetchone() is not None


def sync_file(path: Path) -> None:
    """Wait until the file's bytes are on the disk."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def sync_folder(path: Path) -> None:
    """Wait until the folder's names are on the disk, where the system can."""
    if os.name != "posix":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
