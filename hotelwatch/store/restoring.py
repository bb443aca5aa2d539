"""Going back to a backup: what it would lose, told before; the present file is set aside.

Nothing is deleted. The present file gets another name first, so that at every moment a
whole file bears the hotel's name, wherever the machine stops.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlite_utils import Database

from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Entry
from hotelwatch.store.backup import (
    ASIDE,
    WITH_THE_FILE,
    as_it_lies,
    copy_beside,
    copy_file,
    delete_whole,
    partial_of,
    refuse_unsound,
    sync_file,
    sync_folder,
)
from hotelwatch.store.backup_folder import OF_THE_FOLDER
from hotelwatch.store.connection import connect, reading, sqlite3, told_plainly
from hotelwatch.store.expiring_copies import EXPIRE_IN_COPY, expire_in, gone_of, still_in
from hotelwatch.store.header import refuse_by_header
from hotelwatch.store.loading import read_entries
from hotelwatch.store.verify import verify

_UNREADABLE = ("damaged_file", "not_a_hotel_file", "no_such_file", "older_file")


@dataclass(frozen=True, slots=True)
class Apart:
    """How a file and a backup of it differ."""

    backup_last: int
    backup_digest: str
    present_is_readable: bool
    present_last: tuple[int, str] | None
    """Number and digest of the file's last entry; None where it can't be read."""
    lost: tuple[Entry, ...]
    """Entries that stand in the file only, in their order."""
    gained: int
    """How many entries stand in the backup only, without those that say what expired in it."""
    expired_since: int
    """How many things the backup holds that have expired in the file: they go from it again."""


def apart(path: Path, backup: Path, *, beside: Path | None = None) -> Apart:
    """Go through a backup, and say what the present file holds that it does not.

    ``beside`` is the name after which the backup's photos and papers are kept.
    Refusal("backup_not_sound") where the backup does not hold, ("backup_of_another_hotel").
    """
    found = verify(backup, beside=beside)
    if not found.is_sound:
        raise Refusal("backup_not_sound", file=str(backup))
    last = found.entries
    with told_plainly(backup), closing(as_it_lies(backup)) as kept:
        chain = dict(kept.execute("SELECT id, digest FROM entry").fetchall())
        own = "SELECT id FROM entry WHERE action = ?"
        of_expiry = {number for (number,) in kept.execute(own, (EXPIRE_IN_COPY,))}
    try:
        present = _entries(path)
    except Refusal as refusal:
        if refusal.code not in _UNREADABLE:
            raise
        return Apart(last, found.last_digest, False, None, (), 0, 0)
    shared = 0
    for number, entry in present.items():
        if chain.get(number) != entry.digest:
            break
        shared = number
    if present and chain and not shared:
        raise Refusal("backup_of_another_hotel", file=str(backup))
    lost = tuple(entry for number, entry in present.items() if number > shared)
    ended = next(reversed(present), 0)
    at_end = (ended, present[ended].digest if ended else "")
    gained = sum(number > shared and number not in of_expiry for number in chain)
    return Apart(last, found.last_digest, True, at_end, lost, gained, _expired_since(path, backup))


def _expired_since(path: Path, backup: Path) -> int:
    gone = gone_of(path)
    with told_plainly(backup), closing(as_it_lies(backup)) as kept:
        return sum(len(fact.which) for _, fact in still_in(kept, gone))


def _entries(path: Path) -> dict[int, Entry]:
    refuse_by_header(path)
    with told_plainly(path):
        db = connect(path, read_only=True)
        with closing(db), reading(db):
            try:
                return read_entries(db, "1")
            except (ValueError, TypeError) as error:
                raise Refusal("damaged_file", file=str(path), reason=str(error)) from error


def put_back(
    path: Path, backup: Path, *, beside: Path, at: datetime, expected_last: tuple[int, str] | None
) -> Path | None:
    """Put a copy of the backup in the file's place; the name under which the file is kept.

    What has expired in the file goes from the copy first, under an entry of its own.
    ``expected_last`` is the number and digest of the file's last entry, as it was told what
    would be lost; None where the file can't be read. None is returned where there was no
    file. Refusal("file_went_on") where another window wrote since, ("file_busy"), ("file_busy")
    too where the system lets nobody rename an open file.
    """
    partial = partial_of(path)
    try:
        copy_file(backup, partial)
        if expected_last is not None:
            expire_in(partial, gone_of(path))
        refuse_unsound(partial)
        # Before it takes the place: where there is no room for them, nothing was changed.
        copy_beside(beside, path, without=gone_of(partial).files)
        with ExitStack() as held:
            if expected_last is not None:
                held.enter_context(_held(path, expected_last))
                if os.name == "nt":  # an open file can't be renamed there
                    held.close()
            aside = _set_aside(path, at, held)
            partial.replace(path)
            sync_folder(path.parent)
    except PermissionError as error:
        raise Refusal("file_busy", file=str(path), reason=str(error)) from error
    except OSError as error:
        raise _failed(path, str(error.strerror or error)) from error
    except Refusal as refusal:
        if refusal.code not in OF_THE_FOLDER:
            raise
        raise _failed(path, refusal.values.get("reason", "")) from refusal
    finally:
        with suppress(OSError):
            delete_whole(partial)
    return aside


def _failed(path: Path, reason: str) -> Refusal:
    return Refusal("restore_failed", folder=str(path.parent), reason=reason)


@contextmanager
def _held(path: Path, expected: tuple[int, str]) -> Iterator[Database]:
    """The file, to which nobody may write meanwhile."""
    with told_plainly(path), closing(connect(path)) as db:
        db.conn.execute("BEGIN EXCLUSIVE")
        try:
            last = db.execute("SELECT id, digest FROM entry ORDER BY id DESC LIMIT 1").fetchone()
            if (last or (0, "")) != expected:
                raise Refusal("file_went_on", file=str(path))
            yield db
        finally:
            with suppress(sqlite3.Error):
                db.rollback()


def _set_aside(path: Path, at: datetime, held: ExitStack) -> Path | None:
    if not path.exists():
        return None
    stamp = at.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    aside, times = path.with_name(f"{path.stem}{ASIDE}{stamp}{path.suffix}"), 1
    while aside.exists():
        times += 1
        aside = path.with_name(f"{path.stem}{ASIDE}{stamp}-{times}{path.suffix}")
    for ending in WITH_THE_FILE:
        # The file put in its place must never be given the other one's journal.
        with suppress(FileNotFoundError):
            Path(f"{path}{ending}").rename(f"{aside}{ending}")
    try:
        aside.hardlink_to(path)
    except OSError:
        # A disk without second names, as a memory stick: a copy then, before it is replaced.
        # The file read from stays open: closing it would let go of the lock.
        source = held.enter_context(path.open("rb"))
        with aside.open("xb") as target:
            shutil.copyfileobj(source, target)
        sync_file(aside)
    sync_folder(path.parent)
    return aside
