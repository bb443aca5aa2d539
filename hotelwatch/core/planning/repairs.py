"""What would mend a shortfall, each with its effect worked out, the cheapest first.

Effects are minutes short before and after, by the same sum as the shortfall's own:
visits split, ways to corridors left out. What a repair is worth once rooms are whole and
teams walk, planning anew tells.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

import numpy as np

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.problem import Claims, Ints, Problem
from hotelwatch.core.planning.shortfall import (
    Binds,
    Shortfall,
    able_minutes,
    fits,
    in_time,
    shortest,
)

LONGEST_EXTENSION = 28
MOST_NIGHTS = 5
"""Front desk is asked for few nights: those that save the most."""


class Mend(StrEnum):
    """Ways to mend; of two that mend as much the earlier one is told first."""

    KEEP_FREE = "keep_free"
    TEAM_DAYS = "team_days"
    LONGER_WINDOW = "longer_window"
    ENCASE = "encase"
    LONGER_CYCLE = "longer_cycle"


@dataclass(frozen=True, slots=True)
class Repair:
    """A change, and minutes short and rooms without an opening before and after it."""

    mend: Mend
    rooms: tuple[RoomNo, ...] = ()
    """Those it touches: to be kept free, given a longer cycle or encased beds."""
    nights: tuple[date, ...] = ()
    """For KEEP_FREE, one for each of ``rooms``: the night, named by the day before it."""
    team: TeamName | None = None
    days: tuple[date, ...] = ()
    """For TEAM_DAYS: the days on which the team, or one like it, works besides."""
    more_days: int = 0
    """For LONGER_CYCLE: so many days more for each of ``rooms``, this once."""
    beds: int = 0
    """For ENCASE: so many beds."""
    short_before: int = 0
    short_after: int = 0
    unopened_before: int = 0
    unopened_after: int = 0
    saved_bed_days: int = 0
    """For KEEP_FREE: overdue bed-days that the kept nights save."""


@dataclass(frozen=True, slots=True)
class Means:
    """What front desk and the linen store could do: arrays over the problem's rows."""

    nights: Claims
    """Days on which a visit's room would open if one night were kept free (R, H)."""
    minutes_if_encased: Ints
    """Of each visit with every bed encased (R)."""
    beds_to_encase: Ints
    """Beds that are not encased yet (R)."""


def repairs(
    problem: Problem, shortfalls: Sequence[Shortfall], means: Means, *, limit: int = 3
) -> tuple[Repair, ...]:
    """The best repairs for these shortfalls, the one that leaves the least first."""
    if not shortfalls:
        return ()
    claims = in_time(problem)
    base = _Base(problem, claims, short_of(problem, claims))
    found = [
        *_keep_free(base, shortfalls, means),
        *_longer_window(base),
        *_of_minutes(base, shortfalls, means),
    ]
    order = list(Mend)
    found.sort(key=lambda one: (one.short_after, one.unopened_after, order.index(one.mend)))
    return tuple(found[:limit])


class _Base:
    """The problem as it stands, with its minutes short and its rooms without an opening."""

    def __init__(self, problem: Problem, claims: Claims, short: int) -> None:
        self.problem = problem
        self.claims = claims
        self.pressing = (problem.due >= 0) & (problem.due < problem.horizon)
        self.unopened = int((self.pressing & ~self.claims.any(axis=1)).sum())
        self.short = short

    def repair(self, mend: Mend, changed: Problem, **told: object) -> Repair:
        """A repair with its effect."""
        claims = in_time(changed)
        pressing = (changed.due >= 0) & (changed.due < changed.horizon)
        return Repair(
            mend,
            short_before=self.short,
            short_after=short_of(changed, claims),
            unopened_before=self.unopened,
            unopened_after=int((pressing & ~claims.any(axis=1)).sum()),
            **told,  # type: ignore[arg-type]
        )


def short_of(problem: Problem, claims: Claims) -> int:
    """Minutes that cannot be placed in time, visits split; of the visits that need most people."""
    short = 0
    for people in sorted(set(problem.needs[claims.any(axis=1)].tolist())):
        rows = claims.any(axis=1) & (problem.needs >= people)
        worst, _ = shortest(claims[rows], problem.minutes[rows], able_minutes(problem, people))
        short = max(short, worst)
    return short


def _all_fit(problem: Problem) -> bool:
    claims = in_time(problem)
    wanted = claims.any(axis=1)
    levels = sorted(set(problem.needs[wanted].tolist()))
    rows_of = {people: wanted & (problem.needs >= people) for people in levels}
    return all(
        fits(claims[rows], problem.minutes[rows], able_minutes(problem, people))
        for people, rows in rows_of.items()
    )


