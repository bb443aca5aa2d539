"""How a problem stands: minutes short, rooms without a place in time, fewest overdue bed-days."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from hotelwatch.core.parameters import Figures
from hotelwatch.core.planning.places import (
    Crowd,
    Overdue,
    Places,
    crowd_of,
    in_time,
    open_at,
    overdue_costs,
    overdue_of,
    places_of,
    pressing,
)
from hotelwatch.core.planning.pouring import Pouring
from hotelwatch.core.planning.problem import NEVER, Claims, Ints, Problem

MANY = 0.5
"""Where more than this share of the visits changes, all are poured afresh: it takes less."""


@dataclass(frozen=True, slots=True)
class Efforts:
    """What repairs cost, in minutes of a team. All but a team's own minutes are assumptions."""

    kept_night: float
    encased_bed: float
    longer_window: float
    """For each day."""
    most_nights: int
    """Front desk is asked for no more nights at once."""


def efforts_of(figures: Figures) -> Efforts:
    """As the house's figures have them."""
    return Efforts(
        kept_night=figures.kept_night_minutes.value,
        encased_bed=figures.encasing_minutes.value,
        longer_window=figures.longer_window_minutes.value,
        most_nights=int(figures.nights_asked_most.value),
    )


@dataclass(frozen=True, eq=False)
class Means:
    """What could be done: arrays over the problem's rows."""

    nights: Claims
    """Days on which a visit's room would open if one night were kept free (R, H)."""
    enterable: Claims
    """Days on which a visit's room can be entered, whether a team works then or not (R, H).

    None on which the house is closed: nobody can be made to work then.
    """
    minutes_if_encased: Ints
    """Of each visit with every bed encased (R)."""
    beds_to_encase: Ints
    """Beds that are not encased yet (R)."""
    kept_free: Ints
    """Minutes of each of its days that a team keeps free; plans never have them (K)."""
    efforts: Efforts
    away: Mapping[tuple[int, int], str] = field(default_factory=dict)
    """Why a team is away, by day and team, as somebody wrote it down; not its usual days off."""


@dataclass(frozen=True, slots=True)
class Effect:
    """What is to be told of a standing."""

    short: int
    """Minutes."""
    unopened: int
    """Rooms with a visit that has no place in time."""
    bed_days: int
    """No plan has fewer overdue bed-days."""


@dataclass(frozen=True, eq=False)
class Standing:
    """A problem with its pourings."""

    problem: Problem
    places: Places
    crowd: Crowd
    overdue: Overdue

    @property
    def effect(self) -> Effect:
        """In numbers."""
        return Effect(self.crowd.short, unopened(self.problem, self.places), self.overdue.bed_days)

    def mended(self, problem: Problem, pouring: Pouring, places: Places | None = None) -> Effect:
        """What a changed problem comes to, whose overdue visits are poured already."""
        there = places_of(problem) if places is None else places
        return Effect(
            crowd_of(problem, there).short,
            unopened(problem, there),
            replace(self.overdue, pouring=pouring).bed_days,
        )

    def poured_anew(self, problem: Problem, rows: Ints) -> Pouring:
        """Overdue visits poured again after some have changed; the places have not."""
        places = self.places
        is_open = open_at(problem, places.day, places.first)
        number_of = np.full(problem.visits, NEVER)
        number_of[self.overdue.rows] = np.arange(self.overdue.rows.size)
        rows = rows[number_of[rows] != NEVER]
        if rows.size > MANY * self.overdue.rows.size:
            return overdue_of(problem, replace(places, open=is_open)).pouring
        never = overdue_costs(problem, rows, np.array([problem.horizon]))
        costs = overdue_costs(problem, rows, places.day)
        costs = np.where(is_open[rows] & (costs < never), costs, np.inf)
        pouring = self.overdue.pouring.copy()
        pouring.change(number_of[rows], np.column_stack([never, costs]), problem.minutes[rows])
        return pouring


def standing_of(problem: Problem) -> Standing:
    """How it stands as it is."""
    places = places_of(problem)
    return Standing(problem, places, crowd_of(problem, places), overdue_of(problem, places))


def unopened(problem: Problem, places: Places) -> int:
    """Rooms with a visit that is due within the days and has no place in time."""
    rows = np.flatnonzero(pressing(problem) & ~in_time(problem, places).any(axis=1))
    return len({problem.rooms[row] for row in rows.tolist()})
