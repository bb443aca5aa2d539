"""What would mend a shortfall, each with its effect worked out, the most worth its effort first.

Effects are minutes short, rooms without a place in time and overdue bed-days, before and
after, by the same sums as the shortfall's own: visits split, ways to corridors left out.
Overdue bed-days are the fewest that any plan could have. What a repair is worth once
rooms are whole and teams walk, planning anew tells.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from itertools import accumulate, pairwise

import numpy as np

from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.planning.catching_up import catching_up
from hotelwatch.core.planning.days_off import on_days_off
from hotelwatch.core.planning.more_days import MoreDays, more_days
from hotelwatch.core.planning.nights import Night, chosen_nights
from hotelwatch.core.planning.places import crowd_of, overdue_of, places_of
from hotelwatch.core.planning.problem import Claims, Ints, Problem
from hotelwatch.core.planning.shortfall import Shortfall, short_sets
from hotelwatch.core.planning.standing import Effect, Means, Standing, standing_of

ROUNDS = 4
"""Where one set of rooms is mended another may still be short: so often it is gone on."""


class Mend(StrEnum):
    """Ways to mend; of two that are worth as much the earlier one is told first, the last last."""

    KEEP_FREE = "keep_free"
    TEAM_DAYS = "team_days"
    LONGER_WINDOW = "longer_window"
    ENCASE = "encase"
    LONGER_CYCLE = "longer_cycle"


@dataclass(frozen=True, slots=True)
class Repair:
    """A change, and what is short, unopened and overdue before and after it."""

    mend: Mend
    before: Effect
    after: Effect
    effort: float = 0.0
    """In minutes of a team; for LONGER_CYCLE nothing."""
    rooms: tuple[RoomNo, ...] = ()
    """Those it touches: to be kept free, given a longer cycle or encased beds."""
    nights: tuple[date, ...] = ()
    """For KEEP_FREE, one for each of ``rooms``: the night, named by the day before it."""
    each_saves: tuple[int, ...] = ()
    """For KEEP_FREE: overdue bed-days that each night saves beside those before it."""
    team: TeamName | None = None
    days: tuple[date, ...] = ()
    """For TEAM_DAYS: on which the team, or one like it, works besides; for LONGER_WINDOW:
    on which shifts must meet the openings."""
    minutes: int = 0
    """For TEAM_DAYS: of each day as it is entered, what the team keeps free among them."""
    away: tuple[tuple[date, str], ...] = ()
    """For TEAM_DAYS: those of ``days`` on which the team is away, each with its reason."""
    more_days: int = 0
    """For LONGER_CYCLE: so many days more for each of ``rooms``, this once."""
    waits: int = 0
    """For LONGER_CYCLE: bed-days that its beds may wait longer than now."""
    beds: int = 0
    """For ENCASE and LONGER_CYCLE: so many beds."""

    @property
    def saved_bed_days(self) -> int:
        """Overdue bed-days fewer."""
        return self.before.bed_days - self.after.bed_days

    @property
    def worth(self) -> float:
        """Overdue bed-days saved for a minute of effort."""
        return self.saved_bed_days / max(1.0, self.effort)


def repairs(
    problem: Problem, shortfalls: Sequence[Shortfall], means: Means, *, limit: int = 3
) -> tuple[Repair, ...]:
    """The best repairs, the one most worth its effort first, also for what is late already.

    A longer cycle mends nothing, it only calls in time what is late now: it comes last,
    and is worked out only if there is room for it.
    """
    is_any = bool(shortfalls) or bool((problem.due < 0).any())
    if not is_any or not problem.teams:
        return ()
    base = standing_of(problem)
    order = list(Mend)
    found = [
        *_keep_free(base, means),
        *_team_days(base, shortfalls, means),
        *_longer_window(base, means),
        *_encase(base, shortfalls, means),
    ]
    helps = [one for one in found if _helps(one.before, one.after)]
    helps.sort(key=lambda one: (-one.worth, one.after.short, order.index(one.mend)))
    if len(helps) < limit:
        helps += _longer_cycle(base, shortfalls)
    return tuple(helps[:limit])


def _helps(before: Effect, after: Effect) -> bool:
    """A room that gets a day in time may crowd others: not everything has to get better."""
    return (
        after.bed_days < before.bed_days
        or after.short < before.short
        or after.unopened < before.unopened
    )


# --- nights ---------------------------------------------------------------------------------


def _keep_free(base: Standing, means: Means) -> Iterator[Repair]:
    chosen, pouring = chosen_nights(base, means.nights, means.efforts.most_nights)
    if not chosen:
        return
    problem = base.problem
    after = base.mended(with_nights(problem, chosen), pouring)
    yield Repair(
        Mend.KEEP_FREE,
        base.effect,
        after,
        effort=means.efforts.kept_night * len(chosen),
        rooms=tuple(one.room for one in chosen),
        nights=tuple(problem.days[max(0, one.day - 1)] for one in chosen),
        each_saves=_shared(base.effect.bed_days - after.bed_days, [one.saves for one in chosen]),
    )


def _shared(total: int, saves: Sequence[float]) -> tuple[int, ...]:
    """A whole number parted among nights as each saves, so that the parts add up to it."""
    ends = [round(total * part / sum(saves)) for part in accumulate(saves)]
    return tuple(end - before for before, end in pairwise((0, *ends)))


def with_nights(problem: Problem, nights: Iterable[Night]) -> Problem:
    """Rooms open on the days after kept nights."""
    is_open = problem.open.copy()
    for one in nights:
        is_open[list(one.rows), one.day] = True
    return replace(problem, open=is_open)


# --- team-days ------------------------------------------------------------------------------


def _team_days(base: Standing, shortfalls: Sequence[Shortfall], means: Means) -> Iterator[Repair]:
    """Days more of one team; one that somebody wrote down as away is asked where no other helps."""
    for barred in dict.fromkeys((frozenset(means.away), frozenset[tuple[int, int]]())):
        found = _days_of_a_team(base, shortfalls, means, barred)
        if found is not None and _helps(found.before, found.after):
            yield found
            return


def _days_of_a_team(
    base: Standing,
    shortfalls: Sequence[Shortfall],
    means: Means,
    barred: frozenset[tuple[int, int]],
) -> Repair | None:
    """Days more until nothing is short, as far as the team's days go.

    Where nothing that falls due is short: until what is late already is soon caught up with;
    else those on which rooms stand empty that have no other day in time.
    """
    problem = base.problem
    sets = [one for one in shortfalls if one.short]
    asked = MoreDays(problem, base.overdue.pouring.copy(), base.overdue.rows, barred=barred)
    if not sets:
        asked = (
            catching_up(asked, means.enterable)
            or on_days_off(asked, shortfalls, means.enterable)
            or asked
        )
    for _ in range(ROUNDS):
        further = more_days(asked, sets, means.enterable) if sets else None
        if further is None:
            break
        asked = further
        sets = list(short_sets(asked.problem, places_of(asked.problem)))
    team = asked.team
    if team is None:
        return None
    days = sorted(asked.days)
    return Repair(
        Mend.TEAM_DAYS,
        base.effect,
        base.mended(asked.problem, asked.pouring),
        effort=float(asked.minutes * len(asked.days)),
        team=problem.teams[team],
        days=tuple(problem.days[day] for day in days),
        minutes=asked.minutes + int(means.kept_free[team]),
        away=tuple(
            (problem.days[day], means.away[day, team]) for day in days if (day, team) in means.away
        ),
    )


# --- windows --------------------------------------------------------------------------------


def _longer_window(base: Standing, means: Means) -> Iterator[Repair]:
    """Shifts that meet the openings, on no more days than it takes."""
    problem = base.problem
    if problem.shut is None:
        return
    used = _days_used(problem, met_on(problem, np.ones(problem.horizon, bool), means.enterable))
    if not used.any():
        return
    changed = met_on(problem, used, means.enterable)
    places = places_of(changed)
    yield Repair(
        Mend.LONGER_WINDOW,
        base.effect,
        base.mended(changed, overdue_of(changed, places).pouring, places),
        effort=means.efforts.longer_window * int(used.sum()),
        days=tuple(problem.days[day] for day in np.flatnonzero(used).tolist()),
    )


def met_on(problem: Problem, days: Claims, enterable: Claims) -> Problem:
    """Shifts meet every opening on these days (H)."""
    if problem.shut is None:
        return problem
    works = (problem.team_minutes > 0).any(axis=1)
    return replace(
        problem,
        open=problem.open | (enterable & (works & days)[None, :]),
        shut=problem.shut & ~days[None, :, None],
    )


def _days_used(problem: Problem, met: Problem) -> Claims:
    """Days on which visits are made that shifts kept from being made (H)."""
    used = np.zeros(problem.horizon, bool)
    places = places_of(met)
    was_open = problem.open[:, :, None] & ~problem.shut if problem.shut is not None else None
    for part in (crowd_of(met, places), overdue_of(met, places)):
        number, place = np.nonzero(part.pouring.at[:, 1:])
        for row, there in zip(part.rows[number].tolist(), place.tolist(), strict=True):
            day = int(places.day[there])
            used[day] |= was_open is not None and not was_open[row, day, places.teams[there]].all()
    return used


# --- beds and cycles ------------------------------------------------------------------------


def _encase(base: Standing, shortfalls: Sequence[Shortfall], means: Means) -> Iterator[Repair]:
    """Few rooms whose beds, encased, spare the minutes that are short."""
    changed, taken = base.problem, np.zeros(base.problem.visits, bool)
    sets = [one for one in shortfalls if one.short]
    for _ in range(ROUNDS):
        rows = [_most_spared(changed, one, means) for one in sets]
        if not any(some.size for some in rows):
            break
        taken[np.concatenate(rows)] = True
        minutes = np.where(taken, means.minutes_if_encased, base.problem.minutes)
        changed = replace(base.problem, minutes=minutes)
        sets = list(short_sets(changed, places_of(changed)))
    if not taken.any():
        return
    beds = int(means.beds_to_encase[taken].sum())
    yield Repair(
        Mend.ENCASE,
        base.effect,
        base.mended(changed, base.poured_anew(changed, np.flatnonzero(taken))),
        effort=means.efforts.encased_bed * beds,
        rooms=_rooms(changed, np.flatnonzero(taken)),
        beds=beds,
    )


def _most_spared(problem: Problem, one: Shortfall, means: Means) -> Ints:
    """The fewest visits of a set that spare what it lacks; all if they don't."""
    rows = _routine(problem, [one])
    spared = problem.minutes[rows] - means.minutes_if_encased[rows]
    order = np.argsort(-spared, kind="stable")
    order = order[spared[order] > 0]
    count = int(np.searchsorted(np.cumsum(spared[order]), one.short)) + 1
    return rows[order[:count]]


