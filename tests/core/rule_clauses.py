"""Clauses of local rules for tests, said in a line."""

from __future__ import annotations

from dataclasses import replace

from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.facts import Fact
from hotelwatch.core.local_rules.compared import compared_of
from hotelwatch.core.rule_facts import Asks, HowRead, RuleClause
from hotelwatch.core.rule_sets import facts_of
from tests.build import rules


def clause(asks: Asks, key: str = "one", **more: object) -> RuleClause:
    """A clause of a kind, invented for a test."""
    plain = RuleClause("ours", key, "Test code", "1", asks, "as it says", "a test", HowRead.READ)
    return replace(plain, **more)


def deadline(duty: str, amount: int, unit: str, starts: str, key: str = "") -> RuleClause:
    """A clause with a deadline."""
    more = {"duty": duty, "amount": amount, "unit": unit, "starts": starts, "to": "office"}
    return clause(Asks.DEADLINE, key or duty, **more)


def own_rules(*clauses: RuleClause, **more: object) -> tuple[Fact, ...]:
    """A set of these clauses as a file keeps it, and the choice to work under it."""
    kept = replace(facts_of(rules().profiles["house"])[0], rules="ours", name="Ours", **more)
    return (kept, *clauses, ProfileChosen("ours"))


def stale_clauses(house, profile, today):
    """The clauses of a set whose comparison with the law in force is missing or too old."""
    return tuple(
        clause for clause in profile.clauses if compared_of(house, profile, clause, today).is_stale
    )
