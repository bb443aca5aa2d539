"""What a room's mark on a sheet says to a scanner, and how it is read back.

The text is our own: "LOOK", the number of the hotel's file, the sheet's day, the version of
its form, the room, parted by spaces: "LOOK 402913 20261125 1 0104". A scanner that acts as a
keyboard types it wherever one types. Letters and signs that lie elsewhere on other countries'
keyboards (A, Q, W, Y, Z, M, slash, hyphen, colon) are not used; a room's own label is what it
is and stands last.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House

BEGINS = "LOOK"
FILE_DIGITS = 6
_MARK = re.compile(rf"{BEGINS} (\d{{{FILE_DIGITS}}}) (\d{{8}}) (\d{{1,6}}) (\S.*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class RoomMark:
    """A room on a sheet of a hotel's file."""

    file: str
    """The file's number; see ``file_number``."""
    on: date
    """The sheet's day."""
    form_version: int
    """Of the form that the sheet is; see Rules."""
    room: RoomNo


def file_number(house: House) -> str:
    """Six digits that tell hotels' files apart, from the digest of the file's first entry.

    Two hotels have the same one once in a million: it keeps apart a chain's papers, no more.
    """
    first = house.entries.get(min(house.entries, default=0))
    digest = first.digest if first else ""
    return f"{int(digest or '0', 16) % 10**FILE_DIGITS:0{FILE_DIGITS}d}"


def mark_text(mark: RoomMark) -> str:
    """What a mark says."""
    return f"{BEGINS} {mark.file} {mark.on:%Y%m%d} {mark.form_version} {mark.room}"


def read_mark(text: str) -> RoomMark | None:
    """The mark that a text is; None if it is something else."""
    found = _MARK.fullmatch(" ".join(text.split()))
    if found is None:
        return None
    try:
        on = datetime.strptime(found[2], "%Y%m%d").date()
    except ValueError:
        return None
    return RoomMark(found[1], on, int(found[3]), RoomNo(found[4]))
