"""Why some visits cannot be in time, in sums that a person can add up again.

Rooms without any place in time are told one by one, with what is in their way. For the
others: a set of rooms needs more minutes than the teams have on all the days on which
those rooms are open in time. By Hall's condition such a set exists exactly if the visits,
even split, don't fit; it is read off a pouring of minutes into days, and added up anew
from the rooms' own minutes. Ways to corridors are left out: with them it is worse.

Source: Hall 1935, On representatives of subsets, J London Math Soc 10:26-30 (from memory).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from enum import StrEnum

import numpy as np

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.places import Crowd, Places, crowd_of, in_time, places_of, pressing
from hotelwatch.core.planning.pouring import crowded
from hotelwatch.core.planning.problem import NEVER, Choice, Claims, Ints, Problem, Way
from hotelwatch.core.planning.stretches import stretches


class Binds(StrEnum):
    """What keeps visits from being in time; the plainer one comes first."""

    IN_QUARANTINE = "in_quarantine"
    """Only its own case may ask for a look."""
    NO_OPENING = "no_opening"
    """The room has no opening up to its due day, or none that a team meets."""
    LOOKED_TODAY = "looked_today"
    """It has one today, but was looked at already, with a gap."""
    AGREED_LATER = "agreed_later"
    """It has none, but its guest agreed to a look after that."""
    FORBIDDEN = "forbidden"
    """It has, but on days alone that a supervisor forbade."""
    PINNED = "pinned"
    """It has, but a supervisor pinned it elsewhere."""
    HOURS_TOO_SHORT = "hours_too_short"
    """It has, but never for as long as the visit takes."""
    TOO_EARLY = "too_early"
    """It can be entered, but so soon after its last look that plans leave it alone."""
    NO_TEAM = "no_team"
    """It has, but no team with the people that its beds need works then."""
    HOUSE_CLOSED = "house_closed"
    """It has, but nobody of the house looks at beds then."""
    OUTSIDE_SHIFTS = "outside_shifts"
    """It has, but outside the shifts of such teams."""
    TOO_LONG = "too_long"
    """It has, but no such team has the minutes for all of it on one of these days."""
    SPENT_TODAY = "spent_today"
    """It has one today alone, and such teams have spent too much of today."""
    MINUTES = "minutes"
    """The teams have too few minutes on the days on which the rooms are open."""
    PEOPLE = "people"
    """The same for the teams with the people that the beds need."""
    WHOLE_ROOMS = "whole_rooms"
    """Split between days they would fit; whole, and with ways to corridors, they do not."""
    PUT_OFF = "put_off"
    """They would fit in time beside all else in the plan, which has put them off."""


ALONE = frozenset(
    {Binds.NO_OPENING, Binds.PINNED, Binds.NO_TEAM, Binds.OUTSIDE_SHIFTS, Binds.TOO_LONG}
)
"""Of which ``why_not`` tells room by room."""


@dataclass(frozen=True, slots=True)
class TeamTime:
    """Minutes of a team on a day that count in a sum."""

    on: date
    team: TeamName
    minutes: int


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Visits that cannot all be in time, and the sum that shows it."""

    binds: Binds
    rows: tuple[int, ...]
    """The visits, as rows of the problem."""
    rooms: tuple[RoomNo, ...]
    days: tuple[date, ...]
    """All days on which one of them could be made in time; for a room told alone, those on
    which it is open in time, though it cannot be made then."""
    until_on: date
    """The last day by which one of them is due."""
    needed: int
    """Their minutes; of rooms that do not fit whole, those of the shortest."""
    minutes: int
    """What the teams that can do them have on ``days``; of rooms that do not fit whole, the
    most that the plan leaves one team on one day for those that ``needed`` is of, ways off."""
    each: tuple[tuple[RoomNo, int], ...] = ()
    """Of minutes: what ``needed`` is the sum of, by visit."""
    counted: tuple[TeamTime, ...] = ()
    """Of minutes: what ``minutes`` is the sum of."""
    opens_on: date | None = None
    """Of a room told alone: the first day after on which it can be made."""
    wanted_at: datetime | None = None
    """Of such a room that a case asks for: its deadline, if no team can come on its day before."""
    overdue_bed_days: int = 0
    """Of such a room: overdue by then, or by the last day. Of others: in the plan told of."""
    closed_for: tuple[str, ...] = ()
    """Of a room that opens while the house is closed alone: what for, as somebody wrote down."""
    held: tuple[RoomNo, ...] = ()
    """Of rooms told together: those that a supervisor keeps to a day or a team."""

    @property
    def short(self) -> int:
        """Minutes short; 0 where it is not minutes that bind."""
        is_sum = self.binds in (Binds.MINUTES, Binds.PEOPLE)
        return max(0, self.needed - self.minutes) if is_sum else 0


