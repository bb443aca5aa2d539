"""No year falls below the bound: held against every year that tiny hotels could have."""

from __future__ import annotations

from itertools import chain, combinations

import numpy as np
import pytest

from tests.bench.invented import AREA_MINUTES, World
from tests.bench.year_bound import truly_open, year_bound

DAYS = 12


def tiny(seed, minutes_a_day):
    """Four rooms in two corridors, cycles of two to five days, stays drawn at random."""
    rng = np.random.default_rng(seed)
    rooms = 4
    stays = [
        (room, start - 1, start - 1 + int(rng.integers(2, 5)))
        for room in range(rooms)
        for start in rng.integers(0, DAYS, 2).tolist()
    ]
    room, begin, end = (np.array(column) for column in zip(*stays, strict=True))
    cycle = rng.integers(2, 6, rooms)
    return World(
        rooms,
        DAYS,
        rng.choice([13, 20, 34], rooms),
        rng.integers(1, 3, rooms),
        cycle,
        np.array([0, 0, 1, 1]),
        -1 - (rng.random(rooms) * cycle).astype(int),
        room,
        begin,
        end,
        end,
        begin,
        team_minutes=np.full((DAYS + 1, 1), minutes_a_day),
    )


def fewest_by_trying_all(made):
    """Every choice of rooms on every day that fits its minutes, ways among them.

    Overdue as counted everywhere: at a day's start, last look more than a cycle ago.
    """
    is_open = truly_open(made)
    reached = {tuple(made.last.tolist()): 0}
    for day in range(made.days):
        after = {}
        rooms = np.flatnonzero(is_open[:, day]).tolist()
        choices = [
            chosen
            for chosen in chain.from_iterable(
                combinations(rooms, size) for size in range(len(rooms) + 1)
            )
            if sum(made.minutes[r] for r in chosen)
            + AREA_MINUTES * len({made.area[r] for r in chosen})
            <= made.team_minutes[day].sum()
        ]
        for last, cost in reached.items():
            late = sum(
                int(made.beds[r]) for r in range(made.rooms) if day - last[r] > made.cycle[r]
            )
            for chosen in choices:
                now = tuple(day if r in chosen else last[r] for r in range(made.rooms))
                after[now] = min(after.get(now, 10**9), cost + late)
        reached = after
    return min(reached.values())


@pytest.mark.parametrize(
    ("periods", "fewest"), [((2, 3, 6), 4), ((2, 3, 7), 3), ((2, 4, 4), 0)], ids=str
)
def test_fewest_overdue_room_days_of_a_pinwheel_are_those_of_another_program(periods, fewest):
    """One room a day for 28 days, all looked at the day before; a search apart from this one."""
    rooms = len(periods)
    none = np.zeros(0, int)
    made = World(
        rooms,
        28,
        np.full(rooms, 20),
        np.ones(rooms, int),
        np.array(periods),
        np.zeros(rooms, int),
        np.full(rooms, -1),
        none,
        none,
        none,
        none,
        none,
        team_minutes=np.full((29, 1), 20 + AREA_MINUTES),
    )
    assert fewest_by_trying_all(made) == fewest
    assert year_bound(made, rounds=20).with_walking <= fewest + 1e-6


@pytest.mark.parametrize("minutes_a_day", [0, 25, 45, 70, 200])
@pytest.mark.parametrize("seed", range(4))
def test_no_year_of_a_tiny_hotel_falls_below_the_bound(seed, minutes_a_day):
    made = tiny(seed, minutes_a_day)
    bound = year_bound(made, rounds=40)
    fewest = fewest_by_trying_all(made)
    assert bound.without_minutes <= bound.with_walking <= fewest + 1e-6


@pytest.mark.parametrize("seed", range(4))
def test_with_minutes_for_all_the_gaps_between_openings_are_the_fewest(seed):
    made = tiny(seed, 1000)
    assert year_bound(made, rounds=5).without_minutes == fewest_by_trying_all(made)


def test_where_minutes_bind_the_bound_rises_above_that_of_openings():
    bounds = [year_bound(tiny(seed, 45), rounds=40) for seed in range(4)]
    assert sum(b.with_walking for b in bounds) > 1.05 * sum(b.without_minutes for b in bounds)
