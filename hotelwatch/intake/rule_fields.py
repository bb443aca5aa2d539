"""Which fields a set of local rules and its clauses have, and what may stand in each.

rules_template.toml explains each of them to whoever writes a set.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.case_facts import Sign
from hotelwatch.core.local_rules.duties import DUTIES
from hotelwatch.core.local_rules.recording import RECORDS
from hotelwatch.core.profile import Hold, Releaser, Start, Unit
from hotelwatch.core.rule_facts import Asks, HowRead
from hotelwatch.core.standing import Standing


class Holds(StrEnum):
    """What a field holds."""

    TEXT = "text"
    NUMBER = "number"
    DAY = "day"
    CODE = "code"
    """One of the codes that are listed."""
    CODES = "codes"
    """A list of them."""


@dataclass(frozen=True, slots=True)
class Field:
    """What may stand in a field."""

    holds: Holds
    among: tuple[str, ...] = ()
    low: int = 0
    high: int = 0
    may_be_empty: bool = True


TEXT = Field(Holds.TEXT, may_be_empty=False)
TEXT_IF_ANY = Field(Holds.TEXT)


def _code(among: type[StrEnum]) -> Field:
    return Field(Holds.CODE, tuple(among))


SET_FIELDS: Mapping[str, Field] = {
    "name": TEXT,
    "place": TEXT_IF_ANY,
    "ring_kinds": Field(Holds.CODES, tuple(Kind), may_be_empty=False),
    "ring_radius": Field(Holds.NUMBER, low=1, high=2),
    "hold": _code(Hold),
    "confirming_signs": Field(Holds.CODES, tuple(Sign)),
    "release_by": _code(Releaser),
    "keeps_years": Field(Holds.NUMBER, low=1, high=100),
    "authority": TEXT_IF_ANY,
    "standing": _code(Standing),
    "source": TEXT,
    "note": TEXT_IF_ANY,
}
SET_MAY_LACK: Mapping[str, object] = {
    "place": "",
    "confirming_signs": (),
    "authority": "",
    "standing": str(Standing.CHOSEN),
    "note": "",
}
"""What stands for fields that a file leaves out."""

CLAUSE_FIELDS: Mapping[str, Field] = {
    "title": TEXT,
    "section": TEXT,
    "asks": _code(Asks),
    "says": TEXT,
    "read_from": TEXT,
    "how_read": _code(HowRead),
    "read_on": Field(Holds.DAY),
    "duty": Field(Holds.CODE, DUTIES),
    "amount": Field(Holds.NUMBER, low=1, high=3660),
    "unit": _code(Unit),
    "starts": _code(Start),
    "vacant_days": Field(Holds.NUMBER, low=1, high=366),
    "years": Field(Holds.NUMBER, low=1, high=100),
    "years_from": Field(Holds.CODE, ("closing", "writing")),
    "releaser": _code(Releaser),
    "holds_for": Field(Holds.CODE, ("confirmed", "suspected")),
    "records": Field(Holds.CODES, tuple(RECORDS), may_be_empty=False),
    "signs": Field(Holds.CODES, tuple(Sign), may_be_empty=False),
    "to": TEXT_IF_ANY,
    "note": TEXT_IF_ANY,
}
ALWAYS_NEEDED = ("title", "section", "asks", "says", "read_from", "how_read")
NEEDED: Mapping[Asks, tuple[str, ...]] = {
    Asks.DEADLINE: ("duty", "amount", "unit", "starts"),
    Asks.RELEASE: ("releaser",),
    Asks.RECORD: ("records",),
    Asks.KEEP: ("years",),
    Asks.VACANT: ("vacant_days", "amount"),
    Asks.SIGNS: ("signs",),
}
"""What a clause of a kind must say beside what every clause says."""
MAY_SAY: Mapping[Asks, tuple[str, ...]] = {
    Asks.DEADLINE: ("to",),
    Asks.CLOSE: ("signs", "holds_for"),
    Asks.RELEASE: ("holds_for",),
    Asks.KEEP: ("years_from",),
}
ANY_MAY_SAY = ("read_on", "note")


def fields_of(asks: Asks) -> tuple[str, ...]:
    """Every field that a clause of a kind may have."""
    return (*ALWAYS_NEEDED, *NEEDED.get(asks, ()), *MAY_SAY.get(asks, ()), *ANY_MAY_SAY)