def why_not(problem: Problem, choice: Choice | None = None) -> tuple[Shortfall, ...]:
    """Every reason found, the plainest first; a plan's choice tells of rooms late all the same."""
    places = places_of(problem)
    found = list(short_sets(problem, places))
    if choice is not None:
        found = found or list(_late_in_plan(problem, places, choice))
        late = problem.overdue_by_visit(choice)
        found = [replace(one, overdue_bed_days=int(late[list(one.rows)].sum())) for one in found]
    found += _alone(problem, places)
    order = list(Binds)
    return tuple(sorted(found, key=lambda one: order.index(one.binds)))


# --- rooms without a place ----------------------------------------------------------------


def _alone(problem: Problem, places: Places) -> Iterator[Shortfall]:
    claims = in_time(problem, places)
    for row in np.flatnonzero(pressing(problem) & ~claims.any(axis=1)).tolist():
        due = int(problem.due[row])
        after = places.day[places.open[row] & (places.day > due)]
        late = int(after.min()) if after.size else problem.horizon - 1
        opens = np.flatnonzero(problem.open[row, : due + 1])
        yield Shortfall(
            binds=_in_the_way(problem, row, opens),
            rows=(row,),
            rooms=(problem.rooms[row],),
            days=tuple(problem.days[day] for day in opens.tolist()),
            until_on=problem.days[due],
            needed=int(problem.minutes[row]),
            minutes=0,
            opens_on=problem.days[late] if after.size else None,
            overdue_bed_days=int(problem.late_bed_days[row, late]),
        )


def _in_the_way(problem: Problem, row: int, opens: Ints) -> Binds:
    """What keeps a room from being looked at on the days on which it is open in time."""
    works = problem.team_minutes[opens] > 0
    if not works.any():
        return Binds.NO_OPENING
    able = works & (problem.team_people >= problem.needs[row])
    if not able.any():
        return Binds.NO_TEAM
    if problem.shut is not None:
        able &= ~problem.shut[row, opens]
    if not able.any():
        return Binds.OUTSIDE_SHIFTS
    way = problem.area_minutes
    able &= problem.team_minutes[opens] >= problem.minutes[row] + way
    return Binds.PINNED if able.any() else Binds.TOO_LONG


# --- minutes --------------------------------------------------------------------------------


def short_sets(problem: Problem, places: Places) -> Iterator[Shortfall]:
    """Sets of visits that need more minutes than there are where they can be made in time."""
    crowd = crowd_of(problem, places)
    if not crowd.short:
        return
    claims = in_time(problem, places)
    sets = _by_stretches(problem, places, crowd)
    for rows, there in sets or _by_cut(crowd, claims):
        yield _sum(problem, places, rows, there)


def _sum(problem: Problem, places: Places, rows: Ints, there: Claims) -> Shortfall:
    counted = tuple(
        TeamTime(problem.days[day], problem.teams[team], int(problem.team_minutes[day, team]))
        for place in np.flatnonzero(there).tolist()
        for day in [int(places.day[place])]
        for team in places.teams[place]
    )
    days = np.unique(places.day[there])
    is_all = problem.team_people >= int(problem.needs[rows].min())
    passed_over = bool((problem.team_minutes[days][:, ~is_all] > 0).any())
    return Shortfall(
        binds=Binds.PEOPLE if passed_over else Binds.MINUTES,
        rows=tuple(rows.tolist()),
        rooms=tuple(dict.fromkeys(problem.rooms[row] for row in rows.tolist())),
        days=tuple(problem.days[day] for day in days.tolist()),
        until_on=problem.days[int(problem.due[rows].max())],
        needed=int(problem.minutes[rows].sum()),
        minutes=sum(one.minutes for one in counted),
        each=tuple((problem.rooms[row], int(problem.minutes[row])) for row in rows.tolist()),
        counted=counted,
        held=_held(problem, rows),
    )