def _keep_free(base: _Base, shortfalls: Iterable[Shortfall], means: Means) -> Iterator[Repair]:
    """Few nights: of rooms without an opening those that save the most overdue bed-days."""
    problem = base.problem
    days = np.arange(problem.horizon)
    works = problem.team_minutes.sum(axis=1) > 0
    asked: list[tuple[int, int, int]] = []
    for one in shortfalls:
        if one.binds is not Binds.NO_OPENING:
            continue
        row = one.rows[0]
        could = means.nights[row] & works & (days <= problem.due[row])
        if could.any() and one.overdue_bed_days:
            asked.append((one.overdue_bed_days, row, int(np.flatnonzero(could)[-1])))
    asked = sorted(asked, key=lambda item: (-item[0], item[1]))[:MOST_NIGHTS]
    if not asked:
        return
    is_open = problem.open.copy()
    for _, row, day in asked:
        is_open[row, day] = True
    yield base.repair(
        Mend.KEEP_FREE,
        replace(problem, open=is_open),
        rooms=tuple(problem.rooms[row] for _, row, _ in asked),
        nights=tuple(problem.days[day - 1] if day else problem.days[0] for _, _, day in asked),
        saved_bed_days=sum(saved for saved, _, _ in asked),
    )


def _longer_window(base: _Base) -> Iterator[Repair]:
    """Shifts that meet every opening: only where shifts keep rooms shut."""
    if base.problem.shut is not None:
        yield base.repair(Mend.LONGER_WINDOW, replace(base.problem, shut=None))


def _of_minutes(base: _Base, shortfalls: Iterable[Shortfall], means: Means) -> Iterator[Repair]:
    worst = max(shortfalls, key=lambda one: one.short)
    if not worst.short or not base.problem.teams:
        return
    yield _team_days(base, worst)
    encased = _encase(base, worst, means)
    if encased is not None:
        yield encased
    longer = _longer_cycle(base, worst)
    if longer is not None:
        yield longer


def _team_days(base: _Base, worst: Shortfall) -> Repair:
    """So many days more of the largest able team, on days that the shortfall names."""
    problem = base.problem
    needs = int(problem.needs[list(worst.rows)].max())
    able = np.where(problem.team_people >= needs, problem.team_minutes.max(axis=0), 0)
    team = int(able.argmax())
    a_day = max(1, int(able[team]))
    places = [problem.days.index(day) for day in worst.days]
    # First the days on which it is off: then it is one more day, not a second team.
    free = [place for place in places if problem.team_minutes[place, team] == 0]
    order = [*free, *(place for place in places if place not in free)]
    count = min(-(-worst.short // a_day), len(order))
    table = problem.team_minutes.copy()
    for place in order[:count]:
        table[place, team] += a_day
    return base.repair(
        Mend.TEAM_DAYS,
        replace(problem, team_minutes=table),
        team=problem.teams[team],
        days=tuple(problem.days[place] for place in sorted(order[:count])),
    )


def _encase(base: _Base, worst: Shortfall, means: Means) -> Repair | None:
    """The fewest rooms whose beds, encased, spare the minutes that are short."""
    problem = base.problem
    rows = _routine(problem, worst)
    spared = problem.minutes[rows] - means.minutes_if_encased[rows]
    order = rows[np.argsort(-spared, kind="stable")]
    order = order[problem.minutes[order] > means.minutes_if_encased[order]]
    total = np.cumsum(problem.minutes[order] - means.minutes_if_encased[order])
    count = int(np.searchsorted(total, worst.short)) + 1
    if not order.size:
        return None
    taken = order[: min(count, order.size)]
    minutes = problem.minutes.copy()
    minutes[taken] = means.minutes_if_encased[taken]
    return base.repair(
        Mend.ENCASE,
        replace(problem, minutes=minutes),
        rooms=tuple(problem.rooms[int(row)] for row in taken),
        beds=int(means.beds_to_encase[taken].sum()),
    )


def _longer_cycle(base: _Base, worst: Shortfall) -> Repair | None:
    """The fewest days more for the rooms of the shortfall that leave nothing short."""
    rows = _routine(base.problem, worst)
    low, high = 0, LONGEST_EXTENSION
    if not _all_fit(_later(base.problem, rows, high)):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        will_do = _all_fit(_later(base.problem, rows, middle))
        low, high = (low, middle) if will_do else (middle, high)
    return base.repair(
        Mend.LONGER_CYCLE,
        _later(base.problem, rows, high),
        rooms=tuple(base.problem.rooms[int(row)] for row in rows),
        more_days=high,
    )


def _routine(problem: Problem, worst: Shortfall) -> Ints:
    """Visits that no case asks for: a deadline is no cycle, and cannot wait for encasements."""
    rows = np.array(worst.rows, np.int64)
    return rows[~problem.is_asked[rows]]


def _later(problem: Problem, rows: Ints, days: int) -> Problem:
    due = problem.due.copy()
    due[rows] += days
    return replace(problem, due=due)
