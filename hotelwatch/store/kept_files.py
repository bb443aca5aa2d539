"""Files that a case keeps as they came, beside the hotel's file under their digest."""

from __future__ import annotations

import os
from hashlib import sha256
from pathlib import Path

from hotelwatch.core.problems import Refusal
from hotelwatch.store.connection import told_plainly

LARGEST_BYTES = 50_000_000
PARTIAL = ".partial"


def folder_of(hotel_file: Path) -> Path:
    """The folder of a hotel's kept files: beside its file, named after it."""
    return hotel_file.with_name(f"{hotel_file.stem}.papers")


def kept_file(hotel_file: Path, digest: str) -> Path | None:
    """Where the file of that digest lies; None if it is not there."""
    folder = folder_of(hotel_file)
    found = sorted(folder.glob(f"{digest}.*")) if folder.is_dir() else []
    # A copy that was cut short is none; the file itself comes whole or not at all.
    return next((path for path in found if path.suffix != PARTIAL), None)


def keep_file(hotel_file: Path, source: Path) -> str:
    """Keep a copy of a file, unchanged; its SHA-256.

    Raises Refusal: "no_such_file", "paper_too_large".
    """
    if not source.is_file():
        raise Refusal("no_such_file", file=str(source))
    with told_plainly(source):
        content = source.read_bytes()
    if len(content) > LARGEST_BYTES:
        raise Refusal("paper_too_large", file=str(source), most=str(LARGEST_BYTES // 1_000_000))
    digest = sha256(content).hexdigest()
    write_whole(folder_of(hotel_file) / f"{digest}{source.suffix.lower() or '.txt'}", content)
    return digest


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is there whole or not at all; one that is there stays.

    Raises Refusal: "disk_full", "disk_failed", "read_only_file".
    """
    partial = path.with_name(f"{path.name}{PARTIAL}")
    with told_plainly(path):
        path.parent.mkdir(exist_ok=True)
        if path.exists():
            return
        try:
            with partial.open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            partial.replace(path)
        finally:
            partial.unlink(missing_ok=True)
