"""Why some visits cannot be in time, in sums that a person can add up again.

Rooms without any opening in time are told one by one. For the others: a set of rooms
needs more minutes than the teams have on all the days on which those rooms are open in
time. By Hall's condition such a set exists exactly if the visits, even split, don't fit;
it is read off the prices of the days in the linear programme, and added up anew from the
rooms' own minutes. Ways to corridors are left out: with them it is worse.

Source: Hall 1935, On representatives of subsets, J London Math Soc 10:26-30 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

import numpy as np

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.linear import EVER, Programme, with_prices
from hotelwatch.core.planning.problem import NEVER, Choice, Claims, Ints, Problem


class Binds(StrEnum):
    """What keeps visits from being in time; the plainer one comes first."""

    NO_OPENING = "no_opening"
    """The room has no opening up to its due day, or none that a team meets."""
    MINUTES = "minutes"
    """The teams have too few minutes on the days on which the rooms are open."""
    PEOPLE = "people"
    """The same for the teams with the people that the beds need."""
    WHOLE_ROOMS = "whole_rooms"
    """Split between days they would fit; whole, and with ways to corridors, they do not."""


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Visits that cannot all be in time, and the sum that shows it."""

    binds: Binds
    rows: tuple[int, ...]
    """The visits, as rows of the problem."""
    rooms: tuple[RoomNo, ...]
    days: tuple[date, ...]
    """All days on which one of them is open in time and a team works; none for NO_OPENING."""
    until_on: date
    """The last day by which one of them is due."""
    needed: int
    """Their minutes."""
    minutes: int
    """What the teams that can do them have on ``days``."""
    opens_on: date | None = None
    """Of a room without an opening in time: the first day after on which it opens."""
    overdue_bed_days: int = 0
    """Of such a room: overdue by then, or by the last day."""

    @property
    def short(self) -> int:
        """Minutes short; 0 where it is not minutes that bind."""
        is_sum = self.binds in (Binds.MINUTES, Binds.PEOPLE)
        return max(0, self.needed - self.minutes) if is_sum else 0


def why_not(problem: Problem, choice: Choice | None = None) -> tuple[Shortfall, ...]:
    """Every reason found, the plainest first; a plan's choice tells of rooms late all the same."""
    found = [*_unopened(problem), *_short_of_minutes(problem)]
    if not any(one.short for one in found) and choice is not None:
        found += _not_whole(problem, choice)
    return tuple(found)


def in_time(problem: Problem) -> Claims:
    """On which days each visit, due within the horizon and not late yet, is in time (R, H)."""
    days = np.arange(problem.horizon)
    pressing = (problem.due >= 0) & (problem.due < problem.horizon)
    some = able_minutes(problem, 1) > 0
    claims: Claims = (
        problem.open
        & pressing[:, None]
        & (days[None, :] <= problem.due[:, None])
        & some[None, :]
        & _met(problem)
    )
    return claims


def able_minutes(problem: Problem, people: int) -> Ints:
    """Minutes a day of all teams with so many people (H)."""
    able = problem.team_people >= people
    minutes: Ints = problem.team_minutes[:, able].sum(axis=1)
    return minutes


def _met(problem: Problem) -> Claims:
    """Days on which some team with the people works and the room opens within its shift (R, H)."""
    able = problem.needs[:, None, None] <= problem.team_people[None, None, :]
    able = able & (problem.team_minutes[None, :, :] > 0)
    if problem.shut is not None:
        able = able & ~problem.shut
    return np.asarray(able.any(axis=2), bool)


# --- rooms that do not open ---------------------------------------------------------------


def _unopened(problem: Problem) -> Iterator[Shortfall]:
    claims = in_time(problem)
    pressing = (problem.due >= 0) & (problem.due < problem.horizon)
    later = problem.open & _met(problem)
    for number in np.flatnonzero(pressing & ~claims.any(axis=1)):
        row = int(number)
        after = np.flatnonzero(later[row])
        opens = problem.days[int(after[0])] if after.size else None
        late = int(after[0]) if after.size else problem.horizon - 1
        due = int(problem.due[row])
        yield Shortfall(
            binds=Binds.NO_OPENING,
            rows=(row,),
            rooms=(problem.rooms[row],),
            days=(),
            until_on=problem.days[due],
            needed=int(problem.minutes[row]),
            minutes=0,
            opens_on=opens,
            overdue_bed_days=int(problem.beds[row]) * max(0, late - due),
        )


