"""What a house had worked out before one more entry, and what of it still holds after that.

A check written down changes no roster and no rules: what was read from those is not read anew.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from typing import Any, TypeVar

from hotelwatch.core.choice_facts import FigureChosen, ProfileChosen, RuleChosen
from hotelwatch.core.facts import (
    BedChecked,
    BedDescribed,
    CycleChosen,
    Fact,
    FloorPlaced,
    HotelDescribed,
    RiskPlaced,
    RoomChecked,
    RoomDescribed,
    RoundPublished,
    SlotPublished,
    TeamDescribed,
    WingPlaced,
)
from hotelwatch.core.records import Kept
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.core.rule_facts import RuleClause, RuleSetKept

Kinds = frozenset[type[Fact]]
C = TypeVar("C", BedChecked, RoomChecked)
K = TypeVar("K")
CHECKS, LATEST = "checks_by_bed", "latest_looks"
_ROOMS: Kinds = frozenset({RoomDescribed, FloorPlaced})
_BEDS: Kinds = _ROOMS | {BedDescribed}
_SETS: Kinds = frozenset({RuleSetKept, RuleClause})
READS: Mapping[str, Kinds] = {
    "hotel": frozenset({HotelDescribed}),
    "zone": frozenset({HotelDescribed}),
    "teams": frozenset({TeamDescribed}),
    "floors": frozenset({FloorPlaced}),
    "wings": frozenset({WingPlaced}),
    "stairs": frozenset({StairPlaced}),
    "rooms": _ROOMS,
    "rooms_by_floor": _ROOMS,
    "beds": _BEDS,
    "beds_by_room": _BEDS,
    "builds_by_bed": frozenset({BedDescribed}),
    "chosen_cycles": frozenset({CycleChosen}),
    "risks": frozenset({RiskPlaced}),
    "rules": frozenset({FigureChosen}),
    "undersides": frozenset({FigureChosen}),
    "rule_sets": _SETS,
    "choices": frozenset({RuleChosen}),
    "profile": _SETS | {RuleChosen, ProfileChosen},
    "slots": frozenset({SlotPublished, RoundPublished}),
    "kept_room_checks": frozenset({RoomChecked}),
    "room_checks": frozenset({RoomChecked}),
}
"""Lookups of a house, each with every kind of fact that it reads."""
_OF_LATEST: Kinds = frozenset({HotelDescribed, BedDescribed, FigureChosen})
"""What whole looks rest on besides checks: days, builds and which places are underneath."""


def carry_over(
    before: Mapping[str, Any], after: dict[str, Any], added: Mapping[type[Fact], Sequence[Any]]
) -> None:
    """Put into ``after`` what ``before`` holds and the added rows do not change.

    Both are what houses keep of their lookups, by name. No entry may have been corrected.
    """
    for name, kinds in READS.items():
        if name in before and kinds.isdisjoint(added):
            after[name] = before[name]
    if CHECKS in before:
        after[CHECKS] = _with_more(before[CHECKS], added.get(BedChecked, ()))
    if LATEST in before and _OF_LATEST.isdisjoint(added):
        after[LATEST] = dict(before[LATEST])  # in one step: a job may be filling it in
        for row in added.get(BedChecked, ()):
            after[LATEST].pop(row.fact.bed, None)


def in_order(rows: Iterable[Kept[C]], of: Callable[[C], K]) -> dict[K, tuple[Kept[C], ...]]:
    """Checks grouped, those of a group by day, then in the order written down."""
    groups: defaultdict[K, list[Kept[C]]] = defaultdict(list)
    for row in rows:
        groups[of(row.fact)].append(row)
    return {key: tuple(sorted(those, key=_by_day)) for key, those in groups.items()}


def _with_more(
    known: Mapping[str, tuple[Kept[BedChecked], ...]], rows: Iterable[Kept[BedChecked]]
) -> Mapping[str, tuple[Kept[BedChecked], ...]]:
    found = dict(known)
    for row in rows:
        bed = row.fact.bed
        found[bed] = tuple(sorted((*found.get(bed, ()), row), key=_by_day))
    return found


def _by_day(row: Kept[C]) -> tuple[date, int]:
    return row.fact.checked_on, row.entry
