"""Writing a file safely: beside its target, read again, then renamed over it."""

from __future__ import annotations

import errno
import os
import secrets
import stat
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import python_calamine

from hotelwatch.core.facts import TeamName
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent

if TYPE_CHECKING:
    from hotelwatch.papers.listings import Book

ENDING = ".xlsx"
CALENDAR_ENDING = ".ics"


class NotReadBack(Exception):
    """The file just written does not hold what was meant; the old file stays."""


def write_safely(book: Book, path: Path, progress: Progress = silent) -> None:
    """Save a workbook so that the target is either the old file or the whole new one.

    What was written is read again by another library before it takes the target's
    place. Raises Refusal: "not_a_workbook_name", "no_such_folder", "target_is_folder",
    "workbook_open", "read_only_target", "read_only_folder", "disk_full",
    "workbook_not_written".
    """
    refuse_target(path)

    def save(beside: Path) -> None:
        from hotelwatch.papers.workbook import save_book

        _read_back(beside, save_book(book, beside, progress))

    _put(path, save)


def write_calendar_safely(content: bytes, path: Path) -> None:
    """Save a calendar so that the target is either the old file or the whole new one.

    Raises Refusal as ``write_safely``, with "not_a_calendar_name" for a wrong name.
    """
    refuse_calendar_target(path)

    def save(beside: Path) -> None:
        beside.write_bytes(content)
        if (found := beside.read_bytes()) != content:
            raise NotReadBack(len(found), len(content))

    _put(path, save)


def _put(path: Path, save: Callable[[Path], None]) -> None:
    beside = path.with_name(f".{path.stem}-{secrets.token_hex(4)}{path.suffix}")
    try:
        save(beside)
        _flush(beside)
        beside.replace(path)
    except PermissionError as error:
        # Windows does not let go of a file that another program has open.
        code = "workbook_open" if path.exists() else "read_only_folder"
        raise Refusal(code, path=str(path)) from error
    except OSError as error:
        code = "disk_full" if error.errno == errno.ENOSPC else "workbook_not_written"
        raise Refusal(code, path=str(path), why=error.strerror or "") from error
    finally:
        beside.unlink(missing_ok=True)


def refuse_target(path: Path) -> None:
    """Say before any work why a workbook can't be written there; nothing if it can."""
    if path.suffix.lower() != ENDING:
        raise Refusal("not_a_workbook_name", path=str(path))
    _refuse_place(path)


def refuse_calendar_target(path: Path) -> None:
    """Say before any work why a calendar can't be written there; nothing if it can."""
    if path.suffix.lower() != CALENDAR_ENDING:
        raise Refusal("not_a_calendar_name", path=str(path))
    _refuse_place(path)


def team_file_names(teams: Sequence[TeamName]) -> Mapping[TeamName, str]:
    """A file name for each team; teams whose names come out alike are numbered."""
    plain = {team: "".join(c if c.isalnum() else "-" for c in team.lower()) for team in teams}
    names: dict[TeamName, str] = {}
    for team, name in plain.items():
        number = sum(plain[other] == name for other in names) + 1
        names[team] = name if number == 1 else f"{name}-{number}"
    return names


def _refuse_place(path: Path) -> None:
    values = {"path": str(path)}
    if path.is_dir():
        raise Refusal("target_is_folder", **values)
    if not path.parent.is_dir():
        raise Refusal("no_such_folder", folder=str(path.parent))
    if any(mark.exists() for mark in _open_marks(path)):
        raise Refusal("workbook_open", **values)
    if path.exists() and not path.stat().st_mode & stat.S_IWUSR:
        raise Refusal("read_only_target", **values)
    if not os.access(path.parent, os.W_OK):
        raise Refusal("read_only_folder", **values)


def _open_marks(path: Path) -> tuple[Path, ...]:
    """Files that spreadsheet programs leave beside a workbook while they have it open."""
    return path.with_name(f".~lock.{path.name}#"), path.with_name(f"~${path.name}")


def _read_back(path: Path, expected: Mapping[str, int]) -> None:
    again = python_calamine.load_workbook(path)
    try:
        found = {
            name: sum(any(row) for row in _shown(again.get_sheet_by_name(name)))
            for name in again.sheet_names
        }
    finally:
        again.close()
    if found != expected:
        raise NotReadBack(found, dict(expected))


def _shown(sheet: python_calamine.CalamineSheet) -> list[list[bool]]:
    """For each row which of its cells hold anything; a 0 is something."""
    return [[value != "" for value in row] for row in sheet.to_python()]


def _flush(path: Path) -> None:
    with path.open("r+b") as file:
        os.fsync(file.fileno())
