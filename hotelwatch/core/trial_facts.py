"""Kinds of fact about our own checks: dummies hidden for a blind trial, two looks apart.

A dummy is a harmless marked object that a supervisor hides where insects hide, never a
live insect; whoever looks next does not know of it. It must be collected again.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import ClassVar

from hotelwatch.core.facts import Fact, Name, Names, Note, RoomNo, Topic


class DummyFate(StrEnum):
    """What became of a dummy at the end of its trial."""

    COLLECTED = "collected"
    LOST = "lost"
    """It was not where it had been hidden; whether it was there for the check nobody knows."""


@dataclass(frozen=True, slots=True)
class DummyHidden(Fact):
    """A supervisor hid a harmless marked dummy in a place, for whoever looks there next."""

    topic: ClassVar[Topic] = Topic.CHECKS
    dummy: str
    """Its label; free again once the trial has ended."""
    room: RoomNo
    bed: str
    """A bed's label; empty for a place of the room beside its beds."""
    place: str
    hidden_on: date
    by: Name
    """Who hid it; what that person looks at is no blind trial."""


@dataclass(frozen=True, slots=True)
class DummyEnded(Fact):
    """A dummy's trial is over: a check brought it to light or did not, and what became of it."""

    topic: ClassVar[Topic] = Topic.CHECKS
    dummy: str
    room: RoomNo
    ended_on: date
    """The day on which it was found, or collected unfound."""
    was_found: bool
    looked_by: Names
    """Who looked, as told; a recorded check of the place says it better."""
    fate: DummyFate
    noted: Note = ""


@dataclass(frozen=True, slots=True)
class BlindPair(Fact):
    """Two people looked at one room, neither knowing what the other found."""

    topic: ClassVar[Topic] = Topic.CHECKS
    room: RoomNo
    first_by: Name
    first_at: datetime
    first_found: bool
    second_by: Name
    second_at: datetime
    second_found: bool
    noted: Note = ""