# --- minutes --------------------------------------------------------------------------------


def _short_of_minutes(problem: Problem) -> Iterator[Shortfall]:
    """For each number of people, the visits that need so many against the teams that have them."""
    claims = in_time(problem)
    claimed = claims.any(axis=1)
    told = 0
    for people in sorted(set(problem.needs[claimed].tolist())):
        rows = np.flatnonzero(claimed & (problem.needs >= people))
        capacity = able_minutes(problem, people)
        found = []
        for days in _tight_days(claims[rows], problem.minutes[rows], capacity):
            inside = rows[~(claims[rows] & ~days[None, :]).any(axis=1)]
            found.append(_sum(problem, inside, days, capacity))
        found = [one for one in found if one.short]
        short = sum(one.short for one in found)
        if short > told:
            told = short
            is_all = bool((problem.team_people >= people).all())
            yield from (one if is_all else replace(one, binds=Binds.PEOPLE) for one in found)


def _sum(problem: Problem, rows: Ints, days: Claims, capacity: Ints) -> Shortfall:
    return Shortfall(
        binds=Binds.MINUTES,
        rows=tuple(int(row) for row in rows),
        rooms=tuple(problem.rooms[int(row)] for row in rows),
        days=tuple(day for day, is_in in zip(problem.days, days, strict=True) if is_in),
        until_on=problem.days[int(problem.due[rows].max(initial=0))],
        needed=int(problem.minutes[rows].sum()),
        minutes=int(capacity[days].sum()),
    )


def _tight_days(claims: Claims, minutes: Ints, capacity: Ints) -> Iterator[Claims]:
    """Sets of days whose visits need more than they have; whole stretches of days if one will do.

    Days that no visit shares with the others make a set of their own.
    """
    interval, excess = _worst_stretch(claims, minutes, capacity)
    short, days = shortest(claims, minutes, capacity)
    if short <= 0:
        return
    if excess == short:
        yield interval
        return
    yield from _apart(claims, days)


def _worst_stretch(claims: Claims, minutes: Ints, capacity: Ints) -> tuple[Claims, int]:
    """The stretch of days with the greatest excess of minutes that lie wholly inside it."""
    horizon = len(capacity)
    first = claims.argmax(axis=1)
    last = horizon - 1 - claims[:, ::-1].argmax(axis=1)
    table = np.zeros((horizon, horizon), np.int64)
    np.add.at(table, (first, last), minutes)
    # needed[a, b]: of visits whose first day is a or later and whose last is b or earlier.
    needed = table[::-1].cumsum(axis=0)[::-1].cumsum(axis=1)
    total = np.concatenate([[0], np.cumsum(capacity)])
    have = total[None, 1:] - total[:-1, None]
    excess = np.where(np.triu(np.ones_like(needed, bool)), needed - have, -1)
    begin, end = np.unravel_index(int(excess.argmax()), excess.shape)
    days = np.zeros(horizon, bool)
    days[begin : end + 1] = True
    inside = ~(claims & ~days[None, :]).any(axis=1)
    # Days on which none of them is open say nothing.
    days &= claims[inside].any(axis=0)
    return days, int(minutes[~(claims & ~days[None, :]).any(axis=1)].sum() - capacity[days].sum())


def shortest(claims: Claims, minutes: Ints, capacity: Ints) -> tuple[int, Claims]:
    """Minutes that cannot be placed even if visits are split, and the days that are full.

    Visits with the same days are one: what matters is how many minutes want which days.
    """
    groups, wanted = _grouped(claims, minutes)
    if _placed_simply(groups, wanted, capacity):
        return 0, np.zeros(claims.shape[1], bool)
    return _short_by_programme(groups, wanted, capacity)


