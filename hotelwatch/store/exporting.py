"""Everything that a hotel's file holds, in formats that any program reads.

Into a folder go the chain line by line (``entries.jsonl``, ``digests.txt``), the words that
have not expired (``words.jsonl``), bookings (``stays.jsonl``), each table as csv, photos,
papers and logs as they lie, a description, and a list of all files with their SHA-256. No
moment and no name of a folder stands in it: of the same record the same bytes come out.
``store.importing`` makes a hotel's file of it again.
"""

from __future__ import annotations

import csv
import json
import shutil
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from hashlib import file_digest
from pathlib import Path

from sqlite_utils import Database
from sqlite_utils.db import quote_identifier

from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.store import kept_files, photos
from hotelwatch.store.backup import sync_file, sync_folder
from hotelwatch.store.chain import canonical
from hotelwatch.store.columns import Cell
from hotelwatch.store.connection import connect, reading, told_plainly
from hotelwatch.store.header import refuse_by_header
from hotelwatch.store.loading import stay_rows
from hotelwatch.store.schema import ENTRY_COLUMNS, FORMAT, fact_tables, stay_columns
from hotelwatch.store.verify import entries_with_lines
from hotelwatch.store.words import ENTRY_WORDS, Words

ENTRIES, DIGESTS, WORDS, STAYS = "entries.jsonl", "digests.txt", "words.jsonl", "stays.jsonl"
MANIFEST, SUMS = "manifest.json", "SHA256SUMS"
PHOTOS, PAPERS, TABLES = "photos", "papers", "csv"
KEPT = ((PHOTOS, photos.folder_of), (PAPERS, kept_files.folder_of))
"""Folders of an export that hold what lies beside the hotel's file."""
ASKS_EVERY = 200
"""So many entries are written before somebody may stop."""
_ZIP_DAY = (1980, 1, 1, 0, 0, 0)
"""The first day that a zip knows: the same bytes, whenever it is made."""

Texts = Mapping[str, bytes]
"""What is added as it is, by its name: the description, how to verify."""


def export(path: Path, to: Path, texts: Texts, progress: Progress = silent) -> tuple[int, str]:
    """Write everything into a folder that is not there yet; the last entry's number, its digest.

    It is there whole or not at all. Refusal("export_not_empty"); what SQLite or the system
    says, as "disk_full", "no_such_folder". The digests are those that the file has, right
    or wrong: going through the file tells that.
    """
    refuse_by_header(path)
    if not to.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(to.parent))
    if to.exists() and (not to.is_dir() or any(to.iterdir())):
        raise Refusal("export_not_empty", folder=str(to))
    partial = to.with_name(f"{to.name}.partial")
    shutil.rmtree(partial, ignore_errors=True)
    try:
        with told_plainly(to):
            partial.mkdir()
            last = _write(path, partial, texts, progress)
            if to.exists():
                to.rmdir()
            partial.replace(to)
            sync_folder(to.parent)
    finally:
        shutil.rmtree(partial, ignore_errors=True)
    return last


def export_zip(path: Path, to: Path, texts: Texts, progress: Progress = silent) -> tuple[int, str]:
    """As ``export``, into one file; the same record gives the same bytes. An older one goes."""
    place = to.with_name(f"{to.name}.folder{kept_files.PARTIAL}")
    shutil.rmtree(place, ignore_errors=True)
    try:
        if to.parent.is_dir():
            with told_plainly(to):
                place.mkdir()
        last = export(path, place / to.stem, texts, progress)
        zip_folder(place / to.stem, to, progress)
    finally:
        shutil.rmtree(place, ignore_errors=True)
    return last


def zip_folder(folder: Path, to: Path, progress: Progress = silent) -> None:
    """Pack an export into one file; the same folder gives the same bytes."""
    partial = to.with_name(f"{to.name}.partial")
    try:
        with told_plainly(to), zipfile.ZipFile(partial, "w", zipfile.ZIP_DEFLATED) as packed:
            files = list(_files(folder))
            for number, file in enumerate(files):
                progress(number / len(files), "packing")
                head = zipfile.ZipInfo(f"{folder.name}/{_name(folder, file)}", _ZIP_DAY)
                head.compress_type = zipfile.ZIP_DEFLATED
                with file.open("rb") as source, packed.open(head, "w", force_zip64=True) as target:
                    shutil.copyfileobj(source, target)
        sync_file(partial)
        partial.replace(to)
        sync_folder(to.parent)
    finally:
        partial.unlink(missing_ok=True)


