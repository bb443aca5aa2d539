"""Why the cycle can't be met in the days planned, and what would mend it, for a house."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

import numpy as np

from hotelwatch.core.checks.seasons import WHOLE_DAY, pace
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.planning.as_sheets import kept_off_days
from hotelwatch.core.planning.late_before import LateBefore, LateSum, late_before_of
from hotelwatch.core.planning.problem import NEVER, Choice, Claims
from hotelwatch.core.planning.repairs import Repair, repairs
from hotelwatch.core.planning.shortfall import Binds, Shortfall, why_not
from hotelwatch.core.planning.situation import (
    Situation,
    enterable_on,
    is_pinned_beyond,
    long_enough,
    situation_of,
)
from hotelwatch.core.planning.standing import Means, efforts_of
from hotelwatch.core.planning.within_hours import filled
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.plan import WhyNot, Wish
from hotelwatch.core.rounds.tries import latest_look
from hotelwatch.core.stays.agreed import asked_nights
from hotelwatch.core.stays.openings import Occupancy, OpeningKind


@dataclass(frozen=True, slots=True)
class Load:
    """What the house's cycles ask of its teams for ever, whatever the bookings."""

    asked_a_day: float
    """Minutes a day: every room's visit once in its cycle, ways left out."""
    had_a_day: float
    """Minutes a day of all teams with enough people for some bed, over the days planned."""
    ways_a_day: float = 0.0
    """Minutes a day for ways, at the least: to each corridor once in the shortest cycle of
    its rooms."""
    faster: float = 1.0
    """How much faster cycles run over the days planned, as seasons were noted."""

    @property
    def least_stretch(self) -> float:
        """All cycles longer by this factor at least would fit; up to 1 nothing is too much."""
        asked = self.asked_a_day + self.ways_a_day
        return asked / self.had_a_day if self.had_a_day else float("inf")

    @property
    def is_too_much(self) -> bool:
        """Whether no plan can keep the cycles in the long run."""
        return self.asked_a_day + self.ways_a_day > self.had_a_day


@dataclass(frozen=True, slots=True)
class Reasons:
    """Why not, and what to do about it."""

    load: Load
    shortfalls: tuple[Shortfall, ...]
    repairs: tuple[Repair, ...]
    late_before: LateBefore | None
    """What is late before the first day; None if nothing is."""
    late: LateSum
    """What the late days of all these come to."""


def reasons(house: House, occupancy: Occupancy, wish: Wish, progress: Progress = silent) -> Reasons:
    """Everything that keeps visits of the wish's days from being in time, with repairs."""
    situation = situation_of(house, occupancy, wish)
    return reasons_of(situation, occupancy, filled(situation, progress).choice)


def reasons_of(situation: Situation, occupancy: Occupancy, choice: Choice) -> Reasons:
    """The same for a choice that is made already."""
    found = why_not(situation.problem, choice)
    late_before = late_before_of(situation.problem, choice)
    load, cannot = load_of(situation), unplannable(situation)
    late = LateSum(
        total=situation.problem.overdue_bed_days(choice),
        already=0 if late_before is None else late_before.overdue_bed_days,
        told=sum(one.overdue_bed_days for one in found),
        outside=sum(one.overdue_bed_days for one in cannot),
    )
    if not found and late_before is None:
        return Reasons(load, cannot, (), None, late)
    enterable = _enterable(situation)
    why = _told_apart(situation, enterable, found)
    means = means_of(situation, occupancy, enterable)
    return Reasons(
        load, (*cannot, *why), repairs(situation.problem, found, means), late_before, late
    )


def _told_apart(
    situation: Situation, enterable: Claims, found: Iterable[Shortfall]
) -> Iterator[Shortfall]:
    """Rooms that can be entered in time, though no team works then, or meets them, or may come.

    For the planner such a room opens on none of these days: who reads it has to know that
    it is no guest who is in the way.
    """
    problem = situation.problem
    for one in found:
        row = one.rows[0]
        if one.binds in (Binds.NO_OPENING, Binds.TOO_LONG) and _is_spent(situation, enterable, one):
            yield replace(one, binds=Binds.SPENT_TODAY, days=problem.days[:1])
            continue
        if one.binds is not Binds.NO_OPENING:
            yield one
            continue
        one = replace(one, wanted_at=_deadline(situation, row))
        able = problem.team_people >= problem.needs[row]
        columns, binds = np.flatnonzero(enterable[row, : int(problem.due[row]) + 1]), Binds.NO_TEAM
        days = tuple(problem.days[column] for column in columns.tolist())
        kept_off = kept_off_days(situation.view, situation.visits[row])
        kept_off = tuple(day for day in kept_off if day <= one.until_on)
        if is_pinned_beyond(situation.view, situation.visits[row]):
            binds = Binds.PINNED
        elif kept_off:
            days, binds = kept_off, Binds.FORBIDDEN
        elif problem.team_minutes[np.ix_(columns, able)].any():
            is_long = long_enough(situation.view, situation.visits[row : row + 1])[0, columns]
            binds = Binds.OUTSIDE_SHIFTS if is_long.any() else Binds.HOURS_TOO_SHORT
        one = replace(one, binds=binds, days=days) if days else _told_why_shut(situation, one)
        yield _or_closed(situation, one)


