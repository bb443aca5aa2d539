"""Sheets back as the choice that a plan is: which visit stands on which day, with which team."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from hotelwatch.core.facts import BedNo, SlotPublished
from hotelwatch.core.planning.problem import NEVER, Choice
from hotelwatch.core.planning.situation import Situation
from hotelwatch.core.planning.within_hours import filled


def choice_of(situation: Situation, slots: Iterable[SlotPublished]) -> Choice:
    """The day and team of each visit on these sheets; a visit on several is on the first.

    What was looked at today is no place for what is wanted after it: somebody left a gap.
    """
    problem = situation.problem
    done = {BedNo(bed) for slot in situation.done for bed in slot.beds}
    on = np.full(problem.visits, NEVER, np.int64)
    team = np.full(problem.visits, NEVER, np.int64)
    day_of = {day: number for number, day in enumerate(problem.days)}
    team_of = {name: number for number, name in enumerate(problem.teams)}
    bed_of = {bed.bed: row for row, visit in enumerate(situation.visits) for bed in visit.beds}
    bare = {visit.room: row for row, visit in enumerate(situation.visits) if not visit.beds}
    for slot in sorted(slots, key=lambda one: one.on):
        if slot.on not in day_of or slot.team not in team_of:
            continue
        beds = {BedNo(bed) for bed in slot.beds}
        if slot.on == problem.days[0]:
            beds -= done
        rows = {bed_of[bed] for bed in beds if bed in bed_of}
        if slot.room in bare and slot not in situation.done:
            rows.add(bare[slot.room])
        for row in rows:
            if on[row] == NEVER:
                on[row], team[row] = day_of[slot.on], team_of[slot.team]
    return Choice(on, team)


def filled_up(situation: Situation, choice: Choice) -> Choice:
    """The same, and what stands nowhere where a plan made now would put it."""
    likely = filled(situation).choice
    is_open = choice.on == NEVER
    return Choice(
        np.where(is_open, likely.on, choice.on), np.where(is_open, likely.team, choice.team)
    )
