"""Find a plan: which team looks at which room on which day.

The house becomes a problem of arrays (``situation``). Each look has a cost for every day
(``worth``): lateness, the risk of waiting, and what minutes are worth in the long run.
Day by day each team's day is filled with what saves the most (``rolling``, ``filling``),
ways to corridors coming out of its minutes. The plan bears a proof: how many overdue
bed-days no plan could go below (``bounds``).

Nothing here is drawn by chance or cut by a clock: the same house, bookings and wish give
the same plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hotelwatch.core.checks.walked import ways_minutes
from hotelwatch.core.house import House
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.plan import Plan, Proof, Wish
from hotelwatch.core.rounds.problem import NEVER, Choice
from hotelwatch.core.rounds.rolling import Rolled, roll
from hotelwatch.core.rounds.situation import (
    Situation,
    left_out_of,
    promised,
    situation_of,
    slots_of,
    team_days_of,
)
from hotelwatch.core.stays.openings import Occupancy


def plan_rounds(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Plan:
    """A plan for the days of the wish, with its proof.

    A team's sheet stays within its minutes, ways to corridors among them; no bed stands
    on two sheets; no room is entered that is not open that day; a room in quarantine is
    entered only where its own case asks for it. A room that was looked at already on the
    first day keeps its slot there. ``progress`` may raise Stopped: before there is a plan
    nothing comes of it, after that the plan stands.
    """
    return plan_of(situation_of(house, occupancy, wish), progress)


def plan_of(situation: Situation, progress: Progress = silent) -> Plan:
    """The plan of a situation."""
    rolled = roll(situation.problem, situation.prices, progress)
    return _plan(situation, rolled)


def _plan(situation: Situation, rolled: Rolled, *, was_stopped: bool = False) -> Plan:
    slots = slots_of(situation, rolled.choice)
    firm = promised(situation, rolled.firm, rolled.choice)
    return Plan(
        from_on=situation.days[0],
        until_on=situation.days[-1],
        slots=slots,
        left_out=left_out_of(situation, rolled.choice),
        minutes_by_day=team_days_of(situation, slots),
        firm=frozenset((day, situation.visits[row].room) for row, day in firm.items()),
        proof=replace(proof_of(situation, rolled.choice), was_stopped=was_stopped),
    )


def proof_of(situation: Situation, choice: Choice) -> Proof:
    """What a choice comes to, and what no choice could go below."""
    problem = situation.problem
    was = problem.was_on != NEVER
    rows = np.arange(problem.visits)
    possible = was & problem.open[rows, problem.was_on] if problem.visits else was
    stays = possible & (choice.on == problem.was_on)
    slots = [slot for slot in slots_of(situation, choice) if slot not in situation.done]
    sheets = {(slot.on, slot.team) for slot in slots}
    walking = sum(
        ways_minutes(situation.house, (s.room for s in slots if (s.on, s.team) == sheet))
        for sheet in sheets
    )
    return Proof(
        overdue_bed_days=problem.overdue_bed_days(choice),
        fewest=problem.unavoidable,
        walking_minutes=walking,
        kept=int(stays.sum()),
        moved=int((possible & ~stays).sum()),
    )


@dataclass(frozen=True, slots=True)
class HandPrice:
    """What a supervisor's pins and forbidden days cost."""

    with_hand: Proof
    without: Proof


def price_of_hand(house: House, occupancy: Occupancy, wish: Wish) -> HandPrice:
    """The plan as it is against the plan without any pin; forbidden days stay forbidden."""
    situation = situation_of(house, occupancy, wish)
    problem = situation.problem
    none = np.full(problem.visits, NEVER)
    free = replace(situation, problem=replace(problem, pinned_on=none, pinned_team=none))
    with_hand, without = (
        proof_of(one, roll(one.problem, one.prices).choice) for one in (situation, free)
    )
    return HandPrice(with_hand, without)
