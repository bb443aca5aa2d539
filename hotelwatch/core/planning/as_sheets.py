"""A choice back as sheets, and what it leaves out with why."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from hotelwatch.core.checks.sheet import joined, walking_order
from hotelwatch.core.checks.walked import sheet_minutes
from hotelwatch.core.days import minute_of
from hotelwatch.core.facts import BedNo, RoomNo, SlotPublished, TeamName
from hotelwatch.core.planning.problem import NEVER, Choice, Claims, Problem
from hotelwatch.core.planning.situation import Situation, is_pinned_beyond
from hotelwatch.core.rounds.hours import minutes_of
from hotelwatch.core.rounds.plan import LeftOut, TeamDay, WhyNot
from hotelwatch.core.rounds.visits import View, Visit

WHOLE_DAY = 24 * 60


def slots_of(situation: Situation, choice: Choice) -> tuple[SlotPublished, ...]:
    """The sheets of a choice, what is done today among them, by day, team and walking order."""
    sheets: defaultdict[tuple[date, TeamName], list[SlotPublished]] = defaultdict(list)
    for slot in (*situation.done, *chosen_slots(situation, choice)):
        sheets[slot.on, slot.team].append(slot)
    return tuple(
        replace(slot, position=number)
        for _, sheet in sorted(sheets.items())
        for number, slot in enumerate(walked(situation, sheet), 1)
    )


def chosen_slots(situation: Situation, choice: Choice) -> tuple[SlotPublished, ...]:
    """The visits of a choice, parts of a room on one sheet joined; without a place on it yet."""
    found: dict[tuple[date, TeamName, RoomNo], SlotPublished] = {}
    for row in np.flatnonzero(choice.on != NEVER):
        slot = _slot(situation, int(row), choice)
        key = slot.on, slot.team, slot.room
        found[key] = joined(situation.house, found[key], slot) if key in found else slot
    return tuple(found.values())


def _slot(situation: Situation, row: int, choice: Choice) -> SlotPublished:
    visit = situation.visits[row]
    wanted = visit.wanted
    taken = {bed.bed for bed in visit.beds}
    own = situation.view.own_cases.get(wanted.room, frozenset())
    return SlotPublished(
        on=situation.days[int(choice.on[row])],
        team=situation.problem.teams[int(choice.team[row])],
        position=0,
        room=wanted.room,
        beds=tuple(bed for bed in wanted.beds if bed in taken),
        minutes=visit.minutes,
        asked_by=next((case for case in wanted.cases if case in own), wanted.asked_by),
    )


def walked(situation: Situation, slots: Sequence[SlotPublished]) -> Sequence[SlotPublished]:
    """A team's slots of a day in walking order; what is done keeps its own place among them.

    Where the shortest way comes to a room after its hours, rooms go by when theirs end, or
    begin if that does not help; those alike in walking order.
    """
    order = walking_order(situation.house, (slot.room for slot in slots))
    place = {room: number for number, room in enumerate(order)}
    hours = {slot.room: _hours(situation, slot) for slot in slots}
    ordered = sorted(slots, key=lambda slot: place[slot.room])
    by_end = sorted(ordered, key=lambda slot: hours[slot.room][1])
    by_begin = sorted(ordered, key=lambda slot: hours[slot.room])
    in_time = (one for one in (ordered, by_end, by_begin) if _is_in_time(one, hours))
    return next(in_time, ordered)


def _hours(situation: Situation, slot: SlotPublished) -> tuple[int, int]:
    """From when until when its team can be in a room, in minutes of the day; done: any time."""
    opening = situation.view.room_opening(slot.room, slot.on)
    if opening is None or slot in situation.done:
        return 0, WHOLE_DAY
    begins, ends = map(minute_of, situation.view.calendar.shift(slot.team))
    return (
        max(begins, minute_of(opening.from_clock)),
        min(ends, minute_of(opening.until_clock)),
    )


def _is_in_time(slots: Iterable[SlotPublished], hours: Mapping[RoomNo, tuple[int, int]]) -> bool:
    """Whether rooms one after the other are done within their hours, ways left out."""
    at = 0
    for slot in slots:
        begins, ends = hours[slot.room]
        at = max(at, begins) + slot.minutes
        if at > ends:
            return False
    return True


def team_days_of(situation: Situation, slots: Iterable[SlotPublished]) -> tuple[TeamDay, ...]:
    """Every team on every day that it works: minutes used, ways to corridors among them."""
    sheets: defaultdict[tuple[date, TeamName], list[SlotPublished]] = defaultdict(list)
    for slot in slots:
        sheets[slot.on, slot.team].append(slot)
    calendar = situation.view.calendar
    found = []
    for day in situation.days:
        for team in situation.view.crews.working(day):
            sheet = sheets[day, team.team]
            used = sheet_minutes(situation.house, sheet)
            found.append(TeamDay(day, team.team, used, calendar.minutes(team.team, day)))
    return tuple(found)


def left_out_of(situation: Situation, choice: Choice) -> tuple[LeftOut, ...]:
    """What is asked for, or due, by the last day and on no sheet."""
    until = situation.days[-1]
    planned = {situation.visits[int(row)].room for row in np.flatnonzero(choice.on != NEVER)}
    reasons: dict[RoomNo, WhyNot] = {}
    beds: defaultdict[RoomNo, list[BedNo]] = defaultdict(list)
    due: dict[RoomNo, tuple[bool, date]] = {}
    for row in np.flatnonzero(choice.on == NEVER):
        visit = situation.visits[int(row)]
        is_pinned = situation.view.hand.pinned_day(visit.room, situation.days[0]) is not None
        can_wait = not visit.is_asked or visit.wanted.is_follow_up
        if can_wait and not is_pinned and visit.due_on > until:
            continue
        reasons.setdefault(visit.room, _why_left_out(situation, int(row)))
        beds[visit.room] += [bed.bed for bed in visit.beds]
        due[visit.room] = min(due.get(visit.room, (True, date.max)), _urgency(visit))
    for cannot in situation.view.cannot_be:
        wanted = cannot.wanted
        if (wanted.by_at is None or wanted.is_follow_up) and wanted.due_on > until:
            continue
        reasons[wanted.room] = cannot.why
        beds[wanted.room] += cannot.beds
        due.setdefault(wanted.room, (wanted.by_at is None, wanted.due_on))
    order = sorted(
        reasons, key=lambda room: (due[room][0], due[room][1] if due[room][0] else date.min)
    )
    return tuple(
        LeftOut(room, due[room][1], reasons[room], tuple(beds[room]) if room in planned else ())
        for room in order
    )


def _why_left_out(situation: Situation, row: int) -> WhyNot:
    if not situation.problem.open[row].any():
        visit, view = situation.visits[row], situation.view
        if is_pinned_beyond(view, visit):
            return WhyNot.PINNED
        if kept_off_days(view, visit):
            return WhyNot.FORBIDDEN
        openings = [opening for opening in view.openings(visit) if opening is not None]
        late_enough = [opening for opening in openings if opening.day >= visit.first_on]
        if any(minutes_of(opening) >= visit.minutes for opening in late_enough):
            return WhyNot.NOBODY_THEN
        if late_enough:
            return WhyNot.HOURS_TOO_SHORT
        return WhyNot.TOO_EARLY if openings else WhyNot.NO_OPENING
    hand, today = situation.view.hand, situation.days[0]
    room = situation.visits[row].room
    day, team = hand.pinned_day(room, today), hand.pinned_team(room, today)
    if day is None and team is None:
        return WhyNot.NO_MINUTES
    return WhyNot.PINNED_FULL if _could_be(situation.problem, row) else WhyNot.PINNED


def _could_be(problem: Problem, row: int) -> bool:
    """Whether a visit has a place where its pin leaves it, were nothing else to be done."""
    day, team = int(problem.kept_to[row]), int(problem.pinned_team[row])
    needed = problem.minutes[row] + problem.area_minutes
    may = problem.open[row][:, None] & (problem.team_minutes >= needed)
    may &= (problem.team_people >= problem.needs[row])[None, :]
    if problem.shut is not None:
        may &= ~problem.shut[row]
    days = slice(None) if day == NEVER else slice(day, day + 1)
    teams = slice(None) if team == NEVER else slice(team, team + 1)
    return bool(may[days, teams].any())


def kept_off_days(view: View, visit: Visit) -> tuple[date, ...]:
    """The days planned on which a visit could be made, had a supervisor not forbidden them."""
    forbidden, opening = view.hand.forbidden(visit.room), view.occupancy.opening
    return tuple(
        day
        for day in view.days
        if day in forbidden
        and day >= visit.first_on
        and opening(visit.room, day) is not None
        and view.crews.may_work(day, visit.people)
    )


def _urgency(visit: Visit) -> tuple[bool, date]:
    return not visit.is_asked, visit.due_on


def promised(situation: Situation, firm: Claims, choice: Choice) -> Mapping[int, date]:
    """Firm visits by row, with their day."""
    rows = np.flatnonzero(firm & (choice.on != NEVER))
    return {int(row): situation.days[int(choice.on[row])] for row in rows}