def sums(folder: Path) -> str:
    """The list of an export's files with their SHA-256, as ``sha256sum`` writes and checks it."""
    lines = []
    for file in _files(folder):
        if file.name != SUMS:
            with file.open("rb") as opened:
                lines.append(
                    f"{file_digest(opened, 'sha256').hexdigest()}  {_name(folder, file)}\n"
                )
    return "".join(lines)


def _write(path: Path, folder: Path, texts: Texts, progress: Progress) -> tuple[int, str]:
    with closing(connect(path, read_only=True)) as db, reading(db):
        last = _write_chain(db, folder, progress)
        _lines(folder / WORDS, _kept_words(db))
        _lines(folder / STAYS, map(canonical, stay_rows(db)))
        progress(0.6, "writing_tables")
        _write_tables(db, folder / TABLES)
    progress(0.8, "copying_photos")
    for name, folder_of in KEPT:
        _copy(folder_of(path), folder / name)
    manifest = {"entries": last[0], "format": FORMAT, "last_digest": last[1], "what": "hotelwatch"}
    _lines(folder / MANIFEST, [canonical(manifest)])
    for name, content in texts.items():
        (folder / name).write_bytes(content)
    progress(0.9, "taking_digests")
    (folder / SUMS).write_bytes(sums(folder).encode())
    return last


def _write_chain(db: Database, folder: Path, progress: Progress) -> tuple[int, str]:
    count = max(1, db.execute("SELECT count(*) FROM entry").fetchone()[0])
    number, before = 0, ""
    with (folder / ENTRIES).open("wb") as lines, (folder / DIGESTS).open("wb") as digests:
        for done, (head, facts) in enumerate(entries_with_lines(db)):
            if done % ASKS_EVERY == 0:
                progress(0.6 * done / count, "writing_entries")
            entry = dict(head)
            digest = str(entry.pop("digest"))
            whole = {"before": before, "entry": entry, "facts": facts}
            lines.write(canonical(whole).encode() + b"\n")
            digests.write(f"{digest}  {entry['id']}\n".encode())
            number, before = int(str(entry["id"])), digest
    return number, before


def _kept_words(db: Database) -> Iterator[str]:
    for number, salt, words in db.execute("SELECT number, salt, words FROM word_kept ORDER BY 1"):
        yield canonical({"number": number, "salt": salt, "words": words})


def _write_tables(db: Database, folder: Path) -> None:
    """Each table as RFC 4180 has csv, in UTF-8, with words where they have not expired."""
    folder.mkdir()
    words = Words(db)
    hidden: dict[str, set[str]] = {"entry": set(ENTRY_WORDS)}
    columns: dict[str, Sequence[str]] = {"entry": ENTRY_COLUMNS}
    for table in fact_tables().values():
        columns[table.name] = ("entry", "line", *(column.name for column in table.columns))
        hidden[table.name] = {column.name for column in table.columns if column.sort}
    columns["stay"] = [column.name for column in stay_columns()]
    for name, listed in columns.items():
        order = {"entry": "id", "stay": "line"}.get(name, "entry, line")
        quoted = ", ".join(map(quote_identifier, listed))
        rows = db.execute(f"SELECT {quoted} FROM {name} ORDER BY {order}")
        shows = [column in hidden.get(name, ()) for column in listed]
        with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            out = csv.writer(file, lineterminator="\r\n")
            out.writerow(listed)
            out.writerows(_shown(row, shows, words) for row in rows)


def _shown(row: Sequence[Cell], shows: Sequence[bool], words: Words) -> list[Cell]:
    return [
        words[str(cell)] if is_words else cell for cell, is_words in zip(row, shows, strict=True)
    ]


def _copy(source: Path, target: Path) -> None:
    if not source.is_dir():
        return
    target.mkdir()
    for file in sorted(source.iterdir()):
        if file.is_file() and file.suffix != kept_files.PARTIAL:
            shutil.copyfile(file, target / file.name)


def _lines(path: Path, lines: Iterable[str]) -> None:
    with path.open("wb") as file:
        for line in lines:
            file.write(line.encode() + b"\n")


def _files(folder: Path) -> list[Path]:
    return sorted(
        (file for file in folder.rglob("*") if file.is_file()), key=lambda f: _name(folder, f)
    )


def _name(folder: Path, file: Path) -> str:
    return file.relative_to(folder).as_posix()


def read_manifest(folder: Path) -> Mapping[str, object]:
    """What an export says of itself. ValueError or OSError where it says nothing."""
    found = json.loads((folder / MANIFEST).read_bytes())
    if not isinstance(found, dict):
        raise ValueError(MANIFEST)
    return found
