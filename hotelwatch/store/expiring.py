"""What may expire, as the file and the folders beside it hold it; and its going."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from sqlite_utils import Database

from hotelwatch.core.facts import WordSort
from hotelwatch.core.record_facts import OF_WORDS, ContentExpired, Expiring
from hotelwatch.core.retention import Content
from hotelwatch.store.connection import sqlite3
from hotelwatch.store.kept_files import kept_file
from hotelwatch.store.photos import photo_path

KEPT_AT: Mapping[Expiring, Callable[[Path, str], Path | None]] = {
    Expiring.PHOTO: photo_path,
    Expiring.PAPER: kept_file,
    Expiring.LOG: kept_file,
}
"""Where a file lies that is kept beside a hotel's."""


def words_there(db: Database) -> tuple[Content, ...]:
    """Names and notes that are there, in the order written down."""
    what = {sort: expiring for expiring, sort in OF_WORDS.items()}
    sql = (
        "SELECT noted.sort, number, noted.concerns, entry, words FROM word_noted AS noted"
        " JOIN word_kept USING (number) ORDER BY number"
    )
    return tuple(
        Content(what[WordSort(sort)], str(number), concerns, entry, words if sort == "name" else "")
        for sort, number, concerns, entry, words in db.conn.execute(sql)
    )


def is_there(path: Path, content: Content) -> bool:
    """Whether a file that was kept lies beside the hotel's."""
    return KEPT_AT[content.what](path, content.which) is not None


def delete_files(owner: Path, facts: Iterable[ContentExpired]) -> int:
    """Delete files that have expired from beside a hotel's file; how many went.

    One that is gone already is no error: it may have been cut short before.
    """
    went = 0
    for fact in facts:
        for digest in fact.which if fact.what in KEPT_AT else ():
            found = KEPT_AT[fact.what](owner, digest)
            if found is not None:
                found.unlink(missing_ok=True)
                went += 1
    return went


def tidy(db: Database) -> bool:
    """Leave nothing of what was deleted in unused parts of the file; False where it is in use."""
    with suppress(sqlite3.Error):
        db.conn.execute("VACUUM")
        return True
    return False
