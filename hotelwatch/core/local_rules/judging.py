"""A set of local rules judged by the record of some days, clause by clause."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from hotelwatch.core.days import local_day
from hotelwatch.core.house import House
from hotelwatch.core.local_rules.compared import compared_of
from hotelwatch.core.local_rules.duties import deadline_items
from hotelwatch.core.local_rules.recording import keep_items, licensed_items, record_items
from hotelwatch.core.local_rules.rooms import (
    close_items,
    eliminate_items,
    release_items,
    vacant_items,
)
from hotelwatch.core.local_rules.rows import (
    Item,
    ItemState,
    Judgement,
    Period,
    RulesJudged,
    Verdict,
    verdict_of,
)
from hotelwatch.core.profile import Profile
from hotelwatch.core.rule_facts import Asks, RuleClause

Judge = Callable[[House, RuleClause, Period], tuple[Item, ...]]
TABLES: Mapping[Asks, tuple[str, ...]] = {
    Asks.CLOSE: ("sightings", "quarantines", "lets"),
    Asks.ELIMINATE: ("quarantines",),
    Asks.RELEASE: ("quarantines",),
    Asks.LICENSED: ("treatments",),
    Asks.VACANT: ("checks",),
}
"""Tables of the month's book that show what a kind of clause asks, beside those of its items."""


def judged(house: House, period: Period, profile: Profile | None = None) -> RulesJudged:
    """Each clause of a set, by default the one in force, with what the record shows of it.

    ``house`` is as it was known at the end of the days judged.
    """
    rules = profile or house.profile
    today = local_day(period.end, house.zone)
    return RulesJudged(
        rules=rules.key,
        name=rules.name,
        place=rules.place,
        file_name=rules.file_name,
        sha256=rules.sha256,
        judgements=tuple(
            _judgement(house, rules, clause, period, today=today) for clause in rules.clauses
        ),
    )


def _judgement(
    house: House, rules: Profile, clause: RuleClause, period: Period, *, today: date
) -> Judgement:
    judge = _JUDGES.get(clause.asks)
    items = judge(house, clause, period) if judge else ()
    named = dict.fromkeys([*TABLES.get(clause.asks, ()), *(i.table for i in items if i.table)])
    compared = compared_of(house, rules, clause, today)
    return Judgement(
        clause=clause,
        verdict=verdict_of(items) if judge else Verdict.CANNOT_TELL,
        items=items,
        tables=tuple(named),
        compared_by=compared.by,
        compared_on=compared.on,
        is_stale=compared.is_stale,
    )


def _signs(house: House, clause: RuleClause, _period: Period) -> tuple[Item, ...]:
    """Whether each sign that a clause names counts as an infestation by itself."""
    counts = set(house.profile.confirming_signs)
    return tuple(
        Item(sign, "", "", ItemState.DONE if sign in counts else ItemState.MISSING)
        for sign in clause.signs
    )


_JUDGES: Mapping[Asks, Judge] = {
    Asks.DEADLINE: deadline_items,
    Asks.CLOSE: close_items,
    Asks.ELIMINATE: eliminate_items,
    Asks.RELEASE: release_items,
    Asks.LICENSED: licensed_items,
    Asks.RECORD: record_items,
    Asks.KEEP: keep_items,
    Asks.VACANT: vacant_items,
    Asks.SIGNS: _signs,
}
