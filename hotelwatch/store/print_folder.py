"""Papers that were made to be printed: PDF in a folder beside the hotel's file, for a day.

They bear names and details of cases and nothing of the record needs them, so they go by
themselves, sooner than what the record keeps.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

KEPT = timedelta(days=1)


def folder_of(hotel_file: Path) -> Path:
    """The folder of what a hotel prints: beside its file, named after it."""
    return hotel_file.with_name(f"{hotel_file.stem}.print")


def empty_print_folder(hotel_file: Path) -> None:
    """Delete every paper, and the folder where nothing else lies in it.

    One that a viewer holds open where that forbids deleting it stays until the next time.
    """
    _delete(hotel_file, _papers(hotel_file))


def sweep_print_folder(hotel_file: Path, now: datetime) -> None:
    """Delete papers that were written more than a day ago."""
    latest = (now - KEPT).timestamp()
    old = [paper for paper in _papers(hotel_file) if _written(paper) < latest]
    _delete(hotel_file, iter(old))


def _papers(hotel_file: Path) -> Iterator[Path]:
    folder = folder_of(hotel_file)
    yield from sorted(folder.glob("*.pdf")) if folder.is_dir() else ()


def _written(paper: Path) -> float:
    """In seconds; one that another window deletes meanwhile is not old."""
    with suppress(OSError):
        return paper.lstat().st_mtime
    return float("inf")


def _delete(hotel_file: Path, papers: Iterator[Path]) -> None:
    for paper in papers:
        with suppress(OSError):
            paper.unlink()
    # Fails where something else lies there, which is not ours to delete.
    with suppress(OSError):
        folder_of(hotel_file).rmdir()
