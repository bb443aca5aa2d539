"""Kinds of fact about the record itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from hotelwatch.core.facts import Fact, Topic


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
