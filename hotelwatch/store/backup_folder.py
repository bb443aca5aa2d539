"""The folder of a hotel's backups: made by themselves, listed, copied elsewhere, pruned.

A backup's name tells when it was made, its last entry and the start of that entry's
digest. Photos, logs and papers bear their digest as a name and never change, so all
backups share one folder of each.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime
from glob import escape
from pathlib import Path

from hotelwatch.core.backups import Backup
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.store import header
from hotelwatch.store.backup import (
    LAST_ENTRY,
    are_alike,
    as_it_lies,
    copy_beside,
    copy_file,
    copy_whole,
    partial_of,
    refuse_unsound,
    sync_folder,
)
from hotelwatch.store.connection import connect, sqlite3, told_plainly
from hotelwatch.store.kept_files import PARTIAL

_NAMED = re.compile(r"(\d{8}T\d{6}Z)-(\d{1,12})-([0-9a-f]{12}|empty)\.[^.]+")
_STAMP = "%Y%m%dT%H%M%SZ"
_DIGITS = 12
_DAY_SECONDS = 86_400
ENDING = ".backups"
"""How the name of a folder of backups ends."""
OF_THE_FOLDER = ("disk_full", "disk_failed")
"""What SQLite says where the copy can't be written; reading does not fail so."""
_PAGE_SIZE_AT, _PAGES_AT = 16, 28
FIRST_DIGEST = "SELECT digest FROM entry WHERE id = 1"


def folder_beside(hotel_file: Path) -> Path:
    """Where backups lie by default: a folder beside the hotel's file, named after it."""
    return folder_in(hotel_file.parent, hotel_file)


def folder_in(place: Path, hotel_file: Path) -> Path:
    """Where the backups of a hotel lie in another folder."""
    return place / f"{hotel_file.stem}{ENDING}"


def stem_in(folder: Path, hotel_file: Path) -> Path:
    """A file's name in the folder of backups after which their photos and papers are named."""
    return folder / hotel_file.name


def keep_backup(
    path: Path, *, folder: Path, at: datetime, progress: Progress = silent
) -> tuple[Backup, bool]:
    """Back the file up into a folder; the backup, and whether it was made just now.

    Where nothing was written down since the last one, that one is looked through instead.
    Refusal("backup_failed") where the folder can't be written to; what SQLite says.
    """
    with _failing_plainly(folder):
        folder.mkdir(exist_ok=True)
        _sweep(folder, path, at)
        partial = partial_of(folder / path.name)
        try:
            with told_plainly(path), closing(connect(path, read_only=True)) as db:
                known = _kept_already(folder, db.execute(LAST_ENTRY).fetchone())
                if known is not None:
                    copy_beside(path, stem_in(folder, path))
                    return known, False
                last, digest = copy_whole(db, path, partial, progress)
            copy_beside(path, stem_in(folder, path))
            name = _name(at.astimezone(UTC).strftime(_STAMP), last, digest, path.suffix)
            partial.replace(folder / name)
            sync_folder(folder)
        finally:
            partial.unlink(missing_ok=True)
    return backup_at(folder / name), True


def _name(stamp: str, last: int, digest: str, suffix: str) -> str:
    return f"{stamp}-{last}-{digest[:_DIGITS] or 'empty'}{suffix}"


def name_after(copy: Path, last: int, digest: str) -> str:
    """A backup's name once it ends with that entry; another file's is its own."""
    named = _NAMED.fullmatch(copy.name)
    return _name(named[1], last, digest, copy.suffix) if named else copy.name


def _sweep(folder: Path, hotel_file: Path, at: datetime) -> None:
    """Delete what a backup that was cut short left behind, a day ago or longer."""
    for left in folder.glob(f"{escape(hotel_file.name)}.*{PARTIAL}*"):
        with suppress(OSError):
            if at.timestamp() - left.stat().st_mtime > _DAY_SECONDS:
                left.unlink()


def _kept_already(folder: Path, last: tuple[int, str] | None) -> Backup | None:
    known = next(iter(list_backups(folder)), None)
    if known is None or (known.last_entry, known.digest) != (
        last[0] if last else 0,
        last[1][:_DIGITS] if last else "",
    ):
        return None
    try:
        refuse_unsound(folder / known.name)
    except Refusal:
        return None
    return known


