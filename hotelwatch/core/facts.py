"""Kinds of fact that can be written down: hotel, building, checks. Read this first.

Those about rounds stand in ``round_facts``, those of cases in ``case_facts``;
``fact_kinds`` lists them all.

A fact is something a person decided or saw. Facts are never changed: a later
entry may correct an earlier one. What follows from facts (due dates, stages,
neighbours, odds) is computed from them and never stored.

Each kind is one frozen dataclass. The store makes one table for each, from its
name and its fields, so a new kind of fact needs nothing but a dataclass.
Fields may be ``str``, ``int``, ``float``, ``bool``, ``date``, ``datetime`` (aware, UTC),
a ``StrEnum``, ``tuple[str, ...]`` of codes, ``tuple[float, ...]``. Empty: "not said".
Words that name somebody of the staff are a ``Name`` or ``Names``, words in which somebody
may be named a ``Note``: these expire, see ``retention``. Every other text stays for ever.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Annotated, ClassVar, NewType

RoomNo = NewType("RoomNo", str)
"""A room's label, always text: "0104" stays "0104"."""
BedNo = NewType("BedNo", str)
"""A bed's label: its room's label, a slash and a letter, as "0104/A"."""
CaseNo = NewType("CaseNo", str)
"""A case's label: year and running number, as "2026-007"."""
TeamName = NewType("TeamName", str)


class WordSort(StrEnum):
    """What kind of words expire."""

    NAME = "name"
    NOTE = "note"


Name = Annotated[str, WordSort.NAME]
"""Who of the staff, by name or code; also what makes that person competent."""
Names = Annotated[tuple[str, ...], WordSort.NAME]
Note = Annotated[str, WordSort.NOTE]
"""Free words."""


class Topic(StrEnum):
    """What a change may concern; a page asks whether it is concerned."""

    ROSTER = "roster"
    STAYS = "stays"
    CHECKS = "checks"
    ROUNDS = "rounds"
    CASES = "cases"
    QUARANTINE = "quarantine"
    SETTINGS = "settings"
    PEOPLE = "people"


class Side(StrEnum):
    """Side of the corridor along which rooms are counted; END lies across its far end."""

    LEFT = "left"
    RIGHT = "right"
    END = "end"


class CheckKind(StrEnum):
    """Why somebody looked; a case asks, a clearance follows treatment."""

    DEEP = "deep"
    BRIEF = "brief"
    ASKED = "asked"
    CLEARANCE = "clearance"


class Aid(StrEnum):
    """What helps one to see, or to lift, at a check. Common practice."""

    BRIGHT_LIGHT = "bright_light"
    HAND_LENS = "hand_lens"
    THIN_CARD = "thin_card"
    MIRROR = "mirror"
    LIFTING_AID = "lifting_aid"
    KNEELING_PAD = "kneeling_pad"


class Scope(StrEnum):
    """How far a chosen cycle reaches; the narrowest one wins."""

    HOUSE = "house"
    ROOM_TYPE = "room_type"
    RISK = "risk"
    ROOM = "room"


class Risk(StrEnum):
    """How likely the hotel takes a room to get bed bugs: its own judgement, nobody measured it."""

    USUAL = "usual"
    HIGHER = "higher"
    LOWER = "lower"


@dataclass(frozen=True, slots=True)
class Fact:
    """Anything that can be written down."""

    topic: ClassVar[Topic]


# --- the hotel and its choices -------------------------------------------------


@dataclass(frozen=True, slots=True)
class HotelDescribed(Fact):
    """The hotel's name, IANA time zone, paper (A4, Letter), hours of departure and arrival."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    name: str
    zone: str
    paper: str = "A4"
    leave_by: str = "11:00"
    arrive_from: str = "15:00"


@dataclass(frozen=True, slots=True)
class CycleChosen(Fact):
    """Every how many days an underside is due, for house, type, risk or room; 0 takes it back."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    scope: Scope
    which: str
    """Room type, risk or room; empty for the house."""
    cycle_days: int


@dataclass(frozen=True, slots=True)
class RiskPlaced(Fact):
    """Somebody takes a room to be of higher or lower risk, or of the usual one again."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    room: RoomNo
    risk: Risk


@dataclass(frozen=True, slots=True)
class TeamDescribed(Fact):
    """A team, its people, its minutes for deep checks a day and the days it works."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    team: TeamName
    people: int
    minutes: int
    works_on: tuple[str, ...] = ("mon", "tue", "wed", "thu", "fri")
    in_use: bool = True
    from_clock: str = ""
    """When its shift begins, hotel's clock, "HH:MM"; empty: at any hour."""
    until_clock: str = ""
    kept_free: int = 0
    """So many of its minutes are kept free for surprises."""
    language: str = ""
    """Of its sheets, as "es" or "zh_Hans"; empty for English."""


