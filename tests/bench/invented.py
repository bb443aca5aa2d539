"""An invented hotel for benchmarks: rooms, guests who come and go, what is known when.

Every share in here is an assumption; nobody measured these hotels. They come in two kinds:
``world`` has teams that each walk for themselves, and guests nobody knew of on the day they
came; ``told_and_pooled`` takes both hardships away, as the published trial had it.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace

import numpy as np

from hotelwatch.core.planning.letting import Letting

AREA_MINUTES = 8
"""Of a team's day, for each corridor it goes to."""
ROOMS_A_VISIT = 2.5
"""Rooms that teams are reckoned to do on one way to a corridor, when hotels are staffed."""


LENGTHS = Counter({n: round(990_000 * 0.5**n) for n in range(1, 20)})
LENGTHS.update({n: round(10_000 / 31) for n in range(30, 61)})
"""How many of a million guests stay so many nights."""
OCCUPANCY = 0.75
ARRIVALS = sum(LENGTHS.values()) / sum(n * count for n, count in LENGTHS.items())
"""For each night that is let."""
LETTING = Letting(LENGTHS, 1 - OCCUPANCY * (1 - ARRIVALS))
"""What a year's record would have told such a hotel."""


@dataclass
class World:
    """The truth of some hundred days; a policy sees only what ``seen`` gives it."""

    rooms: int
    days: int
    minutes: np.ndarray
    beds: np.ndarray
    cycle: np.ndarray
    area: np.ndarray
    last: np.ndarray
    """Day of the last look before day 0 (negative)."""
    stay_room: np.ndarray
    stay_from: np.ndarray
    stay_until: np.ndarray
    """True day of departure."""
    stay_booked_until: np.ndarray
    stay_known: np.ndarray
    """Morning from which the booking is known."""
    team_minutes: np.ndarray
    """(days + margin, teams)."""
    finds: list = field(default_factory=list)
    """(day, rooms wanted within three days)."""
    letting: Letting = LETTING


MARGIN = 230


def world(rooms, *, seed, occupancy=OCCUPANCY, load=0.85, days=365):
    """A hotel staffed so that its rooms need ``load`` of the teams' minutes."""
    rng = np.random.default_rng([seed, rooms])
    made = beds_and_cycles(rng, rooms)
    return staffed(rng, made, _stays(rng, rooms, occupancy, days + MARGIN), load, days)


def told_and_pooled(made):
    """The same hotel where all teams walk as one and every guest is known when his day dawns.

    So the published trial reckons: a corridor costs its way once a day, whoever goes there,
    and no day's minutes are lost between teams. When walk-ins are known is not said there;
    only with the morning of their arrival does a sweep come near the published figures.
    """
    return replace(
        made,
        stay_known=np.minimum(made.stay_known, made.stay_from),
        team_minutes=made.team_minutes.sum(axis=1, keepdims=True),
    )


def beds_and_cycles(rng, rooms):
    """Minutes, beds, cycle, corridor and last look of each room."""
    bed_minutes = rng.choice([14, 7, 10], rooms, p=[0.45, 0.35, 0.20])
    beds = 1 + (rng.random(rooms) < 0.45)
    minutes = 6 + beds * bed_minutes
    cycle = rng.choice([30, 60, 90, 180], rooms, p=[0.05, 0.20, 0.50, 0.25])
    sizes = rng.integers(20, 26, rooms)
    area = np.repeat(np.arange(rooms), sizes)[:rooms]
    last = -(rng.random(rooms) * cycle).astype(int) - 1
    return minutes, beds, cycle, area, last


def staffed(rng, made, stays, load, days):
    """The world of these rooms and stays, with teams for them and finds now and then."""
    minutes, _, cycle, _, _ = made
    rooms = len(minutes)
    need = ((minutes + AREA_MINUTES / ROOMS_A_VISIT) / cycle).sum()
    teams = _teams(rng, need / load, days + MARGIN)
    whole = World(rooms, days, *made, *stays, team_minutes=teams)
    for day in range(days):
        for _ in range(rng.poisson(rooms / 6000)):
            room = int(rng.integers(rooms))
            around = [r for r in (room - 2, room - 1, room + 1, room + 2) if 0 <= r < rooms]
            whole.finds.append((day, np.array(around)))
    return whole


def _stays(rng, rooms, occupancy, days):
    found = []
    mean = 0.99 * 2 + 0.01 * 45
    leave_empty = mean * (1 - occupancy) / occupancy
    for room in range(rooms):
        day = int(rng.integers(-8, 0))
        while day < days:
            # Nights without a guest between two stays: many have none.
            gap = rng.geometric(1 / (1 + leave_empty)) - 1
            day += int(gap)
            while rng.random() > _arrives(day):
                day += 1
            nights = rng.integers(30, 61) if rng.random() < 0.01 else rng.geometric(0.5)
            booked = day + int(nights)
            shift = rng.random()
            until = booked
            if shift < 0.05:
                until = booked + int(rng.integers(1, 3))
            elif shift < 0.07 and nights > 1:
                until = booked - 1
            kind = rng.random()
            lead = rng.exponential(28) if kind < 0.52 else rng.exponential(5) if kind < 0.85 else -1
            known = day - int(lead) if lead >= 0 else day + 1
            found.append((room, day, until, booked, known))
            day = until
    # Works in a room: nobody may enter, known from its first day.
    for room in range(rooms):
        for start in np.flatnonzero(rng.random(days) < 0.03 / 28):
            length = int(rng.integers(3, 15))
            found.append(
                (room, int(start) - 1, int(start) + length, int(start) + length, int(start))
            )
    return [np.array(column) for column in zip(*found, strict=True)]