def fits(claims: Claims, minutes: Ints, capacity: Ints) -> bool:
    """Whether all minutes can be placed if visits are split."""
    groups, wanted = _grouped(claims, minutes)
    if _placed_simply(groups, wanted, capacity):
        return True
    if _worst_stretch(groups, wanted, capacity)[1] > 0:
        return False
    return _short_by_programme(groups, wanted, capacity)[0] <= 0


def _grouped(claims: Claims, minutes: Ints) -> tuple[Claims, Ints]:
    """Each set of days that occurs, and the minutes of the visits that have it."""
    if not len(claims):
        return claims, minutes
    packed = np.ascontiguousarray(np.packbits(claims, axis=1))
    keys = packed.view(np.dtype((np.void, packed.shape[1]))).reshape(-1)
    _, first, which = np.unique(keys, return_index=True, return_inverse=True)
    return claims[first], np.bincount(which, minutes, len(first)).astype(np.int64)


def _placed_simply(groups: Claims, wanted: Ints, capacity: Ints) -> bool:
    """Whether all fit, those with the earliest last day first, each on its earliest days.

    If so it is a proof; if not it says nothing.
    """
    horizon = groups.shape[1]
    last = horizon - groups[:, ::-1].argmax(axis=1)
    free = capacity.tolist()
    for number in np.lexsort((groups.sum(axis=1), last)).tolist():
        left = int(wanted[number])
        for day in np.flatnonzero(groups[number]).tolist():
            taken = min(left, free[day])
            free[day] -= taken
            left -= taken
            if not left:
                break
        if left:
            return False
    return True


def _short_by_programme(groups: Claims, wanted: Ints, capacity: Ints) -> tuple[int, Claims]:
    horizon = groups.shape[1]
    group, day = np.nonzero(groups)
    arcs = len(group)
    programme = Programme(
        np.concatenate([np.zeros(arcs), np.ones(len(groups))]),
        np.full(arcs + len(groups), EVER),
    )
    programme.demand(wanted.astype(float), wanted.astype(float))
    programme.enter(
        np.concatenate([group, np.arange(len(groups))]),
        np.arange(arcs + len(groups)),
        np.ones(arcs + len(groups)),
    )
    first = programme.demand(np.full(horizon, -EVER), capacity.astype(float))
    programme.enter(first + day, np.arange(arcs), np.ones(arcs))
    value, prices = with_prices(programme)
    full: Claims = prices[first : first + horizon] < NEVER / 2
    return round(value), full


def _apart(claims: Claims, days: Claims) -> Iterator[Claims]:
    """Days that hang together through a visit, each such set by itself."""
    inside = ~(claims & ~days[None, :]).any(axis=1)
    links = claims[inside].astype(np.int64)
    left = days & links.any(axis=0)
    while left.any():
        reached = np.zeros(len(days), bool)
        reached[int(left.argmax())] = True
        while True:
            touched = (links[:, reached] > 0).any(axis=1)
            wider = reached | (links[touched] > 0).any(axis=0)
            if (wider == reached).all():
                break
            reached = wider
        yield reached
        left = left & ~reached


# --- whole rooms -----------------------------------------------------------------------------


def _not_whole(problem: Problem, choice: Choice) -> Iterator[Shortfall]:
    claims = in_time(problem)
    on = np.where(choice.on == NEVER, problem.horizon, choice.on)
    late = np.flatnonzero(claims.any(axis=1) & (on > problem.due))
    if not late.size:
        return
    days = np.asarray(claims[late].any(axis=0), bool)
    yield Shortfall(
        binds=Binds.WHOLE_ROOMS,
        rows=tuple(int(row) for row in late),
        rooms=tuple(problem.rooms[int(row)] for row in late),
        days=tuple(day for day, is_in in zip(problem.days, days, strict=True) if is_in),
        until_on=problem.days[int(problem.due[late].max())],
        needed=int(problem.minutes[late].sum()),
        minutes=int(problem.team_minutes[days].sum()),
    )