def _longer_cycle(base: Standing, shortfalls: Sequence[Shortfall]) -> Iterator[Repair]:
    """The fewest days more for the rooms that are short that leave nothing short."""
    problem = base.problem
    rows = _routine(problem, [one for one in shortfalls if one.short])
    low, high = 0, problem.horizon
    if not rows.size or _short_later(base, rows, high):
        return
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if _short_later(base, rows, middle) else (low, middle)
    changed = later(problem, rows, high)
    beds = int(problem.beds[rows].sum())
    yield Repair(
        Mend.LONGER_CYCLE,
        base.effect,
        base.mended(changed, base.poured_anew(changed, rows), base.places),
        rooms=_rooms(problem, rows),
        more_days=high,
        beds=beds,
        waits=beds * high,
    )


def _short_later(base: Standing, rows: Ints, days: int) -> bool:
    return crowd_of(later(base.problem, rows, days), base.places).short > 0


def later(problem: Problem, rows: Ints, days: int) -> Problem:
    """Visits that are due so many days later."""
    due = problem.due.copy()
    due[rows] += days
    return replace(problem, due=due)


def _routine(problem: Problem, shortfalls: Iterable[Shortfall]) -> Ints:
    """Visits that no case asks for: a deadline is no cycle, and cannot wait for encasements."""
    rows = np.array(sorted({row for one in shortfalls for row in one.rows}), np.int64)
    return rows[~problem.is_asked[rows]]


def _rooms(problem: Problem, rows: Ints) -> tuple[RoomNo, ...]:
    return tuple(dict.fromkeys(problem.rooms[row] for row in rows.tolist()))
