"""What a judgement of local rules consists of: clauses, what fell under them, and how it went."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from hotelwatch.core.rule_facts import RuleClause


class Verdict(StrEnum):
    """Whether the record of a month shows what a clause asks."""

    MET = "met"
    NOT_MET = "not_met"
    CANNOT_TELL = "cannot_tell"
    """This record does not show it: somebody looks for themselves."""
    NOT_ARISEN = "not_arisen"
    """Nothing in the month fell under it, or its time has not come: neither met nor not."""


class ItemState(StrEnum):
    """How one thing that fell under a clause went."""

    DONE = "done"
    LATE = "late"
    """Done, after its time."""
    MISSING = "missing"
    AHEAD = "ahead"
    """Not done, and its time has not passed."""
    UNKNOWN = "unknown"
    """The record does not reach far enough to tell."""


FAULTS = frozenset({ItemState.LATE, ItemState.MISSING})


@dataclass(frozen=True, slots=True)
class Period:
    """The days that are judged, and until when things are known."""

    first_on: date
    last_on: date
    end: datetime
    """The end of the last day, or now while it runs."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing that fell under a clause: which case, room and day, and how it went."""

    what: str
    """A code: the duty, or what was to be there; wording.local_rules says it."""
    case: str
    """Empty where no case belongs to it."""
    room: str
    state: ItemState
    since: date | datetime | None = None
    by: date | datetime | None = None
    done: date | datetime | None = None
    table: str = ""
    """The table of the month's book that shows it; empty: the clause's own page."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """A clause with what fell under it in the days judged."""

    clause: RuleClause
    verdict: Verdict
    items: tuple[Item, ...]
    tables: tuple[str, ...]
    """Tables of the month's book that show it, by name."""
    compared_by: str = ""
    """Who last compared it with the law in force; empty: nobody."""
    compared_on: date | None = None
    is_stale: bool = True
    """Nobody compared it, or longer ago than a comparison stands."""

    def count(self, *states: ItemState) -> int:
        """How many things went like that."""
        return sum(item.state in states for item in self.items)

    @property
    def faults(self) -> tuple[Item, ...]:
        """What is missing or came late."""
        return tuple(item for item in self.items if item.state in FAULTS)


@dataclass(frozen=True, slots=True)
class RulesJudged:
    """A set of local rules with the judgement of each clause."""

    rules: str
    """Its key."""
    name: str
    place: str
    file_name: str
    """Of the hotel's own file; empty for a set that the program ships."""
    sha256: str
    judgements: tuple[Judgement, ...]

    def count(self, verdict: Verdict) -> int:
        """How many clauses were judged so."""
        return sum(one.verdict is verdict for one in self.judgements)


def verdict_of(items: Sequence[Item]) -> Verdict:
    """A fault decides; then what can't be told; only then what was done."""
    states = {item.state for item in items}
    if states & FAULTS:
        return Verdict.NOT_MET
    if ItemState.UNKNOWN in states:
        return Verdict.CANNOT_TELL
    return Verdict.MET if ItemState.DONE in states else Verdict.NOT_ARISEN