def _held(problem: Problem, rows: Ints) -> tuple[RoomNo, ...]:
    is_held = (problem.kept_to[rows] != NEVER) | (problem.pinned_team[rows] != NEVER)
    return tuple(dict.fromkeys(problem.rooms[row] for row in rows[is_held].tolist()))


Set = tuple[Ints, Claims]
"""Visits, and all places where they could be made in time (B)."""


def _by_stretches(problem: Problem, places: Places, crowd: Crowd) -> Sequence[Set]:
    """Whole stretches of days that lack as much as all days together; none if they do not.

    They are tried for all visits, then for those that need more people.
    """
    claims = in_time(problem, places)
    for people in sorted(set(problem.needs[crowd.rows].tolist())):
        rows = crowd.rows[problem.needs[crowd.rows] >= people]
        first_team = np.array([teams[0] for teams in places.teams], np.int64)
        able = problem.team_people[first_team] >= people
        of_day = np.zeros((problem.horizon, len(places.day)), bool)
        of_day[places.day, np.arange(len(places.day))] = True
        capacity = (of_day * (places.minutes * able)[None, :]).sum(axis=1)
        days = (claims[rows].astype(np.int32) @ of_day.T.astype(np.int32)) > 0
        found, short = stretches(days, problem.minutes[rows], capacity)
        if short == crowd.short:
            inside = [rows[~(days & ~stretch).any(axis=1)] for stretch in found]
            return [(some, claims[some].any(axis=0)) for some in inside]
    return ()


def _by_cut(crowd: Crowd, claims: Claims) -> Iterator[Set]:
    """The fewest visits that crowd one another; sets that share no place are told apart."""
    is_in, _ = crowded(crowd.pouring)
    rows = crowd.rows[is_in]
    links = claims[rows]
    left = np.asarray(links.any(axis=0), bool)
    while left.any():
        reached: Claims = np.zeros(left.size, bool)
        reached[int(left.argmax())] = True
        while True:
            wider = np.asarray(links[links[:, reached].any(axis=1)].any(axis=0), bool)
            if (wider == reached).all():
                break
            reached = wider
        yield rows[links[:, reached].any(axis=1)], reached
        left &= ~reached


# --- late in a plan though it need not be -----------------------------------------------------


def _late_in_plan(problem: Problem, places: Places, choice: Choice) -> Iterator[Shortfall]:
    claims = in_time(problem, places)
    on = np.where(choice.on == NEVER, problem.horizon, choice.on)
    late = np.flatnonzero(claims.any(axis=1) & (on > problem.due))
    left = problem.left_by(choice)
    room_for = [_most_left(problem, places, left, row) for row in late.tolist()]
    most = np.array([minutes for minutes, _ in room_for], np.int64)
    fits = most >= problem.minutes[late]
    for binds, rows in ((Binds.WHOLE_ROOMS, late[~fits]), (Binds.PUT_OFF, late[fits])):
        if not rows.size:
            continue
        there = claims[rows].any(axis=0)
        days = np.unique(places.day[there])
        if binds is Binds.PUT_OFF:
            days = np.unique([day for (_, day), is_in in zip(room_for, fits, strict=True) if is_in])
        needed = int(problem.minutes[rows].min())
        told_of = (fits == (binds is Binds.PUT_OFF)) & (problem.minutes[late] == needed)
        yield Shortfall(
            binds=binds,
            rows=tuple(rows.tolist()),
            rooms=tuple(dict.fromkeys(problem.rooms[row] for row in rows.tolist())),
            days=tuple(problem.days[day] for day in days.tolist()),
            until_on=problem.days[int(problem.due[rows].max())],
            needed=needed,
            minutes=int(most[told_of].max()),
            held=_held(problem, rows),
        )


def _most_left(
    problem: Problem, places: Places, left: tuple[Ints, Collection[Way]], row: int
) -> tuple[int, int]:
    """The most minutes left for a visit on one team's day in time, its way taken off; the day."""
    minutes, gone = left
    best = (0, 0)
    there = places.open[row] & (places.day <= problem.due[row])
    for place in np.flatnonzero(there).tolist():
        day = int(places.day[place])
        for team in places.teams[place]:
            way = 0 if (day, team, int(problem.area[row])) in gone else problem.area_minutes
            best = max(best, (int(minutes[day, team]) - way, -day))
    return best[0], -best[1]
