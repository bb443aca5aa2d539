"""Kinds of fact about cases: signs, specimens, quarantine, who is asked and who was told.

As in ``facts``, each is one frozen dataclass. A fact names the case that it was written
down for; where cases were joined or split since, ``House`` shows it under the case that
it belongs to now, and the file keeps what was written. Guests are never named.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import ClassVar

from hotelwatch.core.facts import CaseNo, Fact, Name, Note, RoomNo, Topic


class Sign(StrEnum):
    """What was seen, raw; its weight is computed."""

    LIVE_INSECT = "live_insect"
    EGGS = "eggs"
    CAST_SKIN = "cast_skin"
    DARK_SPOTS = "dark_spots"
    BLOOD_SPOT = "blood_spot"
    DEAD_INSECT = "dead_insect"
    DOG_ALERT = "dog_alert"
    BITES_REPORTED = "bites_reported"
    GUEST_WORD = "guest_word"


class LifeStage(StrEnum):
    """How old an insect looked."""

    NYMPH = "nymph"
    ADULT = "adult"
    SEVERAL = "several"


class Outcome(StrEnum):
    """A named competent person's judgement of a case."""

    CONFIRMED = "confirmed"
    NOT_BED_BUG = "not_bed_bug"
    UNDETERMINED = "undetermined"


class SpecimenStep(StrEnum):
    """What happened to a specimen."""

    KEPT = "kept"
    SENT = "sent"
    RETURNED = "returned"
    DISCARDED = "discarded"


# --- signs ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Sighted(Fact):
    """Something seen or reported; the first one of a case opens it."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    room: RoomNo
    bed: str
    """A bed's label, or empty."""
    place: str
    sign: Sign
    count: int
    """How many were seen; 0 if not counted."""
    seen_by: Name
    seen_at: datetime
    noted: Note = ""
    life_stage: str = ""
    """A LifeStage, of an insect; empty if nobody said."""
    by_guest: bool = False
    """A guest told it, and waits for an answer; who is never known here."""


@dataclass(frozen=True, slots=True)
class PhotoKept(Fact):
    """A photo of a case, kept beside the hotel's file under its digest."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    sha256: str
    size_bytes: int
    caption: Note = ""


@dataclass(frozen=True, slots=True)
class SpecimenNoted(Fact):
    """Where a specimen is: kept in the house, sent away, back, discarded; the latest counts."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    label: str
    """Of the bag or vial."""
    room: RoomNo
    step: SpecimenStep
    where: Note
    """Where it is kept, or to whom it went."""
    by: Name
    at: datetime
    noted: Note = ""


@dataclass(frozen=True, slots=True)
class CaseJudged(Fact):
    """A competent person's judgement; the latest one counts."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    outcome: Outcome
    judged_by: Name
    competence: Name
    """Licence, training or office that makes the person competent."""
    judged_on: date
    noted: Note = ""
    was: str = ""
    """What it was, where it was no bed bug: a code of resources/lookalikes.toml, or words."""


@dataclass(frozen=True, slots=True)
class CasesJoined(Fact):
    """One case goes into another: what was written down for it belongs there from now on."""

    topic: ClassVar[Topic] = Topic.CASES
    from_case: CaseNo
    into_case: CaseNo
    by: Name
    reason: Note


@dataclass(frozen=True, slots=True)
class CaseEntryMoved(Fact):
    """A case is split: what one entry wrote down for it belongs to another case."""

    topic: ClassVar[Topic] = Topic.CASES
    number: int
    """The entry's."""
    from_case: CaseNo
    into_case: CaseNo
    by: Name
    reason: Note


# --- quarantine and what a case asks for ------------------------------------------------


@dataclass(frozen=True, slots=True)
class QuarantinePlaced(Fact):
    """A room closed to guests because of a case."""

    topic: ClassVar[Topic] = Topic.QUARANTINE
    room: RoomNo
    case: CaseNo
    from_at: datetime
    reason: str
    """A code of wording.names: "sighting", "neighbour_found", "same_suite", "ring_held"."""


@dataclass(frozen=True, slots=True)
class QuarantineLifted(Fact):
    """A room given back, on its conditions or on a named person's reason."""

    topic: ClassVar[Topic] = Topic.QUARANTINE
    room: RoomNo
    case: CaseNo
    lifted_at: datetime
    by: Name
    conditions_met: bool
    reason: Note = ""
    """Required where the conditions were not met."""
    competence: Name = ""
    """Licence, training or office of who signs."""


@dataclass(frozen=True, slots=True)
class CaseClosed(Fact):
    """A named person ends the watch over released rooms; a later sign opens a new case."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    closed_at: datetime
    by: Name
    conditions_met: bool
    reason: Note = ""
    """Required where the watch was not over."""


@dataclass(frozen=True, slots=True)
class CheckAsked(Fact):
    """A room that a case wants looked at, why, and by when."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    room: RoomNo
    reasons: tuple[str, ...]
    """Kinds of neighbourhood and of links, codes of core.cases.ring."""
    by_at: datetime
    source: str = ""
    """The room with the sign because of which it is asked for; empty: the case's first."""


@dataclass(frozen=True, slots=True)
class OwnerNamed(Fact):
    """Who sees to a duty of a case; the latest word counts."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    duty: str
    """A code of core.cases.duties."""
    room: str
    """Empty where the duty is the case's."""
    owner: Name


@dataclass(frozen=True, slots=True)
class NoticeGiven(Fact):
    """Somebody was told: a guest who reported, front desk, a firm, an authority."""

    topic: ClassVar[Topic] = Topic.CASES
    case: CaseNo
    notice: str
    """A code of core.cases.notices."""
    to: str
    """An office or a firm; never a guest's name."""
    given_at: datetime
    by: Name
    receipt: str = ""
    noted: Note = ""
    room: str = ""
    """Empty where it concerns the whole case."""


# --- where else it may have gone ----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class GuestMoved(Fact):
    """The guests of a booking changed rooms; because of a case, or for another reason."""

    topic: ClassVar[Topic] = Topic.STAYS
    from_room: RoomNo
    to_room: RoomNo
    moved_on: date
    booking: str
    by: Name
    because_of: str = ""
    """The case because of which they moved; empty if none."""
    before_arrival: bool = False
    """The room was changed before they came: they never slept in the first one."""


@dataclass(frozen=True, slots=True)
class LetExplained(Fact):
    """Why a room was let although it was blocked, in a named person's words."""

    topic: ClassVar[Topic] = Topic.QUARANTINE
    room: RoomNo
    booking: str
    first_night: date
    note: Note
    by: Name
