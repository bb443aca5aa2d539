"""Kinds of fact about the record itself: gone back, expired, kept with a month's closing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import ClassVar

from hotelwatch.core.facts import BedNo, CaseNo, Fact, Name, RoomNo, Topic, WordSort


class Expiring(StrEnum):
    """What expires: its content goes, and what the record says of it stays."""

    PHOTO = "photo"
    PAPER = "paper"
    LOG = "log"
    NAME = "name"
    NOTE = "note"


OF_WORDS = {Expiring.NAME: WordSort.NAME, Expiring.NOTE: WordSort.NOTE}
"""Those that are words in the file; the others lie beside it."""

_GONE = re.compile(r"‹(?:expired \d{4}-\d{2}|missing) #\d+›")


@dataclass(frozen=True, slots=True)
class RecordRestored(Fact):
    """The record went back to a backup; what came after it stands in a file set aside."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    back_to: int
    """The last entry of the backup."""
    set_aside: int
    """How many entries stand only in the file set aside; -1 where it could not be read."""
    aside_last: int
    """The number of that file's last entry; 0 where it could not be read."""
    aside_sha256: str
    """The digest of that file's last entry; empty where it could not be read."""
    aside_file: str
    """The name that the file set aside was given."""
    reason: str


@dataclass(frozen=True, slots=True)
class ContentExpired(Fact):
    """Photos, papers, names or notes that were deleted because their time was over."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    what: Expiring
    which: tuple[str, ...]
    """Digests of files, numbers of words; as many as went."""
    keeps_years: int
    """For so many years they were kept."""
    policy: str
    """The local rules that said so, by their key; "own": the hotel's own choice."""


@dataclass(frozen=True, slots=True)
class ExpiryStopped(Fact):
    """Nothing of a case, or of all cases, expires: a dispute, a claim; the latest word counts."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    case: CaseNo
    """Empty: nothing at all expires."""
    by: Name
    """Who said so."""
    reason: str
    holds: bool = True
    """False: things expire again."""


@dataclass(frozen=True, slots=True)
class LateReasonKept(Fact):
    """Why an underside was late, as told when its month was closed.

    Bookings of earlier times are not kept: told later, the reason could be another.
    """

    topic: ClassVar[Topic] = Topic.SETTINGS
    month: str
    bed: BedNo
    due_on: date
    why: tuple[str, ...]
    """Each reason with its days, as "planned_not_done:3", the main one first."""


@dataclass(frozen=True, slots=True)
class LetKept(Fact):
    """A room let while in quarantine, as bookings told it when its month was closed."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    month: str
    room: RoomNo
    booking: str
    arrives_on: date
    leaves_on: date
    first_night: date
    nights: int
    quarantined_from: datetime
    was_let_blocked: bool
    was_known: bool


def expired_words(month: str, number: int) -> str:
    """What stands where a name or a note stood that expired in that month.

    It bears the number of the words, so that two people do not become one.
    """
    return f"‹expired {month} #{number}›"


def missing_words(number: int) -> str:
    """What stands where words are gone and no entry says that they expired."""
    return f"‹missing #{number}›"


def is_gone(words: str) -> bool:
    """Whether this stands in place of words that are there no more."""
    return _GONE.fullmatch(words) is not None


def holds_gone(text: str) -> bool:
    """Whether words that are there no more stand somewhere in a text."""
    return _GONE.search(text) is not None
