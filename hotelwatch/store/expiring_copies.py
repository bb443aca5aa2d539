"""Expiry brought to copies of a hotel's file: its backups, here and elsewhere, and those aside.

What has expired in the file goes from a copy too, under an entry of the copy's own: its
chain goes on from where the copy was made, every digest before it stays, and whoever goes
back to it finds said what went. That entry bears no name, and the moment at which the file
says that it expired; so the same copy in two places stays the same, byte for byte in all
that a digest is taken of.

A number of words may stand for others in a copy that went another way. So words are the
same where their digest is, which is taken with a salt of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from glob import escape
from pathlib import Path

from sqlite_utils import Database

from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.record_facts import OF_WORDS, ContentExpired, Expiring
from hotelwatch.core.records import Entry
from hotelwatch.core.retention import FILES
from hotelwatch.store.backup import (
    ASIDE,
    LAST_ENTRY,
    WITH_THE_FILE,
    are_alike,
    as_it_lies,
    copy_file,
    copy_whole,
    delete_whole,
    partial_of,
    refuse_unsound,
    sync_file,
    sync_folder,
)
from hotelwatch.store.backup_folder import (
    FIRST_DIGEST,
    folder_beside,
    folder_in,
    list_backups,
    name_after,
    stem_in,
)
from hotelwatch.store.chain import digest_of
from hotelwatch.store.columns import moment_of
from hotelwatch.store.connection import connect, reading, refusal_of_system, told_plainly
from hotelwatch.store.expiring import delete_files
from hotelwatch.store.header import refuse_by_header
from hotelwatch.store.journal import PROGRAM, entry_row, write_lines
from hotelwatch.store.schema import fact_tables, table_name
from hotelwatch.store.words import forget

EXPIRE_IN_COPY = "expire_in_copy"
"""The action of a copy's own entry."""
_EXPIRED = (
    "SELECT entry, recorded_at, what, which, keeps_years, policy"
    " FROM content_expired JOIN entry ON id = entry ORDER BY entry, line"
)


@dataclass(frozen=True, slots=True)
class Gone:
    """What a hotel's file says has expired, and was not kept again since."""

    facts: tuple[tuple[datetime, ContentExpired], ...]
    words: Mapping[str, str]
    """The digest of each words' number."""
    first_digest: str
    """Of the file's first entry, by which its copies are known."""
    said_by: tuple[int, str]
    """Number and digest of the last entry that says so: a copy that has it lacks nothing."""

    @property
    def files(self) -> frozenset[str]:
        """Digests of files."""
        return frozenset(
            one for _, fact in self.facts if fact.what not in OF_WORDS for one in fact.which
        )


@dataclass(frozen=True, slots=True)
class Unreached:
    """A copy, or a folder of them, that could not be changed: it holds what it held."""

    path: Path
    why: Refusal


@dataclass(frozen=True, slots=True)
class Reached:
    """How expiry came to the copies."""

    changed: tuple[Path, ...] = ()
    """Those that held something that had expired, and hold it no more."""
    unreached: tuple[Unreached, ...] = ()


@dataclass(frozen=True, slots=True)
class Copies:
    """Where a hotel's copies lie, as far as the program knows."""

    hotel_file: Path
    place: Path | None = None
    """The folder on another disk or share to which backups are copied."""

    def folders(self) -> tuple[Path, ...]:
        """The folders of backups, the one beside the file first."""
        beside = folder_beside(self.hotel_file)
        if self.place is None:
            return (beside,)
        return (beside, folder_in(self.place, self.hotel_file))

    def listed(self) -> Iterator[Path]:
        """Every copy: backups here, backups elsewhere, files set aside by a restore."""
        for folder in self.folders():
            yield from (folder / backup.name for backup in list_backups(folder))
        path = self.hotel_file
        yield from sorted(path.parent.glob(f"{escape(path.stem)}{ASIDE}*{path.suffix}"))


# --- what has expired ---------------------------------------------------------------


