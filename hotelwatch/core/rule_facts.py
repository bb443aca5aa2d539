"""Kinds of fact about sets of local rules: a set, its clauses, who compared them with the law.

A set is read from a file or shipped as an example. When a hotel chooses one, all of it is
written down, so that the record says under what the hotel worked when the file is gone.
It is never legal advice: law changes, and the hotel says who compared it, and when.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import ClassVar

from hotelwatch.core.facts import Fact, Name, Note, Topic


class Asks(StrEnum):
    """What kind of thing a clause asks, by which the record is judged."""

    DEADLINE = "deadline"
    """A duty by a time that runs from an event."""
    CLOSE = "close"
    """Rooms with a sign closed at once and not let."""
    ELIMINATE = "eliminate"
    """Rooms given back only when what was there is gone, as far as looks can say."""
    RELEASE = "release"
    """Whose word gives a room back."""
    LICENSED = "licensed"
    """Treatment by a licensed firm."""
    RECORD = "record"
    """What must be recorded."""
    KEEP = "keep"
    """For how long it must be kept, and from when."""
    VACANT = "vacant"
    """A room that stood empty is looked at before the next guest."""
    SIGNS = "signs"
    """Which signs count as an infestation."""
    OTHER = "other"
    """What this record can't say: somebody looks for themselves."""


class HowRead(StrEnum):
    """How the text of a clause was read."""

    READ = "read"
    """The text itself, or a hosted copy of it, the clause told here."""
    SECOND_HAND = "second_hand"
    """Another's account of it: a digest, the press."""


@dataclass(frozen=True, slots=True)
class RuleClause(Fact):
    """One thing that a text asks of a hotel, where it stands and how it was read.

    Fields that a clause's kind does not ask about are empty, or 0.
    """

    topic: ClassVar[Topic] = Topic.SETTINGS
    rules: str
    """The key of its set."""
    clause: str
    """Its key within the set."""
    title: str
    """Of the text that binds."""
    section: str
    asks: Asks
    says: str
    """What it asks, in the words of whoever read it."""
    read_from: str
    """Where the text was read."""
    how_read: HowRead
    read_on: date | None = None
    """None where nobody noted the day."""
    duty: str = ""
    """A code of core.local_rules.duties.DUTIES."""
    amount: int = 0
    """Of a deadline, by ``unit``; of a look before the next guest, hours."""
    unit: str = ""
    """A profile.Unit."""
    starts: str = ""
    """A profile.Start."""
    vacant_days: int = 0
    years: int = 0
    years_from: str = ""
    """"closing" of the case, or "writing" of the record."""
    releaser: str = ""
    """A profile.Releaser."""
    holds_for: str = ""
    """"confirmed" cases alone; empty: found or suspected."""
    records: tuple[str, ...] = ()
    """Codes of core.local_rules.recording.RECORDS."""
    signs: tuple[str, ...] = ()
    """Codes of Sign: those that a clause is about; none: every sign."""
    to: str = ""
    """Whom to tell."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class RuleSetKept(Fact):
    """A set of local rules as the hotel's file keeps it; the latest of a key counts."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    rules: str
    """Its key."""
    name: str
    place: str
    """Where its texts bind; empty for a way of working that no text asks for."""
    ring_kinds: tuple[str, ...]
    ring_radius: int
    hold: str
    confirming_signs: tuple[str, ...]
    release_by: str
    keeps_years: int
    authority: str
    standing: str
    source: str
    note: str
    file_name: str = ""
    """Of the hotel's own file; empty for a set that the program ships."""
    sha256: str = ""
    """Of that file as it was read."""


@dataclass(frozen=True, slots=True)
class RulesCompared(Fact):
    """Somebody compared a set, or one clause of it, with the law in force."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    rules: str
    clause: str
    """Empty: the whole set."""
    by: Name
    on: date
    noted: Note = ""
