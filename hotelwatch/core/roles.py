"""Which role may write down which kind of fact, take back which entry, and see what.

Two tables, meant to be read. In the first a role

- ``may`` write a kind of fact down by itself;
- writes it only ``with`` something else that it may write, where that sets it going:
  a sighting closes its room, and who may log one may not close rooms at will;
- writes it only about its ``own`` person, keeping the role;
- and does not write it at all: ``-``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from hotelwatch.core.facts import Fact
from hotelwatch.core.people_facts import PersonDescribed, StaffRole


class Say(StrEnum):
    """Whether a role writes a kind of fact down."""

    MAY = "may"
    WITH = "with"
    OWN = "own"
    NO = "-"


class Sight(StrEnum):
    """What one may see."""

    TODAY = "today"
    ROUNDS = "rounds"
    CHECKS = "checks"
    HOUSE = "house"
    CASES = "cases"
    """Case details, photos, who found it."""
    DESK = "desk"
    ODDS = "odds"
    TRIALS = "trials"
    """Where the dummies of blind trials lie."""
    MONTH = "month"
    RULES = "rules"
    RECORD = "record"
    """The entries as they were written down; copies of the file."""
    PEOPLE = "people"
    """Who works here, in which role, and what was refused."""


WRITES = """
kind                executive supervisor housekeeper front_desk engineer manager
HotelDescribed      may       -          -           -          -        -
CycleChosen         may       may        -           -          -        -
RiskPlaced          may       may        -           -          -        -
TeamDescribed       may       may        -           -          -        -
FloorPlaced         may       may        -           -          may      -
WingPlaced          may       may        -           -          may      -
StairPlaced         may       may        -           -          may      -
RoomDescribed       may       may        -           -          may      -
RoomDrawn           may       may        -           -          may      -
BedDescribed        may       may        -           -          may      -
StaysImported       may       may        -           may        -        -
RoundPublished      may       may        -           -          -        -
SlotPublished       may       may        -           -          -        -
TeamDaysChanged     may       may        -           -          -        -
HouseDaysClosed     may       may        -           -          -        -
SeasonNoted         may       may        -           -          -        -
CheckPinned         may       may        -           -          -        -
TeamPinned          may       may        -           -          -        -
DayForbidden        may       may        -           -          -        -
BedChecked          may       may        may         -          -        -
RoomChecked         may       may        may         -          -        -
FurnitureMoved      may       may        may         -          may      -
MonitorPlaced       may       may        may         -          may      -
MonitorRead         may       may        may         -          may      -
DogVisit            may       may        -           -          may      -
VisitArranged       may       may        -           may        -        -
VisitDeclined       may       may        -           may        -        -
NightAsked          may       may        -           -          -        -
NightAnswered       may       may        -           may        -        -
GuestMoved          may       may        -           may        -        -
LetExplained        may       may        -           may        -        -
RoomTypesRanked     may       may        -           may        -        -
Sighted             may       may        may         may        may      -
PhotoKept           may       may        may         with       may      -
SpecimenNoted       may       may        may         with       may      -
QuarantinePlaced    may       may        with        with       with     -
CheckAsked          may       may        with        may        with     -
QuarantineLifted    may       may        -           -          -        -
CaseJudged          may       may        -           -          -        -
CasesJoined         may       may        -           -          -        -
CaseEntryMoved      may       may        -           -          -        -
CaseClosed          may       may        -           -          -        -
OwnerNamed          may       may        -           -          -        -
NoticeGiven         may       may        -           -          -        -
CareDone            may       may        may         -          may      -
ItemDiscarded       may       may        may         -          may      -
FirmDescribed       may       may        -           -          may      -
TreatmentOrdered    may       may        -           -          may      -
TreatmentRecorded   may       may        -           -          may      -
ProbeLogKept        may       may        -           -          may      -
ProbeRead           may       may        -           -          may      -
PaperKept           may       may        -           -          may      -
DummyHidden         may       may        -           -          -        -
DummyEnded          may       may        -           -          -        -
BlindPair           may       may        -           -          -        -
CartServes          may       may        -           -          -        -
PublicHoliday       may       may        -           -          -        -
ProfileChosen       may       -          -           -          -        -
RuleSetKept         may       -          -           -          -        -
RuleClause          may       -          -           -          -        -
RulesCompared       may       -          -           -          -        -
RuleChosen          may       -          -           -          -        -
FigureChosen        may       -          -           -          -        -
MonthClosed         may       -          -           -          -        -
LateReasonKept      may       -          -           -          -        -
LetKept             may       -          -           -          -        -
RecordRestored      may       -          -           -          -        -
ContentExpired      may       -          -           -          -        -
ExpiryStopped       may       -          -           -          -        -
TrainingRecorded    may       may        -           -          -        -
PersonDescribed     may       own        own         own        own      own
DeedRefused         -         -          -           -          -        -
"""
"""Bookings that front desk loads may tie rooms to a case: so it may ask for looks.