def gone_of(path: Path) -> Gone:
    """What a hotel's file says has expired; read through a connection of its own."""
    with told_plainly(path), closing(connect(path, read_only=True)) as db, reading(db):
        return _gone(db)


def _gone(db: Database) -> Gone:
    again = {what: _kept_last(db, what) for what in FILES}
    facts = []
    said_by = 0
    for entry, recorded_at, what, which, *kept in db.execute(_EXPIRED):
        said_by, sort = entry, Expiring(what)
        later = again.get(sort, {})
        left = tuple(one for one in which.split("\n") if later.get(one, 0) <= entry)
        if left:
            facts.append((moment_of(recorded_at), ContentExpired(sort, left, *kept)))
    noted = db.execute(
        "SELECT number, sha256 FROM word_noted WHERE number NOT IN (SELECT number FROM word_kept)"
    )
    digest = db.execute("SELECT digest FROM entry WHERE id = ?", (said_by,)).fetchone()
    first = db.execute(FIRST_DIGEST).fetchone()
    return Gone(
        tuple(facts),
        {str(number): sha256 for number, sha256 in noted},
        first[0] if first else "",
        (said_by, digest[0] if digest else ""),
    )


def _kept_last(db: Database, what: Expiring) -> dict[str, int]:
    """The last entry that kept each photo, paper or log."""
    sql = f"SELECT sha256, max(entry) FROM {table_name(FILES[what])}_now GROUP BY sha256"
    return dict(db.execute(sql).fetchall())


def still_in(db: Database, gone: Gone) -> tuple[tuple[datetime, ContentExpired], ...]:
    """What of that a copy still holds, or holds without saying that it went."""
    number, digest = gone.said_by
    knows = "SELECT 1 FROM entry WHERE id = ? AND digest = ?"
    if db.execute(knows, (number, digest)).fetchone():
        return ()
    words = dict(
        db.execute("SELECT number, sha256 FROM word_kept JOIN word_noted USING (number)").fetchall()
    )
    kept = {what: _kept_last(db, what) for what in FILES}
    for entry, _, what, which, *_ in db.execute(_EXPIRED).fetchall():
        for one in which.split("\n"):
            if kept.get(Expiring(what), {}).get(one, entry) < entry:
                del kept[Expiring(what)][one]
    found = []
    for at, fact in gone.facts:
        if fact.what in OF_WORDS:
            which = [n for n in fact.which if words.get(int(n)) == gone.words.get(n, "")]
        else:
            which = [one for one in fact.which if kept[fact.what].pop(one, 0)]
        if which:
            found.append((at, replace(fact, which=tuple(which))))
    return tuple(found)


# --- one copy -----------------------------------------------------------------------


def expire_in(copy: Path, gone: Gone) -> tuple[int, str] | None:
    """Let it go from a file that nobody else uses; its last entry then, None: nothing was there.

    Neither the file nor its unused parts hold the words afterwards; it is on the disk.
    """
    with told_plainly(copy), closing(connect(copy)) as db:
        db.conn.execute("BEGIN IMMEDIATE")
        found = still_in(db, gone)
        if not found:
            db.rollback()
            return None
        last = _write(db, found)
        db.conn.execute("COMMIT")
        db.conn.execute("VACUUM")
    sync_file(copy)
    return last


def _write(db: Database, found: tuple[tuple[datetime, ContentExpired], ...]) -> tuple[int, str]:
    facts = [fact for _, fact in found]
    number, before = db.execute(LAST_ENTRY).fetchone()
    (before_at,) = db.execute("SELECT recorded_at FROM entry WHERE id = ?", (number,)).fetchone()
    at = max(moment_of(before_at), *(at for at, _ in found)).astimezone(UTC)
    head = entry_row(Entry(number + 1, at, "", EXPIRE_IN_COPY, "", None, PROGRAM, ""))
    table = fact_tables()[ContentExpired]
    lines = [(table.name, table.encode(fact)) for fact in facts]
    digest = digest_of(head, lines, before)
    write_lines(db, (*head.values(), digest), lines)
    forget(db, facts)
    return number + 1, digest