# --- the building ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FloorPlaced(Fact):
    """A floor's place from bottom to top. Labels may skip (no 13); levels may not."""

    topic: ClassVar[Topic] = Topic.ROSTER
    floor: str
    level: int


@dataclass(frozen=True, slots=True)
class WingPlaced(Fact):
    """Where a wing's corridor starts (metres, seen from above) and which way it runs."""

    topic: ClassVar[Topic] = Topic.ROSTER
    wing: str
    x_m: float
    y_m: float
    bearing_deg: float
    """Counter-clockwise from the x axis."""


@dataclass(frozen=True, slots=True)
class RoomDescribed(Fact):
    """A room as the roster has it; the latest description counts."""

    topic: ClassVar[Topic] = Topic.ROSTER
    room: RoomNo
    floor: str
    wing: str
    side: Side
    order: int
    """Bay along its side of the corridor, from 1; a bay left out is a shaft or a stair."""
    room_type: str = ""
    connects_to: tuple[str, ...] = ()
    suite: str = ""
    """Rooms let together under one name bear the same suite."""
    width_m: float = 0.0
    """0 takes the house's usual bay."""
    in_use: bool = True


@dataclass(frozen=True, slots=True)
class RoomDrawn(Fact):
    """A room as it was drawn, seen from above; the latest drawing counts."""

    topic: ClassVar[Topic] = Topic.ROSTER
    room: RoomNo
    outline: tuple[float, ...] = ()
    """East and north of each corner in turn, metres; empty takes the laid-out place back."""


@dataclass(frozen=True, slots=True)
class BedDescribed(Fact):
    """A bed in a room; the latest description counts."""

    topic: ClassVar[Topic] = Topic.ROSTER
    bed: BedNo
    room: RoomNo
    kind: str
    """A key of resources/beds.toml."""
    encased: bool = False
    in_use: bool = True


@dataclass(frozen=True, slots=True)
class StaysImported(Fact):
    """That bookings were read in: the file, its digest, what was taken.

    Each import replaces those known from ``replaces_from`` on; the store adds all's digest.
    """

    topic: ClassVar[Topic] = Topic.STAYS
    file_name: str
    file_sha256: str
    replaces_from: date
    taken: int
    refused: int
    stays_sha256: str = ""


# --- rounds and checks ----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class RoundPublished(Fact):
    """That the days from..until (both included) were published anew."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    from_on: date
    until_on: date
    is_whole: bool = False
    """Whether likely visits were published too; without them each morning fills up its day."""


@dataclass(frozen=True, slots=True)
class SlotPublished(Fact):
    """One room on one team's sheet; belongs to the RoundPublished of its entry."""

    topic: ClassVar[Topic] = Topic.ROUNDS
    on: date
    team: TeamName
    position: int
    """Place in walking order, from 1."""
    room: RoomNo
    beds: tuple[str, ...]
    minutes: int
    asked_by: str = ""
    """The case that asked for it, if one did."""


@dataclass(frozen=True, slots=True)
class BedChecked(Fact):
    """Somebody looked at a bed, place by place."""

    topic: ClassVar[Topic] = Topic.CHECKS
    bed: BedNo
    room: RoomNo
    checked_on: date
    kind: CheckKind
    by: Names
    """Who looked: names or codes."""
    minutes: int
    seen: tuple[str, ...]
    """Codes of places looked at."""
    unseen: tuple[str, ...] = ()
    """Places not looked at and why, each as "place:why"."""
    found: tuple[str, ...] = ()
    """Places with a sign, each as "place:sign"; a Sighted goes with them."""
    asked_by: str = ""
    noted: Note = ""
    from_clock: str = ""
    """When the visit to the room began, hotel's clock, "HH:MM"; empty: not said."""
    until_clock: str = ""
    aids: tuple[str, ...] = ()
    """Codes of Aid; empty: not said."""
    form_version: int = 0
    """Of the form that was filled in, see Rules; 0: not said."""


@dataclass(frozen=True, slots=True)
class RoomChecked(Fact):
    """Somebody looked at a room's places beside its beds."""

    topic: ClassVar[Topic] = Topic.CHECKS
    room: RoomNo
    checked_on: date
    kind: CheckKind
    by: Names
    seen: tuple[str, ...]
    unseen: tuple[str, ...] = ()
    found: tuple[str, ...] = ()
    asked_by: str = ""
    noted: Note = ""
    from_clock: str = ""
    until_clock: str = ""
    aids: tuple[str, ...] = ()
    form_version: int = 0


# --- the book -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class MonthClosed(Fact):
    """A month's book is final; what is written down later stands in a later book."""

    topic: ClassVar[Topic] = Topic.SETTINGS
    month: str
    """YYYY-MM."""
