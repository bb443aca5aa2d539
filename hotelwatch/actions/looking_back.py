"""What the record shows, looking back: the cycle kept, finds, where they recur, what they cost.

The arrays of the odds take time to load, so nothing of them is imported at the start.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hotelwatch.actions.odds import OddsView
from hotelwatch.core.cases.cost_years import YearCost, cost_years
from hotelwatch.core.cases.lets import lets_against_blocks
from hotelwatch.core.checks.cycle_kept import CycleKept, cycle_kept
from hotelwatch.core.odds.past.back_rows import FindBack, FindGroup, FindsInAll
from hotelwatch.core.odds_figures import OddsRules
from hotelwatch.core.progress import Progress, silent


@dataclass(frozen=True, slots=True, eq=False)
class BackWish:
    """What is looked back on, and when."""

    view: OddsView
    now: datetime


@dataclass(frozen=True, slots=True, eq=False)
class LookingBack:
    """What the record shows."""

    wish: BackWish
    kept: CycleKept
    finds: tuple[FindBack, ...]
    in_all: FindsInAll
    groups: tuple[FindGroup, ...]
    years: tuple[YearCost, ...]

    @property
    def rules(self) -> OddsRules:
        """The figures by which it was reckoned, prices among them."""
        return self.wish.view.reckoning.rules


def look_back(wish: BackWish, progress: Progress = silent) -> LookingBack:
    """Look back on the record. Progress may stop it with Stopped."""
    from hotelwatch.core.odds.past.found_groups import find_groups
    from hotelwatch.core.odds.past.looking_back import all_finds, finds_back

    house, reckoning = wish.view.house, wish.view.reckoning
    finds = finds_back(house, reckoning, progress=progress)
    lets = lets_against_blocks(house, wish.now)
    return LookingBack(
        wish=wish,
        kept=cycle_kept(house, reckoning.today, progress=progress),
        finds=finds,
        in_all=all_finds(house, reckoning, finds),
        groups=find_groups(house, reckoning.around, finds),
        years=cost_years(house, reckoning.rules.figures, finds, lets=lets, now=wish.now),
    )