# --- all copies ---------------------------------------------------------------------


def behind(copies: Copies, gone: Gone, progress: Progress = silent) -> Reached:
    """Which copies still hold what has expired, as ``changed``; nothing is written."""
    return _each(copies, gone, lambda copy: copy, progress)


def reach(copies: Copies, gone: Gone, progress: Progress = silent) -> Reached:
    """Let what has expired go from every copy, and files from beside the backups.

    Each is changed as a copy of itself and opened before it takes the place: at every
    moment a whole one is there. One that does not hold is not touched.
    """
    found = _each(copies, gone, lambda copy: _reach(copies.hotel_file, copy, gone), progress)
    left = []
    for folder in copies.folders() if gone.facts else ():
        try:
            delete_files(stem_in(folder, copies.hotel_file), (fact for _, fact in gone.facts))
        except OSError as error:
            left.append(Unreached(folder, refusal_of_system(error, folder)))
    return replace(found, unreached=(*found.unreached, *left))


def _each(copies: Copies, gone: Gone, deed: Callable[[Path], Path], progress: Progress) -> Reached:
    """Do it to each copy that holds what has expired."""
    if not gone.facts:
        return Reached()
    changed, unreached = [], []
    if copies.place is not None and not copies.place.is_dir():
        unreached.append(
            Unreached(copies.place, Refusal("no_such_folder", folder=str(copies.place)))
        )
    listed = list(copies.listed())
    for number, copy in enumerate(listed):
        progress(number / len(listed), "expiring_in_copies")
        try:
            if _holds(copy, gone):
                changed.append(deed(copy))
        except Refusal as refusal:
            # Another window may have pruned or changed it meanwhile.
            if refusal.code != "no_such_file":
                unreached.append(Unreached(copy, refusal))
        except OSError as error:
            unreached.append(Unreached(copy, refusal_of_system(error, copy)))
    return Reached(tuple(changed), tuple(unreached))


def _holds(copy: Path, gone: Gone) -> bool:
    """Whether a copy is of this hotel and holds something that has expired."""
    refuse_by_header(copy)
    _settle(copy)
    with told_plainly(copy), closing(as_it_lies(copy)) as db:
        first = db.execute(FIRST_DIGEST).fetchone()
        return first == (gone.first_digest,) and bool(still_in(db, gone))


def _settle(copy: Path) -> None:
    """Let a file set aside in the middle of a write take in, or lose, what lies beside it."""
    beside = [Path(f"{copy}{ending}") for ending in WITH_THE_FILE]
    if any(path.exists() for path in beside):
        with told_plainly(copy), closing(connect(copy)) as db:
            db.execute("PRAGMA journal_mode = DELETE")
        if any(path.exists() for path in beside):
            raise Refusal("file_busy", file=str(copy))


def _reach(hotel_file: Path, copy: Path, gone: Gone) -> Path:
    """Let it go from one copy; where that lies now."""
    beside = folder_beside(hotel_file)
    with told_plainly(copy):
        beside.mkdir(exist_ok=True)
        # Made here: a share has no locks to trust, and a partial one there would be left there.
        partial = partial_of(stem_in(beside, hotel_file))
        try:
            with closing(as_it_lies(copy)) as db:
                copy_whole(db, copy, partial)
            last = expire_in(partial, gone)
            refuse_unsound(partial, blamed=copy)
            target = copy if last is None else copy.with_name(name_after(copy, *last))
            if target.parent == partial.parent or copy.parent == hotel_file.parent:
                partial.replace(target)
            else:
                copy_file(partial, target)
                if not are_alike(partial, target):
                    raise Refusal("disk_failed", file=str(target))
        finally:
            delete_whole(partial)
        if target != copy:
            copy.unlink(missing_ok=True)
        sync_folder(target.parent)
    return target
