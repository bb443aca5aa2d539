"""Kinds of fact about treatment: firms, visits, logs of probes, things taken care of, traps.

Firms, products and doses stand here as the licensed firm reported them; the program
names none.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import ClassVar

from hotelwatch.core.facts import CaseNo, Fact, Name, Note, RoomNo, Topic


class CareStep(StrEnum):
    """Things that leave a room, or were used in it, each with its own care."""

    LUGGAGE = "luggage"
    LINEN = "linen"
    CART = "cart"
    VACUUM = "vacuum"
    STAFF_CLOTHES = "staff_clothes"


class PaperKind(StrEnum):
    """What a paper kept with a case is."""

    REPORT = "report"
    RECEIPT = "receipt"
    NOTICE = "notice"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class CareDone(Fact):
    """What was done with luggage, linen, a cart: sealed, washed, dried, held."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    room: RoomNo
    step: CareStep
    done_at: datetime
    by: Name
    celsius: float = 0.0
    """Of a wash or a dryer; 0: none."""
    minutes: int = 0
    noted: Note = ""


@dataclass(frozen=True, slots=True)
class ItemDiscarded(Fact):
    """A thing thrown away: made unusable, wrapped and labelled, so that nobody takes it."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    room: RoomNo
    what: str
    discarded_on: date
    is_unusable: bool
    is_labelled: bool
    by: Name


@dataclass(frozen=True, slots=True)
class FirmDescribed(Fact):
    """A firm that may treat, with its licence as the firm gave it; the latest word counts."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    firm: str
    licence: str
    expires_on: date | None
    scope: str = ""
    """What the licence covers, in the firm's words."""
    in_use: bool = True


@dataclass(frozen=True, slots=True)
class TreatmentOrdered(Fact):
    """A visit ordered from a firm, with what it told the hotel to prepare."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    rooms: tuple[str, ...]
    firm: str
    for_at: datetime
    preparation: str
    """As the firm wrote it."""
    ordered_by: Name


@dataclass(frozen=True, slots=True)
class TreatmentRecorded(Fact):
    """Licensed work in a room, as the licensed firm reported it."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    room: RoomNo
    treated_on: date
    method: str
    firm: str
    licence: str
    reenter_at: datetime
    noted: Note = ""
    technician: Name = ""
    product: str = ""
    """As reported; the program never names one."""
    registration_no: str = ""
    """The product's, as reported."""
    areas: tuple[str, ...] = ()
    """Parts of the room that were treated, in the firm's words; none: not said."""
    preparation: str = ""
    """"done", "partly", "not_done"; empty: not said."""
    bedding: str = ""
    """"washed", "replaced", "left"; empty: not said."""
    amount: str = ""
    """How much of the product was used, as reported."""
    receipt_no: str = ""
    """The number on the firm's receipt."""


@dataclass(frozen=True, slots=True)
class ProbeLogKept(Fact):
    """A log of probes during heat or cold: the file kept beside the hotel's, its digest."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    room: RoomNo
    log: str
    """Its label within the case."""
    treated_on: date
    method: str
    """"heat" or "cold"."""
    file_name: Note
    sha256: str
    by: Name


@dataclass(frozen=True, slots=True)
class ProbeRead(Fact):
    """One probe's readings in a log, in order of time."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    log: str
    probe: str
    """Its column's heading."""
    place: str
    """A code of core.lethal.places: "mattress_core", "air" …; empty: not said."""
    begins_at: datetime
    minutes: tuple[float, ...]
    """Since the beginning."""
    celsius: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PaperKept(Fact):
    """A paper of a case, as a firm or an office gave it: the file kept beside the hotel's."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    sha256: str
    file_name: Note
    """As it was called when it was kept."""
    what: PaperKind
    by: Name
    """Who kept it."""


@dataclass(frozen=True, slots=True)
class MonitorPlaced(Fact):
    """A trap for crawling insects was put in a room, or taken away."""

    topic: ClassVar[Topic] = Topic.CHECKS
    monitor: str
    """Its label."""
    room: RoomNo
    where: str
    placed_on: date
    by: Name
    is_there: bool = True
    """False: taken away on that day."""


@dataclass(frozen=True, slots=True)
class MonitorRead(Fact):
    """Somebody looked into a trap. An empty one is no proof of absence."""

    topic: ClassVar[Topic] = Topic.CHECKS
    monitor: str
    room: RoomNo
    read_on: date
    by: Name
    caught: int
    is_replaced: bool = False
    noted: Note = ""


@dataclass(frozen=True, slots=True)
class DogVisit(Fact):
    """A firm led a dog through rooms. An alert is a place to look at, silence is no look.

    Each alert is a Sighted of its own in the same entry.
    """

    topic: ClassVar[Topic] = Topic.CASES
    visited_at: datetime
    firm: str
    handler: Name
    certified: Name
    """The team's certification, as the firm told it; empty: not told."""
    rooms: tuple[str, ...]
    """Rooms that the dog was led through."""
    alerts: tuple[str, ...]
    """Of these, rooms in which it alerted."""
    by: Name
    """Who of the house was there, or took the report."""
    noted: Note = ""