def _or_closed(situation: Situation, one: Shortfall) -> Shortfall:
    """The same; where the house is closed on each of its days, no team is to blame."""
    closed = [situation.view.calendar.closed_reason(day) for day in one.days]
    reasons = [reason for reason in closed if reason is not None]
    if one.binds is not Binds.NO_TEAM or not closed or len(reasons) < len(closed):
        return one
    return replace(one, binds=Binds.HOUSE_CLOSED, closed_for=tuple(dict.fromkeys(reasons)))


def _is_spent(situation: Situation, enterable: Claims, one: Shortfall) -> bool:
    """Whether a room can be entered in time today alone, and could be done in a whole day."""
    problem, calendar, row = situation.problem, situation.view.calendar, one.rows[0]
    there = np.flatnonzero(enterable[row, : int(problem.due[row]) + 1])
    needed = int(problem.minutes[row]) + problem.area_minutes
    able = problem.team_people >= problem.needs[row]
    is_left = (problem.team_minutes[0, able] >= needed).any()
    if there.tolist() != [0] or is_left or is_pinned_beyond(situation.view, situation.visits[row]):
        return False
    opening = situation.view.opening(situation.visits[row], problem.days[0])
    return any(
        able[number]
        and calendar.minutes(team, problem.days[0]) >= needed
        and calendar.meets(team, opening, int(problem.minutes[row]))
        for number, team in enumerate(problem.teams)
    )


def _deadline(situation: Situation, row: int) -> datetime | None:
    """A case's deadline on the hotel's clocks, where its day is over before a team can come."""
    visit = situation.visits[row]
    by_at = visit.wanted.by_at
    local = None if by_at is None else by_at.astimezone(situation.house.zone)
    return local if local is not None and local.date() > visit.due_on else None


def _told_why_shut(situation: Situation, one: Shortfall) -> Shortfall:
    """A room that nobody can go into in time, though its guest need not be asked for that."""
    occupancy, (room,), today = situation.view.occupancy, one.rooms, situation.days[0]
    visit = situation.visits[one.rows[0]]
    beds = {bed.bed for bed in visit.beds}
    looked = any(slot.room == room and not beds.isdisjoint(slot.beds) for slot in situation.done)
    if looked and occupancy.opening(room, today) is not None:
        return replace(one, binds=Binds.LOOKED_TODAY)
    of_beds = (latest_look(situation.house, bed, today) for bed in beds)
    last_on = max((on for on in of_beds if on is not None), default=date.min)
    early = tuple(
        day
        for day, opening in zip(situation.days, situation.view.openings(visit), strict=True)
        if opening is not None and last_on < day <= one.until_on and day < visit.first_on
    )
    if early:
        return replace(one, binds=Binds.TOO_EARLY, days=early)
    opening = None if one.opens_on is None else occupancy.opening(room, one.opens_on)
    if opening is not None and opening.kind is OpeningKind.ARRANGED:
        return replace(one, binds=Binds.AGREED_LATER)
    return one


BINDS_OF = {
    WhyNot.IN_QUARANTINE: Binds.IN_QUARANTINE,
    WhyNot.NO_TEAM: Binds.NO_TEAM,
    WhyNot.TOO_LONG: Binds.TOO_LONG,
}


def unplannable(situation: Situation) -> tuple[Shortfall, ...]:
    """Beds due within the days that are no visit of the problem, whatever the minutes left."""
    last = situation.days[-1]
    return tuple(
        Shortfall(
            binds=BINDS_OF[cannot.why],
            rows=(),
            rooms=(cannot.wanted.room,),
            days=(),
            until_on=min(cannot.due_on),
            needed=cannot.wanted.minutes,
            minutes=0,
            overdue_bed_days=situation.late_days_of(cannot),
        )
        for cannot in situation.view.cannot_be
        if cannot.why in BINDS_OF and min(cannot.due_on) <= last
    )