def list_backups(folder: Path) -> tuple[Backup, ...]:
    """The backups in a folder that bear a name of ours, the latest first."""
    if not folder.is_dir():
        return ()
    found = (backup_at(path) for path in folder.iterdir() if _NAMED.fullmatch(path.name))
    return tuple(sorted(found, key=lambda backup: (backup.made_at, backup.name), reverse=True))


def backup_at(path: Path) -> Backup:
    """A backup as its name and its size tell of it. Refusal("no_backup") for another name."""
    named = _NAMED.fullmatch(path.name)
    if named is None:
        raise Refusal("no_backup", file=str(path))
    made_at = datetime.strptime(named[1], _STAMP).replace(tzinfo=UTC)
    digest = "" if named[3] == "empty" else named[3]
    size = path.stat().st_size if path.is_file() else 0
    return Backup(path.name, made_at, int(named[2]), digest, _looks_whole(path), size)


def _looks_whole(path: Path) -> bool:
    """Whether a file is marked as a hotel's and as long as its header says."""
    try:
        if not header.is_hotel_file(path):
            return False
        with path.open("rb") as file:
            start = file.read(_PAGES_AT + 4)
    except OSError:
        return False
    # Source: SQLite's file format: bytes 16, 17 page size (1: 65536), 28 to 31 pages.
    size = int.from_bytes(start[_PAGE_SIZE_AT : _PAGE_SIZE_AT + 2], "big")
    pages = int.from_bytes(start[_PAGES_AT:], "big")
    return path.stat().st_size == (65_536 if size == 1 else size) * pages


def copy_elsewhere(backup: Path, *, hotel_file: Path, place: Path) -> Path:
    """Copy a backup to another disk or share, and read it back; where it lies.

    Refusal("backup_copy_failed") tells why it could not.
    """
    if not place.is_dir():
        raise Refusal("backup_copy_failed", folder=str(place), reason="No such folder")
    target = folder_in(place, hotel_file) / backup.name
    try:
        target.parent.mkdir(exist_ok=True)
        if not target.exists() or not are_alike(backup, target):
            copy_file(backup, target)
            if not are_alike(backup, target):
                raise Refusal("backup_copy_failed", folder=str(place), reason="Read back otherwise")
        copy_beside(stem_in(backup.parent, hotel_file), stem_in(target.parent, hotel_file))
        refuse_unsound(target)
    except OSError as error:
        reason = str(error.strerror or error)
        raise Refusal("backup_copy_failed", folder=str(place), reason=reason) from error
    return target


def prune(folder: Path, backups: Iterable[Backup], *, first_digest: str) -> tuple[str, ...]:
    """Delete these backups, as far as they are of the hotel with that first entry; their names.

    What can't be opened, or tells otherwise than its name, is left alone: it may not be ours.
    """
    gone = []
    for backup in backups:
        path = folder / backup.name
        if _is_of(path, backup, first_digest):
            with suppress(OSError):
                path.unlink()
                gone.append(backup.name)
    return tuple(gone)


def _is_of(path: Path, backup: Backup, first_digest: str) -> bool:
    if not _NAMED.fullmatch(path.name) or not header.is_hotel_file(path):
        return False
    try:
        with closing(as_it_lies(path)) as db:
            first = db.execute(FIRST_DIGEST).fetchone()
            last = db.execute(LAST_ENTRY).fetchone()
    except sqlite3.Error:
        return False
    if first is None or last is None:
        return False
    return (first[0], last[0], last[1][:_DIGITS]) == (
        first_digest,
        backup.last_entry,
        backup.digest,
    )


def first_digest_of(path: Path) -> str:
    """The digest of a file's first entry, by which a hotel is known; empty where it has none."""
    with told_plainly(path), closing(connect(path, read_only=True)) as db:
        first = db.execute(FIRST_DIGEST).fetchone()
        return str(first[0]) if first else ""


@contextmanager
def _failing_plainly(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        reason = str(error.strerror or error)
        raise Refusal("backup_failed", folder=str(folder), reason=reason) from error
    except Refusal as refusal:
        if refusal.code not in OF_THE_FOLDER:
            raise
        reason = refusal.values.get("reason", "")
        raise Refusal("backup_failed", folder=str(folder), reason=reason) from refusal
