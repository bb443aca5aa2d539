"""What was done at a desk, and what by now rests on it, so that it can't simply be undone.

Two entries are of the same matter where they name the same room, case, team or other
thing. That is wider than need be: better once refused than a later word lost.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from hotelwatch.core.case_facts import CaseClosed, QuarantineLifted
from hotelwatch.core.facts import BedChecked, Fact, MonthClosed, RoomChecked
from hotelwatch.core.house import House
from hotelwatch.core.records import Entry

MATTERS = {
    "case": "case",
    "from_case": "case",
    "into_case": "case",
    "because_of": "case",
    "asked_by": "case",
    "room": "room",
    "from_room": "room",
    "to_room": "room",
    "team": "team",
    "floor": "floor",
    "wing": "wing",
    "booking": "booking",
    "firm": "firm",
    "cart": "cart",
    "monitor": "monitor",
    "dummy": "dummy",
    "figure": "figure",
    "rule": "rule",
    "which": "cycle",
    "name": "name",
}
"""Fields that name a thing, and what kind of thing it is."""
ON_WHICH_ALL_STANDS = frozenset({"load_roster", "place_wings"})
"""Actions on which anything written down later may rest."""
NOT_TO_BE_UNDONE = frozenset(
    {
        "describe_hotel",
        "import_stays",
        "close_month",
        "restore_record",
        "expire",
        "describe_person",
        "leave_hotel",
        "change_pin",
    }
)
"""A hotel needs its zone; bookings are kept beside the entries; a closed month stays closed;
what was deleted is gone."""
LOOKED_AT_ANEW: tuple[type[Fact], ...] = (QuarantineLifted, CaseClosed)
"""Facts whose conditions are looked at when they are written down: they are not done again."""
OF_THEIR_OWN_DAY: tuple[type[Fact], ...] = (BedChecked, RoomChecked)
"""Looks lie by the day on which they were made: when one was written down tells nothing."""

Matter = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing that a person did at this desk: an entry and what it wrote down."""

    entry: int
    by: str
    action: str
    facts: tuple[Fact, ...]
    note: str = ""
    corrects: int | None = None
    """The entry that it replaced or took back."""


def matters_of(fact: Fact) -> frozenset[Matter]:
    """The things that a fact names; its kind where it names none."""
    named: set[Matter] = set()
    for field, matter in MATTERS.items():
        if value := getattr(fact, field, ""):
            named.add((matter, str(value)))
    named |= {("room", room) for room in getattr(fact, "rooms", ())}
    return frozenset(named or {("kind", type(fact).__name__)})


def rests_on(house: House, deed: Deed, *, besides: Collection[int] = ()) -> Entry | None:
    """The first entry after a deed that is of the same matter and counts; None if none is.

    Entries in ``besides`` are the desk's own way of undoing, and rest on nothing.
    """
    known = dict.fromkeys((deed.entry, *besides))
    before = raw_facts(house, deed.corrects) if deed.corrects is not None else ()
    matters = frozenset[Matter]().union(*map(matters_of, (*deed.facts, *before)))
    found: list[int] = []
    for entry, fact in _later(house, deed.entry):
        if entry in known or entry in house.corrected:
            continue
        if deed.action in ON_WHICH_ALL_STANDS or matters & matters_of(fact):
            found.append(entry)
    return house.entries.get(min(found)) if found else None


def overtakes(house: House, deed: Deed, *, now: int) -> Entry | None:
    """The first entry that counts instead of what a deed replaced; None if none does.

    What the deed replaced would come back under a new number, as the latest word: over
    what was said of the same matter after it, before the deed. ``now`` holds the deed's facts.
    """
    if deed.corrects is None:
        return None
    before = (fact for fact in raw_facts(house, deed.corrects) if _is_latest_word(fact))
    matters = frozenset[Matter]().union(*map(matters_of, before))
    found = {
        entry
        for entry, fact in _later(house, deed.corrects)
        if _is_latest_word(fact) and matters & matters_of(fact)
    }
    return house.entries.get(min(found - house.corrected - {now}, default=0))


def month_closed_since(house: House, entry: int) -> str:
    """A month whose book was closed after an entry; "" if none was."""
    closed = (row.fact.month for row in house.kept_of(MonthClosed) if row.entry > entry)
    return next(closed, "")


def raw_facts(house: House, entry: int) -> tuple[Fact, ...]:
    """What an entry wrote down, whether it counts or not; kind by kind."""
    return tuple(row.fact for rows in house.kept.values() for row in rows if row.entry == entry)


def _is_latest_word(fact: Fact) -> bool:
    return not isinstance(fact, OF_THEIR_OWN_DAY)


def _later(house: House, entry: int) -> Iterator[tuple[int, Fact]]:
    for rows in house.kept.values():
        for row in reversed(rows):
            if row.entry <= entry:
                break
            yield row.entry, row.fact
