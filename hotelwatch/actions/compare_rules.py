"""House rules compared: today's read from the house, another one simulated beside it.

Arrays take time to load, so nothing here is imported at the start that has any.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from hotelwatch.actions.odds import Around
from hotelwatch.core.house import House
from hotelwatch.core.odds.simulation.measures import Comparison
from hotelwatch.core.odds.simulation.policies import WEEK, HouseRule
from hotelwatch.core.odds.simulation.wishes import SimulationWish
from hotelwatch.core.odds_figures import OddsRules
from hotelwatch.core.progress import Progress, silent


@dataclass(frozen=True, slots=True, eq=False)
class RulesWish:
    """What today's rule is read from; ``odds`` has measured figures in their place."""

    house: House
    around: Around
    today: date
    odds: OddsRules


@dataclass(frozen=True, slots=True, eq=False)
class RulesBasis:
    """Today's rule, and what of others applies to the hotel's beds."""

    wish: RulesWish
    usual: HouseRule
    has_covers: bool
    """Whether some bed has an inside of its base behind a dust cover."""
    has_headboards: bool


@dataclass(frozen=True, slots=True)
class RulesAsked:
    """What is simulated; ``tried`` None: today's rule alone."""

    basis: RulesBasis
    tried: HouseRule | None
    years: int


@dataclass(frozen=True, slots=True, eq=False)
class RulesCompared:
    """What was simulated, and what came of it."""

    asked: RulesAsked
    told: Comparison
    is_own_pattern: bool
    """Whether guests were drawn from the hotel's own stays."""


def read_rule(wish: RulesWish, progress: Progress = silent) -> RulesBasis:
    """Read today's rule from the house."""
    from hotelwatch.core.odds.cycles.cycle_hotel import usual_room
    from hotelwatch.core.odds.simulation.policies import house_rule_of

    progress(0.0, "")
    room = usual_room(wish.house)
    return RulesBasis(
        wish, house_rule_of(wish.house, wish.today), bool(room.covers), bool(room.headboards)
    )


def compare_rules(asked: RulesAsked, progress: Progress = silent) -> RulesCompared:
    """Simulate today's rule, and beside it, on the same luck, the one that is tried."""
    from hotelwatch.core.odds.simulation.of_house import lets_of, simulated

    basis, wish = asked.basis, asked.basis.wish
    told = simulated(
        SimulationWish(
            wish.house, wish.around, wish.today, basis.usual, asked.tried, years=asked.years
        ),
        progress,
    )
    return RulesCompared(asked, told, lets_of(wish.house, wish.today).is_own)


def minutes_a_day(rule: HouseRule) -> int:
    """Minutes of all teams on a mean day on which any works; 0 where none ever does."""
    working = [minutes for minutes in rule.minutes_by_weekday if minutes > 0]
    return round(sum(working) / len(working)) if working else 0


def with_minutes_a_day(rule: HouseRule, minutes: int) -> HouseRule:
    """The rule with so many minutes on a mean working day, weekdays to each other as before.

    Where no team works on any day they are there on every day.
    """
    before = minutes_a_day(rule)
    if minutes == before:
        return rule
    if not before:
        return replace(rule, minutes_by_weekday=(float(minutes),) * len(WEEK))
    working = [one for one in rule.minutes_by_weekday if one > 0]
    times = minutes * len(working) / sum(working)
    return replace(rule, minutes_by_weekday=tuple(one * times for one in rule.minutes_by_weekday))