def load_of(situation: Situation) -> Load:
    """The house's cycles against its teams' minutes."""
    house, view = situation.house, situation.view
    asked = 0.0
    shortest: dict[tuple[str, str], int] = {}
    for room, described in house.rooms.items():
        beds = house.beds_of(room)
        if not beds:
            continue
        cycle = house.cycle_of(room)
        asked += (view.setup + sum(view.bed_minutes(bed) for bed in beds)) / cycle
        corridor = described.floor, described.wing
        shortest[corridor] = min(cycle, shortest.get(corridor, cycle))
    minutes = (
        view.calendar.minutes(t.team, day) for t in view.crews.able() for day in situation.days
    )
    return Load(
        asked_a_day=asked,
        had_a_day=sum(minutes) / max(1, len(situation.days)),
        ways_a_day=sum(view.way / cycle for cycle in shortest.values()),
        faster=_faster(house, situation.days),
    )


def _faster(house: House, days: Sequence[date]) -> float:
    """How much faster cycles run, on average, than without seasons."""
    runs = pace(house)
    return sum(runs.counts_on(day) for day in days) / (WHOLE_DAY * max(1, len(days)))


def means_of(situation: Situation, occupancy: Occupancy, enterable: Claims) -> Means:
    """What front desk could keep free, what encasing would spare, and the like."""
    house, view = situation.house, situation.view
    visits = situation.visits
    encased, unencased = [], []
    for visit in visits:
        beds = [house.beds[bed.bed] for bed in visit.beds]
        encased.append(view.setup + sum(view.bed_minutes(bed, encased=True) for bed in beds))
        unencased.append(sum(not bed.encased for bed in beds))
    teams = situation.problem.teams
    closed = [view.calendar.closed_reason(day) is not None for day in situation.days]
    # Neither a day nor a night helps what a supervisor keeps for later.
    waits = np.array([is_pinned_beyond(view, visit) for visit in visits], bool)[:, None]
    away = {
        (column, number): told.reason
        for column, day in enumerate(situation.days)
        for number, team in enumerate(teams)
        if (told := view.calendar.away(team, day)) is not None
    }
    kept_free = [house.teams[team].kept_free for team in teams]
    return Means(
        nights=_nights(situation, occupancy) & ~waits,
        enterable=enterable & long_enough(view, visits) & ~np.array(closed, bool)[None, :] & ~waits,
        minutes_if_encased=np.minimum(np.array(encased, np.int64), situation.problem.minutes),
        beds_to_encase=np.array(unencased, np.int64),
        kept_free=np.array(kept_free, np.int64),
        efforts=efforts_of(house.rules.figures),
        away=away,
    )


def _enterable(situation: Situation) -> Claims:
    """Days on which rooms can be entered though no team that could do them works, or meets them."""
    days, first = situation.days, situation.days[0]
    from_on = np.array([(visit.first_on - first).days for visit in situation.visits], np.int64)
    early = np.arange(len(days))[None, :] < from_on[:, None]
    found: Claims = enterable_on(situation.view, situation.visits) & ~early
    return found


def _nights(situation: Situation, occupancy: Occupancy) -> Claims:
    """Days that would open if the first night of a booking to come were spent elsewhere.

    Of a room without an opening in time also days after its due day, before it opens. A
    night for which front desk is asked already, or was, is none.
    """
    days, problem, hand = situation.days, situation.problem, situation.view.hand
    could = np.zeros((len(situation.visits), len(days)), bool)
    opens = np.where(problem.open.any(axis=1), problem.open.argmax(axis=1), problem.horizon)
    until = np.where(problem.late_days[:, -1] > 0, np.maximum(problem.due, opens - 1), NEVER)
    asked = {(one.room, one.night) for one in asked_nights(situation.house, days[0])}
    of_room: defaultdict[RoomNo, list[int]] = defaultdict(list)
    for row, visit in enumerate(situation.visits):
        of_room[visit.room].append(row)
    for room, rows in of_room.items():
        for column in range(1, min(int(until[rows].max()) + 1, len(days))):
            night, day = days[column - 1], days[column]
            stay = occupancy.stay_on(room, night)
            # A guest who is in the house already, or stays one night only, changes nothing.
            if (
                stay is not None
                and stay.arrives_on == night
                and stay.leaves_on > day
                and night > days[0]
                and (room, night) not in asked
                and day not in hand.forbidden(room)
            ):
                could[rows, column] = [situation.visits[row].first_on <= day for row in rows]
    return could
