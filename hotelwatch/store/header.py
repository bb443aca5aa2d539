"""What the first bytes of a file say of it, read without SQLite.

SQLite may write beside a file that it opens, and to it; a file that is not ours
must not be touched. Source: SQLite's description of its file format: the first
16 bytes name it, bytes 60 to 63 are the user_version and 68 to 71 the
application_id, most significant byte first.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hotelwatch.core.problems import Refusal
from hotelwatch.store.connection import is_open_here
from hotelwatch.store.schema import APPLICATION_ID, FORMAT

_MAGIC = b"SQLite format 3\x00"
_LENGTH = 100


@dataclass(frozen=True, slots=True)
class Header:
    """A SQLite file's mark and the number of its shape."""

    application_id: int
    user_version: int


def read_header(path: Path) -> Header | None:
    """The header of a SQLite file; None if it is none. OSError if it can't be read."""
    with path.open("rb") as file:
        start = file.read(_LENGTH)
    if len(start) < _LENGTH or not start.startswith(_MAGIC):
        return None
    return Header(int.from_bytes(start[68:72], "big"), int.from_bytes(start[60:64], "big"))


def is_hotel_file(path: Path) -> bool:
    """Whether the file is marked as a hotel's."""
    if not path.is_file():
        return False
    found = read_header(path)
    return found is not None and found.application_id == APPLICATION_ID


def refuse_by_header(path: Path) -> None:
    """Raise Refusal unless the file is a hotel's, of a version that we know.

    "no_such_file", "not_a_hotel_file", "newer_file", "older_file", "read_only_file"
    (where it may not even be read). A file that this process has open was looked at then.
    """
    if not path.exists():
        raise Refusal("no_such_file", file=str(path))
    if not path.is_file():
        raise Refusal("not_a_hotel_file", file=str(path))
    if is_open_here(path):
        return
    try:
        found = read_header(path)
    except OSError as error:
        raise Refusal("read_only_file", file=str(path), reason=str(error)) from error
    if found is None or found.application_id != APPLICATION_ID:
        raise Refusal("not_a_hotel_file", file=str(path))
    if found.user_version > FORMAT:
        raise Refusal(
            "newer_file",
            file=str(path),
            file_format=str(found.user_version),
            our_format=str(FORMAT),
        )
    if found.user_version < FORMAT:
        raise Refusal("older_file", file=str(path))
