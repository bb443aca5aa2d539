"""How few overdue bed-days somebody could have who knows every stay of the year: a search.

Minutes and ways are kept as by every policy. What it finds is no bound, but a year that could
have been; the least possible lies between ``year_bound`` and it. What cases ask for is not
put first here.

Run: python -m tests.bench.year_known [seed ...]
"""

from __future__ import annotations

import sys
from dataclasses import dataclass

import numpy as np

from tests.bench.invented import AREA_MINUTES, Year, told_and_pooled, world
from tests.bench.rounds_by_plan import planner

ROOMS = 400
ROUNDS = 6000
"""Passes over all corridors."""
DEAREST, CHEAPEST = 0.8, 0.01
"""Overdue bed-days that a minute of a day is worth, at the most: at first, in the end."""
STEADY = 0.1
"""Of the rounds, before prices begin to fall."""
DEARER, CHEAPER, LEAST = 1.08, 0.97, 0.003
NEARLY_FULL = 14
"""Minutes left on a day whose price goes up."""
MOST_TOGETHER = 8
"""Rooms of a corridor that are put anew together."""
NOISE = 0.3


@dataclass
class KnownYear:
    """Looks of a whole year, put anew room by room while that pays at the prices of the days."""

    made: object
    looks: list
    """Days of each room's looks, in their order."""

    def __post_init__(self):
        made = self.made
        self.minutes = made.team_minutes[: made.days].sum(axis=1)
        self.open = _truly_open(made) & (self.minutes > 0)[None, :]
        self.there = np.zeros((made.area.max() + 1, made.days), int)
        self.used = np.zeros(made.days, int)
        for room, days in enumerate(self.looks):
            self._count(room, days, 1)

    def overdue(self, room):
        """Of a room, with its looks as they are."""
        made, total, last = self.made, 0, self.made.last[room]
        for day in (*self.looks[room], made.days - 1):
            total += max(0, day - max(last + made.cycle[room], -1))
            last = day
        return int(made.beds[room]) * total

    def better(self, rooms, price, random):
        """Puts these rooms of one corridor anew, if that is better at the prices."""
        before = {room: self.looks[room] for room in rooms}
        worth = sum(map(self.overdue, rooms)) + float(price @ self.used)
        for room in rooms:
            self._count(room, self.looks[room], -1)
        for room in rooms:
            self._put(room, self._best(room, price * (1 + NOISE * random.random())))
        if sum(map(self.overdue, rooms)) + float(price @ self.used) > worth:
            for room in rooms:
                self._count(room, self.looks[room], -1)
            for room in rooms:
                self._put(room, before[room])

    def _put(self, room, days):
        self.looks[room] = days
        self._count(room, days, 1)

    def _count(self, room, days, sign):
        area = self.made.area[room]
        for day in days:
            before = self.there[area, day]
            self.there[area, day] += sign
            is_way = before == 0 or before + sign == 0
            self.used[day] += sign * (self.made.minutes[room] + AREA_MINUTES * is_way)

    def _best(self, room, price):
        """The cheapest days that have minutes left: a shortest path from look to look."""
        made = self.made
        cycle, beds = made.cycle[room], made.beds[room]
        need = made.minutes[room] + AREA_MINUTES * (self.there[made.area[room]] == 0)
        days = np.flatnonzero(self.open[room] & (self.used + need <= self.minutes))
        cost = np.zeros(len(days) + 1)
        before = np.zeros(len(days), int)
        due = np.maximum(np.append(made.last[room], days) + cycle, -1)
        for number, day in enumerate(days):
            so_far = cost[: number + 1] + beds * np.maximum(0, day - due[: number + 1])
            before[number] = so_far.argmin()
            cost[number + 1] = so_far[before[number]] + price[day] * need[day]
        at = int((cost + beds * np.maximum(0, made.days - 1 - due)).argmin())
        found = []
        while at:
            found.append(int(days[at - 1]))
            at = int(before[at - 1])
        return found[::-1]


def _truly_open(made):
    """On which days each room is open, stays as they came to be (R, D)."""
    change = np.zeros((made.rooms, made.days + 1), int)
    first = np.clip(made.stay_from + 1, 0, made.days)
    np.add.at(change, (made.stay_room, first), 1)
    last = np.maximum(first, np.clip(made.stay_until, 0, made.days))
    np.add.at(change, (made.stay_room, last), -1)
    return change.cumsum(axis=1)[:, : made.days] <= 0


def searched(made, looks, rounds=ROUNDS):
    """The best year found from these looks on, as days of each room's looks."""
    year = KnownYear(made, [list(days) for days in looks])
    random = np.random.default_rng(0)
    price = np.full(made.days, LEAST)
    corridors = [np.flatnonzero(made.area == area) for area in range(made.area.max() + 1)]
    best, fewest = [], np.inf
    for number in range(rounds):
        falls = max(0.0, (number / rounds - STEADY) / (1 - STEADY))
        most = DEAREST * (CHEAPEST / DEAREST) ** falls
        is_full = year.used >= year.minutes - NEARLY_FULL
        price = np.clip(price * np.where(is_full, DEARER, CHEAPER), LEAST, most)
        for area in random.permutation(len(corridors)):
            rooms = random.permutation(corridors[area])[: random.integers(1, MOST_TOGETHER)]
            year.better(rooms.tolist(), price, random)
        total = sum(map(year.overdue, range(made.rooms)))
        if total < fewest:
            best, fewest = [list(days) for days in year.looks], total
    return best


def lived(made, policy, horizon):
    """The year under a policy, and the days on which it looked at each room."""
    year, looks = Year(made), [[] for _ in range(made.rooms)]
    for today in range(made.days):
        year.begin(today)
        sheets = policy(year.seen(today, horizon))
        for room in (room for rooms in sheets.values() for room in rooms):
            looks[room].append(today)
        year.do(today, sheets)
    return year, looks


def main():
    for seed in [int(seed) for seed in sys.argv[1:]] or [4, 5, 6]:
        made = told_and_pooled(world(ROOMS, seed=seed))
        year, looks = lived(made, *planner(made))
        found = searched(made, looks)
        on_day = [[] for _ in range(made.days)]
        for room, days in enumerate(found):
            for day in days:
                on_day[day].append(room)
        known, _ = lived(made, lambda seen, on_day=on_day: {0: on_day[seen.today]}, 1)
        sys.stdout.write(
            f"{ROOMS} rooms, seed {seed}: planner {year.overdue}, with every stay known"
            f" {known.overdue} ({year.overdue / known.overdue:.1f} times)\n"
        )
        sys.stdout.flush()


if __name__ == "__main__":
    main()
