"""A backup of a hotel's file, made while it is open, and checked before it counts."""

from __future__ import annotations

import os
import shutil
from contextlib import closing
from pathlib import Path

from sqlite_utils import Database

from hotelwatch.core.problems import Refusal
from hotelwatch.store import header, kept_files, photos
from hotelwatch.store.connection import sqlite3


def back_up(db: Database, path: Path, to: Path) -> None:
    """Copy the open file, its photos, logs and papers to another place.

    Refusal("file_exists") where ``to`` is anything but an older backup of this file;
    ("no_such_folder") where it would lie nowhere.
    """
    if not to.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(to.parent))
    if to.exists() and (to.samefile(path) or not _is_older(to, db)):
        raise Refusal("file_exists", file=str(to))
    partial = to.with_name(f"{to.name}.partial")
    try:
        partial.unlink(missing_ok=True)
        copy = sqlite3.connect(str(partial), isolation_level=None)
        try:
            db.conn.backup(copy)
            # One file that needs no other beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
            sound = copy.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            if not sound or copy.execute("PRAGMA foreign_key_check").fetchall():
                raise Refusal("damaged_file", file=str(path))
        finally:
            copy.close()
        sync_file(partial)
        partial.replace(to)
    finally:
        partial.unlink(missing_ok=True)
    sync_folder(to.parent)
    for folder_of in (photos.folder_of, kept_files.folder_of):
        _copy_folder(folder_of(path), folder_of(to))


def _is_older(to: Path, db: Database) -> bool:
    """Whether all that a file holds stands in the open one too: its last entry is ours."""
    if not header.is_hotel_file(to):
        return False
    try:
        with closing(sqlite3.connect(f"{to.resolve().as_uri()}?mode=ro", uri=True)) as other:
            last = other.execute("SELECT id, digest FROM entry ORDER BY id DESC LIMIT 1").fetchone()
    except sqlite3.DatabaseError:
        # A damaged backup may be of another hotel: who knows moves it away.
        return False
    ours = "SELECT 1 FROM entry WHERE id = ? AND digest = ?"
    return last is None or db.execute(ours, last).fetchone() is not None


def _copy_folder(source: Path, target: Path) -> None:
    if not source.is_dir():
        return
    target.mkdir(exist_ok=True)
    for file in sorted(source.iterdir()):
        if not (target / file.name).exists():
            partial = target / f"{file.name}.partial"
            shutil.copyfile(file, partial)
            sync_file(partial)
            partial.replace(target / file.name)
    sync_folder(target)


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