def _arrives(day):
    """Chance by weekday that a room free from that day is taken at once; day 0 is a Monday."""
    return (0.9, 0.9, 0.95, 0.95, 1.0, 1.0, 0.7)[day % 7]


def _teams(rng, a_day, days):
    share = 5 / 7 * 51 / 52
    teams = max(1, int(np.ceil(a_day / (share * 240))))
    minutes = round(a_day / (teams * share))
    table = np.zeros((days, teams), int)
    for team in range(teams):
        off = 5 if teams == 1 else int(rng.integers(7))
        leave = int(rng.integers(20, 330))
        for day in range(days):
            is_off = day % 7 in (off, (off + 1) % 7)
            if not is_off and not leave <= day < leave + 7:
                table[day, team] = minutes
    return table


@dataclass
class Seen:
    """What is known on the morning of a day."""

    today: int
    open: np.ndarray
    """(rooms, horizon): whether nobody known stays over that day."""
    edge: np.ndarray
    """(rooms, horizon): whether somebody known comes or leaves that day."""
    due: np.ndarray
    """By number of the day from today."""
    asked_by: np.ndarray
    """Deadline from today; 9999 if nobody asks."""
    team_minutes: np.ndarray
    """(horizon, teams)."""


class Year:
    """Runs a world day by day under a policy and counts."""

    def __init__(self, made):
        self.world = made
        self.last = made.last.copy()
        self.asked = np.full(made.rooms, 9999)
        self.order = np.argsort(made.stay_known, kind="stable")
        self.overdue = self.walked = self.visits = self.ways = self.oldest = 0
        self.asked_in_time = self.asked_late = 0

    def known(self, today, horizon):
        """Rooms, first days and departures of the stays known that reach these days."""
        w = self.world
        until = np.where(today >= w.stay_booked_until, w.stay_until, w.stay_booked_until)
        until = np.where(today >= w.stay_until, w.stay_until, until)
        until = np.where(
            (w.stay_until < w.stay_booked_until) & (today < w.stay_until),
            w.stay_booked_until,
            until,
        )
        ok = (w.stay_known <= today) & (until >= today) & (w.stay_from < today + horizon)
        return w.stay_room[ok], w.stay_from[ok] - today, until[ok] - today

    def open_and_edge(self, today, horizon):
        """Both as ``Seen`` has them."""
        rooms, comes, leaves = self.known(today, horizon)
        first, last = np.clip(comes + 1, 0, horizon), np.clip(leaves, 0, horizon)
        change = np.zeros((self.world.rooms, horizon + 1), int)
        np.add.at(change, (rooms, first), 1)
        np.add.at(change, (rooms, np.maximum(first, last)), -1)
        edge = np.zeros((self.world.rooms, horizon), bool)
        for days in (comes, leaves):
            inside = (days >= 0) & (days < horizon)
            edge[rooms[inside], days[inside]] = True
        return change.cumsum(axis=1)[:, :horizon] <= 0, edge

    def seen(self, today, horizon):
        w = self.world
        return Seen(
            today,
            *self.open_and_edge(today, horizon),
            self.last + w.cycle - today,
            np.where(self.asked < 9999, self.asked - today, 9999),
            w.team_minutes[today : today + horizon],
        )

    def begin(self, today):
        for day, rooms in self.world.finds:
            if day == today:
                self.asked[rooms] = np.minimum(self.asked[rooms], today + 3)
        late = np.maximum(0, today - (self.last + self.world.cycle)) > 0
        self.overdue += int(self.world.beds[late].sum())
        self.oldest = max(self.oldest, int((today - self.last - self.world.cycle).max()))

    def do(self, today, sheets):
        """``sheets``: rooms by team; checks what a policy must keep."""
        w = self.world
        truth = self.open_and_edge(today, 1)[0][:, 0]
        done = set()
        for team, rooms in sheets.items():
            ways = len(set(w.area[list(rooms)]))
            used = int(w.minutes[list(rooms)].sum()) + AREA_MINUTES * ways
            assert used <= w.team_minutes[today, team], (used, w.team_minutes[today, team])
            assert all(truth[r] for r in rooms)
            assert not done & set(rooms)
            done |= set(rooms)
            self.ways += ways
            self.walked += AREA_MINUTES * ways
        done = np.array(sorted(done), int)
        self.visits += len(done)
        asked = done[self.asked[done] < 9999]
        self.asked_in_time += int((self.asked[asked] >= today).sum())
        self.asked_late += int((self.asked[asked] < today).sum())
        self.asked[done] = 9999
        self.last[done] = today
