"""What holds facts together: entries, changes, and the bookings beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Generic, TypeVar

from hotelwatch.core.facts import Fact, RoomNo, SlotPublished, Topic
from hotelwatch.core.record_facts import ContentExpired


class StayStatus(StrEnum):
    """A booking's state as front desk gives it."""

    BOOKED = "booked"
    IN_HOUSE = "in_house"
    LEFT = "left"
    CANCELLED = "cancelled"
    NO_SHOW = "no_show"


@dataclass(frozen=True, slots=True)
class Stay:
    """A booking: who it is for is never known here."""

    booking: str
    room: str
    """Empty while front desk has given none."""
    room_type: str
    arrives_on: date
    leaves_on: date
    """The morning of departure; the night before it is the last."""
    status: StayStatus = StayStatus.BOOKED
    booked_on: date | None = None
    """The day that it was booked; None where the file does not say."""

    @property
    def counts(self) -> bool:
        """Whether it takes a room: neither cancelled nor a no-show."""
        return self.status not in (StayStatus.CANCELLED, StayStatus.NO_SHOW)


@dataclass(frozen=True, slots=True)
class Entry:
    """One action written down: who, when, with which program, correcting what."""

    number: int
    recorded_at: datetime
    """Aware, UTC."""
    by: str
    action: str
    note: str
    corrects: int | None
    """Number of the entry whose facts no longer count."""
    program: str
    digest: str
    """SHA-256 over this entry, its facts and the digest before it."""


F_co = TypeVar("F_co", bound=Fact, covariant=True)


@dataclass(frozen=True, slots=True)
class Kept(Generic[F_co]):
    """A fact with the number of the entry that wrote it down."""

    entry: int
    fact: F_co


@dataclass(frozen=True, slots=True)
class Changes:
    """What an entry touched, so that a page knows whether it is concerned."""

    topics: frozenset[Topic]
    rooms: frozenset[RoomNo] = frozenset()

    @staticmethod
    def of(facts: tuple[Fact, ...]) -> Changes:
        """The topics and rooms of these facts."""
        fields = ("room", "from_room", "to_room")
        rooms = frozenset(
            room for fact in facts for field in fields if (room := getattr(fact, field, None))
        ).union(*(map(RoomNo, getattr(fact, "rooms", ())) for fact in facts))
        if any(isinstance(fact, ContentExpired) for fact in facts):
            # Names and notes stand everywhere.
            return Changes(frozenset(Topic), rooms)
        return Changes(frozenset(fact.topic for fact in facts), rooms)


def concerns(facts: Sequence[Fact], recorded_at: datetime) -> str:
    """What an entry's names and notes were written down for, and so how long they are kept.

    The cases that its facts name, with spaces between; else the month, as "2026-01" (UTC).
    """
    fields = ("case", "from_case", "into_case", "because_of", "asked_by")
    named = {
        case
        for fact in facts
        # A plan that many cases asked for is evidence in none of them.
        if not isinstance(fact, SlotPublished)
        for field in fields
        if (case := getattr(fact, field, ""))
    }
    return " ".join(sorted(named)) or f"{recorded_at.astimezone(UTC):%Y-%m}"
