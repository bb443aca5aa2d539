"""Who compared a clause with the law in force, and whether that still stands.

A comparison of the whole set counts for each clause of it. One that was made before the
file kept the clause in other words counts no more for that clause.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from hotelwatch.core.house import House
from hotelwatch.core.profile import Profile
from hotelwatch.core.rule_facts import RuleClause, RulesCompared, RuleSetKept
from hotelwatch.core.rule_sets import versions_of


@dataclass(frozen=True, slots=True)
class Compared:
    """Who last compared a clause with the law in force, and when."""

    by: str
    """Empty: nobody."""
    on: date | None
    is_stale: bool
    """Nobody did, or longer ago than a comparison stands."""


def compared_of(house: House, profile: Profile, clause: RuleClause, today: date) -> Compared:
    """The latest comparison of a clause in its present words, as of a day."""
    since = _same_since(house, profile, clause)
    made = [
        row.fact
        for row in house.kept_of(RulesCompared)
        if row.fact.rules == profile.key
        and row.fact.clause in ("", clause.clause)
        and row.entry >= since
        and row.fact.on <= today
    ]
    if not made:
        return Compared("", None, is_stale=True)
    last = max(made, key=lambda fact: fact.on)
    stands_days = int(house.rules.figures.rules_compared_days.value)
    return Compared(last.by, last.on, is_stale=(today - last.on).days > stands_days)


def _same_since(house: House, profile: Profile, clause: RuleClause) -> int:
    """The entry since which the file keeps the clause in these words; 0: it never did."""
    since = 0
    kept = versions_of(profile.key, house.kept_of(RuleSetKept), house.kept_of(RuleClause))
    before: RuleClause | None = None
    for entry, version in kept:
        now = version.clause(clause.clause)
        if now != before and before is not None:
            since = entry
        before = now if now is not None else before
    return since
