"""The looks after those planned, where a cycle is short enough for more than one.

A plan has each visit once: the next look at its beds has no day before this one has its
own. What comes due once more within the days is planned then, beside what stands already,
and so on until nothing does. Each morning plans it anew, after the look before it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from hotelwatch.core.checks.seasons import Pace, pace
from hotelwatch.core.facts import RoomNo, SlotPublished, TeamName
from hotelwatch.core.planning.as_sheets import chosen_slots, slots_of, walked
from hotelwatch.core.planning.problem import NEVER, Choice, Ints
from hotelwatch.core.planning.rolling import roll
from hotelwatch.core.planning.situation import Situation, enterable_on, open_and_shut
from hotelwatch.core.planning.surprise import expected_late
from hotelwatch.core.planning.within_hours import SheetJobs, sheet_jobs, within_hours
from hotelwatch.core.rounds.demand import early_days
from hotelwatch.core.rounds.plan import LeftOut, LookAgain, WhyNot
from hotelwatch.core.rounds.visits import Visit


@dataclass(frozen=True, slots=True)
class ComingAgain:
    """The looks after the planned ones."""

    looks: tuple[LookAgain, ...]
    """By day, team and walking order among themselves."""
    left_out: tuple[LeftOut, ...]
    """Visits that come due once more and find no day, the earliest due first."""


NOTHING = ComingAgain((), ())


def coming_again(situation: Situation, choice: Choice) -> ComingAgain:
    """Looks at what comes due once more within the days, if all is done as chosen.

    Nothing that stands is moved for them.
    """
    looks: list[LookAgain] = []
    left: list[LeftOut] = []
    beside: SheetJobs = {}
    first, slots = situation, slots_of(situation, choice)
    while (rows := due_once_more(situation, choice)).size:
        beside = sheet_jobs(situation, choice, beside)
        standing = (*slots, *(one.slot for one in looks))
        situation = _after(situation, choice, rows, {(slot.room, slot.on) for slot in standing})
        choice = roll(situation.problem, situation.prices).choice
        choice = within_hours(situation, choice, beside)
        looks += _looks(situation, choice)
        left += _left_out(situation, choice)
    left.sort(key=lambda one: one.due_on)
    return ComingAgain(_in_place(first, slots, looks), tuple(left))


def due_once_more(situation: Situation, choice: Choice) -> Ints:
    """Rows whose next look is due before the last day is over; what a case closed is not."""
    problem, closed = situation.problem, situation.view.own_cases
    runs, last = pace(situation.house), situation.days[-1]
    is_soon = choice.on != NEVER
    if not runs.seasons:
        # What the loop below would find too, at once: nearly all is due after the last day.
        is_soon &= choice.on + problem.cycle < problem.horizon
    rows = [
        row
        for row in np.flatnonzero(is_soon).tolist()
        if problem.rooms[row] not in closed
        and runs.due_on(situation.days[choice.on[row]], int(problem.cycle[row])) <= last
    ]
    return np.array(rows, np.int64)


def _after(
    situation: Situation, choice: Choice, rows: Ints, standing: Collection[tuple[RoomNo, date]]
) -> Situation:
    """The next looks of some visits, with what the planned ones leave of sheets.

    A room that stands on a sheet of a day with other beds is not entered twice then.
    """
    problem, view = situation.problem, situation.view
    first, runs = situation.days[0], pace(situation.house)
    visits = tuple(
        _next_visit(situation, row, situation.days[int(choice.on[row])], runs)
        for row in rows.tolist()
    )
    enterable = enterable_on(view, visits)
    enterable &= np.arange(problem.horizon)[None, :] > choice.on[rows][:, None]
    for row, visit in enumerate(visits):
        enterable[row] &= [(visit.room, day) not in standing for day in situation.days]
    is_open, shut = open_and_shut(view, visits, enterable)
    due = np.array([(visit.due_on - first).days for visit in visits], np.int64)
    none = np.full(len(rows), NEVER)
    share = situation.house.rules.figures.surprise_share.value
    left, been = problem.left_by(choice)
    after = replace(
        problem,
        rooms=tuple(visit.room for visit in visits),
        minutes=problem.minutes[rows],
        beds=problem.beds[rows],
        lags=None,
        due=due,
        waits_since=due,
        cycle=problem.cycle[rows],
        area=problem.area[rows],
        needs=problem.needs[rows],
        open=is_open,
        known=problem.known[rows],
        chance=problem.chance[rows],
        shut=shut,
        team_minutes=left,
        been=been,
        is_asked=np.zeros(len(rows), bool),
        weight=problem.weight[rows],
        surprise=expected_late(situation.letting.lengths, enterable, due, share=share),
        later_on=np.array([(view.best_later(visit) - first).days for visit in visits], np.int64),
        was_on=none,
        was_team=none,
        pinned_on=none,
        pinned_team=none,
        agreed=None,
    )
    return replace(situation, visits=visits, problem=after)


def _next_visit(situation: Situation, row: int, on: date, runs: Pace) -> Visit:
    """The visit that follows one made on a day: routine, all its beds due together."""
    visit, view = situation.visits[row], situation.view
    due_on = runs.due_on(on, int(situation.problem.cycle[row]))
    best_on = view.best_on(visit.room, due_on, visit.people)
    early = timedelta(days=early_days(situation.house, int(situation.problem.cycle[row])))
    wanted = replace(
        visit.wanted,
        bed_due_on=(due_on,) * len(visit.wanted.beds),
        due_on=due_on,
        asked_by="",
        by_at=None,
        cases=(),
        early_days=early.days,
        earliest_on=on + early,
        pull=None,
        is_follow_up=False,
    )
    return replace(
        visit,
        wanted=wanted,
        beds=tuple(replace(bed, due_on=due_on, waits_since=due_on) for bed in visit.beds),
        due_on=due_on,
        waits_since=due_on,
        first_on=max(wanted.earliest_on, best_on - early),
        best_on=best_on,
    )


def _looks(situation: Situation, choice: Choice) -> Iterator[LookAgain]:
    due_on: dict[tuple[RoomNo, date], date] = {}
    for row in np.flatnonzero(choice.on != NEVER).tolist():
        visit, on = situation.visits[row], situation.days[int(choice.on[row])]
        due_on[visit.room, on] = min(due_on.get((visit.room, on), visit.due_on), visit.due_on)
    for slot in chosen_slots(situation, choice):
        yield LookAgain(slot, due_on[slot.room, slot.on])


def _in_place(
    situation: Situation, slots: Sequence[SlotPublished], looks: Sequence[LookAgain]
) -> tuple[LookAgain, ...]:
    """Looks by day, team and walking order; each has the place of the planned one before it."""
    sheets: defaultdict[tuple[date, TeamName], list[SlotPublished]] = defaultdict(list)
    for slot in (*slots, *(one.slot for one in looks)):
        sheets[slot.on, slot.team].append(slot)
    due_on = {one.slot: one.due_on for one in looks}
    found = []
    for key in sorted({(one.slot.on, one.slot.team) for one in looks}):
        before = 0
        for slot in walked(situation, sheets[key]):
            if slot in due_on:
                found.append(LookAgain(replace(slot, position=before), due_on[slot]))
            else:
                before = slot.position
    return tuple(found)


def _left_out(situation: Situation, choice: Choice) -> Iterator[LeftOut]:
    for row in np.flatnonzero(choice.on == NEVER).tolist():
        visit = situation.visits[row]
        is_open = situation.problem.open[row].any()
        why = WhyNot.NOT_AGAIN if is_open else WhyNot.SHUT_AGAIN
        yield LeftOut(visit.room, visit.due_on, why)