A refusal is written by the program alone, whoever sits there.
"""

SEES = """
sight    executive supervisor housekeeper front_desk engineer manager
today    see       see        see         -          -        see
rounds   see       see        see         -          -        see
checks   see       see        see         -          -        see
house    see       see        see         -          see      see
cases    see       see        see         -          see      see
desk     see       see        -           see        -        see
odds     see       see        -           -          -        see
trials   see       see        -           -          -        -
month    see       see        -           -          -        see
rules    see       see        -           -          -        see
record   see       see        -           -          -        see
people   see       -          -           -          -        see
"""

CORRECTS_OTHERS = frozenset({StaffRole.EXECUTIVE, StaffRole.SUPERVISOR})
"""Who may take back what somebody else wrote down; others only what is their own."""


@dataclass(frozen=True, slots=True)
class Seat:
    """Who sits at the desk, and in which role."""

    person: str
    role: StaffRole


@dataclass(frozen=True, slots=True)
class Replaced:
    """An entry that is corrected: who wrote it, and its facts at hand."""

    by: str
    facts: tuple[Fact, ...]


def say_of(role: StaffRole, kind: type[Fact]) -> Say:
    """Whether a role writes a kind of fact down; a kind without a decision: not."""
    return _SAYS.get((kind.__name__, role), Say.NO)


def may_write(role: StaffRole, *kinds: type[Fact]) -> bool:
    """Whether a role may write each of these down by itself."""
    return all(say_of(role, kind) is Say.MAY for kind in kinds)


def sees(role: StaffRole, sight: Sight) -> bool:
    """Whether a role may see this."""
    return role in _SEEN_BY[sight]


def who_may(kinds: Iterable[str]) -> tuple[StaffRole, ...]:
    """Roles that may write each of these kinds down by themselves."""
    wanted = tuple(kinds)
    return tuple(role for role in StaffRole if all(_SAYS.get((k, role)) is Say.MAY for k in wanted))


def who_sees(sight: Sight) -> tuple[StaffRole, ...]:
    """Roles that may see this."""
    return tuple(role for role in StaffRole if role in _SEEN_BY[sight])


def refused_kinds(
    seat: Seat, facts: Sequence[Fact], replaced: Replaced | None = None
) -> tuple[str, ...]:
    """Kinds of fact because of which an entry is not written; none: it may be.

    Where it corrects another, that one counts too: what a role may not write by itself
    it can't undo either, unless the new entry says it again of the same room.
    """
    stands_alone = any(_is_free(seat, fact) for fact in facts)
    refused = [fact for fact in facts if not _is_allowed(seat, fact, stands_alone=stands_alone)]
    if replaced is not None:
        again = {(type(fact), getattr(fact, "room", "")) for fact in facts}
        refused += [
            fact
            for fact in replaced.facts
            if not _is_free(seat, fact)
            and not (
                say_of(seat.role, type(fact)) is Say.WITH
                and (type(fact), getattr(fact, "room", "")) in again
            )
        ]
    return tuple(dict.fromkeys(type(fact).__name__ for fact in refused))


def may_correct(seat: Seat, replaced: Replaced) -> bool:
    """Whether somebody may correct an entry at all: their own, or anybody's by their role."""
    return seat.role in CORRECTS_OTHERS or replaced.by == seat.person


def _is_free(seat: Seat, fact: Fact) -> bool:
    say = say_of(seat.role, type(fact))
    return say is Say.MAY or (say is Say.OWN and _is_own(seat, fact))


def _is_allowed(seat: Seat, fact: Fact, *, stands_alone: bool) -> bool:
    say = say_of(seat.role, type(fact))
    return _is_free(seat, fact) or (say is Say.WITH and stands_alone)


def _is_own(seat: Seat, fact: Fact) -> bool:
    return isinstance(fact, PersonDescribed) and (fact.person, fact.role, fact.in_use) == (
        seat.person,
        seat.role,
        True,
    )


def _rows(table: str) -> dict[str, dict[StaffRole, str]]:
    """A table's words by row and role; its columns stand in the order of the roles."""
    lines = [line.split() for line in table.strip().splitlines()]
    roles = [StaffRole[heading.upper()] for heading in lines[0][1:]]
    return {name: dict(zip(roles, words, strict=True)) for name, *words in lines[1:]}


_SAYS: Mapping[tuple[str, StaffRole], Say] = {
    (kind, role): Say(word) for kind, words in _rows(WRITES).items() for role, word in words.items()
}
_SEEN_BY: Mapping[Sight, frozenset[StaffRole]] = {
    Sight(sight): frozenset(role for role, word in words.items() if word == "see")
    for sight, words in _rows(SEES).items()
}
