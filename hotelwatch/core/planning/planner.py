"""Find a plan: which team looks at which room on which day.

The house becomes a problem of arrays (``situation``). Each look saves something on every
day over going on without it (``worth``): lateness, the risk of waiting, and minutes, at
prices of the days that all looks make together (``balance``). Day by day each team's day
is filled with what saves the most (``rolling``, ``filling``), ways to corridors coming out
of its minutes. The plan bears a proof: how many overdue bed-days no plan could go below
(``bounds``).

Nothing here is drawn by chance or cut by a clock: the same house, bookings and wish give
the same plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hotelwatch.core.house import House
from hotelwatch.core.planning.as_sheets import left_out_of, promised, slots_of, team_days_of
from hotelwatch.core.planning.bounds import fewest_overdue
from hotelwatch.core.planning.coming_again import NOTHING, coming_again
from hotelwatch.core.planning.narrow import narrow_days
from hotelwatch.core.planning.problem import NEVER, Choice, Problem
from hotelwatch.core.planning.rolling import Rolled
from hotelwatch.core.planning.situation import Situation, situation_of
from hotelwatch.core.planning.strict import Effort, strict_plan
from hotelwatch.core.planning.strict_costs import Aims, lateness
from hotelwatch.core.planning.within_hours import filled, within_hours
from hotelwatch.core.progress import Progress, Stopped, silent
from hotelwatch.core.rounds.plan import Plan, Proof, Wish
from hotelwatch.core.stays.openings import Occupancy

LEAST_PRICE = 0.01
"""Of a minute, where it divides."""


def plan_rounds(
    house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent
) -> Plan:
    """A plan for the days of the wish, with its proof.

    A team's sheet stays within its minutes, ways to corridors among them; no bed stands
    on two sheets; no room is entered that is not open that day; a room in quarantine is
    entered only where its own case asks for it. A room that was looked at already on the
    first day keeps its slot there. If ``progress`` raises Stopped the best plan so far
    comes back, and its proof says that it was stopped.
    """
    situation = situation_of(house, occupancy, wish)
    if wish.is_strict:
        return strict_plan_of(situation, progress)
    return plan_of(situation, progress)


def plan_of(situation: Situation, progress: Progress = silent) -> Plan:
    """The plan of a situation, for the long run."""
    return _plan(situation, filled(situation, progress))


def strict_plan_of(situation: Situation, progress: Progress = silent) -> Plan:
    """The plan with the fewest overdue bed-days in these days that a search finds."""
    problem, prices = situation.problem, situation.prices
    start = filled(situation).choice
    figures = situation.house.rules.figures
    # At what a busy team's minute is worth: where minutes are idle a move must not outweigh a
    # bed-day.
    aims = Aims(moved_minutes=prices.moved / max(figures.minute_worth.value, LEAST_PRICE))
    was_stopped = False

    def told(share: float, step: str) -> None:
        nonlocal was_stopped
        try:
            progress(share, step)
        except Stopped:
            was_stopped = True
            raise

    choice = strict_plan(problem, start, aims=aims, effort=Effort(), progress=told)
    choice = within_hours(situation, choice)
    # The search pays each way, also where a team has been today already, and knows no hours
    # of sheets.
    if lateness(problem, start) < lateness(problem, choice):
        choice = start
    firm = (choice.on != NEVER) & (choice.on < prices.firm_days)
    plan = _plan(situation, Rolled(choice, firm, was_stopped))
    if was_stopped or plan.proof.overdue_bed_days == plan.proof.fewest:
        return plan
    fewest = max(plan.proof.fewest, narrow_days(problem).fewest)
    return replace(plan, proof=replace(plan.proof, fewest=fewest))


def _plan(situation: Situation, rolled: Rolled) -> Plan:
    slots = slots_of(situation, rolled.choice)
    # What a supervisor pinned to a day is promised: who pins it counts on it.
    pinned_on = situation.problem.pinned_on
    is_pinned = (pinned_on != NEVER) & (rolled.choice.on == pinned_on)
    firm = promised(situation, rolled.firm | is_pinned, rolled.choice)
    proof = proof_of(situation.problem, rolled.choice)
    # Who stopped the planning waits for no more of it.
    after = NOTHING if rolled.was_stopped else coming_again(situation, rolled.choice)
    return Plan(
        from_on=situation.days[0],
        until_on=situation.days[-1],
        slots=slots,
        left_out=left_out_of(situation, rolled.choice),
        minutes_by_day=team_days_of(situation, slots),
        firm=frozenset((day, situation.visits[row].room) for row, day in firm.items()),
        proof=replace(
            proof,
            was_stopped=rolled.was_stopped,
            outside=int(situation.late_outside.sum()),
            again=len(after.looks) + len(after.left_out),
            again_in_time=sum(not look.is_late for look in after.looks),
        ),
        again=after.looks,
        left_again=after.left_out,
    )


def proof_of(problem: Problem, choice: Choice) -> Proof:
    """What a choice comes to, and what no choice could go below."""
    rows = np.arange(problem.visits)
    possible = (problem.was_on != NEVER) & problem.open[rows, problem.was_on]
    # A long room is more than one visit here, yet was published as one.
    published, kept = (
        {(problem.rooms[row], int(problem.was_on[row])) for row in np.flatnonzero(chosen).tolist()}
        for chosen in (possible, possible & (choice.on == problem.was_on))
    )
    placed = np.flatnonzero(choice.on != NEVER)
    ways = {(int(choice.on[v]), int(choice.team[v]), int(problem.area[v])) for v in placed}
    reached = problem.overdue_bed_days(choice)
    return Proof(
        overdue_bed_days=reached,
        fewest=fewest_overdue(problem, reached),
        walking_minutes=len(ways) * problem.area_minutes,
        kept=len(kept),
        moved=len(published - kept),
    )


@dataclass(frozen=True, slots=True)
class HandPrice:
    """What a supervisor's pins and forbidden days cost."""

    with_hand: Proof
    without: Proof


def price_of_hand(house: House, occupancy: Occupancy, wish: Wish) -> HandPrice:
    """The plan as it is against the plan without any pin or forbidden day."""
    with_hand, without = (
        proof_of(one.problem, filled(one).choice)
        for by_hand in (True, False)
        for one in (situation_of(house, occupancy, wish, by_hand=by_hand),)
    )
    return HandPrice(with_hand, without)
