"""Make and open a hotel's file. What can't be opened is refused and left as it was."""

from __future__ import annotations

import os
import sqlite3 as own_sqlite
from contextlib import closing
from functools import cache
from pathlib import Path

from sqlite_utils import Database

from hotelwatch.core.problems import Refusal
from hotelwatch.store.backup import sync_file, sync_folder
from hotelwatch.store.connection import connect, make_durable, told_plainly
from hotelwatch.store.header import refuse_by_header
from hotelwatch.store.journal import Journal
from hotelwatch.store.schema import creation, objects
from hotelwatch.store.shares import network_kind_of


def create(path: Path) -> Journal:
    """Make a new, empty hotel file and open it.

    Raises Refusal: "file_exists", "no_such_folder", "read_only_file",
    "on_network_share", "disk_full".
    """
    _refuse_network(path)
    if not path.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(path.parent))
    try:
        path.open("xb").close()
    except FileExistsError as error:
        raise Refusal("file_exists", file=str(path)) from error
    except OSError as error:
        raise Refusal("read_only_file", file=str(path), reason=str(error)) from error
    partial = path.with_name(f"{path.name}.partial")
    try:
        with told_plainly(path):
            partial.write_bytes(_empty())
        sync_file(partial)
        partial.replace(path)
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    finally:
        partial.unlink(missing_ok=True)
    sync_folder(path.parent)
    return open_file(path)


def open_file(path: Path, *, read_only: bool = False) -> Journal:
    """Open a hotel's file; a worker that only reads asks for ``read_only``.

    Raises Refusal: "no_such_file", "not_a_hotel_file", "newer_file",
    "damaged_file", "read_only_file", "on_network_share", "file_busy".
    """
    _refuse_network(path)
    refuse_by_header(path)
    if not read_only and not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)):
        raise Refusal("read_only_file", file=str(path))
    # A journal that lies there tells of a write that was cut short, or goes on.
    was_cut_short = path.with_name(f"{path.name}-journal").exists()
    with told_plainly(path):
        db = connect(path, read_only=read_only)
        try:
            _refuse_damaged(db, path, thoroughly=was_cut_short)
            if not read_only:
                make_durable(db)
            return Journal(path, db, read_only=read_only)
        except BaseException:
            db.close()
            raise


@cache
def _empty() -> bytes:
    """A file without facts. Python's own SQLite makes it: another might not give its bytes."""
    with closing(own_sqlite.connect(":memory:", isolation_level=None)) as conn:
        conn.execute("BEGIN")
        for statement in creation():
            conn.execute(statement)
        conn.execute("COMMIT")
        return conn.serialize()


def _refuse_network(path: Path) -> None:
    if kind := network_kind_of(path):
        raise Refusal("on_network_share", file=str(path), share=kind)


def _refuse_damaged(db: Database, path: Path, *, thoroughly: bool) -> None:
    found = dict(db.execute("SELECT name, sql FROM sqlite_schema").fetchall())
    wrong = sorted(name for name, sql in objects().items() if found.get(name) != sql)
    if wrong:
        raise Refusal("damaged_file", file=str(path), reason=", ".join(wrong))
    if thoroughly:
        told = db.execute("PRAGMA quick_check").fetchone()[0]
        if told != "ok":
            raise Refusal("damaged_file", file=str(path), reason=str(told))
