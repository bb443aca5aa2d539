"""Connections to a hotel's file: how each one is set, and what SQLite's errors mean."""

from __future__ import annotations

import errno
from collections import Counter
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from threading import Lock
from urllib.parse import quote

from sqlite_utils import Database

# sqlite-utils picks the SQLite that is newer; errors must be caught from the same one.
from sqlite_utils.utils import sqlite3 as sqlite3  # type: ignore[attr-defined]

from hotelwatch.core.problems import Refusal

_open_here: Counter[tuple[int, int]] = Counter()
"""How many connections of this process there are to each file, by device and number."""
_counting = Lock()
BUSY_MS = 5000
"""How long one window waits for another to finish writing."""

_OF_DAMAGE = ("could not decode", "unsupported file format")
"""What SQLite and Python say of damage without a code of its own."""
_CODES = {
    "SQLITE_BUSY": "file_busy",
    "SQLITE_LOCKED": "file_busy",
    "SQLITE_FULL": "disk_full",
    "SQLITE_READONLY": "read_only_file",
    "SQLITE_PERM": "read_only_file",
    "SQLITE_CORRUPT": "damaged_file",
    "SQLITE_NOTADB": "damaged_file",
    "SQLITE_IOERR": "disk_failed",
    "SQLITE_CANTOPEN": "disk_failed",
}


def has_wal_fix(version: tuple[int, ...]) -> bool:
    """Whether this SQLite may keep a write-ahead log.

    Below 3.51.3 a log written by two connections can damage the file when it is
    reset at an unlucky moment; 3.50.7 and 3.44.6 carry the mend for their lines,
    and 3.52.0 was withdrawn. Source: handbook, SQLite's own page on the log.
    """
    major, minor, patch = (*version, 0, 0, 0)[:3]
    if (major, minor) in ((3, 44), (3, 50)):
        return patch >= {44: 6, 50: 7}[minor]
    return (major, minor, patch) >= (3, 51, 3) and (major, minor, patch) != (3, 52, 0)


class _Counted(sqlite3.Connection):
    """A connection that is known to this process while it is open."""

    identity: tuple[int, int] | None = None

    def close(self) -> None:
        """Close it, and know it no more."""
        super().close()
        with _counting:
            if self.identity is not None:
                _open_here[self.identity] -= 1
            self.identity = None


def is_open_here(path: Path) -> bool:
    """Whether this process has a connection to the file.

    Then nothing but SQLite may open it: closing a file lets go of every lock that the
    process holds on it, other threads' as well. Source: SQLite, How To Corrupt An SQLite
    Database File, section 2.2.
    """
    try:
        found = path.stat()
    except OSError:
        return False
    with _counting:
        return _open_here[found.st_dev, found.st_ino] > 0


def connect(path: Path, *, read_only: bool = False) -> Database:
    """A connection to a file that exists; nothing is written by opening it.

    But a write that was cut short is rolled back first: who may only read can't do that.
    """
    if read_only and path.with_name(f"{path.name}-journal").exists():
        with suppress(sqlite3.Error), closing(connect(path)) as db:
            # The first reading does it.
            db.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    uri = f"file:{quote(str(path.resolve()))}?mode={'ro' if read_only else 'rw'}"
    # isolation_level None: transactions begin only where this package says so.
    seconds = BUSY_MS / 1000
    bare = sqlite3.connect(uri, uri=True, timeout=seconds, isolation_level=None, factory=_Counted)
    found = path.stat()
    with _counting:
        bare.identity = (found.st_dev, found.st_ino)
        _open_here[bare.identity] += 1
    try:
        db = Database(bare, execute_plugins=False)
        for setting in ("foreign_keys = ON", "trusted_schema = OFF", f"busy_timeout = {BUSY_MS}"):
            db.execute(f"PRAGMA {setting}")
    except BaseException:
        bare.close()
        raise
    return db


def make_durable(db: Database) -> None:
    """Let no commit return before it is on the disk, whatever stops the machine.

    With a rollback journal that takes EXTRA: it also waits until the folder no
    longer names the journal, which after a power cut would undo the commit.
    """
    wanted = "wal" if has_wal_fix(sqlite3.sqlite_version_info) else "delete"
    found = db.execute("PRAGMA journal_mode").fetchone()[0]
    if found != wanted:
        found = db.execute(f"PRAGMA journal_mode = {wanted}").fetchone()[0]
    if found != wanted:
        raise Refusal("file_busy")
    db.execute(f"PRAGMA synchronous = {'FULL' if wanted == 'wal' else 'EXTRA'}")


def refusal_for(error: Exception, path: Path) -> Refusal | None:
    """What SQLite's error means to a person; None if it is our own mistake."""
    name = str(getattr(error, "sqlite_errorname", ""))
    for start, code in _CODES.items():
        if name == start or name.startswith(f"{start}_"):
            return Refusal(code, file=str(path), reason=str(error))
    if any(words in str(error).lower() for words in _OF_DAMAGE):
        return Refusal("damaged_file", file=str(path), reason=str(error))
    return None


def refusal_of_system(error: OSError, path: Path) -> Refusal:
    """What the system's error about a file means to a person."""
    reason = str(error.strerror or error)
    if error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)):
        return Refusal("disk_full", file=str(path), reason=reason)
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return Refusal("read_only_file", file=str(path), reason=reason)
    return Refusal("disk_failed", file=str(path), reason=reason)


@contextmanager
def told_plainly(path: Path) -> Iterator[None]:
    """Raise SQLite's and the system's errors about the file as Refusals."""
    try:
        yield
    except UnicodeDecodeError as error:
        # Python reads SQLite's own words about a damaged file as UTF-8, which they may not be.
        raise Refusal("damaged_file", file=str(path), reason=str(error)) from error
    except OSError as error:
        raise refusal_of_system(error, path) from error
    except sqlite3.Error as error:
        refusal = refusal_for(error, path)
        if refusal is None:
            raise
        raise refusal from error


@contextmanager
def reading(db: Database) -> Iterator[None]:
    """See one state of the file throughout, whatever others write meanwhile."""
    if db.conn.in_transaction:
        yield
        return
    db.execute("BEGIN")
    try:
        yield
    finally:
        db.rollback()
