"""Which sets of local rules a hotel has at hand: those shipped, and those its file keeps.

A set that the file keeps counts over one that is shipped under the same key: the hotel
works under what it chose, also where a later program ships another wording.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from hotelwatch.core.facts import Fact
from hotelwatch.core.profile import Hold, Profile, Releaser
from hotelwatch.core.records import Kept
from hotelwatch.core.rule_facts import RuleClause, RuleSetKept
from hotelwatch.core.standing import Standing


def all_sets(
    shipped: Mapping[str, Profile],
    sets: Sequence[Kept[RuleSetKept]],
    clauses: Sequence[Kept[RuleClause]],
) -> dict[str, Profile]:
    """Every set by its key: the shipped ones in their order, then the hotel's own."""
    kept = {row.fact.rules: versions_of(row.fact.rules, sets, clauses)[-1][1] for row in sets}
    return {**shipped, **kept}


def versions_of(
    key: str, sets: Sequence[Kept[RuleSetKept]], clauses: Sequence[Kept[RuleClause]]
) -> tuple[tuple[int, Profile], ...]:
    """A set as the file kept it over time: number of the entry, and the set."""
    found = []
    for row in sets:
        if row.fact.rules == key:
            own = tuple(c.fact for c in clauses if (c.entry, c.fact.rules) == (row.entry, key))
            found.append((row.entry, profile_of(row.fact, own)))
    return tuple(found)


def profile_of(kept: RuleSetKept, clauses: tuple[RuleClause, ...]) -> Profile:
    """A set from its facts."""
    return Profile(
        key=kept.rules,
        name=kept.name,
        ring_kinds=kept.ring_kinds,
        ring_radius=kept.ring_radius,
        hold=Hold(kept.hold),
        confirming_signs=kept.confirming_signs,
        release_by=Releaser(kept.release_by),
        keeps_years=kept.keeps_years,
        authority=kept.authority,
        clauses=clauses,
        standing=Standing(kept.standing),
        source=kept.source,
        note=kept.note,
        place=kept.place,
        file_name=kept.file_name,
        sha256=kept.sha256,
    )


def facts_of(profile: Profile) -> tuple[Fact, ...]:
    """A set as facts: itself, then its clauses in their order."""
    kept = RuleSetKept(
        rules=profile.key,
        name=profile.name,
        place=profile.place,
        ring_kinds=profile.ring_kinds,
        ring_radius=profile.ring_radius,
        hold=profile.hold,
        confirming_signs=profile.confirming_signs,
        release_by=profile.release_by,
        keeps_years=profile.keeps_years,
        authority=profile.authority,
        standing=profile.standing,
        source=profile.source,
        note=profile.note,
        file_name=profile.file_name,
        sha256=profile.sha256,
    )
    return (kept, *(replace(clause, rules=profile.key) for clause in profile.clauses))
