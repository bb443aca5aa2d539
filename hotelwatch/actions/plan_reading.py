"""What is worked out about a plan once it is there: what it leans on, what a hand costs, why not.

The planner's arrays take their time to load, so they are brought in when first asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hotelwatch.actions.rounds import weighed
from hotelwatch.core.checks.coverage import FirstRound, first_round, looks
from hotelwatch.core.days import days_from
from hotelwatch.core.facts import SlotPublished
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.leaning import Leaning, leaning
from hotelwatch.core.rounds.plan import Proof, Wish
from hotelwatch.core.rounds.visits import View
from hotelwatch.core.stays.chances import chances
from hotelwatch.core.stays.forecast import learn
from hotelwatch.core.stays.openings import Occupancy

if TYPE_CHECKING:
    from hotelwatch.core.planning.late_before import LateBefore, LateSum
    from hotelwatch.core.planning.problem import Choice
    from hotelwatch.core.planning.reasons import Load
    from hotelwatch.core.planning.repairs import Repair
    from hotelwatch.core.planning.shortfall import Shortfall
    from hotelwatch.core.planning.situation import Situation

STEP = "reading_plan"


@dataclass(frozen=True, slots=True)
class Reading:
    """What stands beside a plan."""

    leanings: tuple[Leaning, ...] = ()
    """Visits whose window may close."""
    choices: int = 0
    """A supervisor's choices by hand that count: rooms pinned, and days forbidden.

    They are counted for a draft only.
    """
    price: tuple[Proof, Proof] | None = None
    """The plan with those choices, and without them; None where there are none."""
    why: tuple[Shortfall, ...] = ()
    """Why visits that are due can't all be in time, the plainest first."""
    repairs: tuple[Repair, ...] = ()
    """What would mend that, the most helpful first."""
    load: Load | None = None
    """What the cycles ask of the teams for ever; None without teams."""
    late_before: LateBefore | None = None
    """What is late before the first day; None if nothing is."""
    late: LateSum | None = None
    """What the late days of the reasons and of the backlog come to; None without teams."""
    first_round: FirstRound | None = None
    """Beds that nobody has looked at yet; None if there is none."""


def read_plan(
    house: House,
    occupancy: Occupancy,
    wish: Wish,
    slots: Sequence[SlotPublished],
    progress: Progress = silent,
    *,
    is_published: bool = False,
) -> Reading:
    """Read a plan's slots, drafted or published. ``progress`` may raise Stopped.

    What is published is filled up by the mornings to come: what is on no sheet yet is read
    as it would be planned now. What a hand costs is worked out for a draft only.
    """
    progress(0.0, STEP)
    told = Reading(first_round=first_round(looks(house, wish.from_on)))
    if not house.teams:
        return told
    wish = weighed(house, occupancy, wish)
    situation, choice = _stands(house, occupancy, wish, slots, is_published=is_published)
    progress(0.3, STEP)
    told = replace(told, leanings=_leanings(situation.view, slots))
    told = _with_reasons(told, situation, occupancy, choice)
    if is_published:
        return told
    progress(0.6, STEP)
    choices = Hand(house).choices(wish.from_on)
    if not choices:
        return told
    from hotelwatch.core.planning.planner import price_of_hand

    price = price_of_hand(house, occupancy, wish)
    return replace(told, choices=choices, price=(price.with_hand, price.without))


def _stands(
    house: House,
    occupancy: Occupancy,
    wish: Wish,
    slots: Sequence[SlotPublished],
    *,
    is_published: bool,
) -> tuple[Situation, Choice]:
    """What is to be planned, and where each visit stands or is likely to stand."""
    from hotelwatch.core.planning.chosen import choice_of, filled_up
    from hotelwatch.core.planning.situation import situation_of

    situation = situation_of(house, occupancy, wish)
    choice = choice_of(situation, slots)
    return situation, filled_up(situation, choice) if is_published else choice


def _with_reasons(
    told: Reading, situation: Situation, occupancy: Occupancy, choice: Choice
) -> Reading:
    """Why visits can't be in time, or are not on these sheets, and what would mend it."""
    from hotelwatch.core.planning.reasons import reasons_of

    why = reasons_of(situation, occupancy, choice)
    return replace(
        told,
        why=why.shortfalls,
        repairs=why.repairs,
        load=why.load,
        late_before=why.late_before,
        late=why.late,
    )


def leanings_of(
    house: House, occupancy: Occupancy, wish: Wish, slots: Sequence[SlotPublished]
) -> tuple[Leaning, ...]:
    """A plan's slots after its first day whose window may close, by the chances learned so far."""
    days = tuple(days_from(wish.from_on, max(1, wish.days)))
    return _leanings(View(house, occupancy, days, now=wish.now), slots)


def _leanings(view: View, slots: Sequence[SlotPublished]) -> tuple[Leaning, ...]:
    if not view.house.stays or not slots:
        return ()
    forecast = learn(view.house, view.days[0])
    return leaning(view, slots, chances(view.house, view.occupancy, forecast, days=view.days))
